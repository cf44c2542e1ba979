"""A file that came with a form, kept on the shelf."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.datastructures import FormData, UploadFile

from app.web.acts.asking import Said
from app.web.sheets.shelf import HandedIn
from supports.errors import BadInput

if TYPE_CHECKING:
    from app.web.visits import Visit


def keep_file(visit: Visit, form: FormData, order: str = "") -> HandedIn:
    """Keep the file of a form on the shelf, under a token of its own.

    Raises
    ------
    BadInput
        No file came with the form.
    """
    file, said = form.get("file"), Said(form)
    if not isinstance(file, UploadFile) or not file.filename:
        raise BadInput("no file was handed in")
    handed = HandedIn(
        visit.desk.fresh_key(), file.filename, visit.acting, visit.now, said.text("source"),
        said.day("on"), order,
    )  # fmt: skip
    return visit.desk.shelf.put(handed, file.file)
