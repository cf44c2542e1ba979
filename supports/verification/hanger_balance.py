"""A published hanger load balance, cut into free bodies on two supports."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from supports.calc.trapeze import BeamLoad, shares_of_several
from supports.units import Kind, from_si, to_si
from supports.verification.check import PublishedCheck, Trust
from supports.verification.plane_beams import held, solved, spine, straight

SOURCE = "Estimator's Piping Man-Hour Manual, 5th ed. (1999)"

BODIES = {
    "first end to H-2": (9.0, ((775, 3.625), (790, 7.0)), (638, 927)),
    "second end to H-1": (7.458, ((775, 3.625), (543, 6.375)), (477, 841)),
    "anchor to H-1 with overhang": (
        3.708, ((4354, 1.583), (500, 3.291), (638, 11.166)), (1268, 4224),
    ),
    "H-2 to H-3 with overhang": (
        14.5,
        ((477, -9.0), (790, 2.0), (1550, 7.183), (3173, 9.0), (1550, 10.817), (99, 14.25)),
        (3835, 3804),
    ),
    "corner to H-6": (2.0, ((146, 0.792), (62, 1.563)), (102, 106)),
    "H-7 to H-6": (11.292, ((95, 0.25), (653, 5.458), (146, 10.5)), (441, 453)),
    "tee to H-6 with overhang": (
        15.5, ((140, 0.0), (95, 0.25), (1025, 8.125), (453, 17.5)), (663, 1050),
    ),
    "H-4 to H-3": (17.0, ((2488, 6.292), (3667, 14.417), (148, 16.625)), (2128, 4175)),
    "last end to H-4": (
        7.083, ((285, 1.083), (247, 2.125), (5418, 4.583), (130, 6.75)), (2333, 3747),
    ),
}  # fmt: skip
"""Span [ft], loads [lbf] with their arms from the first point [ft], printed answers [lbf].

The 2,333 of the last body is not printed; it is 6,080 lbf less the printed 3,747.
"""


def by_lever(name: str) -> tuple[float, float]:
    """Return both reactions of a free body by its moments [lbf]."""
    span, loads, _ = BODIES[name]
    on_beam = [
        BeamLoad(to_si(float(load), "lbf", Kind.LOAD), to_si(arm, "ft", Kind.LENGTH))
        for load, arm in loads
    ]
    first, second = shares_of_several(on_beam, 0.0, to_si(span, "ft", Kind.LENGTH))
    return from_si(float(first), "lbf", Kind.LOAD), from_si(float(second), "lbf", Kind.LOAD)


def by_solver(name: str) -> tuple[float, float]:
    """Return both reactions of a free body by the line solver, fed with the figures as printed."""
    span, loads, _ = BODIES[name]
    places = tuple(sorted({0.0, span, *(arm for _, arm in loads)}))
    line = straight(places, (spine(), held("first", 0.0), held("second", span)))
    weights: dict[float, float] = {}
    for load, arm in loads:
        weights[arm] = weights.get(arm, 0.0) + load
    result = solved(line, weights)
    return result.supports["first"].load, result.supports["second"].load


def _end(way: str, name: str, end: int) -> float:
    return (by_lever if way == "lever" else by_solver)(name)[end]


def checks() -> Iterator[PublishedCheck]:
    """Give the checks of both ends of every free body, by lever and by the line solver."""
    for way in ("lever", "line solver"):
        for name, (_, _, printed) in BODIES.items():
            for end, words in enumerate(("first", "second")):
                yield PublishedCheck(
                    "Hanger load balance", SOURCE, "Section Eleven, pages 240 to 246",
                    f"{name}: {words} support, by {way}", str(printed[end]), float(printed[end]),
                    "lbf", partial(_end, way, name, end), 1.0,
                    "printed as whole pounds from arms of three decimals", Trust.READ,
                )  # fmt: skip
