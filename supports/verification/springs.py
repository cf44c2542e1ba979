"""Springs: definitions of MSS SP-58, and examples worked by hand."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from supports.calc.swing import length_needed
from supports.calc.variable_spring import (
    TakeUp,
    nut_turns,
    plan_take_up,
    scale_rise,
    sink,
    take_up_pipe_following,
)
from supports.units import Kind, to_si
from supports.verification.check import PublishedCheck, Trust

RATE, MOVEMENT, LINE_STIFFNESS = 80e3, 0.015, 400e3
"""Rate [N/m], movement up when hot [m], stiffness of the line at the spring [N/m]."""


def _worked() -> TakeUp:
    """Return a spring of 80 N/mm, 8 to 16 kN, up 15 mm when hot, from 12.0 to 13.5 kN."""
    return plan_take_up(13.5e3, 12.0e3, RATE, MOVEMENT, (8e3, 16e3), pitch=0.003)


_EXAMPLE = "spring of 80 N/mm, 8 to 16 kN, up 15 mm when hot, from 12.0 to 13.5 kN"

WORKED: tuple[tuple[str, str, str, Callable[[], float], float], ...] = (
    ("load shut down, F + k y", "14.7", "kN", lambda: _worked().cold / 1e3, 1e-9),
    ("variability, k y / F", "8.89", "%", lambda: _worked().variability * 100.0, 0.005),
    ("room down, operating", "31.25", "mm", lambda: _worked().hot_room_down * 1e3, 1e-9),
    ("room up, operating", "68.75", "mm", lambda: _worked().hot_room_up * 1e3, 1e-9),
    ("room down, shut down", "16.25", "mm", lambda: _worked().cold_room_down * 1e3, 1e-9),
    ("room up, shut down", "83.75", "mm", lambda: _worked().cold_room_up * 1e3, 1e-9),
    ("take-up with the pipe held", "18.75", "mm", lambda: _worked().take_up * 1e3, 1e-9),
    (
        "turns of an M24 turnbuckle", "3.125", "turns",
        lambda: _worked().turnbuckle_turns or 0.0, 1e-9,
    ),
    (
        "turns of an M24 nut", "6.25", "turns",
        lambda: float(nut_turns(_worked().take_up, 0.003)), 1e-9,
    ),
    (
        "take-up with the pipe following, 400 N/mm", "22.5", "mm",
        lambda: float(take_up_pipe_following(1.5e3, RATE, LINE_STIFFNESS)) * 1e3, 1e-9,
    ),
    (
        "sink under 1.5 kN", "3.125", "mm",
        lambda: float(sink(1.5e3, RATE, LINE_STIFFNESS)) * 1e3, 1e-9,
    ),
    (
        "rise of the scale under 1.5 kN", "0.25", "kN",
        lambda: float(scale_rise(1.5e3, RATE, LINE_STIFFNESS)) / 1e3, 1e-9,
    ),
)  # fmt: skip
"""What of the worked spring, the answer by hand, its unit, ours, tolerance."""


def checks() -> Iterator[PublishedCheck]:
    """Give the checks of the worked spring, of rod swing, and of a common rule of thumb."""
    for what, printed, unit, ours, slack in WORKED:
        yield PublishedCheck(
            "Springs", "MSS SP-58, definitions; worked by hand", _EXAMPLE, what, printed,
            float(printed), unit, ours, slack, "the digits worked", Trust.BY_HAND,
        )  # fmt: skip
    yield PublishedCheck(
        "Springs", "MSS SP-58", "4° from the vertical", "rod length for a swing of 69.9 mm",
        "1.00", 1.0, "m", lambda: float(length_needed(0.0699, to_si(4.0, "°", Kind.ANGLE))), 5e-3,
        "half the last digit", Trust.MEMORY,
    )  # fmt: skip
    yield PublishedCheck(
        "Springs", "Common practice, no source", "", "75 lbf", "333.6", 333.6, "N",
        lambda: to_si(75.0, "lbf", Kind.LOAD), 0.05, "half the last digit", Trust.BY_HAND,
    )  # fmt: skip
