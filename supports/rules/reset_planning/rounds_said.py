"""The rounds of an order: steps, what every scale shows after each, how much nozzles are used."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from supports.calc.line.influence import what_if
from supports.calc.reset_plan.holds import held_table, with_holds
from supports.calc.reset_plan.judge import Use
from supports.calc.reset_plan.lattice import WITH_HOLDS
from supports.calc.reset_plan.limits import Hold
from supports.calc.reset_plan.order import judge_with
from supports.calc.reset_plan.problem import PlanState
from supports.calc.reset_plan.recheck import Checker
from supports.calc.reset_plan.rows import RowKind, columns_of
from supports.calc.reset_plan.sequence import Round, Step, StepKind
from supports.calc.reset_plan.sequence import Sequence as Order
from supports.calc.travel import distance_from_top
from supports.errors import CannotCalculate
from supports.rules.reset_planning.build import Planning
from supports.rules.reset_planning.content import (
    HoldSaid,
    NozzleUseSaid,
    ReadingSaid,
    RoundSaid,
    StepSaid,
)
from supports.rules.reset_planning.holds_named import PROP
from supports.rules.reset_planning.said import use_said
from supports.rules.reset_planning.springs import PlanUnit
from supports.snapshots import NameplateView

Settings = Mapping[str, float]


@dataclass(slots=True)
class _Group:
    """Rounds that the field sees as one: props go in before it, come out after it."""

    rounds: list[Round] = field(default_factory=list)

    @property
    def steps(self) -> tuple[Step, ...]:
        return tuple(step for one in self.rounds for step in one.steps)

    @property
    def has_turns(self) -> bool:
        return any(step.kind is StepKind.TURN for step in self.steps)


def rounds_said(planning: Planning, order: Order) -> tuple[RoundSaid, ...]:
    """Return the rounds that people go; props and stops belong to the round before or after."""
    settings: dict[str, float] = {}
    out, step_no = [], 0
    for number, group in enumerate(_groups(order), start=1):
        steps = tuple(_steps(planning, order, group, settings, step_no))
        holds = _in(planning, order, group.steps[-1])
        worst = max((step.worst for step in group.steps), key=lambda use: use.share)
        turned = frozenset(s.name for s in group.steps if s.kind is StepKind.TURN)
        out.append(
            RoundSaid(
                number,
                steps,
                _readings(planning, settings, holds, turned),
                nozzle_uses(planning, settings, holds),
                use_said(worst),
            )
        )
        step_no += len(group.steps)
    return tuple(out)


def _groups(order: Order) -> list[_Group]:
    groups: list[_Group] = [_Group()]
    for one in order.rounds:
        takes_out = one.steps[0].kind is StepKind.TAKE_OUT
        if groups[-1].has_turns and not takes_out:
            groups.append(_Group())
        groups[-1].rounds.append(one)
    return [group for group in groups if group.rounds]


def _in(planning: Planning, order: Order, step: Step) -> tuple[Hold, ...]:
    """Return the props and stops that are in after a step."""
    if step.mode != WITH_HOLDS:
        return ()
    return holds_named(planning, order.holds)


def _steps(
    planning: Planning, order: Order, group: _Group, settings: dict[str, float], done: int
) -> Iterator[StepSaid]:
    """Yield the steps of a round, numbered on; `settings` follows them."""
    for number, step in enumerate(group.steps, start=done + 1):
        if step.setting is None:
            yield _step(step, number, None)
            continue
        settings[step.name] = step.setting
        holds = _in(planning, order, step)
        shown = _readings(planning, settings, holds, frozenset({step.name}))
        yield _step(step, number, next((one for one in shown if one.turned), None))


def _step(step: Step, number: int, shown: ReadingSaid | None) -> StepSaid:
    return StepSaid(
        number,
        str(step.kind),
        step.name,
        step.count.turns,
        step.count.flats,
        step.steps > 0,
        use_said(step.worst),
        shown.scale if shown else None,
        shown.low if shown else None,
        shown.high if shown else None,
    )


def working_state(planning: Planning, holds: tuple[Hold, ...]) -> PlanState:
    """Return the working state with props and stops in."""
    problem = with_holds(planning.problem, holds) if holds else planning.problem
    return next(state for state in problem.states if state.working)


def holds_named(planning: Planning, names: Collection[str]) -> tuple[Hold, ...]:
    """Return the props and stops of those names."""
    return tuple(hold for hold in planning.holds if hold.name in names)


def start_readings(planning: Planning, holds: tuple[Hold, ...]) -> tuple[ReadingSaid, ...]:
    """Return what every scale shows with the weight on, props and stops in, nothing turned."""
    return _readings(planning, {}, holds, frozenset())


def _readings(
    planning: Planning, settings: Settings, holds: tuple[Hold, ...], turned: frozenset[str]
) -> tuple[ReadingSaid, ...]:
    """Return what every scale shows; what a travel stop bears is not on the scale beside it."""
    changes = planning.problem.changes(settings)
    held = held_table(working_state(planning, ()).table, holds)
    table, borne = held.table, held.force + held.force_effect @ changes
    on_stop = dict(zip((hold.name for hold in holds), borne, strict=True))
    shown = what_if(table, changes)
    columns = columns_of(planning.problem)
    half = np.abs(table.effect) @ ((columns.setting + changes) * columns.friction)
    out = []
    for row, name in enumerate(table.supports):
        unit = planning.units.get(name)
        if unit is not None:
            rise = float(shown.pointers[table.pointers.index(name)])
            by_spring = float(shown.loads[row]) - float(on_stop.get(name, 0.0))
            scale = by_spring + _bend(unit, settings.get(name))
            out.append(_reading(planning, unit, scale, float(half[row]), rise, name in turned))
    return tuple(out)


def _bend(unit: PlanUnit, setting: float | None) -> float:
    """Return by how much a banded load per turn leads away from the mean, part-way [N]."""
    if unit.stepping is None or setting is None or not unit.limits.step:
        return 0.0
    steps = round((setting - unit.limits.setting) / unit.limits.step)
    return unit.stepping.after(unit.limits.setting, steps) - setting


def _reading(
    planning: Planning, unit: PlanUnit, scale: float, half: float, rise: float, turned: bool
) -> ReadingSaid:
    moved = rise - planning.before.supports[unit.support.tag].movement
    half = 0.0 if not unit.rate else half
    return ReadingSaid(
        unit.name, unit.unit.id, scale, scale - half, scale + half, moved,
        _pointer(unit, moved), turned,
    )  # fmt: skip


def _pointer(unit: PlanUnit, moved: float) -> float | None:
    """Return where the pointer should stand [m]: its shut-down mark, moved with the pipe."""
    plate = unit.unit.nameplate or NameplateView()
    if plate.cold_mark is None or plate.total_travel is None or not plate.zero_end:
        return None
    at_top = plate.zero_end == "top"
    from_top = distance_from_top(plate.cold_mark, plate.total_travel, zero_at_top=at_top) - moved
    return from_top if at_top else plate.total_travel - from_top


def nozzle_uses(
    planning: Planning, settings: Settings, holds: tuple[Hold, ...]
) -> tuple[NozzleUseSaid, ...]:
    """Return the largest use of each nozzle's limits [1] in the state of the work, solved in full.

    Where the line has no answer nothing is said; such a state is no part of a safe order.
    """
    judge = judge_with(planning.problem, holds)
    changes = planning.problem.changes(settings)
    checker = Checker(planning.problem, judge, planning.resolve, holds)
    try:
        uses = checker.uses(changes, working_only=True)
    except CannotCalculate:
        return ()
    worst: dict[str, Use] = {}
    for label, share in zip(judge.labels, uses, strict=True):
        if label.kind is RowKind.NOZZLE:
            use = Use(float(share), label)
            worst[label.subject] = max(worst.get(label.subject, use), use, key=lambda u: u.share)
    return tuple(
        NozzleUseSaid(name, use.share, use.label.quantity if use.label else "")
        for name, use in worst.items()
    )


def holds_said(planning: Planning, order: Order) -> tuple[HoldSaid, ...]:
    """Return the props and travel stops with the largest force that each bears [N]."""
    holds = holds_named(planning, order.holds)
    if not holds:
        return ()
    work = working_state(planning, ())
    held = held_table(work.table, holds)
    forces = [
        np.abs(held.force + held.force_effect @ changes)
        for changes in _changes_while_in(planning, order.steps)
    ]
    largest = np.max(forces, axis=0)
    return tuple(
        _hold(planning, hold, float(force), order.steps)
        for hold, force in zip(holds, largest, strict=True)
    )


def _changes_while_in(planning: Planning, steps: Sequence[Step]) -> Iterator[np.ndarray]:
    settings: dict[str, float] = {}
    for step in steps:
        if step.setting is not None:
            settings[step.name] = step.setting
        if step.mode == WITH_HOLDS:
            yield planning.problem.changes(settings)


def _hold(planning: Planning, hold: Hold, force: float, steps: Sequence[Step]) -> HoldSaid:
    of_unit = hold.name in planning.units
    out = [n for n, s in enumerate(steps, start=1) if s.mode == WITH_HOLDS]
    return HoldSaid(
        hold.name,
        "travel stop" if of_unit else PROP,
        hold.level or 0.0,
        force,
        1,
        max(out, default=0),
    )
