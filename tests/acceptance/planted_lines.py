"""Invented lines with a route, some with a fault, each with what it must raise.

A sound line is straight and level, 36 m between two rigid ends, on five rests 6 m apart. Worked by
hand: w = 103.7 kg/m × 9.80665 = 1,016.9 N/m, so each rest carries w·6 m = 6,101.7 N. By symmetry
the pipe is level over every rest, and each span is a beam with both ends built in, of which any
handbook of beams says: w·L/2 = 3,050.9 N and w·L²/12 = 3,050.9 N·m at either end.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from tests.acceptance.planted_plant import Found, Row, ago

SPAN, RESTS = 6.0, 5
PER_METRE = 103.7 * 9.80665
REST_LOAD = PER_METRE * SPAN
END_MOMENT = PER_METRE * SPAN**2 / 12.0
FIRST_LINE, FIRST_POINT, FIRST_CASE = 10_000, 1_000_000, 100_000


@dataclass
class RoutedLine:
    """A line with the rows of all its tables."""

    number: int
    line: Row
    calculation: list[Row]
    cases: list[Row]
    points: list[Row]
    tags: list[Row]
    assemblies: list[Row]
    attachments: list[Row]
    loads: list[Row]
    nodes: list[Row]
    elements: list[Row]
    ends: list[Row]
    nozzles: list[Row] = field(default_factory=list)

    @property
    def name(self) -> str:
        return self.line["number"]

    def tag(self, place: int) -> str:
        """Return the tag of the n-th rest."""
        return self.tags[place - 1]["tag"]

    def rows(self) -> dict[str, list[Row]]:
        """Return the rows by table."""
        return {
            "line": [self.line], "design_case": self.cases, "calculation": self.calculation,
            "support_point": self.points, "support_tag": self.tags, "assembly": self.assemblies,
            "attachment": self.attachments, "required_load": self.loads, "line_node": self.nodes,
            "line_element": self.elements, "line_end": self.ends, "nozzle_limit": self.nozzles,
        }  # fmt: skip


def routed(index: int) -> RoutedLine:
    """Return a sound line."""
    number = FIRST_LINE + index
    points = [FIRST_POINT + RESTS * index + place for place in range(1, RESTS + 1)]
    case = FIRST_CASE + 2 * index
    places = range(RESTS + 2)
    load = {"calculation_id": number, "line_id": number, "load": REST_LOAD,
            "includes_hardware": "yes", "movement_up": 0.0, "movement_east": 0.0,
            "movement_north": 0.0}  # fmt: skip
    return RoutedLine(
        number=number,
        line={
            "id": number, "number": f"R-{index:03}", "pipe_mass_per_length": 79.7,
            "insulation_mass_per_length": 24.0, "content_mass_per_length": 0.0,
            "outside_diameter": 0.3239, "wall": 0.0103, "material": "carbon steel",
            "operating_temperature": 293.15, "creep_or_high_energy": "no",
        },
        calculation=[{"id": number, "number": f"CR-{index}", "revision": "A",
                      "method": "full analysis", "status": "issued", "issued_on": ago(4000)}],
        cases=[{"id": case + k, "line_id": number, "name": kind, "kind": kind}
               for k, kind in enumerate(("operating", "sustained"))],
        points=[{"id": p, "kind": "rest", "in_service": "in place", "criticality": "C"}
                for p in points],
        tags=[{"point_id": p, "tag": f"RS-{p}", "matching_key": f"RS{p}"} for p in points],
        assemblies=[{"id": p, "point_id": p, "arrangement": "single"} for p in points],
        attachments=[
            {"point_id": p, "line_id": number, "order_along": place,
             "distance_along": SPAN * place, "node": str(place)}
            for place, p in enumerate(points, start=1)
        ],
        loads=[{**load, "point_id": p, "case_id": case + k} for p in points for k in (0, 1)],
        nodes=[{"line_id": number, "node": str(n), "east": SPAN * n, "north": 0.0,
                "elevation": 5.0} for n in places],
        elements=[{"line_id": number, "from_node": str(n), "to_node": str(n + 1), "piece": "pipe"}
                  for n in places[:-1]],
        ends=[{"line_id": number, "node": "0", "end_kind": "nozzle", "nozzle": "N1"},
              {"line_id": number, "node": str(RESTS + 1), "end_kind": "anchor"}],
        nozzles=[{"line_id": number, "nozzle": "N1", "node": "0", "machine": "no",
                  "force_resultant": 4_000.0, "moment_resultant": 4_000.0,
                  "source": "invented data sheet"}],
    )  # fmt: skip


LineFault = Callable[[RoutedLine], Found]
"""Plants itself in a line; returns (rule, name) of what must be found."""


def _half_a_load(one: RoutedLine) -> Found:
    # 3,050.9 of 36,610 N wanting: −8.3 %
    for row in one.loads[4:6]:
        row["load"] = REST_LOAD / 2.0
    return {("sum-does-not-close", one.name)}


def _heavier_than_known(one: RoutedLine) -> Found:
    # 10 kg/m of the 103.7 are not in the calculation: weight 36,610 × 113.7/103.7 = 40,140 N; the
    # rests carry 30,508 on record, the ends 2 × 3,345.1 as screened: 37,199 N, −7.3 %
    one.line["insulation_mass_per_length"] = 34.0
    return {("sum-does-not-close", one.name)}


def _weak_nozzle(one: RoutedLine) -> Found:
    # 3,050.9 N·m against 3,000: 101.7 %
    one.nozzles[0]["moment_resultant"] = 3_000.0
    return {("nozzle-over-limit", f"{one.name} N1")}


def _by_hand_in_creep(one: RoutedLine) -> Found:
    one.calculation[0]["method"] = "hand"
    one.line["creep_or_high_energy"] = "yes"
    return {("hand-method-on-must-analyse-line", one.name)}


def _by_screening_at_a_machine(one: RoutedLine) -> Found:
    one.calculation[0]["method"] = "screening"
    one.nozzles[0]["machine"] = "yes"
    return {("hand-method-on-must-analyse-line", one.name)}


def _same_place_twice(one: RoutedLine) -> Found:
    one.attachments[2]["order_along"] = 2
    return {("order-along-line-broken", one.name)}


def _no_place(one: RoutedLine) -> Found:
    one.attachments[4]["order_along"] = None
    return {("order-along-line-broken", one.name)}


def _backwards(one: RoutedLine) -> Found:
    one.attachments[4]["distance_along"] = 20.0
    return {("order-along-line-broken", one.name)}


def _two_signs(one: RoutedLine) -> Found:
    for row in one.loads[:4]:
        row["load"] = -REST_LOAD
    first, second = one.tag(1), one.tag(2)
    return {
        ("sign-or-axis-doubt", one.name), ("sum-does-not-close", one.name),
        ("pull-needed-downwards", first), ("pull-needed-downwards", second),
        ("rigid-unloaded", first), ("rigid-unloaded", second),
    }  # fmt: skip


def _neighbours_left_out(one: RoutedLine) -> Found:
    # a newer calculation gives a tenth more at the first rest, and nothing at the others
    newer = {**one.calculation[0], "id": one.number + 50_000, "revision": "B"}
    one.calculation.append({**newer, "issued_on": ago(200)})
    one.loads += [
        {**row, "calculation_id": newer["id"], "load": 1.1 * REST_LOAD} for row in one.loads[:2]
    ]
    return {("neighbour-not-recalculated", one.tag(place)) for place in (2, 3)}


LINE_FAULTS: tuple[LineFault, ...] = (
    _half_a_load, _heavier_than_known, _weak_nozzle, _by_hand_in_creep,
    _by_screening_at_a_machine, _same_place_twice, _no_place, _backwards, _two_signs,
    _neighbours_left_out,
)  # fmt: skip


def lines(how_many: int) -> tuple[list[RoutedLine], Found]:
    """Return lines with a fault in every second one, and all (rule, name) to be found."""
    made = [routed(index) for index in range(how_many)]
    wanted: Found = set()
    for turn, one in enumerate(made[1::2]):
        wanted |= LINE_FAULTS[turn % len(LINE_FAULTS)](one)
    return made, wanted


def store_lines(connection: Any, tables: Any, made: list[RoutedLine]) -> None:
    """Write all rows of all lines."""
    from tests.acceptance.planted_rows import write_rows

    gathered: dict[str, list[Row]] = {}
    for one in made:
        for name, rows in one.rows().items():
            gathered.setdefault(name, []).extend(rows)
    write_rows(connection, tables, gathered.items())
