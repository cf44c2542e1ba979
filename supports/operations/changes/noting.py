"""Note a change, and write what its record must say before anybody can approve it."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.database import Register
from supports.errors import BadInput, NotAllowed, NotReady
from supports.model import Change, ChangeLine, WeightItem
from supports.operations.acting import Deed, deed
from supports.operations.seen import NOTHING_SEEN, Seen, require_as_seen
from supports.queries.change_record import signed_on_change
from supports.queries.change_views import change_view
from supports.queries.lookups import change_of, line_of
from supports.queries.periods import periods_in_force
from supports.rules.workflow import ChangeState
from supports.rules.workflow.record import FIVE_ITEMS, Signed
from supports.sentences import Sentence, either, joined
from supports.snapshots import WeightItemView
from supports.vocabulary import Duration, counted


@dataclass(frozen=True, slots=True)
class Wish:
    """What somebody wants to modify."""

    title: str
    reason: str
    lines: tuple[str, ...]
    duration: str = Duration.PERMANENT
    ends_on: date | None = None
    number: str = ""
    wanted_on: date | None = None
    weights: tuple[WeightItemView, ...] = ()


def note_change(register: Register, wish: Wish, *, acting: str, now: datetime) -> str:
    """Note a change; return its number.

    Raises
    ------
    BadInput
        No line is named, or a temporary change has no end date.
    NotFound
        A line is not in the register.
    """
    about = wish.number or wish.title
    with deed(
        register, acting, now, action="note a change", reason=wish.reason, subject=about
    ) as act:
        _check_wish(act, wish)
        change = Change(
            number=wish.number or next_number(act.session, now.year),
            title=wish.title,
            reason=wish.reason,
            duration=wish.duration,
            ends_on=wish.ends_on,
            wanted_on=wish.wanted_on,
            state=ChangeState.NOTED,
            requested_by=act.person.name,
            requested_on=act.today,
        )
        add_change(act.session, change, wish.lines)
        _put_weights(act.session, change, wish.lines, wish.weights)
        return change.number


def _check_wish(act: Deed, wish: Wish) -> None:
    if not act.person.roles:
        raise NotAllowed(Sentence("{person} holds no role today", person=act.person.name))
    if not wish.lines:
        raise BadInput("a change names at least one line", remedy="Name it with --line")
    if wish.duration not in set(Duration):
        raise BadInput(
            "how long a change is meant to stand",
            found=f"'{wish.duration}'",
            expected=either(Duration),
            remedy="What made a line safe at once goes in with: supports change make-safe",
        )
    if wish.duration == Duration.TEMPORARY:
        require_term(act, wish.ends_on)


def require_term(act: Deed, ends_on: date | None) -> None:
    """Raise BadInput unless a temporary change has an end date within the site's longest term."""
    if ends_on is None:
        raise BadInput("a temporary change needs an end date", remedy="Give it with --until")
    longest = periods_in_force(act.session, act.today).temporary_longest
    days = (ends_on - act.today).days
    if not 0 < days <= longest:
        raise BadInput(
            "the end date of a temporary change lies within the site's longest term",
            found=Sentence(
                "{day}, {count} from now", day=ends_on.isoformat(), count=counted(days, "day")
            ),
            expected=Sentence("1 to {longest} days", longest=f"{longest:g}"),
        )


def add_change(session: Session, change: Change, lines: Sequence[str]) -> None:
    """Add a change with its lines."""
    session.add(change)
    session.flush()
    for number in dict.fromkeys(lines):
        session.add(ChangeLine(change_id=change.id, line_id=line_of(session, number).id))


def next_number(session: Session, year: int) -> str:
    """Return the next number in the plant's own series that nobody has used."""
    count = (session.scalar(select(func.count(Change.id))) or 0) + 1
    while session.scalar(select(Change.id).where(Change.number == f"CH-{year}-{count:03d}")):
        count += 1
    return f"CH-{year}-{count:03d}"


def add_weights(
    register: Register,
    number: str,
    items: Sequence[WeightItemView],
    *,
    acting: str,
    now: datetime,
) -> tuple[Signed, ...]:
    """Add what comes on and goes off; items already there with the same words are left alone.

    Returns
    -------
    tuple of Signed
        Signatures that the new content makes void.
    """
    with deed(register, acting, now, action="add weights to a change", subject=number) as act:
        session, change = act.session, change_of(act.session, number)
        known = {(w.line, w.description) for w in change_view(session, number).weights}
        new = [item for item in items if (item.line, item.description) not in known]
        if not new:
            return ()
        _require_being_prepared(change, "add weights")
        _put_weights(session, change, change_view(session, number).lines, new)
        return after_new_content(act, change)


def _put_weights(
    session: Session, change: Change, lines: Collection[str], items: Sequence[WeightItemView]
) -> None:
    for item in items:
        if item.line not in lines:
            raise BadInput(
                Sentence(
                    "{change} does not touch the line of '{description}'",
                    change=change.number,
                    description=item.description,
                ),
                found=item.line,
                expected=either(lines),
            )
        session.add(_weight(session, change, item))


def _weight(session: Session, change: Change, item: WeightItemView) -> WeightItem:
    return WeightItem(
        change_id=change.id,
        line_id=line_of(session, item.line).id,
        description=item.description,
        mass=item.mass,
        along=item.along,
        off_axis=item.off_axis,
        above_axis=item.above_axis,
        source=item.source or None,
    )


@dataclass(frozen=True, slots=True)
class Facts:
    """What is to be written into a change record; what is left out stays as it is."""

    five: Mapping[str, str] = field(default_factory=dict)
    owner: str = ""
    watch_days: int | None = None
    ends_on: date | None = None


def describe_change(
    register: Register, number: str, facts: Facts, *, acting: str, now: datetime,
    seen: Seen = NOTHING_SEEN,
) -> tuple[Signed, ...]:  # fmt: skip
    """Write the five items, the owner, the watch interval or the end date of a change.

    Parameters
    ----------
    seen
        The parts as the writer looked at them; a part that somebody else wrote since stays.

    Returns
    -------
    tuple of Signed
        Signatures that the new content makes void.

    Raises
    ------
    NotReady
        The change is approved: an end date, for one, moves only by a renewal that is approved.
    Conflict
        Somebody else wrote one of these since.
    """
    with deed(register, acting, now, action="describe a change", subject=number) as act:
        change = change_of(act.session, number)
        _require_being_prepared(change, _what(facts))
        if strange := sorted(set(facts.five) - set(FIVE_ITEMS)):
            raise BadInput("no such item of a change record", found=joined(strange, ", "))
        require_as_seen(act.session, change, seen, _parts_of(facts))
        for name, words in facts.five.items():
            setattr(change, name, words)
        change.owner = facts.owner or change.owner
        change.watch_days = facts.watch_days or change.watch_days
        if facts.ends_on is not None:
            _move_end(act, change, facts.ends_on)
        return after_new_content(act, change)


def _parts_of(facts: Facts) -> set[str]:
    """Return the parts of the record that are written to."""
    parts = {FIVE_ITEMS[name] for name in facts.five}
    if facts.owner or facts.watch_days:
        parts.add("owner and watch")
    return parts | ({"duration and end date"} if facts.ends_on else set())


def _what(facts: Facts) -> str:
    return "move the end date" if facts.ends_on else "write into the record"


def _move_end(act: Deed, change: Change, ends_on: date) -> None:
    if change.duration != Duration.TEMPORARY:
        raise BadInput("only a temporary change has an end date", found=change.duration)
    if change.asked_until is not None:
        raise NotReady("the renewal's date was asked for already", (str(change.asked_until),))
    require_term(act, ends_on)
    change.ends_on = ends_on


def _require_being_prepared(change: Change, act: str) -> None:
    if not ChangeState(change.state).is_being_prepared:
        raise NotReady(
            Sentence("to {act}, a change must not be approved yet", act=act),
            (Sentence("{change} stands at: {state}", change=change.number, state=change.state),),
            remedy="A new assessment opens it again: supports change assess; a date is moved only "
            "by: supports change renew",
        )


_SIGNED = {ChangeState.BEING_CHECKED, ChangeState.BEFORE_THE_APPROVER}


def after_new_content(act: Deed, change: Change) -> tuple[Signed, ...]:
    """Send a signed change back to be worked out; return the signatures that became void."""
    act.session.flush()
    if ChangeState(change.state) not in _SIGNED:
        return ()
    void = tuple(s for s in signed_on_change(act.session, change) if not s.stands)
    if void:
        change.state = ChangeState.BEING_WORKED_OUT
    return void
