"""supports unit: the history of a unit."""

from __future__ import annotations

import typer

from app.cli.options import RegisterAt, SupportTag, tag_and_position

app = typer.Typer(no_args_is_help=True, help="Units in service.")


@app.command()
def history(tag: SupportTag, register: RegisterAt = None) -> None:
    """List every setting and reading of the unit at a support, oldest first."""
    from app.settings import open_register
    from app.tables import reading_words, setting_words
    from supports.queries.lookups import unit_of
    from supports.queries.unit_history import readings_of, settings_of, units_marked

    with open_register(register).reading() as session:
        unit = unit_of(session, *tag_and_position(tag))
        settings = settings_of(session, [unit.id]).get(unit.id, [])
        readings = readings_of(session, [unit.id]).get(unit.id, [])
        scale, pointer = units_marked(session, unit.id)
        serial = unit.serial
    print(f"unit {serial or 'without serial'} at {tag}")
    events = [(s.happened_on, setting_words(s, scale)) for s in settings]
    events += [(r.read_on, reading_words(r, scale, pointer)) for r in readings]
    for day, words in sorted(events):
        print(f"  {day}  {words}")
