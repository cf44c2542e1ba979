"""Making a line safe at once: cleared by word of mouth, written down, taken through afterwards.

An emergency is no way to new values: a travel stop goes in, the pipe is propped, or a unit goes
back to the value approved last. The full change is due within the site's hours.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput, NotAllowed, NotReady
from supports.model import Change, EmergencyAct, Nameplate, SettingEvent, TravelStopEvent, Unit
from supports.operations.acting import Actor, Deed, actor, deed
from supports.operations.changes.noting import add_change, next_number
from supports.queries.lookups import unit_of
from supports.queries.periods import periods_in_force
from supports.queries.plant_days import day_at
from supports.queries.site import settings_in_force
from supports.queries.support_views import nameplate_view
from supports.queries.unit_history import last_approved_setting, stops_in
from supports.rules.variable_rules import carried_over, position_of
from supports.rules.workflow import ChangeState, require_other_person, require_roles, within
from supports.sentences import Sentence, either
from supports.snapshots import NameplateView
from supports.vocabulary import PlantState, Role, SettingMethod, SupportKind


class SafeAct(StrEnum):
    """All that an emergency allows."""

    STOP_IN = "travel stop in"
    PROP = "prop"
    BACK_TO_APPROVED = "back to the value approved last"


@dataclass(frozen=True, slots=True)
class Emergency:
    """What was done at once, where, and who cleared it; load [N].

    Parameters
    ----------
    tag
        Support concerned; a prop may stand where none is and leaves it empty.
    pin_number
        Of the travel stop put in.
    load
        What a unit was set back to.
    plant_state
        State of the line then; a variable spring shows another load operating than shut down.
    """

    lines: tuple[str, ...]
    reason: str
    what: SafeAct
    shift_leader: str
    engineer: str
    tag: str = ""
    position: str = ""
    pin_number: str = ""
    load: float | None = None
    plant_state: PlantState = PlantState.UNKNOWN


def make_safe(register: Register, emergency: Emergency, *, acting: str, now: datetime) -> str:
    """Record what was done to make a line safe; return the number of the change it begins.

    Raises
    ------
    NotAllowed
        Shift leader or engineer lack the role or are one person, or a new value was set.
    """
    if not emergency.lines or not emergency.reason:
        raise BadInput("an emergency names its lines and its reason")
    with deed(
        register, acting, now, action="make a line safe", reason=emergency.reason,
        subject=emergency.tag or ", ".join(emergency.lines),
    ) as act:  # fmt: skip
        leader, engineer = _cleared(act, emergency)
        change = _change(act, emergency)
        unit = _unit(act.session, emergency)
        act.session.add(_row(act, change, unit, emergency, (leader, engineer)))
        if emergency.what is SafeAct.STOP_IN:
            _stop(act, unit, emergency)
        if emergency.what is SafeAct.BACK_TO_APPROVED:
            _set_back(act, unit, emergency)
        return change.number


def _cleared(act: Deed, emergency: Emergency) -> tuple[Actor, Actor]:
    leader = actor(act.session, emergency.shift_leader, act.today)
    engineer = actor(act.session, emergency.engineer, act.today)
    require_roles("lead the shift in an emergency", {Role.OPERATIONS}, leader.roles)
    engineers = {Role.STRESS_ENGINEER, Role.RESPONSIBLE_ENGINEER}
    require_roles("be the engineer on call", engineers, engineer.roles)
    why = "shift leader and engineer clear it together"
    require_other_person("be the engineer on call", engineer.name, {leader.name}, why)
    return leader, engineer


def _change(act: Deed, emergency: Emergency) -> Change:
    hours = periods_in_force(act.session, act.today).emergency_hours
    change = Change(
        number=next_number(act.session, act.now.year),
        title=f"Made safe: {emergency.what} at {emergency.tag or ', '.join(emergency.lines)}",
        reason=emergency.reason,
        duration="permanent" if emergency.what is SafeAct.BACK_TO_APPROVED else "temporary",
        ends_on=day_at(act.session, act.now + timedelta(hours=hours))
        if emergency.what is not SafeAct.BACK_TO_APPROVED
        else None,
        state=ChangeState.MADE_SAFE,
        requested_by=act.person.name,
        requested_on=act.today,
        safe_until=act.now + timedelta(hours=hours),
    )
    add_change(act.session, change, emergency.lines)
    return change


def _unit(session: Session, emergency: Emergency) -> Unit | None:
    if emergency.tag:
        return unit_of(session, emergency.tag, emergency.position)
    if emergency.what is not SafeAct.PROP:
        raise BadInput(Sentence("at which support: {what}", what=emergency.what), found="no tag")
    return None


def _row(
    act: Deed, change: Change, unit: Unit | None, emergency: Emergency, by: tuple[Actor, Actor]
) -> EmergencyAct:
    leader, engineer = by
    return EmergencyAct(
        change_id=change.id,
        unit_id=unit.id if unit else None,
        what=emergency.what,
        load=emergency.load,
        shift_leader=leader.name,
        engineer=engineer.name,
        done_by=act.person.name,
        done_at=act.now,
        note=emergency.reason,
    )


def _stop(act: Deed, unit: Unit | None, emergency: Emergency) -> None:
    if unit is None or not emergency.pin_number:
        raise BadInput("a travel stop goes in by its pin number", found="a blank")
    if emergency.pin_number in stops_in(act.session, [unit.id]).get(unit.id, ()):
        raise NotReady(
            Sentence(
                "travel stop {pin_number} of {tag} is in already",
                pin_number=emergency.pin_number,
                tag=emergency.tag,
            )
        )
    act.session.add(
        TravelStopEvent(
            unit_id=unit.id,
            pin_number=emergency.pin_number,
            direction="in",
            happened_at=act.now,
            done_by=act.person.name,
            witness=emergency.shift_leader,
            reason=emergency.reason,
        )
    )


def _approved_here(act: Deed, unit: Unit, emergency: Emergency) -> float | None:
    """Return the load approved last as the scale shows it in the state of the line [N]."""
    known = last_approved_setting(act.session, unit.id)
    if known is None or not SupportKind(unit.kind).is_variable:
        return None if known is None else known[0]
    here = position_of(emergency.plant_state)
    if here is None:
        raise BadInput(
            Sentence(
                "{tag} is a variable spring: its load depends on the state of the line",
                tag=emergency.tag,
            ),
            found=str(emergency.plant_state),
            expected=either((PlantState.OPERATING_STEADY, PlantState.SHUT_DOWN_DRAINED)),
        )
    stored = act.session.scalar(select(Nameplate).where(Nameplate.unit_id == unit.id))
    plate = NameplateView() if stored is None else nameplate_view(stored)
    load, state = known
    return carried_over(load, plate, plate.movement, stands=position_of(state), wanted=here)


def _set_back(act: Deed, unit: Unit | None, emergency: Emergency) -> None:
    if unit is None or emergency.load is None:
        raise BadInput("what the unit was set back to is not said", found="a blank")
    approved = _approved_here(act, unit, emergency)
    if approved is None:
        raise NotAllowed(
            Sentence(
                "no approved value of {tag} is known; an emergency sets no new value",
                tag=emergency.tag,
            ),
            remedy="Put the travel stop in or prop the pipe, and take the change through",
        )
    slack = settings_in_force(act.session, act.today).tolerance * approved
    if not within(emergency.load, approved - slack, approved + slack):
        raise NotAllowed(
            "an emergency sets no new value",
            where=emergency.tag,
            found=f"{emergency.load / 1000:.2f} kN",
            expected=Sentence(
                "the value approved last, {approved} kN, within the tolerance",
                approved=f"{approved / 1000:.2f}",
            ),
            remedy="Put the travel stop in or prop the pipe, and take the change through",
        )
    act.session.add(
        SettingEvent(
            unit_id=unit.id,
            happened_on=act.today,
            load=emergency.load,
            method=SettingMethod.SCALE,
            plant_state=emergency.plant_state,
            set_by=act.person.name,
            second_reader=emergency.shift_leader,
            note=emergency.reason,
        )
    )
