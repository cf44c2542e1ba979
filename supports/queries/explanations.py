"""Any answer of any rule, step by step, with where every number comes from."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from sqlalchemy.orm import Session

from supports.errors import NotFound
from supports.findings import Answer, Severity
from supports.queries.limits import limit_origins
from supports.queries.lookups import point_of
from supports.queries.rule_origins import origins_of
from supports.queries.rule_runs import PlantAsked, ask_register
from supports.rules.catalogue import RULES, rule_of
from supports.rules.rule import Asked, Code, Rule
from supports.rules.wording import Explanation, explain
from supports.sentences import Sentence, either
from supports.tags import suggestions

BY_TAG = {"unit", "support point", "piece of hardware"}


def explanations(
    session: Session, name: str, today: date, *, rule: str = "", every: bool = False
) -> tuple[Explanation, ...]:
    """Explain the answers about one support, one unit ('PS-12/B'), one line or one change.

    Nothing is given where no rule is broken and none lacks a value, unless what passes is wanted.

    Parameters
    ----------
    rule
        Only this rule; all of them if ''.
    every
        Answers that pass too; answers that do not apply are given for a rule named only.

    Raises
    ------
    NotFound
        No rule is asked of anything of that name.
    """
    rules = (rule_of(rule),) if rule else RULES
    asked, is_point = _asked(session, name, today, rules)
    rows = [(one, row) for one in asked.asked for row in _rows(one, name)]
    if not rows and (rule or not is_point):
        raise _of_nothing(asked, name, rule)
    origins = limit_origins(session, today)
    found = tuple(
        explain(one, row, asked.limits, origins_of(session, one, row), origins)
        for one, row in rows
        if _wanted(Code(one.codes[row]), named=bool(rule), every=every)
    )
    speaking = tuple(one for one in found if one.answer is not Answer.NOT_APPLICABLE)
    return tuple(sorted(speaking or found, key=_gravest))


def _asked(
    session: Session, name: str, today: date, rules: tuple[Rule, ...]
) -> tuple[PlantAsked, bool]:
    """Ask rules of a support point and its units, of the whole register for any other name."""
    tag = name.rsplit("/", 1)[0] if name[-2:-1] == "/" else name
    local = tuple(rule for rule in rules if rule.subject in BY_TAG)
    try:
        point = point_of(session, tag)
    except NotFound:
        return ask_register(session, today, rules=rules), False
    return ask_register(session, today, [point], local), True


def _of_nothing(asked: PlantAsked, name: str, rule: str) -> NotFound:
    """Return what says that no rule, or not the one named, is asked of a name."""
    names = {str(other) for one in asked.asked for other in one.rows.names}
    near = suggestions(name, sorted(names))
    return NotFound(
        Sentence("rule {rule} is not asked of '{name}'", rule=rule, name=name)
        if rule
        else Sentence("no rule is asked of '{name}'", name=name),
        expected="the name of a support, unit, line or change",
        remedy=Sentence("Did you mean {near}?", near=either(near)) if near else "",
    )


def _rows(asked: Asked, name: str) -> Iterator[int]:
    if asked.rule.subject in BY_TAG and len(set(asked.rows.text("tag"))) == 1:
        named = {str(one) for one in asked.rows.names}
        yield from (
            row for row in range(asked.rows.size)
            if name not in named or asked.rows.names[row] == name
        )  # fmt: skip
        return
    yield from (row for row in range(asked.rows.size) if asked.rows.names[row] == name)


def _wanted(code: Code, *, named: bool, every: bool) -> bool:
    if code is Code.NOT_APPLICABLE:
        return named
    return named or every or code is not Code.PASSES


def _gravest(said: Explanation) -> tuple[int, str]:
    answers = (Answer.FAILS, Answer.CANNOT_JUDGE, Answer.PASSES, Answer.NOT_APPLICABLE)
    return (answers.index(said.answer) * 10 + Severity(said.severity).rank, said.rule)
