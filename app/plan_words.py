"""A re-set plan as lines of text: verdict, units and turns, rounds, use at every step, cautions."""

from __future__ import annotations

from collections.abc import Iterator

from supports.calc.reset_plan.judge import in_tenths
from supports.calc.turns import TurnCount
from supports.freezing import short
from supports.queries.plans import PlanOnRecord
from supports.rules.reset_planning.content import (
    GoalReached,
    PlanAlternative,
    PlanContent,
    ReadingSaid,
    RoundSaid,
    StepSaid,
    UnitTurn,
    UseSaid,
)
from supports.units import Kind, shown

CAUTIONS = (
    "Screening calculation: it orders the work and does not approve it. Local codes and licensed",
    "practice decide. Nobody beneath; travel stops only as listed; stop where a scale does not",
    "show what is foretold.",
)


CLASHES_TOLD = 6


def plan_page(plan: PlanOnRecord, *, which: int = 0, readings: bool = False) -> Iterator[str]:
    """Return a plan as lines; one alternative in full, all side by side.

    Parameters
    ----------
    which
        The alternative told in full, from 1; 0 is the chosen one, or the first.
    """
    yield from _head(plan)
    yield from _shifts(plan.content)
    place = which or _place(plan)
    yield from _alternative(
        place, plan.content.alternatives[place - 1], plan.content, readings=readings
    )
    yield from _side_by_side(plan.content)
    yield from (f"  not turned: {one.name}: {one.why}" for one in plan.content.not_turned)
    yield from (f"  note: {note}" for note in plan.content.notes)
    yield from CAUTIONS
    yield standing_words(plan)


def _place(plan: PlanOnRecord) -> int:
    """Return the place of the chosen alternative, or of the first."""
    names = [one.name for one in plan.content.alternatives]
    return names.index(plan.chosen.alternative) + 1 if plan.chosen else 1


def _head(plan: PlanOnRecord) -> Iterator[str]:
    content = plan.content
    yield f"{plan.number} for {plan.change}, line {plan.line}:"
    yield f"  {content.sentence}"
    after = f", after {plan.follows}" if plan.follows else ""
    read = f", readings of {plan.read_from}" if plan.read_from else ""
    yield (
        f"  {content.kind}{after}{read}; assessment {plan.assessment_revision}, "
        f"calculation {plan.calculation}; made by {plan.made_by} on {plan.made_at:%Y-%m-%d}; "
        f"fingerprint {short(plan.fingerprint)}"
    )
    step = "whole flats" if content.steps_per_turn == 6 else "half-turns"
    yield (
        f"  aim: {content.aim}; line while bolts are turned: {content.work_state}; {step}; every "
        f"limit kept at both ends of {content.friction_share:.0%} of each friction band"
    )


def _shifts(content: PlanContent) -> Iterator[str]:
    for one in content.shifted:
        yield f"  found elsewhere: {one.name} by {shown(one.by, 'kN', Kind.LOAD)}"
    if content.same_end is not None:
        same = "the same set loads as" if content.same_end else "other set loads than"
        yield f"  the units end at {same} in the earlier plan"


def _alternative(
    place: int, one: PlanAlternative, content: PlanContent, *, readings: bool
) -> Iterator[str]:
    yield f"{place}. {one.name}: {one.verdict}"
    yield from (f"   clash: {clash}" for clash in one.clashes[:CLASHES_TOLD])
    if len(one.clashes) > CLASHES_TOLD:
        yield f"   and {len(one.clashes) - CLASHES_TOLD} limits more"
    yield from (f"   way round: {relief}" for relief in one.relief)
    yield from (f"   {_goal(goal)}" for goal in one.goals)
    if one.safety:
        yield f"   {one.safety}"
    for hold in one.holds:
        force = shown(hold.force, "kN", Kind.LOAD)
        yield (
            f"   {hold.called}: in before step {hold.before_step}, out after step "
            f"{hold.out_after_step}, bears up to {force}"
        )
    yield from (f"   {_unit(unit)}" for unit in one.units)
    for a_round in one.rounds:
        yield from _round(a_round, readings=readings)
    for order in one.orders:
        good = "would do too" if order.passes else f"breaks a limit at {order.at}"
        yield f"   {order.which}: {good}; {_use(order.worst)}"
    yield from _ends(one, content)


def _goal(goal: GoalReached) -> str:
    proved = "proved best" if goal.proved else f"not proved; none is better than {goal.bound:.4g}"
    return f"{goal.goal}: {goal.value:.4g}, {proved}"


def _unit(unit: UnitTurn) -> str:
    way = "up" if unit.increases else "down"
    before, after, low, high = (
        shown(load, "kN", Kind.LOAD)
        for load in (unit.scale_before, unit.scale_after, unit.window_low, unit.window_high)
    )
    used = "" if unit.range_use is None else f"; {unit.range_use:.0%} of its range on that side"
    turns = TurnCount(unit.turns, unit.flats)
    return f"{unit.name:<12} {turns} {way}: {before} -> {after}, window {low} to {high}{used}"


def _round(one: RoundSaid, *, readings: bool) -> Iterator[str]:
    yield f"   round {one.number}, {_use(one.worst)}"
    yield from (f"     {_step(step)}" for step in one.steps)
    if readings:
        yield from (f"     {_reading(reading)}" for reading in one.readings)


def _step(step: StepSaid) -> str:
    what = step.kind
    if step.turns or step.flats:
        what = f"{TurnCount(step.turns, step.flats)} {'up' if step.increases else 'down'}"
    return f"{step.number:>3}. {step.name}: {what}; {_use(step.worst)}"


def _reading(one: ReadingSaid) -> str:
    load = shown(one.scale, "kN", Kind.LOAD)
    moved = shown(one.moved, "mm", Kind.LENGTH)
    pointer = "no mark known" if one.pointer is None else shown(one.pointer, "mm", Kind.LENGTH)
    return f"then {one.name:<12} shows {load}, pointer {pointer} (moved {moved})"


def _use(use: UseSaid) -> str:
    return f"most used {use.words}: {in_tenths(use.share):.1%}"


def _ends(one: PlanAlternative, content: PlanContent) -> Iterator[str]:
    if one.end is not None and one.can_be_done:
        yield f"   at the end, {_use(one.end)}"
    if one.band is not None and content.friction_share < 1.0:
        yield f"   if all of every friction band added up at the end, {_use(one.band)}"
    if one.solved:
        yield f"   {one.solved}"


def _side_by_side(content: PlanContent) -> Iterator[str]:
    if len(content.alternatives) < 2:
        return
    yield "  side by side:"
    for place, one in enumerate(content.alternatives, start=1):
        if one.cost is None or one.end is None:
            yield f"   {place}. {one.name:<18} cannot be done"
            continue
        cost = one.cost
        safe = "safe on the way" if one.safe and one.can_be_done else "NOT SAFE"
        yield (
            f"   {place}. {one.name:<18} {cost.units} units, {cost.visits} visits, "
            f"{cost.turns:.1f} turns, {cost.total_hours:.1f} man-hours "
            f"({cost.scaffold_hours:.1f} of scaffold), {cost.close_steps} steps close to a limit, "
            f"ends at {in_tenths(one.end.share):.1%}, {safe}"
        )


def standing_words(plan: PlanOnRecord) -> str:
    """Return where a plan stands and what comes next."""
    said = "" if plan.chosen is None else (
        f"'{plan.chosen.alternative}' chosen by {plan.chosen.by} on {plan.chosen.at:%Y-%m-%d}: "
        f"{plan.chosen.reason}"
    )  # fmt: skip
    orders = f"; followed by {', '.join(plan.orders)}" if plan.orders else ""
    if plan.void:
        return f"VOID: {'; '.join(plan.void)}" + (f" ({said})" if said else "") + orders
    if said:
        return said + orders
    if any(one.can_be_done and one.safe for one in plan.content.alternatives):
        return f"Not chosen. Next, by the responsible engineer: supports plan choose {plan.number}"
    return "Nothing in it can be chosen: another aim, or what the way round names."
