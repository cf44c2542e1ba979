"""What a rule is, and how it is asked of a frame.

A rule is one function from columns to columns. It says where it applies, where it is broken, and
which figures it worked out; the engine adds what is not known. To add one: write the function in
the module of its group, list it in that module's tuple with its words, and name each new column in
``supports/data/rule_columns.csv`` and each new limit in ``supports/data/site_settings.csv``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import IntEnum, StrEnum

import numpy as np
import numpy.typing as npt

from supports.findings import Answer, Severity
from supports.rules.frame import (
    BoolColumn,
    FloatColumn,
    Frame,
    Subject,
    TextColumn,
    catalogue,
)
from supports.rules.site_settings import SiteSettings
from supports.units import Kind

WAITS = "waiting: "
"""How what waits for an answer is told apart from what nobody knows."""

CodeColumn = npt.NDArray[np.uint8]


class Group(StrEnum):
    """What a rule watches over."""

    LOAD = "load and adjustability"
    TRAVEL = "travel"
    HARDWARE = "hardware rating"
    MOVEMENT = "movement and clearance"
    HISTORY = "setting history against the nameplate"
    STOPS = "travel stops"
    CHANGE = "change control"
    WALKDOWN = "walkdown"
    DATA = "quality of data"


class Code(IntEnum):
    """An answer as it is kept in a column."""

    NOT_APPLICABLE = 0
    PASSES = 1
    CANNOT_JUDGE = 2
    FAILS = 3

    @property
    def answer(self) -> Answer:
        """Return the answer in words."""
        return Answer[self.name]


@dataclass(frozen=True, slots=True)
class Figure:
    """A number that a rule worked out, and how.

    Parameters
    ----------
    formula
        In the names of columns, limits and other figures, each in braces.
    """

    values: FloatColumn
    kind: Kind
    label: str
    formula: str = ""


@dataclass(frozen=True, slots=True)
class Judged:
    """What a rule's function says of every row.

    Parameters
    ----------
    applies
        Where the rule has something to say at all.
    fails
        Where it is broken, once everything that it needs is known.
    when
        Where it applies as far as only the known figures can tell; everywhere if None.
    surely
        Where it is broken although something is not known.
    unknown
        Where something else than a needed column is not known, by its words.
    graver
        Where the rule's graver severity holds.
    figures
        What was worked out, by name, in order.
    """

    applies: BoolColumn
    fails: BoolColumn
    when: BoolColumn | None = None
    surely: BoolColumn | None = None
    unknown: Mapping[str, BoolColumn] = field(default_factory=dict)
    graver: BoolColumn | None = None
    figures: Mapping[str, Figure] = field(default_factory=dict)


Ask = Callable[[Frame, "Limits"], Judged]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule with its words.

    Parameters
    ----------
    condition
        When it is broken.
    needs
        Columns that must be known to judge.
    limits
        Site settings that it compares with.
    says
        Sentence of the answer; columns, figures and limits in braces.
    remedy
        What the reader is to do.
    source
        Where the condition comes from.
    measure
        The figure that grows as things get worse.
    graver
        Severity where the function says so.
    """

    id: str
    group: Group
    severity: Severity
    subject: Subject
    condition: str
    ask: Ask
    says: str
    remedy: str
    source: str
    needs: tuple[str, ...] = ()
    limits: tuple[str, ...] = ()
    measure: str = ""
    graver: Severity | None = None

    @property
    def gravest(self) -> Severity:
        """Return the gravest severity that it may have."""
        return self.graver or self.severity


@dataclass(frozen=True, slots=True)
class Override:
    """Another value of a setting for one line or one class; SI."""

    name: str
    scope: str
    value: float


@dataclass(frozen=True, slots=True)
class Limits:
    """The site's limits in force, with those that hold for one line or one class only.

    A line's own value outranks that of its class, which outranks the site's.
    """

    settings: SiteSettings
    overrides: tuple[Override, ...] = ()

    def of(self, name: str, rows: Frame) -> FloatColumn:
        """Return a limit for every row."""
        values = np.full(rows.size, getattr(self.settings, name), dtype=np.float64)
        for scope, column in (("class", "criticality"), ("line", "line")):
            for own in self.overrides:
                kind, _, wanted = own.scope.partition(":")
                if own.name == name and kind == scope:
                    values[rows.text(column) == wanted] = own.value
        return values


@dataclass(frozen=True, slots=True)
class Asked:
    """A rule with its answers on one frame."""

    rule: Rule
    rows: Frame
    codes: CodeColumn
    judged: Judged
    missing: Mapping[str, BoolColumn]

    def count(self, code: Code) -> int:
        """Count the answers of a kind."""
        return int(np.count_nonzero(self.codes == code))

    def where(self, code: Code) -> npt.NDArray[np.intp]:
        """Return the rows with an answer."""
        return np.flatnonzero(self.codes == code)

    def severity(self, row: int) -> Severity:
        """Return how grave the rule is for a row."""
        grave = self.judged.graver
        return self.rule.gravest if grave is not None and grave[row] else self.rule.severity

    def measure(self) -> FloatColumn:
        """Return the figure that grows as things get worse; not known where there is none."""
        shown = self.judged.figures.get(self.rule.measure)
        return np.full(self.rows.size, np.nan) if shown is None else shown.values


def ask(rule: Rule, rows: Frame, limits: Limits) -> Asked:
    """Ask a rule of every row of a frame.

    What is known to be broken outweighs what is not known; what is not known is never passed, nor
    is what waits for an answer: a column's name with '!' says what, where something does.
    """
    with np.errstate(invalid="ignore", divide="ignore"):
        judged = rule.ask(rows, limits)
    missing = {name: judged.applies & ~rows.known(name) for name in rule.needs}
    missing |= {words: judged.applies & absent for words, absent in judged.unknown.items()}
    unknown = np.zeros(rows.size, dtype=bool)
    for absent in missing.values():
        unknown |= absent
    codes = np.full(rows.size, Code.PASSES, dtype=np.uint8)
    for name, waits in _waiting(rule, rows, judged).items():
        codes[waits] = Code.CANNOT_JUDGE
        missing[name] = missing[name] | waits
    codes[judged.fails] = Code.FAILS
    if judged.when is not None:
        codes[~judged.when] = Code.NOT_APPLICABLE
    codes[unknown] = Code.CANNOT_JUDGE
    if judged.surely is not None:
        codes[judged.surely] = Code.FAILS
    codes[~judged.applies] = Code.NOT_APPLICABLE
    return Asked(rule, rows, codes, judged, missing)


def _waiting(rule: Rule, rows: Frame, judged: Judged) -> dict[str, BoolColumn]:
    """Return where a needed column waits for an answer, by its name; what fails is not held up."""
    return {
        name: judged.applies & ~judged.fails & (rows.text(f"{name}!") != "")
        for name in rule.needs
        if f"{name}!" in rows.columns
    }


def missing_words(asked: Asked, row: int) -> tuple[str, ...]:
    """Return what is missing for a row, in words, once each."""
    absent = [name for name, rows in asked.missing.items() if rows[row]]
    words = [word for name in absent for word in _words(asked.rows, name, row)]
    return tuple(dict.fromkeys(words))


def _words(rows: Frame, name: str, row: int) -> list[str]:
    """Return why a column is not known, where the frame says so, else what it is called."""
    waits: TextColumn = rows.text(f"{name}!")
    if waits[row]:
        return [WAITS + one for one in str(waits[row]).split("; ")]
    why: TextColumn = rows.text(f"{name}?")
    known = catalogue().get(name)
    return str(why[row]).split("; ") if why[row] else [known.label if known else name]
