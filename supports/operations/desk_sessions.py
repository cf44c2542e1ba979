"""Sessions of the desk and failed sign-ins: what passes away, written without a trail."""

from __future__ import annotations

from datetime import datetime, timedelta

from sqlalchemy import delete, select

from supports.database import Register
from supports.model import DeskSession, FailedSignIn
from supports.queries.accounts import sign_in_name

LASTS = timedelta(hours=12)
"""A session ends after this, used or not: one long shift."""
RESTS = timedelta(hours=2)
"""A session ends when it was not used for this long."""
SEEN_EVERY = timedelta(minutes=5)
"""How often the use of a session is written down; each time would be a write a page."""
REMEMBERED = timedelta(days=1)
"""Failed sign-ins are forgotten after this."""


def begin_session(register: Register, account_id: int, mark: str, now: datetime) -> None:
    """Begin a session; sessions that have ended go."""
    with register.off_the_record() as session:
        session.execute(delete(DeskSession).where(DeskSession.ends_at <= now))
        session.add(
            DeskSession(
                account_id=account_id, mark=mark, started_at=now, seen_at=now,
                ends_at=now + RESTS,
            )
        )  # fmt: skip


def prolong_session(register: Register, mark: str, seen_at: datetime, now: datetime) -> None:
    """Write down that a session is in use, if that was not done lately and nobody else writes."""
    if now - seen_at < SEEN_EVERY:
        return
    query = select(DeskSession).where(DeskSession.mark == mark)
    with register.off_the_record(waits=False) as session:
        if (kept := session.scalar(query)) is not None:
            kept.seen_at = now
            kept.ends_at = min(now + RESTS, kept.started_at + LASTS)


def end_session(register: Register, mark: str) -> None:
    """End a session."""
    with register.off_the_record() as session:
        session.execute(delete(DeskSession).where(DeskSession.mark == mark))


def note_failure(register: Register, name: str, address: str, now: datetime) -> None:
    """Note that a sign-in failed."""
    with register.off_the_record() as session:
        session.execute(delete(FailedSignIn).where(FailedSignIn.tried_at < now - REMEMBERED))
        session.add(FailedSignIn(name=sign_in_name(name), address=address, tried_at=now))


def forget_failures(register: Register, name: str) -> None:
    """Forget the failed sign-ins of a name, once it is signed in."""
    with register.off_the_record() as session:
        session.execute(delete(FailedSignIn).where(FailedSignIn.name == sign_in_name(name)))
