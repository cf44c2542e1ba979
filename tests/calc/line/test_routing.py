"""Coordinates from lengths and directions; geometry by hand."""

from math import sqrt

import pytest

from supports.calc.line.parts import Node
from supports.calc.line.routing import Leg, nodes_along, tangent_points
from supports.errors import BadInput

START = Node("A", 1.0, 2.0, 3.0)


def test_walk_by_words_and_by_vectors() -> None:
    legs = (Leg("B", 4.0, "North"), Leg("C", 2.0, "up"), Leg("D", 5.0, (3.0, 4.0, 0.0)))
    walked = [(n.name, n.x, n.y, n.z) for n in nodes_along(START, legs)]
    assert walked == [
        ("A", 1.0, 2.0, 3.0),
        ("B", 1.0, 6.0, 3.0),
        ("C", 1.0, 6.0, 5.0),
        ("D", 4.0, 10.0, 5.0),
    ]


@pytest.mark.parametrize("direction", ["leftish", (0.0, 0.0, 0.0)])
def test_no_direction(direction: object) -> None:
    with pytest.raises(BadInput, match="node B"):
        nodes_along(START, (Leg("B", 1.0, direction),))


def test_tangent_points() -> None:
    """A square corner takes one radius off each leg, a 45° corner R tan 22.5°."""
    corner, after = Node("C", 5.0, 2.0, 3.0), Node("D", 5.0, 9.0, 3.0)
    start, end = tangent_points(START, corner, after, 1.5)
    assert start == pytest.approx((3.5, 2.0, 3.0))
    assert end == pytest.approx((5.0, 3.5, 3.0))
    start, end = tangent_points(START, corner, Node("E", 8.0, 5.0, 3.0), 1.0)
    assert start == pytest.approx((5.0 - (sqrt(2) - 1), 2.0, 3.0))


@pytest.mark.parametrize(
    ("after", "radius"),
    [(Node("D", 5.0, 9.0, 3.0), 4.5), (Node("D", 9.0, 2.0, 3.0), 1.0), (Node("D", 5, 2, 3), 1.0)],
)
def test_bend_that_does_not_fit(after: Node, radius: float) -> None:
    with pytest.raises(BadInput, match="node C"):
        tangent_points(START, Node("C", 5.0, 2.0, 3.0), after, radius)
