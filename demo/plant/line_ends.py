"""How the ends of the lines are held, and how far the equipment there moves."""

from __future__ import annotations

from dataclasses import dataclass

from demo.plant.routes import Vector


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
