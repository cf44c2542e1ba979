"""How the ends of the lines are held, and how far the equipment there moves.

Every line meets its equipment through a tied bellows, which holds every push and gives way to
turning. The equipment where a line begins stands fast, that where it ends stands on sliding feet.
"""

from __future__ import annotations

from dataclasses import dataclass

from demo.plant.routes import Route, Vector, difference


@dataclass(frozen=True, slots=True)
class End:
    """One end of a line at a nozzle.

    Parameters
    ----------
    nozzle
        Its name.
    turning
        What it resists to turning [N·m/rad]; rigid where None.
    movement
        Its movement from shut down to operating: east, north, up [m].
    """

    nozzle: str
    turning: float | None = None
    movement: Vector = (0.0, 0.0, 0.0)


SOFTNESS = 50.0
"""What a bellows resists to turning, over the third power of the nominal size [N·m/rad]."""
GOES_ALONG = 0.9
"""Part of the line's growth that the equipment on sliding feet goes along with [1]."""


def ends_of(way: Route, nps: int, growth: float) -> tuple[End, End]:
    """Return the ends of a line whose first and last legs go up or down from its level run.

    `growth` is that of the pipe from shut down to operation [1]. Equipment that hangs or stands
    goes up or down by what keeps the run at its level, but for a pump below a riser.
    """
    begin, run, end = (
        way.stretches[0].start, way.stretches[2].start, way.stretches[-1].finish,
    )  # fmt: skip
    east, north, _ = difference(end, begin)
    along = growth * GOES_ALONG
    turning = SOFTNESS * nps**3
    above, below = max(0.0, begin[2] - run[2]), end[2] - run[2]
    return (
        End("N1", turning, (0.0, 0.0, round(growth * above, 3))),
        End(
            "N2",
            turning,
            (round(along * east, 3), round(along * north, 3), round(growth * below, 3)),
        ),
    )
