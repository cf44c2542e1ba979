"""States of a line: what it holds, how warm it is, how its supports are set, what hangs on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from supports.calc.line.line import Line
from supports.calc.line.parts import EMPTY, LumpedMass
from supports.calc.line.restraints import Six


@dataclass(frozen=True, slots=True)
class State:
    """One state of a line.

    Parameters
    ----------
    contents
        Contents case of every part.
    temperature
        Temperature of the line [K]; None is the installation temperature.
    part_temperatures
        Temperature of single parts [K], where it differs.
    settings
        Set loads [N] of springs that differ from those of the line.
    locked
        Springs with their travel stop engaged, and the pointer [m] at which it holds them.
    movements
        Movement of anchors, nozzles and steel: three shifts [m], three turns [rad].
    extra_masses
        Masses that hang on the line in this state only.
    """

    name: str
    contents: str = EMPTY
    temperature: float | None = None
    part_temperatures: Mapping[str, float] = field(default_factory=dict)
    settings: Mapping[str, float] = field(default_factory=dict)
    locked: Mapping[str, float] = field(default_factory=dict)
    movements: Mapping[str, Six] = field(default_factory=dict)
    extra_masses: tuple[LumpedMass, ...] = ()


def cold(contents: str = EMPTY) -> State:
    """Return the state at installation temperature, empty or holding `contents`."""
    return State("cold empty" if contents == EMPTY else f"cold, {contents}", contents)


def operating(
    contents: str,
    temperature: float,
    movements: Mapping[str, Six] | None = None,
    name: str = "operating",
) -> State:
    """Return an operating state.

    Parameters
    ----------
    temperature
        Temperature of the line [K].
    movements
        Movement of nozzles and anchors: three shifts [m], three turns [rad].

    Source: definition of the state.
    """
    return State(name, contents, temperature, movements=movements or {})


def hydrotest(line: Line, contents: str, pointers: Mapping[str, float] | None = None) -> State:
    """Return the pressure test with water: every spring on its stop.

    Parameters
    ----------
    pointers
        Pointer positions [m] at which the stops hold the springs; absent is the model's level.

    Source: common practice: every spring of the filled part is locked before filling.
    """
    at = pointers or {}
    stops = {spring.name: at.get(spring.name, 0.0) for spring in line.springs}
    return State("hydrotest, stops in", contents, locked=stops)


def as_found(
    state: State, settings: Mapping[str, float], locked: Mapping[str, float] | None = None
) -> State:
    """Return `state` with the settings and engaged stops found on the line.

    Parameters
    ----------
    settings
        Set loads found [N].
    locked
        Springs found with their stop engaged, and their pointers [m]; absent is none.

    Source: definition of the state.
    """
    both = {**state.settings, **settings}
    return replace(state, name="as found", settings=both, locked=locked or {})


def added(state: State, *masses: LumpedMass) -> State:
    """Return `state` with more weight hung on and nothing re-set."""
    name = f"{state.name}, weight added, nothing re-set"
    return replace(state, name=name, extra_masses=(*state.extra_masses, *masses))


def planned(state: State, settings: Mapping[str, float], name: str = "as planned") -> State:
    """Return `state` with springs re-set.

    Parameters
    ----------
    settings
        New set loads [N]; springs not named keep theirs.

    Source: definition of the state.
    """
    return replace(state, name=name, settings={**state.settings, **settings})


def rounds(state: State, steps: tuple[Mapping[str, float], ...]) -> tuple[State, ...]:
    """Return the states after each round of a re-set.

    Parameters
    ----------
    steps
        New set loads [N] of each round; springs not named keep theirs.

    Source: definition of the state.
    """
    out: list[State] = []
    now = state
    for number, step in enumerate(steps, start=1):
        now = planned(now, step, f"after round {number}")
        out.append(now)
    return tuple(out)
