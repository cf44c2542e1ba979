"""Words of named people about names in files: which support is meant, and which was renamed."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from sqlalchemy import select

from supports.database import Register
from supports.errors import BadInput, NotFound, NotReady
from supports.model import JoinDecision, SupportTag
from supports.operations.acting import Deed, deed
from supports.plant_time import day_of
from supports.queries.joining import ITS_OWN, RENAMED, SAME, UNDONE, newest_decisions
from supports.queries.lookups import point_of
from supports.sentences import Sentence
from supports.tags import matching_key


def decide_same(
    register: Register, source: str, name: str, known: str, *, acting: str, now: datetime,
    reason: str = "",
) -> None:  # fmt: skip
    """Keep that files of a source mean a support by another name; its own tag stays."""
    with deed(register, acting, now, action="decide join", reason=reason, subject=name) as act:
        _decide(act, source, name, SAME, point_of(act.session, known), reason=reason)


def decide_its_own(
    register: Register, source: str, name: str, *, acting: str, now: datetime, reason: str = ""
) -> None:
    """Keep that a tag in files of a source is a support of its own, whatever resembles it."""
    with deed(register, acting, now, action="decide join", reason=reason, subject=name) as act:
        _decide(act, source, name, ITS_OWN, None, reason=reason)


def rename_support(
    register: Register, source: str, tag: str, known: str, *, since: date, acting: str,
    now: datetime, reason: str = "",
) -> None:  # fmt: skip
    """Give a support another tag from a day on; it keeps its history and is found by both.

    Raises
    ------
    BadInput
        The day lies ahead.
    NotReady
        Another support bears the new tag now, or the support bears its tag from a later day.
    """
    if since > day_of(now, register.zone):
        raise BadInput("a tag cannot be borne from a day that lies ahead", found=str(since))
    with deed(register, acting, now, action="rename support", reason=reason, subject=tag) as act:
        point = point_of(act.session, known)
        _rename(act, point, tag, since, f"renamed, decided for files of '{source}'")
        _decide(act, source, tag, RENAMED, point, reason=reason, since=since)


def undo_decision(
    register: Register, source: str, name: str, *, acting: str, now: datetime, reason: str = ""
) -> None:
    """Take a decision back by a new one; a rename is turned about from today on.

    Raises
    ------
    NotFound
        Nothing is decided on that name.
    """
    with deed(register, acting, now, action="undo join", reason=reason, subject=name) as act:
        last = newest_decisions(act.session, source).get(name)
        if last is None or last.kind == UNDONE:
            raise NotFound(
                Sentence(
                    "nothing is decided on '{name}' in files of '{source}'",
                    name=name,
                    source=source,
                ),
                remedy="See what is with: supports sheets decisions",
            )
        if last.kind == RENAMED and last.point_id is not None:
            former = _former(act, last.point_id)
            _rename(act, last.point_id, former, act.today, "rename undone")
        _decide(act, source, name, UNDONE, last.point_id, reason=reason)


def _decide(
    act: Deed, source: str, name: str, kind: str, point: int | None, *, reason: str,
    since: date | None = None,
) -> None:  # fmt: skip
    act.session.add(
        JoinDecision(
            source=source,
            tag=name,
            kind=kind,
            point_id=point,
            since=since,
            person_id=act.person.id,
            decided_at=act.now,
            reason=reason or None,
        )
    )


def _rename(act: Deed, point: int, tag: str, since: date, why: str) -> None:
    present = SupportTag.valid_to.is_(None)
    other = act.session.scalar(select(SupportTag).where(present, SupportTag.tag == tag))
    if other is not None:
        raise NotReady(
            Sentence("'{tag}' is the present tag of a support", tag=tag),
            remedy="Rename that one first",
        )
    mine = select(SupportTag).where(present, SupportTag.point_id == point)
    borne = act.session.scalars(mine).one()
    if borne.valid_from is not None and borne.valid_from > since:
        raise NotReady(
            Sentence(
                "'{tag}' is borne from {valid_from} on, after {since}",
                tag=borne.tag,
                valid_from=str(borne.valid_from),
                since=str(since),
            )
        )
    borne.valid_to = since - timedelta(days=1)
    act.session.flush()
    act.session.add(
        SupportTag(
            point_id=point, tag=tag, matching_key=matching_key(tag), valid_from=since, source=why
        )
    )


def _former(act: Deed, point: int) -> str:
    """Return the tag that a point bore before its present one."""
    ended = select(SupportTag.tag).where(
        SupportTag.point_id == point, SupportTag.valid_to.is_not(None)
    )
    return act.session.scalars(ended.order_by(SupportTag.id.desc()).limit(1)).one()
