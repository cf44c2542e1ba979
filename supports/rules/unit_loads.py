"""What every unit has to carry, over whole columns: from the loads of all lines and cases.

A carrier is a unit in place, or a support point that has none: its pipe load by case is the load
of the point, shared between the units of a trapeze by moments about the beam, halved on a riser
pair, and increased by the hardware hung below where the calculation left that out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from supports.calc.elementwise import at_most, ratio
from supports.rules.facts import ANSWERS, CASES, Facts, Table
from supports.rules.frame import BoolColumn, FloatColumn, IntColumn, TextColumn, texts
from supports.rules.grouping import at, count_by, first_by, largest_by, least_by, sum_by
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import Arrangement, CaseKind, Known, PieceKind

OPERATING, SUSTAINED, TEST = (
    CASES.index(kind) for kind in (CaseKind.OPERATING, CaseKind.SUSTAINED, CaseKind.TEST)
)

SMALL_HARDWARE = "not said whether the load includes hardware; it was added, being small"
UNKNOWN_ARMS = "arms and mass of the trapeze beam"
UNSHARED = "how several units at one point share its load: the arrangement"
UNCLEAR_HARDWARE = "whether the required load includes the hardware below the unit"


@dataclass(frozen=True, slots=True)
class Carriers:
    """Units in place, then points without one: `unit` is -1 there."""

    point: IntColumn
    unit: IntColumn
    kind: IntColumn
    second: BoolColumn
    """Unit B of a pair."""

    @property
    def size(self) -> int:
        """Return how many there are."""
        return len(self.point)


def carriers_of(facts: Facts) -> Carriers:
    """Return every unit, and every point that has none."""
    units, points = facts.units, len(facts.points["id"])
    bare = np.flatnonzero(count_by(units["point"], points) == 0.0)
    return Carriers(
        point=np.concatenate([units["point"], bare]),
        unit=np.concatenate([np.arange(len(units["id"])), np.full(len(bare), -1)]),
        kind=np.concatenate([units["kind"], facts.points["kind"][bare]]),
        second=np.concatenate([units["position"] != "A", np.zeros(len(bare), dtype=bool)]),
    )


def of_unit(values: FloatColumn, carriers: Carriers) -> FloatColumn:
    """Return a unit's column by carrier; not known where there is no unit."""
    return at(values, carriers.unit)


def words_of_unit(values: TextColumn, carriers: Carriers) -> TextColumn:
    """Return a unit's words by carrier; '' where there is no unit."""
    if len(values) == 0:
        return texts([""] * carriers.size)
    return np.where(carriers.unit >= 0, values[carriers.unit], "")


@dataclass(frozen=True, slots=True)
class Stacks:
    """Every piece of hardware with the carrier it hangs on (-1 where it carries both units)."""

    carrier: IntColumn
    below_own: BoolColumn
    """Whether it hangs below the unit of its branch."""
    hanging: FloatColumn
    """By carrier: weight of the pieces below the unit [N], not known where a mass is not."""
    hanging_known: FloatColumn
    """The same with masses not known left out."""


def stacks_of(facts: Facts, carriers: Carriers) -> Stacks:
    """Return which carrier each piece hangs on and what hangs below the unit."""
    pieces = facts.pieces
    carrier = _carrier_of_pieces(facts, carriers)
    held = np.where(carrier < 0, carriers.size, carrier)
    is_unit = (pieces["kind"] == PieceKind.UNIT) & (carrier >= 0)
    place = least_by(held[is_unit], pieces["position"][is_unit].astype(float), carriers.size + 1)
    own = np.where(np.isnan(place), 0.0, place)
    below = (carrier >= 0) & (pieces["position"] > own[held])
    weights = pieces["mass"][below] * STANDARD_GRAVITY
    return Stacks(
        carrier=carrier,
        below_own=below,
        hanging=sum_by(carrier[below], weights, carriers.size),
        hanging_known=sum_by(carrier[below], np.nan_to_num(weights), carriers.size),
    )


def _carrier_of_pieces(facts: Facts, carriers: Carriers) -> IntColumn:
    position = facts.units["position"]
    of_branch = {(p, position[u]): i for i, (p, u) in enumerate(_pairs(carriers)) if u >= 0}
    bare = {p: i for i, (p, u) in enumerate(_pairs(carriers)) if u < 0}
    rows = zip(facts.pieces["point"].tolist(), facts.pieces["branch"], strict=True)
    found = [bare.get(point, of_branch.get((point, branch), -1)) for point, branch in rows]
    return np.array(found, dtype=np.int64)


def _pairs(carriers: Carriers) -> list[tuple[int, int]]:
    return list(zip(carriers.point.tolist(), carriers.unit.tolist(), strict=True))


@dataclass(frozen=True, slots=True)
class CaseLoads:
    """The load at each carrier in each case; not known where it cannot be worked out."""

    carrier: IntColumn
    case: IntColumn
    kind: IntColumn
    load: FloatColumn
    """Hardware below the unit included [N]."""
    blank: BoolColumn
    """A line's load at the point is not known in that case."""

    def where(self, rows: BoolColumn) -> CaseLoads:
        """Return some of the rows."""
        return CaseLoads(*(getattr(self, name)[rows] for name in self.__slots__))


@dataclass(frozen=True, slots=True)
class UnitLoads:
    """What every carrier must carry; loads [N], movements [m], shares [1].

    Parameters
    ----------
    governing
        The load to set: the operating case, or the middle of several.
    required
        The same, not known where something is missing to stand by it.
    least, most
        Over the operating cases, known where `required` is.
    missing
        What is missing, in words joined by '; '; '' where nothing is.
    """

    cases: CaseLoads
    governing: FloatColumn
    required: FloatColumn
    least: FloatColumn
    most: FloatColumn
    spread: FloatColumn
    operating_cases: FloatColumn
    largest: FloatColumn
    sustained: FloatColumn
    test: FloatColumn
    up: FloatColumn
    sideways: FloatColumn
    missing: TextColumn
    note: TextColumn


def unit_loads(facts: Facts, carriers: Carriers, stacks: Stacks, tolerance: float) -> UnitLoads:
    """Return what every carrier must carry, or what is missing to say so.

    Parameters
    ----------
    tolerance
        Share below which hardware weight that nobody knows to be counted may be let go [1].
    """
    pipe = _pipe_loads(facts, carriers)
    added, note, unclear = _hardware(facts, carriers, stacks, tolerance)
    cases = replace(pipe, load=pipe.load + added[pipe.carrier])
    missing = _missing(facts, carriers, cases)
    complete = missing == ""
    operating = _of_kind(cases, OPERATING)
    high = largest_by(operating.carrier, operating.load, carriers.size)
    low = least_by(operating.carrier, operating.load, carriers.size)
    middle, half = (high + low) / 2.0, (high - low) / 2.0
    governing = np.where(complete, middle, np.nan)
    lasting = cases.kind != TEST
    missing = np.where(complete & (unclear != ""), unclear, missing)
    up, sideways = _movements(facts, carriers)
    unsure, known = ~complete, missing == ""
    return UnitLoads(
        cases=cases,
        governing=governing,
        required=np.where(known, governing, np.nan),
        least=np.where(known, low, np.nan),
        most=np.where(known, high, np.nan),
        spread=_unless(unsure, ratio(half, middle)),
        operating_cases=count_by(operating.carrier, carriers.size),
        largest=_unless(
            unsure, largest_by(cases.carrier[lasting], cases.load[lasting], carriers.size)
        ),
        sustained=_unless(unsure, _largest(_of_kind(cases, SUSTAINED), carriers.size)),
        test=_unless(unsure, _largest(_of_kind(cases, TEST), carriers.size)),
        up=up,
        sideways=sideways,
        missing=missing,
        note=note,
    )


def _unless(unsure: BoolColumn, values: FloatColumn) -> FloatColumn:
    return np.where(unsure, np.nan, values)


def _largest(cases: CaseLoads, size: int) -> FloatColumn:
    return largest_by(cases.carrier, cases.load, size)


def _of_kind(cases: CaseLoads, kind: int) -> CaseLoads:
    return cases.where(cases.kind == kind)


def _pipe_loads(facts: Facts, carriers: Carriers) -> CaseLoads:
    """Return each carrier's part of the pipe loads, in the cases that all its lines have."""
    required, points = facts.required, len(facts.points["id"])
    names = max(len(facts.case_names), 1)
    groups, group = np.unique(required["point"] * names + required["case"], return_inverse=True)
    first = first_by(group, len(groups))
    point = groups // names
    lines = _lines_required(facts)
    whole = count_by(group, len(groups)) == lines[point]
    total = sum_by(group, required["load"], len(groups))
    moment = sum_by(group, required["load"] * _places(facts), len(groups))
    start = np.searchsorted(point, np.arange(points + 1))
    counts = (start[1:] - start[:-1])[carriers.point]
    carrier = np.repeat(np.arange(carriers.size), counts)
    within = np.arange(len(carrier)) - np.repeat(np.cumsum(counts) - counts, counts)
    case = start[carriers.point][carrier] + within
    load = _shared(facts, carriers, carrier, total[case], moment[case])
    loads = CaseLoads(
        carrier=carrier,
        case=groups[case] % names,
        kind=required["kind"][first][case],
        load=load,
        blank=np.isnan(total[case]),
    )
    return loads.where(whole[case])


def _lines_required(facts: Facts) -> FloatColumn:
    """Return how many lines give loads at each point."""
    pairs = np.unique(_line_pairs(facts.required, facts))
    return count_by(pairs // max(len(facts.lines["id"]), 1), len(facts.points["id"]))


def _line_pairs(table: Table, facts: Facts) -> IntColumn:
    pairs: IntColumn = table["point"] * max(len(facts.lines["id"]), 1) + table["line"]
    return pairs


def _places(facts: Facts) -> FloatColumn:
    """Return where each required load pulls on the beam, from unit A [m]."""
    required, attachments = facts.required, facts.attachments
    pairs = _line_pairs(attachments, facts)
    order = np.argsort(pairs, kind="stable")
    wanted = _line_pairs(required, facts)
    arms = np.full(len(wanted), np.nan)
    if len(pairs):
        found = np.minimum(np.searchsorted(pairs[order], wanted), len(pairs) - 1)
        matched = pairs[order][found] == wanted
        arms[matched] = attachments["arm"][order][found][matched]
    alone = _lines_required(facts)[required["point"]] == 1.0
    return np.where(alone, facts.points["arm_a"][required["point"]], arms)


def _shared(
    facts: Facts, carriers: Carriers, carrier: IntColumn, total: FloatColumn, moment: FloatColumn
) -> FloatColumn:
    """Return the part of each carrier: all of it, half of it, or its share by moments."""
    points = facts.points
    point = carriers.point[carrier]
    arrangement = points["arrangement"][point]
    paired = carriers.unit[carrier] >= 0
    beam = points["beam_mass"][point] * STANDARD_GRAVITY / 2.0
    span = points["arm_a"][point] + points["arm_b"][point]
    with np.errstate(divide="ignore", invalid="ignore"):
        far = moment / span
    on_beam = np.where(carriers.second[carrier], far, total - far) + beam
    load = np.where(paired & (arrangement == Arrangement.TRAPEZE), on_beam, total)
    result: FloatColumn = np.where(
        paired & (arrangement == Arrangement.RISER_PAIR), total / 2.0, load
    )
    return result


def _hardware(
    facts: Facts, carriers: Carriers, stacks: Stacks, tolerance: float
) -> tuple[FloatColumn, TextColumn, TextColumn]:
    """Return the weight hung below the unit to be added [N], with notes and what is unclear."""
    required, points = facts.required, len(facts.points["id"])
    rows = count_by(required["point"], points)
    yes = _answers(required, Known.YES, points) == rows
    no = (_answers(required, Known.NO, points) == rows) & (rows > 0.0)
    hung, point = stacks.hanging, carriers.point
    asked = (carriers.unit >= 0) & ~yes[point]
    biggest = largest_by(required["point"], np.nan_to_num(required["load"]), points)[point]
    small = asked & ~no[point] & at_most(hung, tolerance * np.nan_to_num(biggest))
    plain = asked & no[point]
    added = np.where(plain | small, np.nan_to_num(hung), 0.0)
    unclear = texts([""] * carriers.size)
    unclear[asked & ~plain & ~small] = UNCLEAR_HARDWARE
    unclear[plain & np.isnan(hung)] = "mass of the hardware below the unit"
    note = texts([""] * carriers.size)
    note[small] = SMALL_HARDWARE
    return added, note, unclear


def _answers(required: Table, answer: Known, points: int) -> FloatColumn:
    said = (required["includes"] == ANSWERS.index(answer)).astype(float)
    return sum_by(required["point"], said, points)


def _missing(facts: Facts, carriers: Carriers, cases: CaseLoads) -> TextColumn:
    """Return what is missing to give the loads; the gravest gap outranks the others."""
    by_point = _missing_by_point(facts, carriers)
    missing = texts(by_point[carriers.point])
    said = texts(f"required load in case {name}" for name in facts.case_names)
    for rows, words in (
        (~cases.blank, texts([UNKNOWN_ARMS] * len(said))),
        (cases.blank, said),
    ):
        absent = np.flatnonzero(np.isnan(cases.load) & rows)[::-1]
        carrier = cases.carrier[absent]
        missing[carrier] = np.where(
            by_point[carriers.point[carrier]] == "", words[cases.case[absent]], missing[carrier]
        )
    operating = np.zeros(carriers.size, dtype=bool)
    operating[cases.carrier[cases.kind == OPERATING]] = True
    missing[(missing == "") & ~operating] = "required operating load"
    return missing


def _missing_by_point(facts: Facts, carriers: Carriers) -> TextColumn:
    """Return what is missing: the line, its loads, or how units share what they carry."""
    missing = texts([""] * len(facts.points["id"]))
    held = count_by(facts.attachments["point"], len(missing))
    pairs = _line_pairs(facts.attachments, facts)
    absent = ~np.isin(pairs, _line_pairs(facts.required, facts))
    lines: dict[int, list[str]] = {}
    for row in np.flatnonzero(absent):
        number = facts.lines["number"][facts.attachments["line"][row]]
        lines.setdefault(facts.attachments["point"][row], []).append(
            f"required load from line {number}"
        )
    for point, words in lines.items():
        missing[point] = "; ".join(words)
    hung = count_by(carriers.point[carriers.unit >= 0], len(missing))
    unshared = (facts.points["arrangement"] == Arrangement.SINGLE) & (hung > 1.0)
    missing[unshared & (missing == "")] = UNSHARED
    missing[held == 0.0] = "line that the support holds; required load"
    return missing


def _movements(facts: Facts, carriers: Carriers) -> tuple[FloatColumn, FloatColumn]:
    """Return the largest movement up and sideways over the operating cases [m]."""
    required, points = facts.required, len(facts.points["id"])
    rows = required["kind"] == OPERATING
    point = required["point"][rows]
    high = largest_by(point, required["up"][rows], points)
    low = least_by(point, required["up"][rows], points)
    up = np.where(abs(low) > abs(high), low, high)
    side = largest_by(point, required["side"][rows], points)
    return up[carriers.point], side[carriers.point]


def case_names(
    loads: UnitLoads, carrier: int, names: Sequence[str]
) -> list[tuple[str, int, float]]:
    """Return the cases of one carrier: name, kind and load [N]."""
    cases = loads.cases
    rows = np.flatnonzero(cases.carrier == carrier)
    return [(names[cases.case[r]], int(cases.kind[r]), float(cases.load[r])) for r in rows]
