"""supports walkdown: planned, out on paper or tablet, back in, judged, closed."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer
from app.cli import walkdown_closing, walkdown_findings, walkdown_looks
from app.cli.noun import Noun
from app.cli.options import ActingAs, Into, Reason, RegisterAt, SupportTag, tag_and_position
from supports.vocabulary import counted

app = Noun()

Number = Annotated[str, typer.Argument(help="Number of the campaign: WD-2026-001")]
_Many = Annotated[list[str] | None, typer.Option(help="May be given more than once.")]
_Day = Annotated[datetime, typer.Option("--on", formats=["%Y-%m-%d"], help="Day of the walk.")]
_Store = Annotated[Path | None, typer.Option(help="Folder that photos are kept in.")]
_Text = Annotated[str, typer.Option(help="As written on the form.")]


@app.command()
def plan(
    title: Annotated[str, typer.Argument(help="What it is called on its papers.")], on: _Day,
    state: Annotated[str, typer.Option(help="Plant state wanted.")] = "operating, steady",
    line: _Many = None, area: _Many = None, criticality: _Many = None,
    after_change: Annotated[str, typer.Option(help="Lines of this change only.")] = "",
    overdue: Annotated[bool, typer.Option(help="Only those whose interval has passed.")] = False,
    never_seen: Annotated[bool, typer.Option(help="Only those nobody ever saw.")] = False,
    springs_only: Annotated[bool, typer.Option(help="Only supports with spring units.")] = False,
    carry_from: Annotated[str, typer.Option(help="Also what this campaign did not see.")] = "",
    pair: Annotated[str, typer.Option(help="Campaign of the other half of the cycle.")] = "",
    number: Annotated[str, typer.Option(help="Its number, if you give one.")] = "",
    reason: Reason = "", acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Plan a campaign: which supports, in which state, in walking order."""
    from app.settings import acting_person, now, open_register
    from app.words import word
    from supports.operations.walkdowns.campaigns import CampaignPlan, plan_campaign
    from supports.queries.walkdowns.scope import Scope
    from supports.vocabulary import PlantState

    scope = Scope(
        lines=tuple(line or ()), areas=tuple(area or ()), classes=tuple(criticality or ()),
        change=after_change, overdue=overdue, never_seen=never_seen, springs_only=springs_only,
        carried_from=carry_from,
    )  # fmt: skip
    wanted = CampaignPlan(title, word(PlantState, state), on.date(), scope, reason, pair, number)
    made = plan_campaign(open_register(register), wanted, acting=acting_person(acting), now=now())
    print(f"{made} is planned. Next: supports walkdown package {made}")


@app.command("list")
def list_campaigns(register: RegisterAt = None) -> Answer:
    """List all campaigns, the newest first."""
    from app.fitting import table
    from app.settings import open_register
    from supports.queries.walkdowns.lookups import campaign_rows

    with open_register(register).reading() as session:
        rows = tuple(campaign_rows(session))
    cells = [
        (one.number, str(one.walk_on), one.half, counted(one.items, "row"),
         counted(one.open_findings, "open finding"), one.state, one.title)
        for one in rows
    ]  # fmt: skip
    return Answer(rows, table(cells))


@app.command()
def show(number: Number, register: RegisterAt = None) -> Answer:
    """Show a campaign row by row, in walking order, with what stands in the way of closing it."""
    from app.settings import now, open_register
    from app.walkdown_tables import campaign_shown
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        return campaign_shown(session, number, day_at(session, now()))


@app.command()
def package(
    number: Number, into: Into = Path(),
    letter: Annotated[bool, typer.Option(help="US letter paper instead of A4.")] = False,
    store: _Store = None, acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Issue the form as it stands now; write it as PDF and as a workbook to fill in."""
    from app.settings import acting_person, now, open_register, photo_store
    from app.walkdown_papers import write_package
    from supports.operations.walkdowns.campaigns import issue_form

    opened = open_register(register)
    revision = issue_form(opened, number, acting=acting_person(acting), now=now())
    with opened.reading() as session:
        kept = photo_store(opened.url, store)
        for path in write_package(session, number, into, now(), store=kept, letter=letter):
            print(path)
    print(f"Form {number}/{revision}. Next: supports walkdown out {number} --walker NAME")


@app.command()
def out(
    number: Number, walker: Annotated[str, typer.Option(help="Who takes it out.")],
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Record that somebody takes a copy of the newest form out."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns.campaigns import take_out

    copy = take_out(
        open_register(register), number, walker, acting=acting_person(acting), now=now()
    )
    print(f"Copy {copy} of {number} is out with {walker}.")


@app.command("return")
def take_in(
    number: Number, file: Annotated[Path, typer.Argument(help="The filled-in workbook.")],
    walker: Annotated[str, typer.Option(help="Who walked, if the form does not say.")] = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Take a filled-in form back: compared three ways, nothing overwritten."""
    from app.settings import acting_person, now, open_register
    from app.walkdown_returns import outcome_lines, take_file

    outcome = take_file(
        open_register(register), number, file, walker=walker, acting=acting_person(acting),
        now=now(),
    )  # fmt: skip
    print("\n".join(outcome_lines(outcome)))


@app.command()
def key(
    number: Number, tag: SupportTag, walker: Annotated[str, typer.Option(help="Who walked.")],
    on: Annotated[str, typer.Option(help="Day of the reading, not of keying.")] = "",
    state: _Text = "", pipe_temperature: _Text = "", temperature_unit: _Text = "",
    seen: _Text = "", why_not: _Text = "", pointer: _Text = "", pointer_unit: _Text = "",
    marks: Annotated[str, typer.Option(help="Marks on the whole pointer scale.")] = "",
    counted_from: _Text = "", load: _Text = "", load_unit: _Text = "", stop: _Text = "",
    rod_angle: _Text = "", gap: _Text = "", serial: _Text = "", grade: _Text = "",
    wrong: _Text = "", act_by: _Text = "", how_soon: _Text = "", told: _Text = "",
    photos: _Text = "", remarks: _Text = "",
    revision: Annotated[int | None, typer.Option(help="Revision printed on the form.")] = None,
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Key in one row from paper. What you leave out stays blank; a blank is not a nought."""
    from app.settings import acting_person, now, open_register
    from app.walkdown_returns import key_in, outcome_lines

    written = {
        "read_on": on, "plant_state": state, "pipe_temperature": pipe_temperature,
        "temperature_unit": temperature_unit, "seen": seen, "why_not": why_not,
        "pointer": pointer, "pointer_unit": pointer_unit, "divisions": marks,
        "read_from": counted_from, "load": load, "load_unit": load_unit, "stop": stop,
        "rod_angle": rod_angle, "gap": gap, "serial": serial, "grade": grade, "fault": wrong,
        "act_by": act_by, "how_soon": how_soon, "told": told, "photos": photos,
        "remarks": remarks,
    }  # fmt: skip
    outcome = key_in(
        open_register(register), number, tag_and_position(tag), written, walker=walker,
        revision=revision, acting=acting_person(acting), now=now(),
    )  # fmt: skip
    print("\n".join(outcome_lines(outcome)))


@app.command()
def choose(
    number: Number, tag: SupportTag,
    walker: Annotated[str, typer.Option(help="Whose word stands.")],
    reason: Reason = "", acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Choose one walker's word where two differ; both are kept."""
    from app.settings import acting_person, now, open_register
    from supports.operations.walkdowns.returns import choose_entry

    choose_entry(
        open_register(register), number, tag_and_position(tag), walker,
        acting=acting_person(acting), reason=reason, now=now(),
    )  # fmt: skip
    print(f"{tag}: the word of {walker} stands.")


@app.command()
def photos(
    number: Number, folder: Annotated[Path, typer.Argument(help="Folder of pictures.")],
    store: _Store = None,
    keep_place: Annotated[
        str,
        typer.Option(
            help="Keep in the photos where they were taken, and say why; the record has both. "
            "Left out if not said."
        ),
    ] = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Put pictures to the rows that name their numbers; place, time and camera are left out."""
    from app.settings import acting_person, now, open_register, photo_store
    from app.walkdown_photos import take_photos

    opened = open_register(register)
    kept = photo_store(opened.url, store)
    said = take_photos(
        opened, number, folder, kept, acting=acting_person(acting), now=now(),
        keep_place=keep_place.strip(),
    )  # fmt: skip
    for words in said:
        print(words)


walkdown_closing.add_to(app)
walkdown_findings.add_to(app)
walkdown_looks.add_to(app)
