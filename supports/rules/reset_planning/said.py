"""Limits, clashes and ways round in plain words."""

from __future__ import annotations

from collections.abc import Iterator

from supports.calc.reset_plan.judge import Use
from supports.calc.reset_plan.results import Clash, Relief, ResetPlan, Status
from supports.calc.reset_plan.rows import Label
from supports.calc.reset_plan.sequence import Safety, Sequence
from supports.rules.reset_planning.content import UseSaid
from supports.units import Kind, shown

_SHOWN = {"N": ("kN", Kind.LOAD), "N·m": ("kN·m", Kind.MOMENT), "m": ("mm", Kind.LENGTH)}


def use_said(use: Use) -> UseSaid:
    """Return a use in words with its share."""
    return UseSaid(str(use.label) if use.label else "no limit given", use.share, use.passes)


def amount_said(amount: float, label: Label) -> str:
    """Return an amount in the unit of its limit, for people."""
    if label.unit not in _SHOWN:
        return f"{amount:.1f} {label.unit}"
    symbol, kind = _SHOWN[label.unit]
    return shown(amount, symbol, kind, 2)


def clash_said(clash: Clash) -> str:
    """Return which limit cannot be kept, and by how much it would be passed."""
    return f"{clash.label} would be passed by {amount_said(clash.amount, clash.label)}"


def relief_said(relief: Relief | None) -> Iterator[str]:
    """Say the cheapest way round, one thing to do at a time."""
    if relief is None:
        yield "No replacement of a unit and no added support that was tried puts it right."
        return
    for step in relief.steps:
        load = shown(step.load, "kN", Kind.LOAD)
        if step.action == "add":
            yield f"Add a constant support in place of the {step.name}, set to {load}."
        else:
            short = shown(step.short, "kN", Kind.LOAD)
            beyond = f", {short} beyond the range of this one" if step.short > 0.0 else ""
            yield f"Replace {step.name} by a unit that takes {load}{beyond}."


def verdict_said(plan: ResetPlan) -> str:
    """Return what became of planning, in a sentence."""
    if plan.status is Status.DONE:
        units = f"{len(plan.units)} unit{'' if len(plan.units) == 1 else 's'}"
        turned = f"{units} turned" if plan.units else "nothing needs turning"
        return f"{turned}; every limit is kept at the end, the most used: {plan.worst}"
    if plan.status is Status.BROKEN:
        return f"these loads break a limit: {plan.worst}"
    if plan.status is Status.IMPOSSIBLE:
        named = "; ".join(clash_said(clash) for clash in plan.clashes[:3])
        return f"cannot be done: {named or 'no set of turns keeps every limit'}"
    return "not decided within the time allowed"


def safety_said(order: Sequence, start: Use, *, as_left: bool = False) -> str:
    """Return what may be said of an order, a prop called for by name where one is.

    Parameters
    ----------
    as_left
        Whether the line stands so already, and no weight is let go before the first turn.
    """
    begin = "As it was left" if as_left else "Before any turn, with the weight let go"
    words = use_said(start).words
    past = f"{begin}, {words} stands at {start.share:.0%} of its limit. "
    return ("" if start.passes else past) + _words(order, as_left=as_left)


def _words(order: Sequence, *, as_left: bool) -> str:
    held = ", ".join(order.holds)
    before = "the first turn" if as_left else "the weight is released"
    words = {
        Safety.SAFE: "No limit is passed on the way.",
        Safety.START: (
            "No limit is passed from the first turn on."
            if as_left
            else "Prop the line or put in travel stops before the weight is released; "
            "no limit is passed from the first turn on."
        ),
        Safety.PROP: (
            f"Put in {held} before {before}; no limit is passed on the way "
            "as long as it is in as listed."
        ),
        Safety.UNSAFE: (
            f"On the way {use_said(order.worst).words} reaches {order.worst.share:.0%} of its "
            "limit: another share of the loads, or a prop elsewhere, is needed."
        ),
    }
    return words[order.safety]
