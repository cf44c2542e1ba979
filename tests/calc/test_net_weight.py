"""Net weight of a change. Example 10 is invented and worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from supports.calc.net_weight import Item, Way, net_weight, off_axis_moment

ON_AXIS = (7.0, 0.0, 0.0)
ITEMS = (
    Item("valve", 410.0, ON_AXIS),
    Item("actuator", 120.0, (7.0, 0.0, 0.6)),
    Item("flanges", 2 * 62.0, ON_AXIS),
    Item("bolting", 26.0, ON_AXIS),
    Item("insulation box", 55.0, ON_AXIS),
    Item("pipe cut out", 0.95 * 79.7, ON_AXIS, Way.REMOVED),
    Item("insulation removed", 0.95 * 24.0, ON_AXIS, Way.REMOVED),
)


def test_example_10_mass_weight_twist() -> None:
    net = net_weight(ITEMS)
    assert net.mass == pytest.approx(636.5, abs=0.05)
    assert net.weight == pytest.approx(6.24e3, abs=5.0)
    assert net.twist == pytest.approx(706.0, abs=0.5)
    assert off_axis_moment(120.0, 0.6) == pytest.approx(706.0, abs=0.5)
    assert net.is_complete


def test_example_10_centre() -> None:
    # only the actuator is off the axis: 120 × 0.6 / 636.485 = 0.1131 m
    centre = net_weight(ITEMS).centre
    assert centre is not None
    assert centre == pytest.approx((7.0, 0.0, 0.1131), abs=5e-5)


def test_a_mass_not_known_is_named_and_not_taken_as_zero() -> None:
    net = net_weight([*ITEMS, Item("drain", None, ON_AXIS)])
    assert net.without_mass == ("drain",)
    assert not net.is_complete
    assert (net.centre, net.twist) == (None, None)


def test_a_centre_not_known_leaves_the_twist_not_known() -> None:
    net = net_weight([replace(ITEMS[1], centre=None), *ITEMS[2:]])
    assert net.without_centre == ("actuator",)
    assert net.is_complete
    assert (net.centre, net.twist) == (None, None)


def test_an_exchange_of_equal_masses_keeps_its_twist_and_has_no_centre() -> None:
    net = net_weight(
        [
            Item("new", 50.0, (0.0, 0.0, 0.3)),
            Item("old", 50.0, way=Way.REMOVED, centre=(0.0, 0.0, -0.3)),
        ]
    )
    assert net.mass == pytest.approx(0.0, abs=1e-12)
    assert net.centre is None
    assert net.twist == pytest.approx(50.0 * 9.80665 * 0.6, rel=1e-12)
