"""supports rules: ask every rule of the register, see what is wrong, why, and since when."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import ActingAs, Reason, RegisterAt

app = Noun()

_Rule = Annotated[str, typer.Argument(help="Id of the rule.")]
_Name = Annotated[str, typer.Argument(help="Tag, PS-12/B, line, change: whose finding it is.")]
_Until = Annotated[datetime, typer.Option(formats=["%Y-%m-%d"], help="Last day it is accepted.")]
_Every = Annotated[bool, typer.Option("--every", help="Show all.")]


@app.command()
def run(reason: Reason = "", acting: ActingAs = None, register: RegisterAt = None) -> None:
    """Ask every rule of the whole register and keep what it found."""
    from app.rule_pages import count_lines, since_lines, worst_lines
    from app.settings import acting_person, now, open_register
    from supports.operations.rule_runs import run_rules
    from supports.queries.rule_runs import found_of, run_by_number
    from supports.rules.run import compare_runs

    opened = open_register(register)
    kept = run_rules(opened, acting=acting_person(acting), now=now(), reason=reason)
    if kept.screened:
        lines = f"{kept.screened} line{'s' if kept.screened != 1 else ''}"
        print(f"{lines} screened anew (screening calculation, not an approval).")
    print("\n".join(count_lines(kept.counts, kept.found)))
    print("\n".join(worst_lines(kept.found)))
    print(f"Kept as run {kept.id}.")
    if kept.before is not None:
        with opened.reading() as session:
            before = run_by_number(session, kept.before)
            since = compare_runs(found_of(session, kept.before), kept.found)
        print(f"Since {before.words}:")
        print("\n".join(since_lines(since)))


@app.command()
def show(
    rule: Annotated[str, typer.Option(help="Only this rule.")] = "",
    severity: Annotated[str, typer.Option(help="STOP, ACT, LOOK or NOTE")] = "",
    unjudged: Annotated[bool, typer.Option("--unjudged", help="What cannot be judged.")] = False,
    by_rule: Annotated[bool, typer.Option("--by-rule", help="Count by rule only.")] = False,
    every: _Every = False,
    register: RegisterAt = None,
) -> Answer:
    """Show what the rules find now, accepted findings among them."""
    from app.looked_up.rules import found_now
    from app.settings import now, open_register
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        return found_now(
            session, day_at(session, now()), rule=rule, severity=severity, unjudged=unjudged,
            by_rule=by_rule, every=every,
        )  # fmt: skip


@app.command()
def explain(
    name: _Name,
    rule: Annotated[str, typer.Argument(help="Id of one rule; all that speak if left out.")] = "",
    every: _Every = False,
    register: RegisterAt = None,
) -> Answer:
    """Explain answers step by step, with where every number comes from."""
    from app.settings import now, open_register
    from supports.queries.explanations import explanations
    from supports.queries.plant_days import day_at

    with open_register(register).reading() as session:
        said = explanations(session, name, day_at(session, now()), rule=rule, every=every)
    calm = f"No rule is broken at {name}, and none lacks a value. Add --every for what passes."
    return Answer(said, tuple(line for one in said for line in one.lines) or (calm,))


@app.command()
def runs(register: RegisterAt = None) -> Answer:
    """List the runs kept."""
    from app.settings import open_register
    from supports.queries.rule_runs import runs as kept_runs

    with open_register(register).reading() as session:
        kept = tuple(kept_runs(session))
    lines = [f"{one.words}{'; ' + one.reason if one.reason else ''}" for one in kept]
    return Answer(kept, lines or ("No run is kept. Keep one with: supports rules run",))


@app.command()
def since(
    number: Annotated[int, typer.Argument(help="Number of a run; the newest if left out.")] = 0,
    change: Annotated[str, typer.Option(help="Since before this change was noted.")] = "",
    brought_in: Annotated[str, typer.Option("--import", help="Since before this file.")] = "",
    register: RegisterAt = None,
) -> Answer:
    """Show what is new, gone, worse and better since a run, a change or an import."""
    from app.rule_pages import since_lines
    from app.settings import now, open_register
    from supports.queries.plant_days import day_at
    from supports.queries.rule_runs import ask_register, found_of, run_since
    from supports.rules.run import compare_runs, found_in

    with open_register(register).reading() as session:
        before = run_since(session, number=number, change=change, brought_in=brought_in)
        asked = ask_register(session, day_at(session, now()))
        found = found_in(asked.asked, asked.limits)
        changed = compare_runs(found_of(session, before.id), found)
    return Answer(changed, (f"Since {before.words}:", *since_lines(changed)))


@app.command()
def accept(
    rule: _Rule, name: _Name, until: _Until, reason: Reason = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Accept a finding until a day; other facts put it before somebody again."""
    from app.settings import acting_person, now, open_register
    from supports.operations.rule_runs import Word, accept_finding

    word = Word(rule, name, reason, until.date())
    said = accept_finding(open_register(register), word, acting=acting_person(acting), now=now())
    print(f"{rule} at {said.name}: {said.words}")


@app.command()
def withdraw(
    rule: _Rule, name: _Name, reason: Reason = "",
    acting: ActingAs = None, register: RegisterAt = None,
) -> None:  # fmt: skip
    """Take an acceptance back."""
    from app.settings import acting_person, now, open_register
    from supports.operations.rule_runs import withdraw_acceptance

    said = withdraw_acceptance(
        open_register(register), rule, name, reason, acting=acting_person(acting), now=now()
    )
    print(f"{rule} at {said.name}: {said.words}")


@app.command()
def handbook(
    into: Annotated[Path | None, typer.Option("--into", help="File to write.")] = None,
) -> Answer:
    """Print the handbook of the rules, or write it to a file."""
    from app.shapes import Text
    from supports.rules.handbook import handbook as written

    text = written()
    if into is None:
        return Answer(Text(text), text.splitlines())
    into.write_text(text, encoding="utf-8")
    return Answer(Text(text), (str(into),))
