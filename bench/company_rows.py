"""The rows of an invented company, table by table, as COPY takes them; the same for the same seed.

Twenty supports a line: constants, variables and rests in turn; 14 of them hang on a unit, which was
set once and read 14 or 15 times, so that there are ten readings a support. A third of the supports
was set away from what its calculation asks, so that the rules have something to say.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from supports.tags import natural_key

PLANTS = 20
PER_LINE = 20
AREAS = 10
"""Areas of a plant."""
TODAY = date(2031, 5, 6)
KINDS = ("constant hanger", "variable hanger", "rest")
HUNG = tuple(place for place in range(PER_LINE) if place % 3 != 2)
"""Places along a line at which a unit hangs."""
READ_MORE = 4
"""So many units of a line were read once more than the others."""
NOTHING = r"\N"
SIZES = ("DN 80", "DN 150", "DN 200", "DN 300")

Rows = Iterator[str]


@dataclass(frozen=True, slots=True)
class Company:
    """How many supports there are, and how each is named."""

    supports: int
    seed: int = 1

    @property
    def lines(self) -> int:
        """Return how many lines there are."""
        return self.supports // PER_LINE

    @property
    def lines_of_plant(self) -> int:
        """Return how many lines a plant has."""
        return self.lines // PLANTS

    def plant(self, line: int) -> int:
        """Return the plant of a line, counted from 1."""
        return (line - 1) // self.lines_of_plant + 1

    def points_of_plant(self, plant: int) -> range:
        """Return the ids of the support points of a plant."""
        each = self.lines_of_plant * PER_LINE
        return range((plant - 1) * each + 1, plant * each + 1)

    def tag(self, point: int) -> str:
        """Return the tag of a support point."""
        return f"P{self.plant((point - 1) // PER_LINE + 1):02}-PS-{point:07}"

    def line(self, line: int) -> str:
        """Return the number of a line."""
        return f"P{self.plant(line):02}-L-{line:06}"

    def area(self, point: int) -> str:
        """Return the area of a support point."""
        line = (point - 1) // PER_LINE + 1
        return f"P{self.plant(line):02}-U{line % AREAS}"

    def area_id(self, line: int) -> int:
        """Return the id of the area of a line."""
        return (self.plant(line) - 1) * AREAS + line % AREAS + 1

    def hangs(self, point: int) -> bool:
        """Return whether a unit hangs at a support point."""
        return (point - 1) % PER_LINE in HUNG

    def unit(self, line: int, number: int) -> int:
        """Return the id of the n-th unit of a line."""
        return (line - 1) * len(HUNG) + number + 1


def tables(company: Company) -> Iterator[tuple[str, tuple[str, ...], Rows]]:
    """Give each table with its columns and its rows, parents before children."""
    yield "area", ("id", "code"), _areas()
    yield (
        "line",
        ("id", "number", "area_id", "service", "nominal_size", "operating_temperature",
         "pipe_mass_per_length", "insulation_mass_per_length", "content_mass_per_length",
         "creep_or_high_energy", "row_version"),
        _lines(company),
    )  # fmt: skip
    yield "design_case", ("id", "line_id", "name", "kind"), _cases(company)
    yield (
        "calculation",
        ("id", "number", "revision", "method", "status", "issued_on", "row_version"),
        (f"{n}\tC-{n}\tA\tfull analysis\tissued\t2020-05-04\t1\n" for n in _each_line(company)),
    )
    yield (
        "support_point",
        ("id", "area_id", "kind", "in_service", "criticality", "floor", "row_version"),
        _points(company),
    )
    yield "support_tag", ("id", "point_id", "tag", "matching_key", "sort_key"), _tags(company)
    yield (
        "assembly",
        ("id", "point_id", "arrangement", "rod_length", "row_version"),
        (f"{n}\t{n}\tsingle\t1.2\t1\n" for n in _each_point(company)),
    )
    yield (
        "attachment",
        ("id", "point_id", "line_id", "order_along", "distance_along", "node", "row_version"),
        _attachments(company),
    )
    yield (
        "required_load",
        ("id", "calculation_id", "point_id", "line_id", "case_id", "load", "includes_hardware",
         "movement_up", "movement_east", "movement_north", "row_version"),
        _required(company),
    )  # fmt: skip
    yield from _unit_tables(company)


def _unit_tables(company: Company) -> Iterator[tuple[str, tuple[str, ...], Rows]]:
    yield "unit", ("id", "kind", "serial", "row_version"), _units(company)
    yield "unit_placement", ("id", "unit_id", "assembly_id", "position"), _placements(company)
    yield (
        "nameplate",
        ("id", "unit_id", "source", "scale_unit", "nameplate_load", "range_low", "range_high",
         "load_per_turn", "total_travel", "design_travel", "rate", "working_low", "working_high",
         "hot_load", "cold_load", "movement", "stop_rating", "row_version"),
        _plates(company),
    )  # fmt: skip
    yield (
        "setting_event",
        ("id", "unit_id", "happened_on", "load", "method", "plant_state", "set_by"),
        _settings(company),
    )
    yield (
        "reading",
        ("id", "unit_id", "read_on", "plant_state", "scale_load", "pointer", "read_by", "method",
         "occasion"),
        _readings(company),
    )  # fmt: skip
    yield (
        "hardware_piece",
        ("id", "assembly_id", "branch", "position", "kind", "size", "rated_load", "mass",
         "row_version"),
        _pieces(company),
    )  # fmt: skip


def _each_line(company: Company) -> range:
    return range(1, company.lines + 1)


def _each_point(company: Company) -> range:
    return range(1, company.lines * PER_LINE + 1)


def _dice(company: Company, what: str) -> random.Random:
    return random.Random(f"{company.seed} {what}")  # noqa: S311  invented rows, no secret


def _areas() -> Rows:
    for number in range(PLANTS * AREAS):
        yield f"{number + 1}\tP{number // AREAS + 1:02}-U{number % AREAS}\n"


def _lines(company: Company) -> Rows:
    dice = _dice(company, "lines")
    for n in _each_line(company):
        size, kelvin = dice.choice(SIZES), dice.choice((380.0, 450.0, 620.0, 700.0))
        yield (
            f"{n}\t{company.line(n)}\t{company.area_id(n)}\tsteam\t{size}\t{kelvin}\t79.7\t24\t0\t"
            "no\t1\n"
        )


def _cases(company: Company) -> Rows:
    for n in _each_line(company):
        yield f"{2 * n - 1}\t{n}\toperating\toperating\n{2 * n}\t{n}\tsustained\tsustained\n"


def _points(company: Company) -> Rows:
    dice = _dice(company, "points")
    for n in _each_point(company):
        place, line = (n - 1) % PER_LINE, (n - 1) // PER_LINE + 1
        yield (
            f"{n}\t{company.area_id(line)}\t{KINDS[place % 3]}\tin place\t{dice.choice('ABC')}\t"
            f"{dice.randrange(1, 9)}\t1\n"
        )


def _tags(company: Company) -> Rows:
    for n in _each_point(company):
        tag = company.tag(n)
        yield f"{n}\t{n}\t{tag}\t{tag.replace('-', '')}\t{natural_key(tag)}\n"


def _attachments(company: Company) -> Rows:
    for n in _each_point(company):
        place, line = (n - 1) % PER_LINE, (n - 1) // PER_LINE + 1
        yield f"{n}\t{n}\t{line}\t{place + 1}\t{6 * place}\tN{place}\t1\n"


def _required(company: Company) -> Rows:
    for n in _each_point(company):
        place, line = (n - 1) % PER_LINE, (n - 1) // PER_LINE + 1
        up = (-0.1, 0.015, 0.0)[place % 3]
        for number, case in ((2 * n - 1, 2 * line - 1), (2 * n, 2 * line)):
            yield f"{number}\t{line}\t{n}\t{line}\t{case}\t6100\tyes\t{up}\t0.01\t0\t1\n"


def _each_unit(company: Company) -> Iterator[tuple[int, int, bool]]:
    """Give the id of each unit, the point it hangs at, and whether it is a constant."""
    for line in _each_line(company):
        for number, place in enumerate(HUNG):
            point = (line - 1) * PER_LINE + place + 1
            yield company.unit(line, number), point, place % 3 == 0


def _units(company: Company) -> Rows:
    for unit, _, constant in _each_unit(company):
        yield f"{unit}\t{KINDS[0] if constant else KINDS[1]}\tS{unit:08}\t1\n"


def _placements(company: Company) -> Rows:
    for unit, point, _ in _each_unit(company):
        yield f"{unit}\t{unit}\t{point}\tA\n"


_CONSTANT = "6100\t5185\t7015\t80\t0.2\t-0.1" + f"\t{NOTHING}" * 6 + "\t12200"
_VARIABLE = f"{NOTHING}\t" * 6 + "40000\t4000\t8200\t6100\t6700\t0.015\t18300"


def _plates(company: Company) -> Rows:
    for unit, _, constant in _each_unit(company):
        yield f"{unit}\t{unit}\tplate\tkN\t{_CONSTANT if constant else _VARIABLE}\t1\n"


def _settings(company: Company) -> Rows:
    dice = _dice(company, "settings")
    for unit, _, constant in _each_unit(company):
        load = (6100.0 if constant else 6700.0) * dice.choice((1.0, 1.0, 0.93))
        yield f"{unit}\t{unit}\t2022-05-04\t{load}\tscale\tshut down, drained\tA. Person\n"


def _readings(company: Company) -> Rows:
    dice = _dice(company, "readings")
    days = [(TODAY - timedelta(days=90 + 180 * back)).isoformat() for back in range(20)]
    number = 0
    for unit, _, _ in _each_unit(company):
        for back in range(15 if (unit - 1) % len(HUNG) < READ_MORE else 14):
            number += 1
            state = "operating, steady" if back % 2 == 0 else "shut down, drained"
            load = 6100 + 10 * dice.randrange(-30, 31)
            yield (
                f"{number}\t{unit}\t{days[back]}\t{state}\t{load}\t{0.001 * (40 + back)}\t"
                "B. Person\tscale\twalkdown\n"
            )


_STACK = (("lug", 20_000, 1), ("rod", 10_000, 3), ("clamp", 10_000, 9))


def _pieces(company: Company) -> Rows:
    number = 0
    for _, point, _ in _each_unit(company):
        for position, (kind, rated, mass) in enumerate(_STACK, start=1):
            number += 1
            yield f"{number}\t{point}\tA\t{position}\t{kind}\tM20\t{rated}\t{mass}\t1\n"
