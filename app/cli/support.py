"""supports support: look a support up."""

from __future__ import annotations

from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import RegisterAt, SupportTag, tag_and_position

app = Noun()


@app.command("list")
def list_supports(
    line: Annotated[str, typer.Option(help="Only those on this line.")] = "",
    register: RegisterAt = None,
) -> Answer:
    """List supports, in order along a line or by tag."""
    from app.settings import open_register
    from app.tables import support_table
    from supports.queries.lookups import line_of
    from supports.queries.support_views import points_on_lines, support_views

    with open_register(register).reading() as session:
        points = None
        if line:
            points = points_on_lines(session, [line_of(session, line).number])
        views = support_views(session, points)
    if line:
        views.sort(key=lambda view: view.order_on(line))
    return Answer(tuple(views), support_table(views))


_Sources = Annotated[
    bool, typer.Option("--sources", help="Where each value was read: file, sheet, cell, text.")
]


@app.command()
def show(tag: SupportTag, sources: _Sources = False, register: RegisterAt = None) -> Answer:
    """Show all that is known of a support."""
    from app.settings import open_register
    from app.shapes import SupportShown
    from app.tables import source_lines, support_page
    from supports.queries.lookups import point_of
    from supports.queries.provenance import origins_at
    from supports.queries.support_views import support_views

    with open_register(register).reading() as session:
        point = point_of(session, tag_and_position(tag)[0])
        (view,) = support_views(session, [point])
        origins = tuple(origins_at(session, point)) if sources else ()
    return Answer(
        SupportShown(view, tuple(value for _, value in origins)),
        (*support_page(view), *source_lines(origins)),
    )
