"""The scope of a turnaround: collected, added to by hand, taken out of, frozen."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from supports.database import Register
from supports.errors import BadInput, NotFound, NotReady
from supports.model import Turnaround, TurnaroundItem, TurnaroundReason
from supports.operations.acting import Deed, deed
from supports.operations.turnarounds.opening import PLANNERS
from supports.queries.lookups import point_of, unit_of, units_at
from supports.queries.turnaround_wishes import Key, places, scaffold_groups, wishes
from supports.queries.turnarounds import key_of_item, lines_of, turnaround_of
from supports.rules.turnaround.scope import Action, Item, Reason, Source, merged
from supports.rules.workflow import require_roles
from supports.vocabulary import Role


@dataclass(frozen=True, slots=True)
class Collected:
    """What a collecting brought: counts, and units taken out that something asks for again."""

    items: int
    reasons: int
    after_freeze: int
    asked_again: tuple[str, ...]


def collect_scope(register: Register, number: str, *, acting: str, now: datetime) -> Collected:
    """Take everything into the scope that asks for work at its lines; known ones stay.

    The same unit asked for by a change, a walkdown and a rule becomes one item with three reasons.
    Collecting twice changes nothing.
    """
    with deed(register, acting, now, action="collect a scope", subject=number) as act:
        require_roles("collect a scope", PLANNERS, act.person.roles)
        turnaround = turnaround_of(act.session, number)
        live = wishes(act.session, act.today)
        keys, lines = sorted({one.key for one in live}), lines_of(act.session, turnaround)
        at = places(act.session, keys, lines, scaffold_groups(live))
        items = merged((at[one.key], one.reason) for one in live if one.key in at)
        return _take_in(act, turnaround, items)


def _take_in(act: Deed, turnaround: Turnaround, items: list[Item]) -> Collected:
    known = _known(act, turnaround)
    new, reasons, again = 0, 0, []
    for item in items:
        row = known.get(item.where.key)
        if row is None:
            row = _new_item(act, turnaround, item.where.key)
            new += 1
        added = _add_reasons(act, row, item.reasons)
        reasons += added
        if added and row.taken_out_on is not None:
            again.append(item.where.name)
    late = new if turnaround.frozen_on else 0
    return Collected(new, reasons, late, tuple(again))


def _known(act: Deed, turnaround: Turnaround) -> dict[Key, TurnaroundItem]:
    query = select(TurnaroundItem).where(TurnaroundItem.turnaround_id == turnaround.id)
    return {key_of_item(row): row for row in act.session.scalars(query)}


def _new_item(act: Deed, turnaround: Turnaround, key: Key) -> TurnaroundItem:
    row = TurnaroundItem(
        turnaround_id=turnaround.id,
        point_id=key[0],
        unit_id=key[1] or None,
        added_on=act.today,
        added_by=act.person.name,
        after_freeze="yes" if turnaround.frozen_on else "no",
    )
    act.session.add(row)
    act.session.flush()
    return row


def _add_reasons(act: Deed, row: TurnaroundItem, reasons: tuple[Reason, ...]) -> int:
    query = select(TurnaroundReason.source, TurnaroundReason.reference).where(
        TurnaroundReason.item_id == row.id
    )
    held = {(source, reference) for source, reference in act.session.execute(query)}
    new = [one for one in reasons if (str(one.source), one.reference) not in held]
    act.session.add_all(
        TurnaroundReason(
            item_id=row.id,
            source=one.source,
            reference=one.reference,
            words=one.words,
            action=one.action,
            noted_by=act.person.name,
            noted_at=act.now,
        )
        for one in new
    )
    act.session.flush()
    return len(new)


def add_by_hand(
    register: Register, number: str, place: tuple[str, str], action: Action, *, reason: str,
    acting: str, now: datetime,
) -> bool:  # fmt: skip
    """Add a unit by hand, with the reason; return whether the scope was frozen already.

    Raises
    ------
    BadInput
        No reason is given.
    """
    if not reason.strip():
        raise BadInput("what is added by hand needs its reason", remedy="Give it with --reason")
    tag, position = place
    with deed(
        register, acting, now, action="add to a scope", reason=reason, subject=f"{number} {tag}"
    ) as act:
        able = {*PLANNERS, Role.INSPECTOR, Role.STRESS_ENGINEER}
        require_roles("add to a scope", able, act.person.roles)
        turnaround = turnaround_of(act.session, number)
        key = _key_of(act, tag, position)
        row = _known(act, turnaround).get(key) or _new_item(act, turnaround, key)
        if row.taken_out_on is not None:
            row.after_freeze = "yes" if turnaround.frozen_on else "no"
            row.taken_out_on = row.taken_out_by = row.taken_out_why = None
        wish = Reason(Source.HAND, f"{act.person.name} {act.now:%Y-%m-%d %H:%M}", reason, action)
        _add_reasons(act, row, (wish,))
        return turnaround.frozen_on is not None


def _key_of(act: Deed, tag: str, position: str) -> Key:
    """Return the unit named, or the support as a whole where it has none or several."""
    point = point_of(act.session, tag)
    units = units_at(act.session, point)
    if position or len(units) == 1:
        return (point, unit_of(act.session, tag, position).id)
    return (point, 0)


def take_out(
    register: Register, number: str, place: tuple[str, str], *, reason: str, acting: str,
    now: datetime,
) -> None:  # fmt: skip
    """Take a unit out of the scope, with the reason; it stays on record as taken out.

    Raises
    ------
    NotFound
        It is not in the scope.
    """
    if not reason.strip():
        raise BadInput("what is taken out needs its reason", remedy="Give it with --reason")
    tag, position = place
    with deed(
        register, acting, now, action="take out of a scope", reason=reason,
        subject=f"{number} {tag}",
    ) as act:  # fmt: skip
        require_roles("take out of a scope", PLANNERS, act.person.roles)
        known = _known(act, turnaround_of(act.session, number))
        key = _key_of(act, tag, position)
        row = known.get(key) or known.get((key[0], 0))
        if row is None or row.taken_out_on is not None:
            raise NotFound(f"{tag} is not in the scope of {number}")
        row.taken_out_on, row.taken_out_by = act.today, act.person.name
        row.taken_out_why = reason


def freeze_scope(register: Register, number: str, *, acting: str, now: datetime) -> int:
    """Freeze the scope; what comes in from now on is counted as growth. Return how many are in it.

    Raises
    ------
    NotReady
        It is frozen already, or nothing is in it.
    """
    with deed(register, acting, now, action="freeze a scope", subject=number) as act:
        require_roles("freeze a scope", PLANNERS, act.person.roles)
        row = turnaround_of(act.session, number)
        if row.frozen_on is not None:
            raise NotReady(f"the scope of {number} is frozen", (f"since {row.frozen_on}",))
        items = [one for one in _known(act, row).values() if one.taken_out_on is None]
        if not items:
            raise NotReady(
                f"the scope of {number} is empty",
                remedy=f"Collect it first: supports turnaround collect {number}",
            )
        row.frozen_on, row.frozen_by = act.today, act.person.name
        return len(items)
