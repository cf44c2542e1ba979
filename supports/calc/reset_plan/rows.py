"""Limits as rows: value = base + effect × changes must not pass limit, worst case of friction."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.problem import PlanProblem

BoolArray = npt.NDArray[np.bool_]


class RowKind(StrEnum):
    """What a limit protects."""

    NOZZLE = "nozzle limit"
    SUPPORT = "support limit"
    STATUS = "support keeps carrying"
    POINTER = "pointer room"
    RANGE = "adjusting range"
    THREAD = "free thread"
    TRAPEZE = "share on the beam"
    TARGET = "required load"
    HOLD = "prop or travel stop"


@dataclass(frozen=True, slots=True)
class Label:
    """Which limit it is; `unit` is that of its value: N, N·m, m or steps."""

    kind: RowKind
    subject: str
    quantity: str
    unit: str
    state: str = ""

    def __str__(self) -> str:
        where = f" ({self.state})" if self.state else ""
        return f"{self.subject}: {self.kind}, {self.quantity}{where}"


@dataclass(frozen=True, slots=True)
class Row:
    """One one-sided limit; use = 1 + (value − limit) / scale, so that 1 is the limit itself.

    Parameters
    ----------
    base, effect, limit, scale
        In the unit of the label; `effect` per newton of set-load change of each column.
    state, at, sign
        State and row of its influence table from which the value comes, and with which sign; −1
        for limits on settings.
    owner
        Column of the unit whose replacement lifts the limit; −1 for none.
    counts
        Whether it enters the worst use of any limit.
    final, working
        Whether it is judged at the end, and between the steps.
    """

    label: Label
    base: float
    effect: FloatArray
    limit: float
    scale: float
    state: int = -1
    at: int = -1
    sign: float = 1.0
    owner: int = -1
    counts: bool = True
    final: bool = True
    working: bool = False


@dataclass(frozen=True, slots=True)
class Columns:
    """Figures of the columns that friction needs: settings [N], half bands as shares [1]."""

    setting: FloatArray
    friction: FloatArray

    @property
    def half_band(self) -> FloatArray:
        """Half width of each friction band at the present settings [N]."""
        return self.setting * self.friction


def columns_of(problem: PlanProblem) -> Columns:
    """Return the settings [N] and half bands [1]; a column without limits has neither."""
    units = problem.by_name
    found = [units.get(name) for name in problem.columns]
    setting = np.array([unit.setting if unit else 0.0 for unit in found])
    friction = np.array([unit.friction or 0.0 if unit else 0.0 for unit in found])
    return Columns(setting, friction)


@dataclass(frozen=True, slots=True)
class Rows:
    """Many rows as arrays, to be judged in one product."""

    rows: tuple[Row, ...]
    base: FloatArray
    effect: FloatArray
    limit: FloatArray
    scale: FloatArray

    def uses(self, changes: FloatArray, shift: FloatArray | float = 0.0) -> FloatArray:
        """Return the use of each limit [1] after set-load changes [N]; leading axes are kept."""
        value = self.base + changes @ self.effect.T + shift
        out: FloatArray = 1.0 + (value - self.limit) / self.scale
        return out

    @property
    def counts(self) -> BoolArray:
        """Which rows enter the worst use of any limit."""
        return np.array([row.counts for row in self.rows], dtype=np.bool_)

    def shifts(self, differences: Sequence[FloatArray | None]) -> FloatArray:
        """Return by how much each value moves when the states differ from the prediction.

        Parameters
        ----------
        differences
            For each state, resolved minus predicted vector [N], [m], [N·m]; None if none is known.
        """
        return np.array([_shift(row, differences) for row in self.rows])


def _shift(row: Row, differences: Sequence[FloatArray | None]) -> float:
    found = differences[row.state] if row.at >= 0 else None
    return 0.0 if found is None else row.sign * float(found[row.at])


def stacked(rows: Iterable[Row], columns: int) -> Rows:
    """Put rows into arrays; `columns` is needed when there is no row."""
    kept = tuple(rows)
    effect = np.array([row.effect for row in kept]).reshape(-1, columns)
    figures = np.array([(row.base, row.limit, row.scale) for row in kept]).reshape(-1, 3)
    return Rows(kept, figures[:, 0], effect, figures[:, 1], figures[:, 2])


def worst_case(row: Row, columns: Columns) -> Row:
    """Let every spring pull anywhere in its friction band: base and effect grow by |effect| × band.

    The band of a constant is a share of its setting, so the worst case stays linear:
    value = base + effect·x + Σ |effect| d (F₀ + x).

    Source: interval arithmetic on the superposition.
    """
    size = np.abs(row.effect)
    base = row.base + float(size @ columns.half_band)
    return replace(row, base=base, effect=row.effect + size * columns.friction)
