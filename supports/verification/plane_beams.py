"""Straight beams for checks: nodes along x, textbook supports, loads in newtons."""

from __future__ import annotations

from itertools import pairwise
from math import inf

from supports.calc.line.line import Line
from supports.calc.line.parts import LumpedMass, Masses, Node, Pipe, Section, Theory
from supports.calc.line.restraints import Anchor, Guide, Support
from supports.calc.line.results import LineResult
from supports.calc.line.solver import solve
from supports.calc.line.states import State, added, cold
from supports.units import STANDARD_GRAVITY

STIFF = Section(0.01, 2.5e7 / 2.0e11, 2.0e11)
"""EI = 2.5e7 N·m²."""
EI = STIFF.modulus * STIFF.second_moment


def straight(
    at: tuple[float, ...], supports: tuple[Support, ...], newton_per_metre: float = 0.0
) -> Line:
    """Return a straight line along x with a node 'N<x>' at each place [m]."""
    nodes = tuple(Node(f"N{x:g}", x, 0.0, 0.0) for x in at)
    masses = Masses(newton_per_metre / STANDARD_GRAVITY)
    parts = tuple(
        Pipe(f"P{i}", a.name, b.name, STIFF, masses) for i, (a, b) in enumerate(pairwise(nodes))
    )
    return Line("straight", nodes, parts, supports, theory=Theory.EULER)


def held(name: str, place: float) -> Guide:
    """Return a textbook support: it holds the pipe both ways vertically."""
    return Guide(name, f"N{place:g}", (0.0, 0.0, 1.0))


def fixed(name: str, place: float) -> Anchor:
    """Return a clamped end."""
    return Anchor(name, f"N{place:g}")


def spine() -> Anchor:
    """Return what keeps a beam plane: all held but vertical movement and turning in the plane."""
    return Anchor("spine", "N0", (inf, inf, 0.0, inf, 0.0, inf))


def hung(loads: dict[float, float]) -> State:
    """Return a state with loads [N] hung at places [m]."""
    masses = [
        LumpedMass(f"at {place:g}", f"N{place:g}", load / STANDARD_GRAVITY)
        for place, load in loads.items()
    ]
    return added(cold(), *masses)


def solved(line: Line, loads: dict[float, float] | None = None) -> LineResult:
    """Solve a beam under its own weight and what hangs from it."""
    return solve(line, [hung(loads or {})])[0]
