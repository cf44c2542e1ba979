"""supports support: look a support up."""

from __future__ import annotations

from typing import Annotated

import typer

from app.cli.options import RegisterAt, SupportTag, tag_and_position

app = typer.Typer(no_args_is_help=True, help="Supports in the register.")


@app.command("list")
def list_supports(
    line: Annotated[str, typer.Option(help="Only those on this line.")] = "",
    register: RegisterAt = None,
) -> None:
    """List supports, in order along a line or by tag."""
    from app.settings import open_register
    from app.tables import support_row
    from supports.queries.lookups import line_of
    from supports.queries.support_views import points_on_lines, support_views

    with open_register(register).reading() as session:
        points = None
        if line:
            points = points_on_lines(session, [line_of(session, line).number])
        views = support_views(session, points)
    if line:
        views.sort(key=lambda view: view.order_on(line))
    for view in views:
        print(support_row(view))
    print(f"{len(views)} support{'' if len(views) == 1 else 's'}.")


_Sources = Annotated[
    bool, typer.Option("--sources", help="Where each value was read: file, sheet, cell, text.")
]


@app.command()
def show(tag: SupportTag, sources: _Sources = False, register: RegisterAt = None) -> None:
    """Show all that is known of a support."""
    from app.settings import open_register
    from app.tables import source_lines, support_page
    from supports.queries.lookups import point_of
    from supports.queries.provenance import origins_at
    from supports.queries.support_views import support_views

    with open_register(register).reading() as session:
        point = point_of(session, tag_and_position(tag)[0])
        (view,) = support_views(session, [point])
        print("\n".join(support_page(view)))
        if sources:
            print("\n".join(source_lines(origins_at(session, point))))
