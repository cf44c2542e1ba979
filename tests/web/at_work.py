"""A plant at work: a change whose order is out by a plan, a campaign out, a finding, a pin in."""

from __future__ import annotations

from sqlalchemy import select

from app.web.keys import mark_of
from app.web.tokens import READ, WRITE
from supports.database import Register
from supports.model import Account, ApiToken, DeskSession, Person
from supports.operations.desk_sessions import LASTS
from supports.operations.walkdowns.findings import SpokenFinding, tell_finding
from supports.rules.walkdown.words import HowSoon
from tests.operations.days import START
from tests.operations.planned_line import approved
from tests.operations.plans_made import choose, make, put_props, write
from tests.operations.plant import PEOPLE
from tests.web.desks import furnish_desk
from tests.web.tablets import WALK, campaign_out

CHANGE, PLAN, ORDER, FINDING = "CH-1", "PL-2031-001", "WO-2031-001", f"{WALK}-F01"


def set_to_work(register: Register) -> None:
    """Fill a register; everybody has a session at the desk and a token of each scope."""
    road = approved(register)
    furnish_desk(register)
    number = make(road)
    choose(road, number)
    road.order = write(road)
    road.hand_over()
    put_props(road, number)
    campaign_out(register)
    spoken = SpokenFinding("C1", "A", "the rod rubs on a beam", HowSoon.NEXT_OUTAGE, "")
    tell_finding(register, WALK, spoken, acting="IN", now=START)
    road.stop("C1", "7", "in")
    _let_in(register)


def _let_in(register: Register) -> None:
    with register.writing("KK", "", START, action="give tokens") as writing:
        session = writing.session
        for account, person in session.execute(select(Account, Person.name).join(Person)):
            given = {"account_id": account.id, "given_at": START}
            for scope in (READ, WRITE):
                mark = mark_of(token_of(person, scope))
                session.add(ApiToken(name="a script", mark=mark, scope=scope, **given))
            session.add(
                DeskSession(
                    account_id=account.id, mark=mark_of(session_of(person)), started_at=START,
                    seen_at=START, ends_at=START + LASTS,
                )
            )  # fmt: skip


def token_of(person: str, scope: str = READ) -> str:
    """Return the key of somebody's token."""
    return f"token of {person} to {scope}"


def session_of(person: str) -> str:
    """Return the key of somebody's session at the desk."""
    return f"session of {person}"


def shown(person: str = "S1", scope: str = READ) -> dict[str, str]:
    """Return the header that shows somebody's token."""
    assert person in PEOPLE
    return {"authorization": f"Bearer {token_of(person, scope)}"}
