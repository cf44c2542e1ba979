"""The laws of a line's supports in one state: settings, engaged stops, moving steel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from supports.calc.line.contact import Laws
from supports.calc.line.frame import Frame, law_figures
from supports.calc.line.restraints import Component, Spring, components_of
from supports.calc.line.states import State
from supports.calc.line.vectors import FloatArray
from supports.errors import NotFound
from supports.sentences import Sentence, joined


def laws_of(frame: Frame, states: Sequence[State], growth: FloatArray) -> Laws:
    """Return the laws of all components in all `states`.

    Parameters
    ----------
    growth
        How bodies' own thermal growth moves each component [m], states × components.

    Raises
    ------
    NotFound
        A state names a support that the line does not have.
    """
    for state in states:
        refuse_unknown(frame, state)
    figures = np.array([_figures(frame, state) for state in states])
    preload, rate, compliance, low, high = np.moveaxis(figures, 1, 0)
    shift = np.array([_steel(frame.components, state) for state in states]) - growth
    return Laws(preload + rate * shift, rate, compliance, low + shift, high + shift)


def refuse_unknown(frame: Frame, state: State) -> None:
    """Refuse a state that sets or locks a spring, or moves a support, that is not there."""
    if not state.settings and not state.locked and not state.movements:
        return
    springs = {spring.name for spring in frame.line.springs}
    every = {support.name for support in frame.line.supports}
    wrong = {*state.settings, *state.locked} - springs | {*state.movements} - every
    if wrong:
        raise NotFound(
            "the state names supports that the line does not have, or that are no springs",
            where=Sentence("line {line}, {name}", line=frame.line.name, name=state.name),
            found=joined(sorted(wrong), ", "),
        )


def _figures(frame: Frame, state: State) -> FloatArray:
    if not state.settings and not state.locked:
        return frame.laws
    by_name = {spring.name: spring for spring in frame.line.springs}
    return law_figures([_one(c, by_name.get(c.support), state) for c in frame.components])


def _one(component: Component, spring: Spring | None, state: State) -> Component:
    name = component.support
    if name in state.locked:
        at = state.locked[name]
        return replace(component, preload=0.0, rate=0.0, low=at, high=at)
    if spring is not None and name in state.settings:
        return components_of(replace(spring, setting=state.settings[name]))[0]
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
