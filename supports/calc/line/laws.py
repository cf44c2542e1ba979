"""The laws of a line's supports in one state: settings, engaged stops, moving steel."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from supports.calc.line.contact import Laws
from supports.calc.line.frame import Frame
from supports.calc.line.restraints import (
    Component,
    Constant,
    Variable,
    components_of,
    is_spring,
)
from supports.calc.line.states import State
from supports.calc.line.vectors import FloatArray
from supports.errors import NotFound


def laws_of(frame: Frame, state: State, growth: FloatArray) -> Laws:
    """Return the laws of all components in `state`.

    Parameters
    ----------
    growth
        How bodies' own thermal growth moves each component [m].

    Raises
    ------
    NotFound
        The state names a support that the line does not have.
    """
    refuse_unknown(frame, state)
    components = _as_set(frame, state)
    figures = np.array([(c.preload, c.rate, c.compliance, c.low, c.high) for c in components])
    preload, rate, compliance, low, high = figures.reshape(-1, 5).T
    shift = _steel(components, state) - growth
    return Laws(preload + rate * shift, rate, compliance, low + shift, high + shift)


def refuse_unknown(frame: Frame, state: State) -> None:
    """Refuse a state that sets or locks a spring, or moves a support, that is not there."""
    springs = {spring.name for spring in frame.line.springs}
    every = {support.name for support in frame.line.supports}
    wrong = {*state.settings, *state.locked} - springs | {*state.movements} - every
    if wrong:
        raise NotFound(
            "the state names supports that the line does not have, or that are no springs",
            where=f"line {frame.line.name}, {state.name}",
            found=", ".join(sorted(wrong)),
        )


def _as_set(frame: Frame, state: State) -> tuple[Component, ...]:
    if not state.settings and not state.locked:
        return frame.components
    by_name = {s.name: s for s in frame.line.supports if is_spring(s)}
    return tuple(_one(c, by_name.get(c.support), state) for c in frame.components)


def _one(component: Component, support: object, state: State) -> Component:
    name = component.support
    if name in state.locked:
        at = state.locked[name]
        return replace(component, preload=0.0, rate=0.0, low=at, high=at)
    if name in state.settings and isinstance(support, Constant | Variable):
        return components_of(replace(support, setting=state.settings[name]))[0]
    return component


def _steel(components: tuple[Component, ...], state: State) -> FloatArray:
    """Return how far what holds each component moves along it, [m] or [rad]."""
    out = np.zeros(len(components))
    if state.movements:
        for row, component in enumerate(components):
            six = state.movements.get(component.support, (0.0,) * 6)
            three = six[3:] if component.turning else six[:3]
            out[row] = sum(d * m for d, m in zip(component.direction, three, strict=True))
    return out
