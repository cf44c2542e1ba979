"""What holds back start-up of a line or the plant, as far as its supports are concerned."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Change, WorkOrder, WorkOrderLine
from supports.queries.asked_once import ask_together, beside_each_other
from supports.queries.change_views import content_of, latest_assessment_or_none, lines_changed
from supports.queries.orders import lines_of_change, name_of_line
from supports.queries.plant_days import clock_at, day_at
from supports.queries.proofs import proofs_wanting
from supports.queries.props import props_in
from supports.queries.stops import pins_in, where_unit_hangs
from supports.queries.support_views import points_on_lines, support_views
from supports.queries.temporary import was_built
from supports.rules.work_plan import RE_SET
from supports.rules.workflow import ChangeState, LineState, OrderKind
from supports.rules.workflow.start_up import Blocker, StartUp
from supports.sentences import Sentence, joined
from supports.snapshots import SupportView
from supports.vocabulary import InService


@dataclass(frozen=True, slots=True)
class SupportsKnown:
    """How many supports are in service, and what of them is not known."""

    count: int
    missing: tuple[Blocker, ...]


def supports_known(session: Session, line: str = "") -> SupportsKnown:
    """Return what is known of the supports of a line, or of the whole plant if none is named."""
    points = points_on_lines(session, [line]) if line else None
    views = [v for v in support_views(session, points) if v.in_service != InService.REMOVED]
    return SupportsKnown(len(views), tuple(_missing(views)))


def start_up_of(
    session: Session, now: datetime, line: str = "", known: SupportsKnown | None = None
) -> StartUp:
    """Answer 'may we start up?' for a line, or for the whole plant if none is named.

    Parameters
    ----------
    known
        What is known of the supports there, if that was asked already.
    """
    known = known or supports_known(session, line)
    pins = [pin for pin in pins_in(session) if not line or line in pin.lines]
    blockers = [Blocker(pin.unit, pin.in_words, pin.lines) for pin in pins]
    props = props_in(session, line)
    blockers += [
        Blocker(Sentence("prop {prop}", prop=prop.number), prop.words, (prop.line,))
        for prop in props
    ]
    with beside_each_other(session):
        for change in _live_changes(session):
            facts = _Facts(session, change, now)
            blockers += [b for b in facts.blockers() if not line or line in b.lines]
    return StartUp(
        where=line or "the plant",
        supports=known.count,
        stops_in=len(pins),
        props_in=len(props),
        blockers=tuple(blockers),
        missing=known.missing,
    )


def _live_changes(session: Session) -> Iterator[Change]:
    found = session.scalars(select(Change).order_by(Change.id))
    live = [change for change in found if not ChangeState(change.state).is_over]
    ask_together(session, Change, (change.id for change in live))
    yield from live


def _missing(views: Collection[SupportView]) -> Iterator[Blocker]:
    """Name every spring in service whose setting or nameplate is not known."""
    for view in views:
        for unit in view.units:
            if not unit.kind.is_spring:
                continue
            lacking = []
            if unit.setting is None:
                lacking.append(unit.setting_unknown)
            if unit.nameplate is None:
                lacking.append("nameplate not known")
            if lacking:
                yield Blocker(f"{view.tag}/{unit.position}", joined(lacking, ", "), view.lines)
        if view.kind.is_spring and not view.units:
            yield Blocker(view.tag, "not known: the unit that hangs there", view.lines)


@dataclass(frozen=True, slots=True)
class _Facts:
    """What one change holds back."""

    session: Session
    change: Change
    now: datetime

    @property
    def today(self) -> date:
        """Return the day at the plant."""
        return day_at(self.session, self.now)

    def blockers(self) -> Iterator[Blocker]:
        """Give everything about the change that forbids heating up its lines."""
        for kind in OrderKind:
            lines = lines_of_change(self.session, self.change.id, kind)
            yield from self._half_done(lines)
            yield from self._mixed(lines)
        yield from self._unresolved()
        yield from self._unproved()
        yield from self._dates()

    def _about(self, what: str) -> Blocker:
        return Blocker(self.change.number, what, self._lines())

    def _lines(self) -> tuple[str, ...]:
        return tuple(line.number for line in lines_changed(self.session, self.change.id))

    def _half_done(self, lines: list[WorkOrderLine]) -> Iterator[Blocker]:
        for line in lines:
            if LineState(line.state) in _NOT_SAFE:
                _, numbers = where_unit_hangs(self.session, line.unit_id)
                name = name_of_line(self.session, line)
                order = self.session.get_one(WorkOrder, line.work_order_id).number
                yield Blocker(
                    name,
                    Sentence("{state} under {number}", state=line.state, number=order),
                    numbers,
                )

    def _mixed(self, lines: list[WorkOrderLine]) -> Iterator[Blocker]:
        """Say so where some units of a change are re-set and others are not begun."""
        turned = [ln for ln in lines if ln.action == RE_SET and ln.state in _TURNED]
        waiting = [ln for ln in lines if ln.action == RE_SET and ln.state in _WAITING]
        if turned and waiting:
            names = [name_of_line(self.session, line) for line in waiting]
            yield self._about(
                Sentence(
                    "mixed state: {count} re-set, not yet {names}",
                    count=str(len(turned)),
                    names=tuple(names),
                )
            )

    def _unresolved(self) -> Iterator[Blocker]:
        assessment = latest_assessment_or_none(self.session, self.change.id)
        if assessment is None or not ChangeState(self.change.state).is_approved:
            return
        lines = self._lines()
        for judged in content_of(assessment).unresolved:
            number = self.change.number
            what = Sentence("{state} under {number}", state=judged.verdict, number=number)
            yield Blocker(judged.tag, what, lines)

    def _unproved(self) -> Iterator[Blocker]:
        if self.change.state == ChangeState.TO_BE_PROVED:
            wanting = proofs_wanting(self.session, self.change, self.today, before_start_up=True)
            yield from (self._about(words) for words in wanting)

    def _dates(self) -> Iterator[Blocker]:
        if self.change.state == ChangeState.MADE_SAFE or _is_late(self.change, self.now):
            until = self.change.safe_until
            day = str(until and clock_at(self.session, until))
            yield self._about(Sentence("made safe, to be taken through by {day}", day=day))
        past = self.change.ends_on is not None and self.change.ends_on < self.today
        if past and was_built(self.session, self.change):
            day = str(self.change.ends_on)
            yield self._about(Sentence("temporary and past its date ({day})", day=day))


def _is_late(change: Change, now: datetime) -> bool:
    taken_through = ChangeState(change.state).is_approved
    return change.safe_until is not None and change.safe_until < now and not taken_through


_NOT_SAFE = {
    LineState.IN_HAND,
    LineState.STOPPED,
    LineState.OUT_OF_WINDOW,
    LineState.TO_BE_CHECKED,
    LineState.TO_BE_COMPARED,
    LineState.TO_BE_DONE_AGAIN,
    LineState.TO_BE_PUT_RIGHT,
    LineState.BEING_UNDONE,
}
_TURNED = {LineState.ACCEPTED, LineState.ACCEPTED_IN_WRITING, LineState.KEPT}
_WAITING = {LineState.WRITTEN, LineState.ON_HOLD, LineState.BACK_TO_ENGINEER}
