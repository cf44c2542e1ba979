"""What a notebook draws of a line: every support in every state, nothing not known as nought."""

from __future__ import annotations

import matplotlib as mpl
import pytest

from supports.notebook import LineModel
from supports.rules.line.screening import ready_line
from tests.rules.line.routes import straight_route
from tests.rules.line.test_route_check import HELD

mpl.use("Agg")


@pytest.fixture
def line():
    """Give a line that is ready to be screened."""
    return LineModel(ready_line(straight_route(0, 4, 10, supports=HELD)))


def test_each_support_has_a_bar_for_each_state_with_its_load(line):
    from matplotlib import pyplot as plt

    states = line.states("kN")["load [kN]"]
    drawn = line.plot_loads("kN")
    tags = [tag.get_text() for tag in drawn.get_xticklabels()]
    bars = {
        (bars.get_label(), tag): bar.get_height()
        for bars in drawn.containers
        for tag, bar in zip(tags, bars, strict=True)
    }
    assert bars == pytest.approx(states.to_dict())
    assert drawn.get_ylabel() == "load [kN]"
    assert "screening calculation, not an approval" in drawn.get_title(loc="left")
    drawn.figure.canvas.draw()
    low = min(tag.get_window_extent().y0 for tag in drawn.get_xticklabels())
    assert low >= 0.0, "tags are cut off"
    plt.close(drawn.figure)


def test_it_draws_where_it_is_told_to(line):
    from matplotlib.figure import Figure

    axes = Figure().subplots()
    assert line.plot_loads("N", axes) is axes
    assert axes.get_ylabel() == "load [N]"
