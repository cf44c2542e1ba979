"""A line as it would be: insulation, contents, a support taken out or held; nothing is stored."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from app.readings import quantity_in
from app.web.troubles import status_of
from app.web.visits import Signed
from supports.errors import NotReady, SupportsError
from supports.queries.lookups import line_of
from supports.queries.route_views import route_view
from supports.rules.line.what_if import Supposed, what_if
from supports.rules.line.words import CAUTION
from supports.units import Kind

router = APIRouter()

ASKED = {
    "thickness": ("mm", Kind.LENGTH),
    "density": ("kg/m³", Kind.DENSITY),
    "contents": ("kg/m³", Kind.DENSITY),
    "first": ("m", Kind.LENGTH),
    "last": ("m", Kind.LENGTH),
}
"""Figures that the form asks, with the unit of a bare number."""
_Words = Annotated[str, Query(max_length=200)]


@router.get("/lines/{number:path}/what-if")
def supposed_line(
    visit: Signed, number: str, thickness: _Words = "", density: _Words = "",
    contents: _Words = "", first: _Words = "", last: _Words = "", out: _Words = "",
    held: _Words = "",
) -> Response:  # fmt: skip
    """Show a line before and after what is supposed of it; the empty form where nothing is."""
    typed = {"thickness": thickness, "density": density, "contents": contents, "first": first,
             "last": last}  # fmt: skip
    answer, route = None, None
    error: SupportsError | None = None
    with visit.gathering() as session:
        number = line_of(session, number).number
        try:
            route = route_view(session, number)
        except NotReady as trouble:
            error = trouble
    if route is not None and any((thickness, density, contents, out, held)):
        try:
            answer = what_if(route, _read(typed, out, held))
        except SupportsError as trouble:
            error = trouble
    return visit.page(
        "line_what_if.html.jinja", status_of(error), number=number, typed=typed, out=out,
        held=held, points=() if route is None else route.supports, answer=answer, error=error,
        caution=CAUTION,
    )  # fmt: skip


def _read(typed: dict[str, str], out: str, held: str) -> Supposed:
    figures = {name: quantity_in(typed[name], *how) for name, how in ASKED.items()}
    return Supposed(**figures, taken_out=out, held=held)
