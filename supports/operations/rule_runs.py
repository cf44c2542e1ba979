"""Keep a run of the rules, accept a finding for a time, keep a question by name."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import date, datetime, timedelta
from typing import Any

from sqlalchemy import insert

from supports.database import Register
from supports.errors import BadInput, NotFound
from supports.freezing import fingerprint
from supports.model import FindingAcceptance, RuleAnswers, RuleRun, SavedQuestion
from supports.operations.acting import Deed, deed
from supports.operations.line_standings import keep_standings, screened_anew
from supports.queries.rule_runs import (
    COLUMNS,
    PlantAsked,
    acceptances,
    ask_register,
    newest_batch,
    newest_run,
)
from supports.rules.acceptances import Acceptance, require_may_accept
from supports.rules.catalogue import RULES_VERSION, rule_of
from supports.rules.run import Found, RuleCount, counts, found_in
from supports.sentences import Sentence, joined


@dataclass(frozen=True, slots=True)
class KeptRun:
    """A run just kept, with what it found and the number of the run before it.

    Parameters
    ----------
    screened
        Lines screened anew for it, because their data had changed.
    """

    id: int
    before: int | None
    asked: PlantAsked
    counts: tuple[RuleCount, ...]
    found: tuple[Found, ...]
    screened: int = 0


def run_rules(register: Register, *, acting: str, now: datetime, reason: str = "") -> KeptRun:
    """Ask every rule of the whole register and keep the answers that are no passes.

    Lines whose data changed since their last screening are screened first.
    """
    screened = screened_anew(register)
    with deed(register, acting, now, action="run the rules", reason=reason) as act:
        before = newest_run(act.session)
        keep_standings(act, screened)
        asked = ask_register(act.session, act.today)
        found, counted = found_in(asked.asked, asked.limits), counts(asked.asked)
        run = _keep(act, asked, found, counted, reason)
        earlier = None if before is None else before.id
        return KeptRun(run, earlier, asked, counted, found, len(screened))


def _keep(
    act: Deed,
    asked: PlantAsked,
    found: tuple[Found, ...],
    counted: tuple[RuleCount, ...],
    reason: str,
) -> int:
    packed = _packed(found)
    run = RuleRun(
        run_at=act.now,
        for_day=act.today,
        run_by=act.person.name,
        reason=reason or None,
        after_batch_id=newest_batch(act.session),
        rules_version=RULES_VERSION,
        limits={
            "settings": asdict(asked.limits.settings),
            "overrides": [asdict(one) for one in asked.limits.overrides],
        },
        counts={c.rule: [c.fails, c.passes, c.not_applicable, c.cannot_judge] for c in counted},
        fingerprint=fingerprint(packed),
    )
    act.session.add(run)
    act.session.flush()
    rows = [{"run_id": run.id, "rule": rule, "answers": kept} for rule, kept in packed.items()]
    if rows:
        # Sealed by the run's fingerprint, which the trail holds; a second copy would say no more.
        act.session.connection().execute(insert(RuleAnswers), rows)
    return run.id


def _packed(found: Iterable[Found]) -> dict[str, dict[str, Any]]:
    by_rule: dict[str, list[list[Any]]] = defaultdict(list)
    for one in found:
        by_rule[one.rule].append([getattr(one, name) for name in COLUMNS])
    return {rule: {"columns": list(COLUMNS), "rows": rows} for rule, rows in by_rule.items()}


@dataclass(frozen=True, slots=True)
class Word:
    """What somebody says of one finding."""

    rule: str
    name: str
    """Tag, with the unit where there are two; or number of the line or change."""
    reason: str
    until: date


def accept_finding(register: Register, word: Word, *, acting: str, now: datetime) -> Acceptance:
    """Accept a finding until a day; it lapses on its own when what it was judged on changes.

    Raises
    ------
    NotFound
        The rule does not fail there today.
    NotAllowed
        The person may not accept findings of that severity.
    """
    with deed(
        register, acting, now, action="accept a finding", reason=word.reason, subject=word.name
    ) as act:
        found = _finding(act, word.rule, word.name)
        role = require_may_accept(found, act.person.roles, word.reason, word.until, act.today)
        return _speak(act, found, role, word)


def withdraw_acceptance(
    register: Register, rule: str, name: str, reason: str, *, acting: str, now: datetime
) -> Acceptance:
    """Take an acceptance back; the finding is open again, and the words stay on record."""
    if not reason.strip():
        raise BadInput("withdrawing needs its reason", remedy="Give it with --reason")
    with deed(
        register, acting, now, action="withdraw an acceptance", reason=reason, subject=name
    ) as act:
        found = _finding(act, rule, name)
        if found.place not in acceptances(act.session, {rule}):
            raise NotFound(Sentence("{rule} at {name} was never accepted", rule=rule, name=name))
        role = require_may_accept(found, act.person.roles, reason, act.today, act.today)
        before = act.today - timedelta(days=1)
        return _speak(act, found, role, Word(rule, name, reason, before))


def _finding(act: Deed, rule: str, name: str) -> Found:
    asked = ask_register(act.session, act.today, rules=(rule_of(rule),))
    failing = [f for f in found_in(asked.asked, asked.limits) if f.fails]
    here = [f for f in failing if f.name == name] or [f for f in failing if f.tag == name]
    if len(here) == 1:
        return here[0]
    if here:
        raise BadInput(
            Sentence(
                "{rule} fails at {count} places of {name}",
                rule=rule,
                count=str(len(here)),
                name=name,
            ),
            found=joined((f.name for f in here), ", "),
            remedy="Name one of them",
        )
    raise NotFound(
        Sentence("{rule} does not fail at {name}", rule=rule, name=name),
        remedy="See what does with: supports rules show",
    )


def _speak(act: Deed, found: Found, role: str, word: Word) -> Acceptance:
    act.session.add(
        FindingAcceptance(
            rule=found.rule,
            subject=found.subject,
            subject_key=found.key,
            name=found.name,
            severity=found.severity,
            inputs=found.inputs,
            accepted_by=act.person.name,
            role=role,
            accepted_at=act.now,
            until=word.until,
            reason=word.reason,
        )
    )
    return Acceptance(
        rule=found.rule,
        subject=found.subject,
        key=found.key,
        name=found.name,
        inputs=found.inputs,
        by=act.person.name,
        role=role,
        accepted_on=act.today,
        until=word.until,
        reason=word.reason,
    )


def save_question(
    register: Register, name: str, words: dict[str, Any], *, acting: str, now: datetime
) -> None:
    """Keep a question by name; an older one of that name stays on record and is no longer used."""
    if not name.strip():
        raise BadInput("a question is kept by a name")
    with deed(register, acting, now, action="keep a question", subject=name) as act:
        act.session.add(
            SavedQuestion(name=name, words=words, saved_by=act.person.name, saved_at=act.now)
        )
