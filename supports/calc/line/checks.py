"""Faults in a line's data, each with a stable code and the place its row came from.

A line with a STOP finding must not be solved: the solver takes sound data for granted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from math import isfinite

import numpy as np

from supports.calc.line.line import Line
from supports.calc.line.parts import Bend, LumpedMass, Node, Part, Pipe, Reducer, RigidPart, Section
from supports.calc.line.restraints import Guide, Support, Variable
from supports.errors import InputHasFaults
from supports.findings import Finding, Severity, any_forbids
from supports.sentences import Sentence, joined

Row = Node | Part | Support | LumpedMass
_SHORTEST = 1e-6
_TANGENTS_APART = 1e-3


def line_findings(line: Line) -> tuple[Finding, ...]:
    """Return every fault in a line's data."""
    found = [finding for check in _CHECKS for finding in check(line)]
    if not any_forbids(found):
        found += [finding for check in _SHAPE_CHECKS for finding in check(line)]
    return tuple(found)


def sound(line: Line) -> Line:
    """Return the line if it may be solved.

    Raises
    ------
    InputHasFaults
        A finding forbids it; the exception carries them all.
    """
    found = line_findings(line)
    if any_forbids(found):
        raise InputHasFaults(
            Sentence(
                "line {line} cannot be calculated: {names}",
                line=line.name,
                names=joined(map(str, found)),
            ),
            found,
            remedy="Correct the rows named",
        )
    return line


def _stop(code: str, row: Row, what: str, found: str = "", expected: str = "") -> Finding:
    return Finding(code, Severity.STOP, what, row.place, found, expected, subject=row.name)


TWICE = "the {kind} is there {count} times"


def _names_twice(line: Line) -> Iterator[Finding]:
    for kind, rows in (
        ("node", line.nodes),
        ("part", line.parts),
        ("support", line.supports),
        ("mass", line.masses),
    ):
        count = Counter(row.name for row in rows)
        for row in {row.name: row for row in rows if count[row.name] > 1}.values():
            yield _stop(
                f"{kind}-twice", row, Sentence(TWICE, kind=kind, count=str(count[row.name]))
            )


def _unknown_nodes(line: Line) -> Iterator[Finding]:
    known = {node.name for node in line.nodes}
    for part in line.parts:
        for name in (part.start, part.end):
            if name not in known:
                yield _stop("node-unknown", part, "the part ends at an unknown node", name)
    for row in (*line.supports, *line.masses):
        if row.node not in known:
            yield _stop("node-unknown", row, "it stands at an unknown node", row.node)


def _nothing_there(line: Line) -> Iterator[Finding]:
    if not line.flexible:
        what = "the line has no pipe, bend or reducer"
        yield Finding("line-without-pipe", Severity.STOP, what, subject=line.name)


def _bad_figures(line: Line) -> Iterator[Finding]:
    for part in line.parts:
        for name, value, low in _figures(part):
            if not isfinite(value) or value < low or (value == 0.0 and name in _POSITIVE):
                yield _stop(
                    "figure-unusable",
                    part,
                    Sentence("{name} cannot be used", name=name),
                    str(value),
                )
    for node in line.nodes:
        yield from _not_numbers(node, (node.x, node.y, node.z))
    for lump in line.masses:
        yield from _not_numbers(lump, (lump.mass, *lump.offset))
    yield from _bad_supports(line)


def _not_numbers(row: Row, values: tuple[float, ...]) -> Iterator[Finding]:
    if not all(map(isfinite, values)):
        yield _stop("figure-unusable", row, "a figure is not a number", str(values))


def _bad_supports(line: Line) -> Iterator[Finding]:
    for support in line.supports:
        if isinstance(support, Variable) and not 0.0 < support.rate < float("inf"):
            yield _stop(
                "figure-unusable", support, "the spring rate cannot be used", str(support.rate)
            )
        if isinstance(support, Guide) and not any(support.direction):
            yield _stop("direction-missing", support, "the guide has no direction")


_POSITIVE = ("area", "second moment", "modulus", "wall", "mean radius", "flexibility factor")


def _figures(part: Part) -> Iterator[tuple[str, float, float]]:
    """Return name, value and least value of each figure of a part."""
    if isinstance(part, RigidPart):
        yield "mass", part.mass, 0.0
        return
    for section in (part.large, part.small) if isinstance(part, Reducer) else (part.section,):
        yield from _section_figures(section)
    yield "mass of metal", part.masses.metal, 0.0
    yield "mass of cover", part.masses.cover, 0.0
    for case, value in part.masses.contents.items():
        yield Sentence("mass of '{case}'", case=case), value, 0.0
    if isinstance(part, Pipe):
        yield "flexibility factor", part.flexibility, 0.0
    if isinstance(part, Bend):
        yield "wall", part.wall, 0.0
        yield "mean radius", part.mean_radius, 0.0


def _section_figures(section: Section) -> Iterator[tuple[str, float, float]]:
    yield "area", section.area, 0.0
    yield "second moment", section.second_moment, 0.0
    yield "modulus", section.modulus, 0.0
    yield "Poisson's ratio", section.poisson, 0.0


def _zero_lengths(line: Line) -> Iterator[Finding]:
    at = {node.name: np.array([node.x, node.y, node.z]) for node in line.nodes}
    for part in line.parts:
        length = float(np.linalg.norm(at[part.end] - at[part.start]))
        if length < _SHORTEST and not isinstance(part, RigidPart):
            yield _stop("length-zero", part, "the part has no length", f"{length:g} m", "over 0")


def _bends_askew(line: Line) -> Iterator[Finding]:
    at = {node.name: np.array([node.x, node.y, node.z]) for node in line.nodes}
    for bend in line.parts:
        if not isinstance(bend, Bend):
            continue
        first = np.array(bend.corner) - at[bend.start]
        last = at[bend.end] - np.array(bend.corner)
        a, b = float(np.linalg.norm(first)), float(np.linalg.norm(last))
        if min(a, b) < _SHORTEST or np.linalg.norm(np.cross(first, last)) < 1e-9 * a * b:
            yield _stop("bend-straight", bend, "the bend's corner makes no angle")
        elif abs(a - b) > _TANGENTS_APART * max(a, b):
            yield _stop(
                "bend-askew",
                bend,
                "the ends of the bend are not equally far from its corner",
                Sentence("{a} and {b}", a=f"{a:.4f} m", b=f"{b:.4f} m"),
            )


def _same_place(line: Line) -> Iterator[Finding]:
    """Two nodes at one point are allowed but odd: a joint is one node."""
    seen: dict[tuple[float, float, float], str] = {}
    for node in line.nodes:
        point = (round(node.x, 6), round(node.y, 6), round(node.z, 6))
        other = seen.setdefault(point, node.name)
        if other != node.name:
            what = Sentence(
                "the node stands where node {other} stands; a joint is one node", other=other
            )
            yield Finding("nodes-coincide", Severity.LOOK, what, node.place, subject=node.name)


def _islands(line: Line) -> Iterator[Finding]:
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import connected_components

    number = {node.name: place for place, node in enumerate(line.nodes)}
    ends = np.array([(number[part.start], number[part.end]) for part in line.parts])
    size = len(line.nodes)
    links = csr_array((np.ones(len(ends)), (ends[:, 0], ends[:, 1])), shape=(size, size))
    count, group = connected_components(links, directed=False)
    main = int(np.bincount(group).argmax())
    for island in range(count):
        if island != main:
            nodes = [node for node, g in zip(line.nodes, group, strict=True) if g == island]
            names = ", ".join(node.name for node in nodes)
            yield _stop("island", nodes[0], "a piece of the line is joined to nothing", names)


_CHECKS: tuple[Callable[[Line], Iterator[Finding]], ...] = (
    _nothing_there,
    _names_twice,
    _unknown_nodes,
    _bad_figures,
)
_SHAPE_CHECKS: tuple[Callable[[Line], Iterator[Finding]], ...] = (
    _zero_lengths,
    _bends_askew,
    _same_place,
    _islands,
)
