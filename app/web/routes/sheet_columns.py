"""What the columns of a file mean: proposed with reasons, confirmed by a person, kept by source."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter
from starlette.datastructures import FormData
from starlette.responses import Response

from app.profiles import confirm
from app.web.acts.asking import Said
from app.web.routes.sheets import file_words, handed_of, look_again, to_file
from app.web.sheets.columns import (
    AXES,
    UNSAID,
    as_typed,
    axes_typed,
    said_of,
    sheet_names,
    sheets_asked,
)
from app.web.sheets.shelf import HandedIn
from app.web.troubles import status_of
from app.web.visits import Form, Signed, Visit
from importers.profiles import Profile
from supports.errors import BadInput, SupportsError
from supports.queries.intake import profile_history

router = APIRouter(prefix="/sheets")


@router.get("/profiles")
def profiles(visit: Signed) -> Response:
    """Show what was confirmed of each source, by whom and when; what was replaced too."""
    with visit.reading() as session:
        found = [(view, Profile.from_data(view.profile)) for view in profile_history(session)]
    return visit.page("sheets_profiles.html.jinja", found=found[::-1])


@router.get("/in/{token}/columns")
def columns(visit: Signed, token: str, sheet: str = "", as_sheet: str = "") -> Response:
    """Show what the columns of a file may mean, with the reasons and what else they may mean."""
    handed = handed_of(visit, token)
    try:
        return _columns(visit, handed, (sheet, as_sheet))
    except BadInput as error:
        return visit.page("trouble.html.jinja", status_of(error), error=error)


def _columns(
    visit: Visit, handed: HandedIn, meant: tuple[str, str], form: FormData | None = None,
    error: SupportsError | None = None,
) -> Response:  # fmt: skip
    asked = sheets_asked(visit.desk.shelf.file(handed), *meant)
    if form is not None:
        asked = [as_typed(one, form) if one.proposal.found == meant[0] else one for one in asked]
    with visit.reading() as session:
        held = {
            view.sheet: view
            for view in profile_history(session, handed.source)
            if view.holds and handed.source
        }
    return visit.page(
        "sheets_columns.html.jinja", status_of(error), error=error, asked=asked, held=held,
        unsaid=UNSAID, names=sheet_names(), axes=AXES, typed=axes_typed(form), meant=meant[0],
        **file_words(visit, handed),
    )  # fmt: skip


@router.post("/in/{token}/columns")
def confirm_columns(visit: Signed, token: str, form: Form) -> Response:
    """Keep what a person confirms of one sheet; read the file with it once all are confirmed."""
    handed, said = handed_of(visit, token), Said(form)
    meant = said.text("sheet"), said.text("as_sheet")
    source = said.text("source") or handed.source
    try:
        asked = sheets_asked(visit.desk.shelf.file(handed), *meant)
        one = next((each for each in asked if each.proposal.found == meant[0]), None)
        if one is None:
            raise BadInput("the file has no such sheet", found=meant[0])
        confirm(
            visit.register, visit.desk.shelf.file(handed), source, said_of(one, form),
            sheet=meant[0], as_sheet=meant[1], acting=visit.acting, reason=said.text("reason"),
            now=visit.now,
        )  # fmt: skip
        handed = replace(handed, source=source)
        visit.desk.shelf.say_anew(handed)
        with visit.reading() as session:
            held = {view.sheet for view in profile_history(session, source) if view.holds}
        if {each.proposal.found for each in asked} <= held:
            look_again(visit, handed)
            return to_file(handed)
    except SupportsError as error:
        return _columns(visit, handed, meant, form, error)
    return to_file(handed, "/columns")
