"""Drawings: labels do not lie on each other, all is on the sheet, and both writers agree.

Checked by geometry alone; the picture of no other program stands behind it.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reports.drawings.as_data import as_data
from reports.drawings.as_svg import as_svg
from reports.drawings.boxes import Box, box_around, box_of, segments_cross, text_width
from reports.drawings.isometric import A4, isometric
from reports.drawings.labels import Label, Sheet
from reports.drawings.pointers import MovedPlace, pointers
from reports.drawings.primitives import Shape, Stroke, Words
from reports.drawings.projection import best_view, flat
from reports.drawings.route import DrawnEnd, DrawnPiece, DrawnRoute, DrawnSupport, DrawnWeight
from reports.drawings.spacing import capped, fitted
from reports.drawings.steps import Turned, rounds_matrix
from reports.drawings.straight import StraightLine, StraightNozzle, StraightSupport, straight
from supports.vocabulary import RoutePiece, SupportKind

KINDS = list(SupportKind)


def route(count: int = 12, spacing: float = 3.0) -> DrawnRoute:
    """Return a line up, east and north, with a support of every kind in turn."""
    places = {"0": (0.0, 0.0, 0.0), "1": (0.0, 0.0, 5.0), "2": (0.5, 0.0, 5.5)}
    pieces = [
        DrawnPiece("0", "1", RoutePiece.VALVE),
        DrawnPiece("1", "2", RoutePiece.BEND, (0.0, 0.0, 5.5)),
    ]
    for n in range(3, 3 + count):
        places[str(n)] = (0.5 + spacing * (n - 2), 0.0, 5.5)
        pieces.append(DrawnPiece(str(n - 1), str(n), RoutePiece.PIPE))
    supports = tuple(
        DrawnSupport(f"PS-{1000 + n}", KINDS[n % len(KINDS)], str(n), ("20.00 → 22.10 kN",))
        for n in range(3, 2 + count)
    )
    ends = (DrawnEnd("N1", "0", nozzle=True), DrawnEnd("A2", str(2 + count), nozzle=False))
    weights = (DrawnWeight("4", ("+300 kg", "valve")), DrawnWeight("5", ("−20 kg",), put_on=False))
    return DrawnRoute("L-1", places, tuple(pieces), supports, ends, weights)


@pytest.mark.parametrize("count", [3, 12, 30])
def test_no_words_of_an_isometric_lie_on_each_other(count):
    drawing, _ = isometric(route(count))
    words = [box_of(i).grown(-0.15) for i in drawing.items if isinstance(i, Words)]
    assert len(words) > count
    assert [pair for pair in combinations(words, 2) if pair[0].overlaps(pair[1])] == []


@pytest.mark.parametrize("count", [3, 12, 30])
def test_everything_of_an_isometric_is_on_its_sheet(count):
    drawing, _ = isometric(route(count))
    assert Box(-0.5, -0.5, drawing.width + 0.5, drawing.height + 0.5).holds(
        box_around(drawing.items)
    )


def test_a_long_line_takes_the_larger_sheet_or_tells_what_found_no_room():
    drawing, room = isometric(route(60))
    told = [i.text for i in drawing.items if isinstance(i, Words)]
    placed = sum(text.startswith("PS-") for text in told)
    left_over = [text for text in told if text.startswith("No room for")]
    assert room is not A4 or placed == 59
    assert placed == 59 or left_over


def test_the_drawing_tells_its_supports_in_words():
    told = isometric(route())[0].told
    assert "PS-1003" in told
    assert "not to scale" in told


def test_the_legend_explains_what_is_there_and_nothing_else():
    texts = {i.text for i in isometric(route(4))[0].items if isinstance(i, Words)}
    assert {"nozzle", "valve", "weight put on", "weight taken off"} <= texts
    assert "reducer" not in texts


def test_the_three_axes_stand_120_degrees_apart():
    east, north, up = flat((1, 0, 0), 0), flat((0, 1, 0), 0), flat((0, 0, 1), 0)
    assert east == pytest.approx((0.75**0.5, 0.5))
    assert north == pytest.approx((0.75**0.5, -0.5))
    assert up == pytest.approx((0.0, -1.0))


def test_a_view_without_crossings_is_chosen():
    nodes = {"a": (0.0, 0.0, 0.0), "b": (4.0, 0.0, 0.0), "c": (4.0, 4.0, 0.0), "d": (4.0, 4.0, 4.0)}
    runs = [("a", "b"), ("b", "c"), ("c", "d")]
    view = best_view(nodes, runs, (200.0, 100.0))
    lines = [(view.at(nodes[a]), view.at(nodes[b])) for a, b in runs]
    assert not any(segments_cross(*one, *other) for one, other in combinations(lines, 2))
    places = [view.at(place) for place in nodes.values()]
    assert all(-1e-6 <= x <= 200.0 + 1e-6 and -1e-6 <= y <= 100.0 + 1e-6 for x, y in places)


def test_a_long_gap_is_cut_and_said_to_be():
    spaced = capped([0.0, 1.0, 100.0, 101.0], longest=5.0)
    assert spaced.drawn == (0.0, 1.0, 6.0, 7.0)
    assert spaced.cut_within(1.0, 100.0)
    assert not spaced.cut_within(0.0, 1.0)
    assert spaced.at(50.5) == pytest.approx(3.5)


@given(st.lists(st.integers(0, 500), min_size=2, max_size=20, unique=True))
@settings(deadline=None, max_examples=60)
def test_fitted_places_keep_their_order_fill_the_width_and_their_least_gap(values):
    spaced = fitted(values, 200.0, 6.0)
    gaps = [b - a for a, b in zip(spaced.drawn, spaced.drawn[1:], strict=False)]
    assert spaced.drawn[-1] == pytest.approx(200.0, rel=1e-6)
    assert all(gap >= 6.0 - 1e-9 for gap in gaps)


points = st.tuples(st.floats(5.0, 195.0), st.floats(5.0, 95.0))


@given(st.lists(points, min_size=1, max_size=14))
@settings(deadline=None, max_examples=40)
def test_labels_never_overlap_wherever_their_points_are(spots):
    sheet = Sheet(Box(0.0, 0.0, 200.0, 100.0))
    placed, left_over = sheet.place(
        [Label(at, (f"PS-{n}", "20.00 kN")) for n, at in enumerate(spots)]
    )
    assert len(placed) + len(left_over) == len(spots)
    boxes = [one.box for one in placed]
    assert not any(a.overlaps(b) for a, b in combinations(boxes, 2))
    assert all(sheet.area.holds(box) for box in boxes)


def test_words_take_no_more_room_than_reckoned():
    """Held against the advance widths of the shipped font."""
    font_tools = pytest.importorskip("fontTools.ttLib")
    from tests.shape.sources import ROOT

    font = font_tools.TTFont(ROOT / "reports/pdf/fonts/Inter-Regular.otf")
    glyphs, widths = font.getBestCmap(), font["hmtx"]
    for text in ("PS-1024/B", "20.00 → 22.10 kN", "EL +11.000 m", "drain pot with valves", "530 %"):
        true = sum(widths[glyphs[ord(sign)]][0] for sign in text) / font["head"].unitsPerEm
        assert true <= text_width(text, 1.0) * 1.03 <= 1.6 * true


def line() -> StraightLine:
    """Return three supports and a nozzle over its limit."""
    supports = tuple(
        StraightSupport(
            f"PS-{n}", SupportKind.CONSTANT_HANGER, 4.0 * n, (20e3, None, 22e3),
            ("20.00", "not known", "22.00"), 17e3, 23e3,
        )
        for n in range(1, 4)
    )  # fmt: skip
    nozzles = (StraightNozzle("N1", "My", 0.0, (0.5, 4.0, 0.9), ("50 %", "400 %", "90 %")),)
    return StraightLine("L-1", supports, nozzles)


def test_a_load_not_known_is_a_question_mark_and_no_bar():
    words = [i.text for i in straight(line()).items if isinstance(i, Words)]
    assert words.count("?") == 3


def test_a_bar_that_is_cut_says_so_in_the_key():
    words = [i.text for i in straight(line()).items if isinstance(i, Words)]
    assert "bar cut, see its number" in words
    assert "100 %" in words


def test_the_tallest_bar_fills_the_height_and_no_bar_is_taller():
    drawing = straight(line(), tallest=32.0)
    heights = [
        box_around([i]).bottom - box_around([i]).top
        for i in drawing.items
        if isinstance(i, Shape) and i.width > 0.0
    ]
    assert max(heights) == pytest.approx(32.0, abs=0.5)


def test_many_supports_take_several_strips_of_one_scale():
    many = StraightLine("L-1", tuple(
        StraightSupport(f"PS-{n}", SupportKind.REST, 2.0 * n, (1e3,) * 3, ("1.00",) * 3)
        for n in range(40)
    ))  # fmt: skip
    tags = [
        i.text for i in straight(many).items if isinstance(i, Words) and i.text.startswith("PS-")
    ]
    assert len(tags) == 40
    assert straight(many).height > 2 * straight(line()).height


def test_the_pointer_picture_names_every_support_and_its_scale():
    moved = [
        MovedPlace(0.0, 0.0, 0.0, "N1"),
        MovedPlace(5.0, -0.02, 0.0, "C1"),
        MovedPlace(9.0, 0.01, 0.0),
    ]
    drawing = pointers(moved)
    words = [i.text for i in drawing.items if isinstance(i, Words)]
    assert "C1" in words
    assert any("−20.0 / 0.0 mm" in text for text in words)
    assert any("largest movement is 20.0 mm" in text for text in words)


def test_rounding_is_not_drawn_as_movement():
    drawing = pointers([MovedPlace(0.0, 1e-15, 0.0, "N1"), MovedPlace(5.0, 0.0, -1e-14, "C1")])
    heights = {y for i in drawing.items if isinstance(i, Stroke) for _, y in i.points[:2]}
    assert any("nothing moves" in i.text for i in drawing.items if isinstance(i, Words))
    assert len(heights) == 2  # the pipe, and the key beneath it


def test_the_rounds_matrix_has_a_cell_for_each_deed():
    drawing = rounds_matrix(["1", "2"], [Turned("C1", ("3 t", "2 t")), Turned("C2", ("", "1 t"))])
    words = [i.text for i in drawing.items if isinstance(i, Words)]
    assert [w for w in words if w.endswith(" t")] == ["3 t", "2 t", "1 t"]


def drawings():
    """Return one of each."""
    return [isometric(route())[0], straight(line()), pointers([MovedPlace(0.0, -0.01, 0.0, "C1")])]


@pytest.mark.parametrize("number", range(3))
def test_both_writers_write_every_item_in_the_same_order(number):
    drawing = drawings()[number]
    data = as_data(drawing)
    tree = ET.fromstring(as_svg(drawing))  # noqa: S314  our own text, read back
    space = "{http://www.w3.org/2000/svg}"
    names = {"stroke": "polyline", "shape": "polygon", "circle": "circle", "words": "text"}
    own = [e for e in tree if e.tag != f"{space}defs"][1:]
    assert [e.tag.removeprefix(space) for e in own] == [names[i["kind"]] for i in data["items"]]
    assert [e.text for e in own if e.tag.endswith("text")] == [
        i["text"] for i in data["items"] if i["kind"] == "words"
    ]
    assert tree.get("aria-label") == drawing.told


def test_the_same_drawing_gives_the_same_bytes():
    assert as_svg(drawings()[0]) == as_svg(drawings()[0])


def test_nothing_is_drawn_in_colour():
    for drawing in drawings():
        for word in ("red", "blue", "green", "#", "rgb"):
            text = as_svg(drawing).decode().replace("url(#", "")
            assert word not in text.replace("rendered", "")


def test_hostile_words_stay_words():
    bad = "<script>&\"'"
    one = replace(route(3), supports=(DrawnSupport(bad, SupportKind.REST, "3"),))
    tree = ET.fromstring(as_svg(isometric(one)[0]))  # noqa: S314  our own text, read back
    assert bad in [e.text for e in tree.iter() if e.tag.endswith("text")]
    assert not [e for e in tree.iter() if e.tag.endswith("script")]


def test_strokes_have_two_points_or_more():
    for drawing in drawings():
        assert all(len(i.points) > 1 for i in drawing.items if isinstance(i, Stroke))
