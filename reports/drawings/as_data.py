"""A drawing as data for the typesetter's template."""

from __future__ import annotations

from typing import Any

from reports.drawings.primitives import Circle, Drawing, Item, Point, Shape, Stroke, Words


def as_data(drawing: Drawing) -> dict[str, Any]:
    """Return what ``drawing.typ`` draws; lengths in millimetres."""
    return {
        "width": round(drawing.width, 3),
        "height": round(drawing.height, 3),
        "told": drawing.told,
        "items": [_item(item) for item in drawing.items],
    }


def _item(item: Item) -> dict[str, Any]:
    match item:
        case Stroke():
            return {
                "kind": "stroke",
                "points": _points(item.points),
                "width": item.width,
                "dashed": item.dashed,
            }
        case Shape():
            return {
                "kind": "shape",
                "points": _points(item.points),
                "width": item.width,
                "fill": str(item.fill),
            }
        case Circle():
            return {
                "kind": "circle",
                "at": _point(item.centre),
                "radius": round(item.radius, 3),
                "width": item.width,
                "fill": str(item.fill),
            }
        case Words():
            return {
                "kind": "words",
                "at": _point(item.at),
                "text": item.text,
                "size": item.size,
                "anchor": str(item.anchor),
                "bold": item.bold,
            }


def _points(points: tuple[Point, ...]) -> list[list[float]]:
    return [_point(point) for point in points]


def _point(point: Point) -> list[float]:
    return [round(point[0], 3), round(point[1], 3)]
