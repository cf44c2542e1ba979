"""Exceptions that stop a request.

Faults in the *data* are not exceptions: they are `supports.findings.Finding` values.

::

    SupportsError                     exit code 1   something stopped the request
    |-- BadInput                      exit code 2   what was handed in cannot be used
    |   |-- FileUnusable                            missing, damaged, wrong kind
    |   |-- SheetMissing                            the workbook lacks a sheet
    |   |-- ColumnMissing                           the sheet lacks a heading
    |   |-- QuantityUnreadable                      a number or a unit cannot be read
    |   `-- InputHasFaults                          findings that forbid storing; carries them
    |-- NotFound                      exit code 3   tag, line, change, ... is not in the register
    |-- NotAllowed                    exit code 4   the person may not do it (role, four eyes)
    |-- NotReady                      exit code 5   the state forbids it; names the blockers
    |-- Conflict                      exit code 6   somebody else changed it meanwhile
    |-- DatabaseTrouble               exit code 7   locked, absent, of another revision
    `-- CannotCalculate               exit code 8   the arithmetic has no answer
        |-- Mechanism                               nothing resists a motion of the line
        `-- NoConvergence                           one-way supports did not settle
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from supports.sentences import Sentence, joined


class SupportsError(Exception):
    """Something stopped the request; the message is a sentence for the user.

    Parameters
    ----------
    what
        What went wrong.
    where
        File, sheet and cell, or the thing concerned.
    found, expected
        What stood there, and what should have.
    remedy
        What to do next.
    """

    exit_code = 1

    def __init__(
        self, what: str, *, where: str = "", found: str = "", expected: str = "", remedy: str = ""
    ) -> None:
        self.what, self.where = what, where
        self.found, self.expected, self.remedy = found, expected, remedy
        super().__init__(sentence(what, where, found, expected, remedy))

    @property
    def said(self) -> str:
        """Return the whole sentence, which any language can say."""
        said: str = self.args[0]
        return said

    def __reduce__(self) -> tuple[Any, ...]:
        """Go to another process as it is: made anew from its sentence it would say it twice."""
        return _as_it_was, (type(self), self.args, self.__dict__)


def _as_it_was(kind: type[SupportsError], args: tuple[str], parts: dict[str, Any]) -> SupportsError:
    error = kind.__new__(kind, *args)
    error.__dict__.update(parts)
    return error


def sentence(what: str, where: str, found: str, expected: str, remedy: str) -> Sentence:
    """Put the parts of a message into one line; empty parts are left out."""
    parts = [Sentence("{where}: {what}", where=where, what=what) if where else what]
    if found:
        parts.append(Sentence("found {found}", found=found))
    if expected:
        parts.append(Sentence("expected {expected}", expected=expected))
    line = joined(parts)
    return Sentence("{line}. {remedy}" if remedy else "{line}.", line=line, remedy=remedy)


class BadInput(SupportsError):
    """What was handed in cannot be used."""

    exit_code = 2


class FileUnusable(BadInput):
    """A file is missing, damaged, protected or of the wrong kind."""


class SheetMissing(BadInput):
    """A workbook lacks a sheet."""


class ColumnMissing(BadInput):
    """A sheet lacks a heading."""


class QuantityUnreadable(BadInput):
    """A number or a unit cannot be read, or could mean more than one thing."""


class InputHasFaults(BadInput):
    """Findings forbid storing; `findings` holds them all."""

    def __init__(self, what: str, findings: Sequence[object], *, remedy: str = "") -> None:
        self.findings = tuple(findings)
        super().__init__(what, remedy=remedy)


class NotFound(SupportsError):
    """The thing named is not in the register."""

    exit_code = 3


class NotAllowed(SupportsError):
    """The person may not do what was asked."""

    exit_code = 4


class NotReady(SupportsError):
    """The state of things forbids it; `blockers` names what stands in the way."""

    exit_code = 5

    def __init__(self, what: str, blockers: Sequence[str] = (), *, remedy: str = "") -> None:
        self.blockers = tuple(blockers)
        super().__init__(what, found=joined(self.blockers), remedy=remedy)


class Conflict(SupportsError):
    """Somebody else changed it meanwhile."""

    exit_code = 6


class DatabaseTrouble(SupportsError):
    """The database is locked, absent or of another revision."""

    exit_code = 7


class CannotCalculate(SupportsError):
    """The arithmetic has no answer."""

    exit_code = 8


class Mechanism(CannotCalculate):
    """Nothing resists a motion of the line."""


class NoConvergence(CannotCalculate):
    """One-way supports did not settle."""
