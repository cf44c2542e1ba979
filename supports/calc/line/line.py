"""A whole line: nodes, parts, masses and supports under one name."""

from __future__ import annotations

from dataclasses import dataclass

from supports.calc.line.parts import FlexiblePart, LumpedMass, Node, Part, RigidPart, Theory
from supports.calc.line.restraints import Anchor, Constant, Spring, Support, Variable


@dataclass(frozen=True, slots=True)
class Line:
    """A piping line as the screening calculation sees it.

    Branches are parts that share a node. Run `supports.calc.line.checks.line_findings` first: the
    solver takes a line without faults for granted.

    Parameters
    ----------
    installed_at
        Temperature at which the line was fitted [K].
    """

    name: str
    nodes: tuple[Node, ...]
    parts: tuple[Part, ...]
    supports: tuple[Support, ...] = ()
    masses: tuple[LumpedMass, ...] = ()
    theory: Theory = Theory.TIMOSHENKO
    installed_at: float = 293.15

    @property
    def flexible(self) -> tuple[FlexiblePart, ...]:
        """Parts that bend."""
        return tuple(part for part in self.parts if not isinstance(part, RigidPart))

    @property
    def rigid(self) -> tuple[RigidPart, ...]:
        """Parts that do not bend."""
        return tuple(part for part in self.parts if isinstance(part, RigidPart))

    @property
    def springs(self) -> tuple[Spring, ...]:
        """Constants and variables, in the order of the supports."""
        return tuple(s for s in self.supports if isinstance(s, Constant | Variable))

    @property
    def anchors(self) -> tuple[Anchor, ...]:
        """Anchors and nozzles, in the order of the supports."""
        return tuple(s for s in self.supports if isinstance(s, Anchor))
