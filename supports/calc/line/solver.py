"""Screening statics of a line: factored once, solved for as many states as wanted."""

from __future__ import annotations

from collections.abc import Sequence

from supports.calc.line.band import Factored, backward, factored, forward
from supports.calc.line.contact import Laws, LooseSupports, Settled, settle
from supports.calc.line.frame import frame_of
from supports.calc.line.laws import laws_of
from supports.calc.line.line import Line
from supports.calc.line.loads import loads_of, row_growth
from supports.calc.line.mechanisms import loose_motion
from supports.calc.line.results import LineResult, Solved
from supports.calc.line.states import State
from supports.calc.line.vectors import FloatArray


def factored_line(line: Line) -> Factored:
    """Turn a line into arrays, assemble and factor its stiffness.

    Raises
    ------
    Mechanism
        A motion of the line that no support resists; the message names it and the nodes.
    """
    return factored(frame_of(line))


def solve(line: Line, states: Sequence[State]) -> tuple[LineResult, ...]:
    """Solve a line in all `states` (screening calculation); see `solve_states`."""
    return solve_states(factored_line(line), states)


def solve_states(system: Factored, states: Sequence[State]) -> tuple[LineResult, ...]:
    """Solve a factored line in all `states`; nothing is factored again.

    Raises
    ------
    Mechanism
        In one state nothing resists a motion, e.g. a riser on one constant.
    NoConvergence
        The one-way supports of one state did not settle.
    BadInput, NotFound
        A state names contents or supports that the line does not have.
    """
    frame = system.frame
    loads = loads_of(frame, states)
    half = forward(system.band, loads.on_unknowns)
    growth = row_growth(frame, loads.body_strain)
    laws = laws_of(frame, states, growth)
    settled = _settled(system, states, half.T @ system.half, laws)
    whole = Solved(system, states, loads, settled, growth, half)
    return tuple(LineResult(whole, row) for row in range(len(states)))


def _settled(system: Factored, states: Sequence[State], start: FloatArray, laws: Laws) -> Settled:
    try:
        return settle(system.compliance, system.ground, start, laws)
    except LooseSupports as loose:
        motion = backward(system.band, system.half @ loose.pull[:, None])[:, 0]
        raise loose_motion(system.frame, motion, states[loose.state].name) from loose
