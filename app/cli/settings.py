"""supports settings: the site's limits and periods, who laid them down and when, profiles."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, Reason, RegisterAt
from supports.vocabulary import counted

app = Noun()

_Name = Annotated[str, typer.Argument(help="Name of the limit.")]
_Day = Annotated[
    datetime | None,
    typer.Option("--valid-from", formats=["%Y-%m-%d"], help="First day; today if left out."),
]


@app.command("list")
def list_limits(register: RegisterAt = None) -> Answer:
    """List every limit in force with its source, and those of one line or class."""
    from app.rule_pages import limit_lines, limits_now
    from app.settings import now, open_register
    from supports.queries.limits import in_force
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        held = in_force(session, day_at(session, now()))
    return Answer(tuple(limits_now(held)), tuple(limit_lines(held)))


@app.command("set")
def set_limit(
    name: _Name,
    value: Annotated[float, typer.Argument(help="In the limit's own unit, as listed.")],
    source: Annotated[str, typer.Option(help="Where the value comes from.")] = "",
    line: Annotated[str, typer.Option(help="For one line only.")] = "",
    of_class: Annotated[str, typer.Option("--class", help="For one class only.")] = "",
    valid_from: _Day = None,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Lay down a limit for the site, one line or one class; the old one stays on record."""
    from app.settings import acting_person, now, open_register
    from supports.errors import BadInput
    from supports.operations.limits import Wanted, lay_down_limit
    from supports.rules.site_settings import limit_of

    if line and of_class:
        raise BadInput("a limit holds for a line or for a class, not both")
    scope = f"line:{line}" if line else f"class:{of_class}" if of_class else ""
    day = valid_from.date() if valid_from else None
    wanted = Wanted(name, value, source, scope, day)
    lay_down_limit(open_register(register), wanted, acting=acting_person(acting), now=now())
    where = scope.replace(":", " ") or "the site"
    limit = limit_of(name)
    print(f"{name} for {where}: {limit.shown(limit.to_si(value))}, {source}")


@app.command()
def history(name: _Name, register: RegisterAt = None) -> Answer:
    """Show everything that was ever laid down for a limit, and what is proposed."""
    from app.settings import open_register
    from supports.queries.limits import laid_down
    from supports.rules.site_settings import limit_of

    limit = limit_of(name)
    with open_register(register).reading() as session:
        held = tuple(laid_down(session, name))
    lines = [
        f"{name}: {limit.meaning}",
        f"  proposed {limit.shown(limit.si)}; {limit.source}; {limit.trust}",
    ]
    for one in held:
        where = one.scope.replace(":", " ") or "site"
        lines.append(f"  {where}: {limit.shown(one.value)}, {one.words}")
    return Answer(held, lines)


@app.command()
def periods(register: RegisterAt = None) -> Answer:
    """List the periods of change control: retention, emergency, temporary, walk in operation."""
    from app.rule_pages import period_lines, periods_now
    from app.settings import now, open_register
    from supports.queries.periods import periods_laid_down
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        held, today = periods_laid_down(session), day_at(session, now())
    return Answer(tuple(periods_now(held, today)), tuple(period_lines(held, today)))


@app.command()
def period(
    name: Annotated[str, typer.Argument(help="Name of the period, as listed by 'periods'.")],
    value: Annotated[float, typer.Argument(help="In the period's own unit, as listed.")],
    source: Annotated[str, typer.Option(help="Where the value comes from.")] = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Lay down a period, such as how long closed changes are kept; the old one stays on record."""
    from app.settings import acting_person, now, open_register
    from supports.operations.site import lay_down_period
    from supports.rules.workflow.periods import period_of

    who = acting_person(acting)
    lay_down_period(open_register(register), name, value, source=source, acting=who, now=now())
    print(f"{name}: {value:g} {period_of(name).unit_words} from today on, {source}")


@app.command("time-zone")
def time_zone(
    name: Annotated[str, typer.Argument(help="Name of the IANA database, e.g. Europe/Berlin.")],
    reason: Reason = "",
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> None:
    """Lay down the plant's time zone: days and times on papers and at the desk go by it."""
    from app.settings import acting_person, now, open_register
    from supports.operations.site import lay_down_time_zone
    from supports.plant_time import clock_words

    opened = open_register(register)
    lay_down_time_zone(opened, name, reason=reason, acting=acting_person(acting), now=now())
    print(f"The plant's clock is that of {name}: it is {clock_words(now(), opened.zone)}.")


@app.command()
def profile(
    name: Annotated[
        str, typer.Argument(help="Profile to lay down; all are shown if left out.")
    ] = "",
    valid_from: _Day = None,
    acting: ActingAs = None,
    register: RegisterAt = None,
) -> Answer:
    """Show the profiles, or lay one down with the source and trust of each value."""
    from app.settings import acting_person, now, open_register
    from supports.operations.limits import choose_profile
    from supports.rules.site_settings import limits, profiles

    said = []
    if name:
        day = valid_from.date() if valid_from else None
        who = acting_person(acting)
        values = choose_profile(
            open_register(register), name, acting=who, now=now(), valid_from=day
        )
        said.append(f"Of profile {name} {counted(len(values), 'limit')} laid down:")
        shown = {name: values}
    else:
        shown = profiles()
    for title, values in shown.items():
        said.append(title)
        for one in values:
            unit = limits()[one.name].unit
            said.append(f"  {one.name:<22}{one.value:>6} {unit:<6}{one.source} ({one.trust})")
    return Answer({title: tuple(values) for title, values in shown.items()}, said)
