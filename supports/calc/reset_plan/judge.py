"""All limits of a problem together: what each uses after given set-load changes, and the worst."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from supports.calc.line.influence import FloatArray
from supports.calc.reset_plan.norms import Norm, norms_of
from supports.calc.reset_plan.problem import PlanProblem
from supports.calc.reset_plan.rows import Columns, Label, Row, Rows, columns_of, stacked
from supports.calc.reset_plan.setting_rows import setting_rows
from supports.calc.reset_plan.state_rows import state_rows

PASSES = 1.0 + 1e-5
"""Largest use that still passes [1]: the limit and the last digits of the optimiser."""


@dataclass(frozen=True, slots=True)
class Use:
    """How much of a limit is used: 1 is the limit itself [1]; no label means nothing is limited."""

    share: float
    label: Label | None = None

    @property
    def passes(self) -> bool:
        """Whether the limit is kept."""
        return self.share <= PASSES

    def __str__(self) -> str:
        return f"{self.label or 'no limit given'}: {in_tenths(self.share):.1%}"


def in_tenths(share: float) -> float:
    """Round a use to a tenth of a percent; within its limit never shows as at it, nor back.

    Parameters
    ----------
    share
        Use of a limit [1].

    Returns
    -------
    float
        The use to be printed [1], to 0.001. Source: rounding to nearest, save next to the limit.

    >>> in_tenths(0.9909), in_tenths(0.9996), in_tenths(1.0004), in_tenths(1.0)
    (0.991, 0.999, 1.001, 1.0)
    """
    near = round(1000.0 * share)
    if near == 1000 and abs(1000.0 * share - near) > 1e-9:
        near += 1 if share > 1.0 else -1
    return near / 1000.0


NOTHING_USED = Use(0.0)
"""Use where nothing is limited."""


@dataclass(frozen=True, slots=True)
class Judge:
    """Linear rows and rules on resultants, to be judged together."""

    lines: Rows
    norms: tuple[Norm, ...]

    @property
    def labels(self) -> tuple[Label, ...]:
        """Labels in the order of `uses`."""
        return (*(row.label for row in self.lines.rows), *(norm.label for norm in self.norms))

    def uses(
        self, changes: FloatArray, differences: Sequence[FloatArray | None] | None = None
    ) -> FloatArray:
        """Return the use of every limit [1] after set-load changes [N]; leading axes are kept.

        Parameters
        ----------
        changes
            Change of set load of each column [N].
        differences
            For each state, how far the resolved vector stands from the prediction [N], [m], [N·m].
        """
        shifts = self.lines.shifts(differences) if differences else 0.0
        parts = [self.lines.uses(changes, shifts)]
        parts += [n.use(changes, _six(n, differences))[..., None] for n in self.norms]
        return np.concatenate(parts, axis=-1)

    def worst(
        self, changes: FloatArray, differences: Sequence[FloatArray | None] | None = None
    ) -> Use:
        """Return the limit that is used most [1] after set-load changes [N]."""
        return worst_of(self.uses(changes, differences), self.labels)

    def counting(self) -> Judge:
        """Return only the limits that enter the worst use of any limit."""
        rows = tuple(row for row in self.lines.rows if row.counts)
        return Judge(stacked(rows, self.lines.effect.shape[1]), self.norms)


def worst_of(uses: FloatArray, labels: Sequence[Label]) -> Use:
    """Return the largest use [1] with its label; nothing limited uses nothing."""
    if not labels:
        return NOTHING_USED
    governing = int(np.argmax(uses))
    return Use(float(uses[governing]), labels[governing])


def _six(norm: Norm, differences: Sequence[FloatArray | None] | None) -> FloatArray | float:
    found = differences[norm.state] if differences else None
    return 0.0 if found is None else found[norm.at : norm.at + 6]


def all_limits(problem: PlanProblem) -> tuple[tuple[Row, ...], tuple[Norm, ...]]:
    """Return every row and every rule on resultants of a problem."""
    columns: Columns = columns_of(problem)
    numbers = range(len(problem.states))
    rows = [row for number in numbers for row in state_rows(problem, number, columns)]
    norms = [norm for number in numbers for norm in norms_of(problem, number, columns)]
    return (*rows, *setting_rows(problem)), tuple(norms)


def final_judge(problem: PlanProblem) -> Judge:
    """Return the limits that hold at the end of the work, in every state."""
    rows, norms = all_limits(problem)
    return Judge(stacked((r for r in rows if r.final), len(problem.columns)), norms)


def working_judge(problem: PlanProblem) -> Judge:
    """Return the limits that hold between the steps, in the working states.

    Ends of ranges and required loads are left to the end; what can be hurt on the way is not.
    """
    rows, norms = all_limits(problem)
    kept = (r for r in rows if r.working and (r.counts or not r.final))
    return Judge(stacked(kept, len(problem.columns)), tuple(n for n in norms if n.working))
