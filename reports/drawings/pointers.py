"""How the pipe moves from where it stood before: weight added, and as planned, much exaggerated."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from reports.contents.written import signed_millimetres
from reports.drawings.boxes import Box
from reports.drawings.labels import Label, Sheet, leader_items
from reports.drawings.primitives import (
    HAIR,
    PLAIN,
    STRONG,
    Anchor,
    Circle,
    Drawing,
    Fill,
    Item,
    Point,
    Stroke,
    Words,
)
from reports.drawings.spacing import Spaced, fitted
from reports.languages import IN_ENGLISH, Texts

_LEFT, _RIGHT, _LEAST = 14.0, 14.0, 7.0
_SMALL = 2.1
_STILL = 5e-5
"""Movement below which nothing is said to move [m]: it would print as nought."""


@dataclass(frozen=True, slots=True)
class MovedPlace:
    """A place along the line: distance [m], rise from before [m], added and planned.

    Parameters
    ----------
    tag
        Empty where no support stands; such a place only shapes the curve.
    """

    distance: float
    added: float
    planned: float
    tag: str = ""


def pointers(
    places: Sequence[MovedPlace],
    width: float = 264.0,
    height: float = 44.0,
    say: Texts = IN_ENGLISH,
) -> Drawing:
    """Draw the pipe's movement; the largest one fills the height."""
    axis = _axis(places, width)
    largest = max((abs(v) for p in places for v in (p.added, p.planned)), default=0.0)
    half = (height - 12.0) / 2.0
    largest = largest if largest >= _STILL else 0.0
    scale = (half - 5.0) / largest if largest else 0.0
    base = half
    curves = [
        [(axis.at(p.distance), base - scale * rise) for p, rise in _rises(places, which)]
        for which in ("added", "planned")
    ]
    items: list[Item] = [
        Stroke(((_LEFT, base), (width - _RIGHT, base)), HAIR),
    ]
    if len(places) > 1:
        items.append(Stroke(tuple(curves[0]), STRONG))
        items.append(Stroke(tuple(curves[1]), PLAIN, dashed=True))
    items += _marks(places, axis, base, scale)
    items += _labels(places, axis, curves, Box(0.0, 0.0, width, height - 8.0), (base, scale))
    items += _key(height - 4.0, largest, scale, say)
    return Drawing(width, height, tuple(items), _told(places, say))


def _rises(places: Sequence[MovedPlace], which: str) -> Iterator[tuple[MovedPlace, float]]:
    return ((place, getattr(place, which)) for place in places)


def _axis(places: Sequence[MovedPlace], width: float) -> Spaced:
    room = width - _LEFT - _RIGHT
    least = min(_LEAST, room / max(1, len(places)))
    spaced = fitted([p.distance for p in places], room, least)
    return Spaced(spaced.true, tuple(_LEFT + x for x in spaced.drawn), spaced.cut)


def _marks(places: Sequence[MovedPlace], axis: Spaced, base: float, scale: float) -> Iterator[Item]:
    for place in places:
        if place.tag:
            x = axis.at(place.distance)
            yield Circle((x, base - scale * place.added), 0.9, Fill.BLACK, 0.0)
            yield Circle((x, base - scale * place.planned), 0.9, Fill.WHITE, PLAIN)


def _labels(
    places: Sequence[MovedPlace],
    axis: Spaced,
    curves: Sequence[Sequence[Point]],
    area: Box,
    vertical: tuple[float, float],
) -> list[Item]:
    base, scale = vertical
    sheet = Sheet(area)
    for curve in curves:
        sheet.lines += list(pairwise(curve))
    labels = []
    for place in places:
        if place.tag:
            point = (axis.at(place.distance), base - scale * place.added)
            sheet.taken.append(Box(point[0] - 1.0, point[1] - 1.0, point[0] + 1.0, point[1] + 1.0))
            rise = f"{signed_millimetres(place.added)} / {signed_millimetres(place.planned)} mm"
            labels.append(Label(point, (place.tag, rise), _SMALL, lean=(0.0, -1.0)))
    placed, _ = sheet.place(labels)
    return [*leader_items(placed), *(item for one in placed for item in one.items())]


def _key(y: float, largest: float, scale: float, say: Texts) -> list[Item]:
    words = (
        say("the largest movement is {length} mm", length=f"{1e3 * largest:.1f}")
        if largest
        else say("nothing moves")
    )
    if scale:
        shown = say("1 mm on paper is {length} mm of the pipe", length=f"{1e3 / scale:.2g}")
        words = f"{words}; {shown}"
    return [
        Stroke(((_LEFT, y), (_LEFT + 6.0, y)), STRONG),
        Circle((_LEFT + 3.0, y), 0.9, Fill.BLACK, 0.0),
        Words((_LEFT + 8.0, y), say("weight added, nothing re-set"), _SMALL, Anchor.START),
        Stroke(((_LEFT + 52.0, y), (_LEFT + 58.0, y)), PLAIN, dashed=True),
        Circle((_LEFT + 55.0, y), 0.9, Fill.WHITE, PLAIN),
        Words((_LEFT + 60.0, y), say("as planned"), _SMALL, Anchor.START),
        Words((_LEFT + 84.0, y), words, _SMALL, Anchor.START),
    ]


def _told(places: Sequence[MovedPlace], say: Texts) -> str:
    moved = (
        say(
            "{tag}: {added} mm weight added, {planned} mm as planned.",
            tag=p.tag,
            added=signed_millimetres(p.added),
            planned=signed_millimetres(p.planned),
        )
        for p in places
        if p.tag
    )
    return " ".join((say("Movement of the pipe from before."), *moved))
