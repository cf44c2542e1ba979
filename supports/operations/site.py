"""What the site lays down."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select

from supports.database import Register
from supports.errors import BadInput, Conflict
from supports.model import SiteSetting
from supports.operations.acting import Deed, deed
from supports.plant_time import TIME_ZONE, require_zone
from supports.queries.periods import PERIOD_SCOPE
from supports.queries.plant_days import day_at
from supports.queries.site import FORM_KEY, PLANT_NAME
from supports.rules.workflow import require_roles
from supports.rules.workflow.periods import period_of
from supports.sentences import Sentence
from supports.vocabulary import Role

OF_THE_SITE = frozenset({Role.REGISTER_KEEPER, Role.RESPONSIBLE_ENGINEER})
"""Who lays down where the plant's clock stands."""


def found_register(
    register: Register, *, plant: str, form_key: str, acting: str, now: datetime, zone: str = ""
) -> None:
    """Lay down the plant's name, printed on papers, and the key that seals forms to be filled.

    Parameters
    ----------
    zone
        Name of the plant's time zone; '' counts days by UTC until one is laid down.
    """
    register.go_by(zone)
    texts = {PLANT_NAME: plant, FORM_KEY: form_key} | ({TIME_ZONE: zone} if zone else {})
    with register.writing(acting, "", now, action="found the register") as writing:
        today = day_at(writing.session, now)
        for name, text in texts.items():
            setting = SiteSetting(
                name=name, scope="", value={"text": text}, owner=acting, valid_from=today
            )
            writing.session.add(setting)


def lay_down_time_zone(
    register: Register, zone: str, *, reason: str, acting: str, now: datetime
) -> None:
    """Lay down where the plant's clock stands; days are counted by it from then on.

    What was recorded keeps the day that it was recorded with; moments are kept in UTC.

    Raises
    ------
    BadInput
        There is no such time zone.
    Conflict
        One was laid down today already.
    """
    require_zone(zone)
    with deed(
        register, acting, now, action="lay down the time zone", reason=reason, subject=zone
    ) as act:
        require_roles("lay down the time zone", OF_THE_SITE, act.person.roles)
        _require_not_today(act, "", TIME_ZONE)
        act.session.add(
            SiteSetting(
                name=TIME_ZONE, scope="", value={"text": zone}, source=reason or None,
                owner=act.person.name, valid_from=act.today,
            )
        )  # fmt: skip
    register.go_by(zone)


def lay_down_period(
    register: Register, name: str, number: float, *, source: str, acting: str, now: datetime
) -> None:
    """Lay down a period of change control from today on, with its source; the old one stays known.

    Raises
    ------
    NotFound
        There is no such period.
    BadInput
        It is not above nought, or no source is given.
    """
    period_of(name)
    if not number > 0:
        raise BadInput("a period is longer than nought", found=f"{number:g}")
    if not source.strip():
        raise BadInput("a period needs its source", remedy="Give it with --source")
    with deed(
        register, acting, now, action="lay down a period", reason=source, subject=name
    ) as act:
        require_roles("lay down a period", {Role.RESPONSIBLE_ENGINEER}, act.person.roles)
        lay_down_number(act, PERIOD_SCOPE, name, number, source)


def lay_down_number(act: Deed, scope: str, name: str, number: float, source: str) -> None:
    """Lay down a number of the site from today on; one a day, as what was laid down is kept.

    Raises
    ------
    Conflict
        It was laid down today already.
    """
    _require_not_today(act, scope, name)
    act.session.add(
        SiteSetting(
            name=name,
            scope=scope,
            value={"number": number},
            source=source,
            owner=act.person.name,
            valid_from=act.today,
        )
    )


def _require_not_today(act: Deed, scope: str, name: str) -> None:
    taken = select(SiteSetting.owner).where(
        SiteSetting.name == name,
        SiteSetting.scope == scope,
        SiteSetting.valid_from == act.today,
    )
    if (owner := act.session.scalar(taken)) is not None:
        raise Conflict(
            Sentence(
                "{setting} was laid down today already, by {owner}", setting=name, owner=owner or ""
            ),
            remedy="What was laid down is kept; lay down another value tomorrow",
        )
