"""Settings of springs from their hot loads, with a self-test of the whole chain."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from supports.calc.line.line import Line
from supports.calc.line.restraints import Constant, Support, Variable
from supports.calc.line.results import LineResult
from supports.calc.line.solver import solve
from supports.calc.line.states import State, planned
from supports.errors import NotFound


@dataclass(frozen=True, slots=True)
class ColdSettings:
    """Settings that give the hot loads in the operating state.

    Parameters
    ----------
    settings
        Load [N] of each spring with the pipe at the level of the model.
    travel
        Movement [m] of each spring from the level of the model to the operating state.
    result
        The operating state with these settings.
    difference
        Largest difference of any node's movement between the travel run and the operating run
        [m]: the self-test. It is rounding only, unless a support changes its status between them.
    """

    settings: Mapping[str, float]
    travel: Mapping[str, float]
    result: LineResult
    difference: float


def cold_settings(line: Line, operating: State, hot_loads: Mapping[str, float]) -> ColdSettings:
    """Return the settings of springs that carry `hot_loads` in the operating state.

    The travel run lets every named spring pull with its hot load; then cold = hot + k × travel, and
    the operating run with these settings must give the travel run again.

    Parameters
    ----------
    hot_loads
        Load of springs in the operating state [N].

    Returns
    -------
    ColdSettings
        Settings [N], travel [m], self-test [m].

    Raises
    ------
    NotFound
        A name is that of no spring of the line.

    Source: Hooke's law; the self-test is ours.
    """
    springs = {spring.name: spring for spring in line.springs}
    unknown = [name for name in hot_loads if name not in springs]
    if unknown:
        raise NotFound("no such spring", where=f"line {line.name}", found=", ".join(unknown))
    pulled = tuple(_pulling(support, hot_loads) for support in line.supports)
    run = solve(replace(line, supports=pulled), [operating])[0]
    travel = {name: run.supports[name].movement for name in hot_loads}
    settings = {name: hot + _rate(springs[name]) * travel[name] for name, hot in hot_loads.items()}
    result = solve(line, [planned(operating, settings, operating.name)])[0]
    apart = float(np.abs(result.node_movements[:, :3] - run.node_movements[:, :3]).max())
    return ColdSettings(settings, travel, result, apart)


def _pulling(support: Support, hot_loads: Mapping[str, float]) -> Support:
    if not isinstance(support, Constant | Variable) or support.name not in hot_loads:
        return support
    load = hot_loads[support.name]
    return Constant(support.name, support.node, load, offset=support.offset)


def _rate(spring: Constant | Variable) -> float:
    return spring.rate if isinstance(spring, Variable) else 0.0
