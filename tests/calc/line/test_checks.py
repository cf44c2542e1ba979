"""Faults in a line's data: each gives its own code, at the place of its row."""

from dataclasses import replace
from math import nan

import pytest

from supports.calc.line.checks import line_findings, sound
from supports.calc.line.line import Line
from supports.calc.line.parts import Bend, LumpedMass, Masses, Node, Pipe
from supports.calc.line.restraints import Guide, Rest, Variable
from supports.errors import InputHasFaults
from supports.findings import Place, Severity
from tests.calc.line.example import STIFF, held, straight

ROW = Place("line.xlsx", "parts", "A7")
GOOD = straight((0, 3, 6), (held("S", "N0"), held("T", "N6")))


def with_pipe(start: str, end: str) -> Line:
    pipe = Pipe("new", start, end, STIFF, Masses(0.0), place=ROW)
    return replace(GOOD, parts=(*GOOD.parts, pipe))


def bend(corner: tuple[float, float, float]) -> Line:
    nodes = (*GOOD.nodes, Node("B", 7.0, 1.0, 0.0))
    part = Bend("new", "N6", "B", corner, STIFF, Masses(0.0), 0.01, 0.15, place=ROW)
    return replace(GOOD, nodes=nodes, parts=(*GOOD.parts, part))


def island() -> Line:
    nodes = (*GOOD.nodes, Node("I1", 0, 9, 0, ROW), Node("I2", 3, 9, 0))
    pipe = Pipe("new", "I1", "I2", STIFF, Masses(0.0))
    return replace(GOOD, nodes=nodes, parts=(*GOOD.parts, pipe))


def lump(node: str, mass: float = 1.0) -> Line:
    return replace(GOOD, masses=(LumpedMass("new", node, mass, place=ROW),))


def support(new) -> Line:
    return replace(GOOD, supports=(*GOOD.supports, new))


def heavy(metal: float) -> Line:
    pipe = replace(GOOD.parts[0], masses=Masses(metal), place=ROW)
    return replace(GOOD, parts=(pipe, *GOOD.parts[1:]))


FAULTS = {
    "node-unknown part": (with_pipe("N6", "N99"), "node-unknown"),
    "node-unknown mass": (lump("N99"), "node-unknown"),
    "node-unknown support": (support(Rest("new", "N99", place=ROW)), "node-unknown"),
    "length-zero": (with_pipe("N6", "N6"), "length-zero"),
    "island": (island(), "island"),
    "bend-straight": (bend((6.5, 0.5, 0.0)), "bend-straight"),
    "bend-askew": (bend((8.0, 0.0, 0.0)), "bend-askew"),
    "node-twice": (
        replace(GOOD, nodes=(*GOOD.nodes, Node("N3", 3.0, 1.0, 0.0, ROW))),
        "node-twice",
    ),
    "support-twice": (support(Rest("S", "N3", place=ROW)), "support-twice"),
    "mass not a number": (lump("N3", nan), "figure-unusable"),
    "mass negative": (heavy(-1.0), "figure-unusable"),
    "mass unknown": (heavy(nan), "figure-unusable"),
    "rate zero": (support(Variable("new", "N3", 1.0, 0.0, place=ROW)), "figure-unusable"),
    "guide": (support(Guide("new", "N3", (0, 0, 0), place=ROW)), "direction-missing"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_fault_has_its_code_and_place(name: str) -> None:
    line, code = FAULTS[name]
    found = [f for f in line_findings(line) if f.severity is Severity.STOP]
    assert [f.code for f in found] == [code]
    assert found[0].place == ROW
    with pytest.raises(InputHasFaults) as refused:
        sound(line)
    assert refused.value.findings == tuple(found)


def test_sound_line_passes() -> None:
    assert line_findings(GOOD) == ()
    assert sound(GOOD) is GOOD


def test_no_pipe_at_all() -> None:
    assert [f.code for f in line_findings(replace(GOOD, parts=()))] == ["line-without-pipe"]


def test_two_nodes_at_one_point_ask_for_a_look() -> None:
    nodes = (*GOOD.nodes, Node("X", 6.0, 0.0, 0.0, ROW), Node("Y", 9.0, 0.0, 0.0))
    pipes = (Pipe("x", "X", "Y", STIFF, Masses(0.0)), Pipe("y", "N3", "Y", STIFF, Masses(0.0)))
    found = line_findings(replace(GOOD, nodes=nodes, parts=(*GOOD.parts, *pipes)))
    assert [(f.code, f.severity) for f in found] == [("nodes-coincide", Severity.LOOK)]
