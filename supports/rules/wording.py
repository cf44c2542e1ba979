"""Answers in words: one sentence with its numbers, or the whole sum step by step."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import reduce
from math import isnan
from string import Formatter
from typing import Self

from supports.findings import Answer
from supports.rules.answers import RuleAnswer, cannot_judge_words
from supports.rules.frame import Frame, catalogue
from supports.rules.rule import Asked, Code, Group, Limits, missing_words
from supports.rules.site_settings import limits as proposed
from supports.sentences import Sentence, filled
from supports.units import Kind, shown

_UNITS = {
    Kind.LENGTH: "mm",
    Kind.MASS: "kg",
    Kind.RATE: "N/mm",
    Kind.LOAD_PER_TURN: "kN/turn",
    Kind.TEMPERATURE: "°C",
    Kind.TEMPERATURE_DIFFERENCE: "K",
    Kind.ANGLE: "°",
    Kind.FRACTION: "%",
}


class _Word(str):
    """A value already in words; a format asks for its sign or its decimals."""

    __slots__ = ("kind", "si", "unit")

    si: float
    kind: Kind
    unit: str

    def __new__(cls, si: float, kind: Kind, unit: str) -> Self:
        """Write an SI value in a unit."""
        made = super().__new__(cls, _quantity(si, kind, unit, None))
        made.si, made.kind, made.unit = si, kind, unit
        return made

    def __format__(self, spec: str) -> str:
        """Return the words; '+' gives the sign, '.1' one decimal."""
        places = int(spec[spec.index(".") + 1 :]) if "." in spec else None
        text = _quantity(self.si, self.kind, self.unit, places)
        return f"+{text}" if "+" in spec and self.si > 0.0 else text


def _quantity(si: float, kind: Kind, unit: str, places: int | None) -> str:
    if isnan(si):
        return "not known"
    if kind is Kind.COUNT:
        return f"{si:.{places if places is not None else 2}f}".rstrip("0").rstrip(".")
    return shown(si, unit, kind, places)


def sentence(asked: Asked, row: int, limits: Limits) -> Sentence:
    """Return the rule's sentence with the row's numbers in it."""
    return filled(asked.rule.says, _words(asked, row, limits))


def answer(asked: Asked, row: int, limits: Limits) -> RuleAnswer:
    """Return the answer for one row, in words."""
    rule, code = asked.rule, Code(asked.codes[row])
    severity = asked.severity(row)
    if code is Code.CANNOT_JUDGE:
        missing = missing_words(asked, row)
        text = cannot_judge_words(missing)
        return RuleAnswer(rule.id, code.answer, severity, text, limit_source(asked), missing)
    if code is Code.NOT_APPLICABLE:
        return RuleAnswer(rule.id, code.answer, severity, "not applicable")
    return RuleAnswer(
        rule.id, code.answer, severity, sentence(asked, row, limits), limit_source(asked)
    )


def limit_source(asked: Asked) -> str:
    """Return where the limits of a rule come from and how far that is confirmed."""
    named = [proposed()[name] for name in asked.rule.limits]
    parts = dict.fromkeys(f"{limit.source} ({limit.trust})" for limit in named)
    return "; ".join(parts) or asked.rule.source


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a sum: what it is, how it comes about, the value, and where that is from."""

    label: str
    value: str
    formula: str = ""
    filled: str = ""
    source: str = ""

    def __str__(self) -> str:
        """Return the line as it is printed."""
        middle = f" = {self.formula} = {self.filled}" if self.filled else ""
        source = f"   [{self.source}]" if self.source else ""
        return f"{self.label}{middle} = {self.value}{source}"


@dataclass(frozen=True, slots=True)
class Explanation:
    """A rule's answer for one subject with everything that it was made of."""

    rule: str
    subject: str
    answer: Answer
    severity: str
    condition: str
    inputs: tuple[Step, ...]
    worked: tuple[Step, ...]
    limits: tuple[Step, ...]
    says: str
    remedy: str
    source: str
    missing: tuple[str, ...] = field(default=())

    @property
    def lines(self) -> tuple[str, ...]:
        """Return the explanation as text, a step a line."""
        return tuple(_lines(self))


def _lines(said: Explanation) -> Iterator[str]:
    yield f"{said.subject}  {said.rule}: {said.answer}  {said.severity}"
    yield f"  asked: {said.condition}"
    for heading, steps in (
        ("known", said.inputs), ("worked out", said.worked), ("limits", said.limits),
    ):  # fmt: skip
        if steps:
            yield f"  {heading}:"
            yield from (f"    {step}" for step in steps)
    yield f"  so: {said.says}"
    if said.answer is Answer.FAILS:
        yield f"  what to do: {said.remedy}"
    yield f"  source of the rule: {said.source}"


def explain(
    asked: Asked,
    row: int,
    limits: Limits,
    origins: Mapping[str, str] | None = None,
    limit_origins: Mapping[str, str] | None = None,
) -> Explanation:
    """Return one answer step by step.

    Parameters
    ----------
    origins
        By column, where the row's value comes from: file and cell, calculation, day and reader.
    limit_origins
        By limit, who laid it down and when, where the site did.
    """
    rule, said = asked.rule, answer(asked, row, limits)
    words = _words(asked, row, limits)
    return Explanation(
        rule=rule.id,
        subject=str(asked.rows.names[row]),
        answer=said.answer,
        severity=str(said.severity),
        condition=rule.condition,
        inputs=tuple(_inputs(asked, words, origins or {})),
        worked=tuple(_worked(asked, words)),
        limits=tuple(_limits(asked, words, _compared_from(asked, row, limits, limit_origins))),
        says=said.text,
        remedy=rule.remedy,
        source=rule.source,
        missing=said.missing,
    )


def columns_of(asked: Asked) -> tuple[str, ...]:
    """Return the columns that a rule reads or prints, in the order of its words."""
    formulas = " ".join(f.formula for f in asked.judged.figures.values())
    named = [*asked.rule.needs, *_names(asked.rule.says), *_names(formulas)]
    columns = [n for n in named if n in catalogue() and n not in asked.judged.figures]
    return tuple(dict.fromkeys(columns))


def _names(template: str) -> list[str]:
    return [name for _, name, _, _ in Formatter().parse(template) if name]


def _inputs(asked: Asked, words: Mapping[str, str], origins: Mapping[str, str]) -> Iterator[Step]:
    for name in columns_of(asked):
        yield Step(_plain(name), str(words[name]), source=origins.get(name, ""))


def _worked(asked: Asked, words: Mapping[str, str]) -> Iterator[Step]:
    labels = {name: _plain(name) for name in words}
    labels |= {name: figure.label for name, figure in asked.judged.figures.items()}
    for name, figure in asked.judged.figures.items():
        formula, sum_ = filled(figure.formula, labels), filled(figure.formula, words)
        yield Step(figure.label, str(words[name]), formula, sum_)


def _limits(asked: Asked, words: Mapping[str, str], origins: Mapping[str, str]) -> Iterator[Step]:
    for name in asked.rule.limits:
        yield Step(_plain(name), str(words[name]), source=origins[name])


def _compared_from(
    asked: Asked, row: int, limits: Limits, known: Mapping[str, str] | None
) -> dict[str, str]:
    """Return by limit where its value for one row is from: the site, one place, or a proposal."""
    here, said = asked.rows.take([row]), dict(known or {})
    for name in asked.rule.limits:
        if name not in said:
            limit, value = proposed()[name], float(limits.of(name, here)[0])
            own = [scope_words(o.scope) for o in limits.overrides if o.name == name]
            site = value == getattr(limits.settings, name)
            said[name] = (
                Sentence("proposed; {source}; {trust}", source=limit.source, trust=limit.trust)
                if value == limit.si
                else _laid_down(() if site else own, limit.shown(limit.si))
            )
    return said


def scope_words(scope: str) -> Sentence:
    """Return what a limit of one place holds for: 'line:7' is said as 'line 7'."""
    kind, _, name = scope.partition(":")
    return (
        Sentence("line {line}", line=name)
        if kind == "line"
        else Sentence("class {name}", name=name)
    )


def _laid_down(places: Sequence[str], proposed_value: str) -> Sentence:
    if not places:
        return Sentence("laid down by the site; proposed {value}", value=proposed_value)
    return Sentence(
        "laid down by the site for {place}; proposed {value}",
        place=reduce(_either, places), value=proposed_value,
    )  # fmt: skip


def _either(one: str, other: str) -> Sentence:
    return Sentence("{one} or {other}", one=one, other=other)


def _plain(name: str) -> str:
    """Return a name of a column or a limit as words: they are chosen to be read."""
    return name.replace("_", " ")


def _words(asked: Asked, row: int, limits: Limits) -> dict[str, str]:
    """Return columns, limits and figures of one row in words, by name."""
    rows, rule = asked.rows, asked.rule
    here = rows.take([row])
    length = rows.text("pointer_unit")[row] if rule.group is Group.TRAVEL else ""
    units = _UNITS | {Kind.LOAD: rows.text("scale_unit")[row] or "kN"}
    units |= {Kind.LENGTH: length or "mm"}
    words: dict[str, str] = {name: _cell(here, name, units) for name in columns_of(asked)}
    for name in rule.limits:
        words[name] = proposed()[name].shown(limits.of(name, here)[0])
    for name, figure in asked.judged.figures.items():
        unit = units.get(figure.kind, "1")
        words[name] = _Word(float(figure.values[row]), figure.kind, unit)
    return words


def _cell(here: Frame, name: str, units: Mapping[Kind, str]) -> str:
    meaning = catalogue()[name]
    if meaning.is_text:
        return str(here.text(name)[0]) or "not known"
    value = float(here[name][0])
    if meaning.quantity is not None:
        return _Word(value, meaning.quantity, units.get(meaning.quantity, "1"))
    if not here.known(name)[0]:
        return "not known"
    if meaning.kind == "yes":
        return "yes" if value == 1.0 else "no"
    return date.fromordinal(int(value)).isoformat()
