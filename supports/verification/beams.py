"""Beams of any handbook: the line solver against closed forms."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import partial

from supports.calc.line.restraints import Support
from supports.verification.check import PublishedCheck, Trust
from supports.verification.plane_beams import EI, fixed, held, solved, spine, straight

SOURCE = "Handbook formulae for beams"
W, L = 1500.0, 6.0
"""Load [N/m] and span [m] of the beams below; answers are shares and free of both."""
EXACT = 1e-9

SPANS = {
    2: (("3/8", "5/4", "3/8"), ("1/8",)),
    3: (("2/5", "11/10", "11/10", "2/5"), ("1/10", "1/10")),
    4: (("11/28", "8/7", "13/14", "8/7", "11/28"), ("3/28", "1/14", "3/28")),
    5: (
        ("15/38", "43/38", "37/38", "37/38", "43/38", "15/38"),
        ("2/19", "3/38", "3/38", "2/19"),
    ),
}
"""Equal spans: reactions over w L, and moments over the inner supports over w L²."""


def checks() -> Iterator[PublishedCheck]:
    """Give the checks of every beam."""
    for spans, (reactions, moments) in SPANS.items():
        for place, printed in enumerate(reactions):
            what = f"{spans} equal spans: reaction {place + 1} over w L"
            yield _closed(what, printed, partial(_reaction, spans, place))
        for place, printed in enumerate(moments):
            what = f"{spans} equal spans: moment over inner support {place + 1} over w L²"
            yield _closed(what, printed, partial(_moment, spans, place))
    for what, printed, ours in SINGLE:
        yield _closed(what, printed, ours)


def _closed(what: str, printed: str, ours: partial[float]) -> PublishedCheck:
    return PublishedCheck(
        "Statics of lines", SOURCE, "closed form", what, printed, float(Fraction(printed)), "",
        ours, EXACT, "closed form: the digits of a float", Trust.CLOSED_FORM,
    )  # fmt: skip


def _equal_spans(spans: int) -> tuple[list[float], list[float]]:
    places = tuple(place * L for place in range(spans + 1))
    supports: tuple[Support, ...] = (spine(), *(held(f"S{place:g}", place) for place in places))
    result = solved(straight(places, supports, W))
    bending = [abs(float(one)) for one in result.end_forces[:-1, 4]]
    return [one.load for one in result.supports.values()], bending


def _reaction(spans: int, place: int) -> float:
    return _equal_spans(spans)[0][place] / (W * L)


def _moment(spans: int, place: int) -> float:
    return _equal_spans(spans)[1][place] / (W * L**2)


def _simple_sag() -> float:
    line = straight((0, 3, 6), (spine(), held("A", 0), held("B", 6)), W)
    return -solved(line).movement("N3")[2] * EI / (W * L**4)


def _propped_prop() -> float:
    line = straight((0, 3, 6), (fixed("A", 0), held("B", 6)), W)
    return solved(line).supports["B"].load / (W * L)


def _propped_moment() -> float:
    line = straight((0, 3, 6), (fixed("A", 0), held("B", 6)), W)
    return -float(solved(line).nozzles["A"][4]) / (W * L**2)


def _propped_by_point_load() -> float:
    line = straight((0, 3, 6), (fixed("A", 0), held("B", 6)))
    return solved(line, {3.0: 8e3}).supports["B"].load / 8e3


def _clamped_moment() -> float:
    line = straight((0, 3, 6), (fixed("A", 0), fixed("B", 6)), W)
    return -float(solved(line).nozzles["A"][4]) / (W * L**2)


def _clamped_sag() -> float:
    line = straight((0, 3, 6), (fixed("A", 0), fixed("B", 6)), W)
    return -solved(line).movement("N3")[2] * EI / (W * L**4)


def _cantilever_sag() -> float:
    return -solved(straight((0, 6), (fixed("A", 0),), W)).movement("N6")[2] * EI / (W * L**4)


def _overhang_pull() -> float:
    line = straight((0, 6, 8), (spine(), held("A", 0), held("B", 6)))
    return solved(line, {8.0: 900.0}).supports["A"].load / 900.0


SINGLE = (
    ("Simple span: sag, times E I over w L⁴", "5/384", partial(_simple_sag)),
    ("Propped cantilever: prop over w L", "3/8", partial(_propped_prop)),
    ("Propped cantilever: end moment over w L²", "1/8", partial(_propped_moment)),
    (
        "Propped cantilever, load in the middle: prop over P",
        "5/16",
        partial(_propped_by_point_load),
    ),
    ("Clamped both ends: end moment over w L²", "1/12", partial(_clamped_moment)),
    ("Clamped both ends: sag, times E I over w L⁴", "1/384", partial(_clamped_sag)),
    ("Cantilever: sag, times E I over w L⁴", "1/8", partial(_cantilever_sag)),
    ("Overhang of L/3, load at its tip: far reaction over P", "-1/3", partial(_overhang_pull)),
)
