"""A plate that nobody can read: put together by two people, until the next walk."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput, NotAllowed
from supports.freezing import fingerprint
from supports.model import Nameplate, Unit
from supports.operations.acting import Deed, actor, deed
from supports.queries.lookups import unit_of
from supports.rules.workflow import require_other_person, require_roles
from supports.sentences import Sentence, either
from supports.vocabulary import Known, Role

ENGINEERS = frozenset({Role.STRESS_ENGINEER, Role.RESPONSIBLE_ENGINEER})
MEASURERS = frozenset({Role.INSPECTOR, Role.TECHNICIAN, Role.FOREMAN})
ON_THE_SCALE = frozenset({"scale_unit", "pointer_unit"})
"""What stands on the scale, not on the plate; it stays when the plate runs out."""
_ABOUT = frozenset({"id", "unit_id", "source", "provisional", "row_version"})

Value = float | int | str


@dataclass(frozen=True, slots=True)
class PlateFound:
    """What two people hold to be the plate.

    Parameters
    ----------
    values
        By the field of the nameplate, in SI.
    drawing
        Drawing or certificate that the unit was identified by.
    measured
        What was measured on site, with what.
    second
        Who agrees, besides the one who acts.
    """

    values: Mapping[str, Value]
    drawing: str
    measured: str
    second: str


def state_provisional_plate(
    register: Register, place: tuple[str, str], found: PlateFound, *, acting: str, now: datetime
) -> None:
    """Put a provisional plate in place of one that cannot be read.

    Raises
    ------
    BadInput
        Drawing or measurement is missing, or the plate is known.
    NotAllowed
        The two are one person, or are not an engineer and somebody who measured on site.
    """
    with deed(register, acting, now, action="provisional plate", subject=place[0]) as act:
        if not (found.drawing.strip() and found.measured.strip() and found.values):
            raise BadInput("a provisional plate names values, a drawing and a measurement on site")
        names = _two_people(act, found)
        unit = unit_of(act.session, *place)
        plate = _plate_of(act.session, unit)
        if plate.provisional != Known.YES and not _is_blank(plate):
            raise BadInput(
                Sentence("the plate at {place} is known", place=place[0]),
                remedy="Correct it by a sheet; a provisional one is for a plate nobody can read",
            )
        for name, value in found.values.items():
            setattr(plate, name, value)
        plate.provisional = Known.YES
        plate.source = (
            f"{act.today}, drawing {found.drawing}; measured: {found.measured}; by {names}"
        )
        act.session.flush()
        covers = {"plate": fingerprint(dict(found.values)), "with": found.second}
        act.sign(("unit", unit.id), "provisional plate", covers, reason=plate.source)


def _two_people(act: Deed, found: PlateFound) -> str:
    second = actor(act.session, found.second, act.today)
    require_other_person("agree", second.name, {act.person.name}, "they state the plate themselves")
    roles = (act.person.roles, second.roles)
    for one, other in (roles, roles[::-1]):
        if one & ENGINEERS and other & MEASURERS:
            return f"{act.person.name} and {second.name}"
    require_roles("state a provisional plate", ENGINEERS, roles[0] | roles[1])
    raise NotAllowed(
        "a provisional plate takes an engineer and another who measured on site",
        found=f"{act.person.name}, {second.name}",
        expected=either(sorted(MEASURERS)),
    )


def _plate_of(session: Session, unit: Unit) -> Nameplate:
    plate = session.scalar(select(Nameplate).where(Nameplate.unit_id == unit.id))
    if plate is None:
        plate = Nameplate(unit_id=unit.id)
        session.add(plate)
    return plate


def plate_fields() -> tuple[str, ...]:
    """Return the fields that a plate may say something in."""
    return tuple(c.name for c in Nameplate.__table__.columns if c.name not in _ABOUT)


def _is_blank(plate: Nameplate) -> bool:
    said = {name for name in plate_fields() if getattr(plate, name) not in {None, Known.UNKNOWN}}
    return said <= ON_THE_SCALE


def run_out(session: Session, units: Collection[int], why: str) -> list[int]:
    """Take back the provisional plates of some units; return whose they were.

    What they said stays in the record, as before and after of this write.
    """
    held = session.scalars(
        select(Nameplate).where(Nameplate.provisional == Known.YES).order_by(Nameplate.id)
    )
    ended = [plate for plate in held if plate.unit_id in units]
    for plate in ended:
        for name in set(plate_fields()) - ON_THE_SCALE:
            setattr(plate, name, None)
        plate.provisional, plate.source = None, f"provisional plate ran out: {why}"
    return [plate.unit_id for plate in ended]
