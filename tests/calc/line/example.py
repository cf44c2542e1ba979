"""Lines that several tests use."""

from itertools import pairwise
from math import inf

from supports.calc.line.line import Line
from supports.calc.line.parts import LumpedMass, Masses, Node, Pipe, Section, Theory
from supports.calc.line.restraints import Anchor, Constant, Guide, Support, Variable
from supports.calc.line.states import State, added, cold

G = 9.80665
STIFF = Section(0.01, 2.5e7 / 2.0e11, 2.0e11)
"""EI = 2.5e7 N·m²."""


def straight(
    at: tuple[float, ...],
    supports: tuple[Support, ...],
    *,
    newton_per_metre: float = 0.0,
    theory: Theory = Theory.EULER,
    section: Section = STIFF,
) -> Line:
    """Build a straight line along x with a node 'N<x>' at each place."""
    nodes = tuple(Node(f"N{x:g}", x, 0.0, 0.0) for x in at)
    masses = Masses(newton_per_metre / G)
    parts = tuple(
        Pipe(f"P{i}", a.name, b.name, section, masses) for i, (a, b) in enumerate(pairwise(nodes))
    )
    return Line("straight", nodes, parts, supports, theory=theory)


def held(name: str, node: str) -> Guide:
    """Hold the pipe both ways vertically: a textbook support."""
    return Guide(name, node, (0.0, 0.0, 1.0))


def spine(node: str) -> Anchor:
    """Hold all but the vertical movement and the turning in the plane, so that a beam is plane."""
    return Anchor("spine", node, (inf, inf, 0.0, inf, 0.0, inf))


def two_constants(*, pinned: bool = False) -> Line:
    """Build the worked line: nozzle, two constants, a variable and a rigid, without own weight."""
    stiffness = (inf, inf, inf, inf, 0.0 if pinned else inf, inf)
    return straight(
        (0, 4, 7, 10, 16, 20),
        (
            Anchor("nozzle", "N0", stiffness),
            Constant("C1", "N4", 0.0),
            Constant("C2", "N10", 0.0),
            Variable("V", "N16", 0.0, 80e3),
            held("R", "N20"),
        ),
    )


def valve_added() -> State:
    """Hang 6.0 kN at 7 m."""
    return added(cold(), LumpedMass("valve", "N7", 6000.0 / G))
