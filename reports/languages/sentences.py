"""Sentences that the register keeps in English, read back by the patterns they were made from.

An assessment or a plan is frozen with its sentences, and those of a frozen record are never made
anew. Each was made from a pattern with values; the same pattern reads the values out of it again,
and the language puts them into its own. A sentence of no known pattern stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache
from string import Formatter

from reports.languages import sentences_of_papers as of_papers
from reports.languages.sentences_of_sheets import OF_SHEETS
from supports import findings
from supports.calc.reset_plan.rows import RowKind
from supports.findings import Severity
from supports.rules.catalogue import RULES
from supports.rules.frame import catalogue
from supports.rules.turnaround.scope import Action
from supports.rules.unit_frame import NO_UNIT
from supports.rules.unit_loads import SMALL_HARDWARE, UNCLEAR_HARDWARE, UNKNOWN_ARMS, UNSHARED
from supports.rules.walkdown.words import Grade
from supports.rules.workflow import LineState
from supports.sentences import plain_places
from supports.vocabulary import PieceKind, Verdict

_LIMITS = tuple(f"{{subject}}: {kind}, {{quantity}}" for kind in RowKind)
OF_COUNTS = (
    "{count} row", "{count} rows", "{count} unit", "{count} units", "{count} day",
)  # fmt: skip
"""How many there are of something, as errors and findings say it."""
OF_PLANS = (
    "after {name}",
    "in before the weight is let go: {names}",
    *_LIMITS,
    *(f"{one} ({{state}})" for one in _LIMITS),
    "{limit}: {used}%",
    "{number}, “{name}”, line {line}",
    "{number}, “{name}”, line {line}, chosen by {person} on {day}",
    "{turns} to increase",
    "{turns} to decrease",
    "{count} days",
    "{count} hours",
    "{count} minutes",
    "{count} people",
    "{count} times",
    "{count} kN/turn",
    "{count} turns",
    "{count} turn",
    "{count} flats",
    "{count} flat",
    "{turns} turns {flats} flats",
    "{turns} turns {flats} flat",
    "{turns} turn {flats} flats",
    "{turns} turn {flats} flat",
    "Then step {number}, {place}",
    "Round {round} ends: read every scale, then step {number}, {place}",
    "Then HOLD, step {number}: put in {place}",
    "Then HOLD, step {number}: take out {place}",
    "Step {number}: put in {place}, good for {load}, before the weight is let go",
    "Step {number}: put in {place}, scales read",
    "Step {number}: take out {place}, scales read",
    "step {number}: put in {place}",
    "step {number}: take out {place}",
    "before step {number}",
    "not before step {number} is done and read",
    "prop at {level}",
    "prop at {level} (prop)",
    "{held} (travel stop)",
    "travel stop of {name}",
    "VOID, NOT TO BE WORKED BY: {reason}",
    "Before any turn, with the weight let go, {limit} stands at {share} of its limit. {words}",
    "As it was left, {limit} stands at {share} of its limit. {words}",
    ("Put in {holds} before the weight is released; no limit is passed on the way as long as it "
    "is in as listed."),
    ("Put in {holds} before the first turn; no limit is passed on the way as long as it is in as "
    "listed."),
    ("On the way {limit} reaches {share} of its limit: another share of the loads, or a prop "
    "elsewhere, is needed."),
)  # fmt: skip
"""Patterns of what a frozen plan says; orders name a hold with its sort in brackets where they were
written before a stop was called that of its unit."""

QUANTITIES = (
    "high end", "low end", "increasing", "decreasing", "force", "moment", "highest load",
    "lowest load", "load", "movement", "pointer", "set load",
    "set load against its share by moments",
)  # fmt: skip
"""What limits of a plan are about, besides the axes of a nozzle."""

ABSENT = (
    "direction of turning on the nameplate", "load per turn",
    "whether the load per turn counts one bolt or all",
    "whether the load bolt may be turned with the travel stop in",
    "an adjusting range that holds the nameplate load", "mass of the hardware below the unit",
    "required operating load", "line that the support holds; required load",
    "line that the support holds", NO_UNIT, UNKNOWN_ARMS, UNSHARED, UNCLEAR_HARDWARE,
    "Turns of the way back", "the hardware stack",
    "screening of the line by its present data (supports rules run)",
)  # fmt: skip
"""What may be missing at a unit besides the columns that rules need."""

ABSENT_OF = (
    "required load in case {name}", "required load from line {number}",
    "rating or mass of {piece}", "Direction to {way}, in the nameplate's words",
)  # fmt: skip
"""The same with a name in it."""

PIECES = tuple(f"{kind} {{size}}" for kind in PieceKind if kind is not PieceKind.UNIT)


def standing_words() -> tuple[str, ...]:
    """Return the words that stand in frozen sentences: quantities, and names of what is missing."""
    columns = {name for rule in RULES for name in rule.needs}
    labels = (known.label if (known := catalogue().get(one)) else one for one in columns)
    return tuple(dict.fromkeys((*QUANTITIES, *ABSENT, *labels)))


OF_UNITS = (
    "Shorten the rod by {length} in all.",
    "Lengthen the rod by {length} in all.",
    "shorten the rod by {length}",
    "lengthen the rod by {length}",
    "loads are those {position}",
    "Turn with the travel stop in or out, as the unit's instruction allows. Loads: {state}.",
    "Turn with the travel stop OUT only, the weight on. Loads: {state}.",
    f"{{tag}}: {SMALL_HARDWARE}",
    "{tag} branch {branch} piece {place}",
    "{tag} branch all piece {place}",
    "Verdict: {verdict}",
    "Takes back what was turned under {change}, which was for: {reason}",
    "no. {number}, given to {person} on {day}",
    "allowed force {axis}, calculated",
    "allowed moment {axis}, calculated",
    findings.MISSING,
    findings.WAITING,
    findings.BOTH,
    "waiting for an answer: {question}",
)
"""Patterns of what an assessment and an order say of units."""


OF_PAPERS = (
    *of_papers.OF_LINES, *of_papers.OF_CHANGES, *of_papers.OF_DEEDS, *of_papers.OF_WALKS,
    *of_papers.OF_PLAN_PAPERS, *of_papers.OF_TURNAROUNDS,
    *(f"{grade}: {{fault}}" for grade in Grade),
    *(f"{state} under {{number}}" for state in (*Verdict, *LineState)),
    *(f"{verdict} ({{reason}})" for verdict in Verdict),
)  # fmt: skip
"""Patterns of what papers of lines, changes, walks, plans and turnarounds hold ready-made."""


@cache
def patterns() -> tuple[str, ...]:
    """Return every pattern, the one with most words of its own first."""
    of_rules = (plain_places(rule.says) for rule in RULES)
    made = (*OF_COUNTS, *OF_PLANS, *OF_UNITS, *ABSENT_OF, *PIECES, *OF_PAPERS, *OF_SHEETS)
    known = dict.fromkeys((*made, *of_rules))
    return tuple(sorted(known, key=_own_signs, reverse=True))


def _own_signs(pattern: str) -> int:
    return len(re.sub(r"\{\w+\}", "", pattern))


_VALUES = {
    "count": r"\d[\d.,]*", "used": r"\d[\d.]*", "flats": r"\d+", "turns": r"\d[^,;]*",
    "turned": r"\d[^,;]*", "level": "[^,;]+", "held": "[^,;]+", "prop": "[^,;]+",
    "quantity": "[^:;]+", "deed": "|".join(Action), "severity": "|".join(Severity),
}  # fmt: skip
"""What stands in a place that holds no words, one thing of a row, or a word of a closed list."""


@cache
def _reader(pattern: str) -> re.Pattern[str]:
    parts = (
        re.escape(text) + (f"(?P<{name}>{_VALUES.get(name, '.+?')})" if name else "")
        for text, name, _, _ in Formatter().parse(pattern)
    )
    return re.compile("".join(parts), re.DOTALL)


def values_in(text: str, pattern: str) -> dict[str, str] | None:
    """Return the values that a pattern was filled with; None where the text is not of it.

    >>> values_in("step 5: put in prop at 3 m", "step {number}: put in {place}")
    {'number': '5', 'place': 'prop at 3 m'}
    """
    found = _reader(pattern).fullmatch(text)
    return None if found is None else found.groupdict()


def filled(pattern: str, values: Mapping[str, str]) -> str:
    """Return a pattern with its places filled."""
    return pattern.format_map(values)


@lru_cache(maxsize=4096)
def read_back(text: str) -> tuple[str, dict[str, str]] | None:
    """Return the pattern that a sentence was made from, with its values; None for a stranger's."""
    for pattern in patterns():
        if (values := values_in(text, pattern)) is not None:
            return pattern, values
    return None
