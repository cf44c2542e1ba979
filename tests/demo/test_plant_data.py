"""The invented plant is whole and agrees in itself."""

import itertools
import re
from collections import Counter
from pathlib import Path

import pytest

from demo.plant import geometry
from demo.plant.books import Page
from demo.plant.change import change_pages, changed_points
from demo.plant.demo_line import DEMO_NUMBER
from demo.plant.hardware import hardware_rows, rod_rated
from demo.plant.lines import line, lines
from demo.plant.people import people
from demo.plant.plant import area_pages, area_rows, nozzle_page, route_pages
from demo.plant.plates import travel_to_hold
from demo.plant.points import HUNG_FROM_UNITS, hung_mass, points
from demo.plant.springs import spring_units
from importers.sheets import SHEETS
from supports.vocabulary import Arrangement, Role, SupportKind

KIND_SEEN = Counter(unit.point.kind for unit in spring_units())


def test_the_plant_has_the_size_asked_for():
    assert len(lines()) == 40
    assert 380 <= len(points()) <= 420
    constants = KIND_SEEN[SupportKind.CONSTANT_HANGER] + KIND_SEEN[SupportKind.CONSTANT_REST]
    variables = KIND_SEEN[SupportKind.VARIABLE_HANGER] + KIND_SEEN[SupportKind.VARIABLE_REST]
    assert 55 <= constants <= 68
    assert 60 <= variables <= 80
    assert 3 <= KIND_SEEN[SupportKind.SHOCK_ARRESTOR] <= 10
    kinds = {point.kind for point in points()}
    rigid = {SupportKind.REST, SupportKind.GUIDE, SupportKind.RIGID_ROD, SupportKind.LINE_STOP}
    assert rigid | {SupportKind.ANCHOR} <= kinds


def test_special_arrangements_are_there():
    arrangements = Counter(point.arrangement for point in points())
    assert arrangements[Arrangement.TRAPEZE] >= 3
    assert arrangements[Arrangement.RISER_PAIR] == 1
    assert sum(point.also is not None for point in points()) == 1


def test_some_plates_cannot_be_read_but_most_can():
    springs = [unit for unit in spring_units() if unit.point.kind.is_constant]
    needed = {"nameplate_load", "range_low", "range_high", "load_per_turn", "direction_to_increase"}
    short = [unit for unit in springs if not needed <= unit.plate.keys()]
    assert 3 <= len(short) <= 15


def test_no_tag_and_no_serial_occurs_twice():
    assert max(Counter(point.tag for point in points()).values()) == 1
    assert max(Counter(unit.serial for unit in spring_units()).values()) == 1


def test_every_role_is_held_and_names_differ():
    assert {role for person in people() for role in person.roles} == set(Role)
    assert len({person.name for person in people()}) == len(people()) >= 7


@pytest.mark.parametrize("area", [1, 2])
def test_rows_name_only_what_is_there(area):
    rows = {sheet.name: found for sheet, found in area_rows(area).items()}
    tags = {row["tag"] for row in rows["Supports"]}
    numbers = {row["line"] for row in rows["Lines"]}
    units = {(row["tag"], row["position"]) for row in rows["Units"]}
    calculations = {(row["calculation"], row["revision"]) for row in rows["Calculations"]}
    for name in ("Units", "Hardware", "Calculation loads", "Settings", "Readings"):
        assert {row["tag"] for row in rows[name]} <= tags
    for name in ("Nameplates", "Settings", "Readings"):
        assert {(row["tag"], row["position"]) for row in rows[name]} <= units
    assert {row["line"] for row in rows["Supports"]} == numbers
    assert {row["line"] for row in rows["Calculation loads"]} == numbers
    named = {(row["calculation"], row["revision"]) for row in rows["Calculation loads"]}
    assert named == calculations


@pytest.mark.parametrize("area", [1, 2])
def test_no_two_rows_of_a_sheet_share_a_key(area):
    for sheet, rows in area_rows(area).items():
        keys = Counter(tuple(row.get(name, "") for name in sheet.key) for row in rows)
        assert [key for key, count in keys.items() if count > 1] == [], sheet.name


def test_order_and_distance_rise_together():
    for one in lines():
        distances = [at for _, at in geometry.attachments(one)]
        assert all(a < b for a, b in itertools.pairwise(distances))
        assert 0.0 < distances[0] < distances[-1] < one.way.length


def test_spans_stay_below_the_suggested_ones():
    # Source: ASME B31.1 table 121.5; an elbow, valve or riser may push a support on by 2.5 m.
    for one in lines():
        level = [at for _, at in geometry.attachments(one)]
        assert max(b - a for a, b in itertools.pairwise(level)) <= one.span + 2.5


def test_constant_plates_agree_in_themselves():
    for unit in (u for u in spring_units() if "total_travel" in u.plate):
        plate = unit.plate
        # Travel in reserve: the larger of 25 mm and 20 %; common practice, no source.
        assert plate["total_travel"] >= travel_to_hold(plate["design_travel"]) - 1e-9
        way = plate["hot_mark"] - plate["cold_mark"]
        assert way == pytest.approx(-plate["design_travel"], abs=1e-9)
        assert 0.0 < plate["hot_mark"] < plate["total_travel"]
        assert 0.0 < plate["cold_mark"] < plate["total_travel"]
        if {"range_low", "nameplate_load"} <= plate.keys():
            share = 1.0 - plate["range_low"] / plate["nameplate_load"]
            assert 0.0999 <= share <= 0.2001


def test_variable_plates_agree_in_themselves():
    for unit in (u for u in spring_units() if "rate" in u.plate):
        plate = unit.plate
        cold = plate["hot_load"] + plate["rate"] * plate["movement"]
        assert plate["cold_load"] == pytest.approx(cold, rel=1e-9)
        for load in (plate["hot_load"], plate["cold_load"]):
            assert plate["working_low"] < load < plate["working_high"]
        # Usual limit of the variability is 25 % (MSS SP-58, from memory).
        assert abs(cold / plate["hot_load"] - 1.0) <= 0.25


def test_plates_fit_the_loads_calculated():
    for unit in spring_units():
        if unit.load is not None and unit.marked_load is not None:
            assert unit.load == pytest.approx(unit.marked_load, rel=0.03)


def test_supports_carry_the_most_of_each_line():
    # Statics: supports and both ends carry the weight; the ends have a riser and half a span each.
    for one in lines():
        carried = sum(own_load(point, one) for point, _ in geometry.attachments(one))
        assert 0.65 * one.weight < carried < one.weight
        assert all(point.load is None or point.load > 0.0 for point in points())


def own_load(point, one) -> float:
    """Return what a support carries of a line, without what hangs below its units [N]."""
    if point.load is None:
        return 0.0
    load = point.load if point.line is one else point.also[2]
    return load - (hung_mass(one) * 9.80665 if point.kind in HUNG_FROM_UNITS else 0.0)


def test_the_shared_support_is_in_balance():
    # Statics: moments about unit A; lines at 0.4 m and 1.2 m, units 1.6 m apart, beam 1.2 kN.
    point = next(p for p in points() if p.also)
    to_a, to_b = (unit.load for unit in spring_units() if unit.point is point)
    one, other = point.load, point.also[2]
    assert to_b * 1.6 == pytest.approx(one * 0.4 + other * 1.2 + 1_200.0 * 0.8)
    assert to_a + to_b == pytest.approx(one + other + 1_200.0)


def test_rods_carry_what_hangs_on_them_today():
    loads = {(u.point.tag, u.position): u.load for u in spring_units()}
    for point, row in hardware_rows():
        if row["kind"] == "rod":
            load = loads.get((point.tag, row["branch"]), point.load)
            assert rod_rated(str(row["size"])) == row["rated_load"] > load


def test_elements_join_the_nodes_without_a_gap():
    for one in lines():
        names = list(geometry.nodes(one))
        joined = [(row["begins"], row["ends"]) for row in geometry.element_rows(one)]
        assert joined == list(itertools.pairwise(names))
        placed = {row["node"]: row for row in geometry.node_rows(one)}
        assert len(placed) == len(names)


def test_straight_elements_are_as_long_as_their_nodes_are_apart():
    for one in lines():
        at, rows = geometry.nodes(one), list(geometry.element_rows(one))
        where = {
            row["node"]: (row["east"], row["north"], row["elevation"])
            for row in geometry.node_rows(one)
        }
        for row in rows:
            begin, end = where[row["begins"]], where[row["ends"]]
            apart = sum((a - b) ** 2 for a, b in zip(begin, end, strict=True)) ** 0.5
            along = at[row["ends"]] - at[row["begins"]]
            # Geometry: the chord of a quarter circle is √2 r, its arc π r / 2.
            ratio = 2.0**0.5 / 1.5707963267948966 if row["piece"] == "bend" else 1.0
            assert apart == pytest.approx(along * ratio, abs=2e-6)


def test_every_support_stands_at_a_node_of_its_own_line():
    for one in lines():
        stops = set(geometry.nodes(one).values())
        for _, at in geometry.attachments(one):
            assert min(abs(at - stop) for stop in stops) < 1e-6


def test_fittings_keep_their_mass_when_cut():
    for one in lines():
        total = sum(float(row.get("mass", 0.0)) for row in geometry.element_rows(one))
        assert total == pytest.approx(sum(f.mass for f in one.fittings), rel=1e-9)


def all_pages() -> list[Page]:
    areas = (1, 2)
    pages = [page for area in areas for page in (*area_pages(area), *route_pages(area))]
    return [*pages, *(nozzle_page(area) for area in areas), *change_pages()]


def test_no_proper_name_stands_anywhere_but_the_people():
    # A brand would be a proper name; free text is all lower case, so none can hide in it.
    named = {person.name for person in people()}
    allowed = re.compile(r"PS-|H-|CH-|ISO-|CALC-|SC-|ST-|NPS |ASME B31|9Cr-1Mo|CALC|STD|XS")
    for page in all_pages():
        for text in {v for row in page.rows for v in row if isinstance(v, str)} - named:
            assert not re.search(r"[A-Z][a-z]+", allowed.sub("", text)), text


def test_headings_are_the_declared_ones():
    declared = {sheet.name: {column.heading for column in sheet.columns} for sheet in SHEETS}
    for page in all_pages():
        bare = {re.sub(r" \[[^\]]+\]$", "", heading) for heading in page.headings}
        assert bare <= declared.get(page.name, bare)


def test_the_demo_line_runs_in_three_directions():
    way = line(DEMO_NUMBER).way
    spread = [
        max(s.finish[axis] for s in way.stretches) - min(s.start[axis] for s in way.stretches)
        for axis in range(3)
    ]
    assert min(spread) > 8.0
    assert {point.line.number for point in changed_points()} == {DEMO_NUMBER}


def test_nothing_is_written_beside_the_source():
    assert not list(Path(geometry.__file__).parent.glob("*.xlsx"))
