"""Random people press at a change from all sides; it never stands where it must not.

The model is what was really done, kept beside the register; the invariants are the site's rules
(common practice, no source): approval before turning, three people, nothing closed with a travel
stop in, no 'yes' to start-up with a stop in or a unit in hand.
"""

from __future__ import annotations

import itertools
import shutil
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)
from sqlalchemy import func, select

from supports.audit import first_break
from supports.database import Register, sqlite_url
from supports.errors import SupportsError
from supports.model import Assessment, AuditBatch, Refusal, SettingEvent, WorkOrder
from supports.operations.changes import Decision, ask_renewal, call_off, keep_as_is, put_in_force
from supports.operations.closing import close_change
from supports.operations.part_way import stop_part_way
from supports.operations.people import give_role
from supports.operations.work_orders import (
    check_order,
    compare_line,
    copy_is_back,
    give_out,
    write_undo_order,
    write_work_order,
)
from supports.queries.change_record import signed_on_change, standing
from supports.queries.change_views import latest_assessment_or_none
from supports.queries.lookups import change_of
from supports.queries.orders import lines_of_change
from supports.queries.start_up import start_up_of
from supports.queries.stops import pins_in
from supports.rules.workflow import ChangeState, LineState, OrderState
from supports.rules.workflow.proofs import PROOFS, Proof
from supports.rules.workflow.start_up import MayStart
from supports.vocabulary import Role
from tests.conftest import EMPTIED, LOCK_WAIT, run_on
from tests.operations.plant import TAGS
from tests.operations.road import DRAINED, Road, road_on

WHO = st.sampled_from(["S1", "S2", "RE", "CO", "PL", "IN", "T1", "T2", "FO", "OP", "Nobody"])
SIGNS = st.sampled_from(["S1", "S2", "RE"])
TAG = st.sampled_from(TAGS)
PIN = st.sampled_from(["P-1", "P-2"])
LOAD = st.sampled_from([20_000.0, 20_900.0, 21_400.0, 22_100.0])
NOT_BEGUN = {LineState.WRITTEN, LineState.ON_HOLD, LineState.WITHDRAWN}
OPEN_HANDS = {LineState.IN_HAND, LineState.STOPPED}


class Pressure(RuleBasedStateMachine):
    """Anybody asks for anything; what is refused changes nothing but the list of refusals."""

    register: Register
    road: Road

    @initialize(
        temporary=st.booleans(),
        place=st.sampled_from(["prepared", "approved", "written", "given out"]),
    )
    def begin(self, temporary, place):
        self.register = EMPTY["register"]()
        self.road = road_on(self.register)
        for name in ("S1", "S2"):
            give_role(
                self.register, name, Role.RESPONSIBLE_ENGINEER, acting="KK", now=self.road.now
            )
        words = {"duration": "temporary", "ends_on": self.road.now.date() + timedelta(days=30)}
        begun = self.road.prepared if place == "prepared" else self.road.approved
        begun(**(words if temporary else {}))
        if place in {"written", "given out"}:
            self.road.order = write_work_order(
                self.register, self.road.number, line_state=DRAINED, **self.moment("PL")
            )
        if place == "given out":
            self.road.hand_over()

    def teardown(self):
        if hasattr(self, "road"):
            self.go_to_the_end()
            self.nothing_forbidden_stands()
            with self.register.reading() as session:
                assert first_break(session) is None
                REACHED.add(ChangeState(change_of(session, self.road.number).state))
            self.register.close()

    def go_to_the_end(self):
        """Let honest people take up whatever was left, and close the change if they can."""
        self.ask(self.road.say, Decision.CHECK, by="S2")
        self.ask(self.road.say, Decision.APPROVE, by="RE")
        self.write("PL", undo=False)
        for checker in ("S1", "S2"):
            self.check(checker)
        self.hand_out("PL")
        for tag, pin in itertools.product(TAGS, ("P-1", "P-2")):
            self.ask(self.road.stop, tag, pin, "out")
        self.finish_off()
        self.close("CO")

    def ask(self, call: Any, *words: Any, **named: Any) -> None:
        """Ask for something; a refusal leaves everything but itself as it was."""
        before = self.written()
        try:
            call(*words, **named)
        except SupportsError:
            after = self.written()
            assert after[0] - before[0] == after[1] - before[1]

    def written(self) -> tuple[int, int]:
        """Return how many batches and refusals there are."""
        with self.register.reading() as session:
            batches = session.scalar(select(func.count(AuditBatch.id))) or 0
            return batches, session.scalar(select(func.count(Refusal.id))) or 0

    def moment(self, who: str) -> dict[str, Any]:
        return {"acting": who, "now": self.road.now}

    @rule(who=WHO, decision=st.sampled_from(list(Decision)))
    def decide(self, who, decision):
        self.ask(self.road.say, decision, by=who)

    @rule(checker=SIGNS, approver=SIGNS)
    def sign_twice(self, checker, approver):
        """Let two signatures follow each other, by whoever wants to give them."""
        self.ask(self.road.say, Decision.CHECK, by=checker)
        self.ask(self.road.say, Decision.APPROVE, by=approver)

    @rule(who=WHO)
    def assess(self, who):
        self.ask(self.road.assess, by=who)

    @rule(who=WHO, words=st.sampled_from(["as before", "otherwise"]))
    def describe(self, who, words):
        self.ask(self.road.describe, by=who, five={"technical_basis": words})

    @rule(who=WHO)
    def sift(self, who):
        self.ask(self.road.sift, by=who)

    @rule(who=st.sampled_from(["S1", "S2", "PL"]), undo=st.booleans())
    def write(self, who, undo):
        def written() -> None:
            make = write_undo_order if undo else write_work_order
            state = "shut down, drained"
            number = self.road.number
            self.road.order = make(self.register, number, line_state=state, **self.moment(who))

        self.ask(written)

    @rule(who=WHO)
    def check(self, who):
        self.ask(check_order, self.register, self.road.order or "WO", **self.moment(who))

    @rule(who=st.sampled_from(["PL", "CO", "T1"]))
    def hand_out(self, who):
        order = self.road.order or "WO"
        self.ask(give_out, self.register, order, ["crew"], **self.moment(who))

    @rule(tag=TAG, load=LOAD, who=WHO)
    def found(self, tag, load, who):
        self.ask(self.road.found, tag, load, by=who)

    @rule(tag=TAG, load=LOAD, who=WHO, second=WHO)
    def left(self, tag, load, who, second):
        self.ask(self.road.left, tag, load, by=who, second_reader=second)

    @rule(tag=TAG, who=WHO)
    def accept(self, tag, who):
        self.ask(self.road.accept, tag, by=who, reason="enough room", nozzle_check="80 %")

    @rule(tag=TAG, who=WHO)
    def stop_work(self, tag, who):
        read = self.road.reading(tag, 21_000.0, by=who, second_reader="FO", note="hard")
        self.ask(stop_part_way, self.register, self.road.order, read, **self.moment(who))

    @rule(tag=TAG, who=WHO)
    def compare(self, tag, who):
        place, order = (tag, ""), self.road.order
        self.ask(
            compare_line, self.register, order, place, reason="held against", **self.moment(who)
        )

    @rule(tag=TAG, pin=PIN, direction=st.sampled_from(["in", "out"]), who=WHO)
    def pin(self, tag, pin, direction, who):
        self.ask(self.road.stop, tag, pin, direction, by=who)

    @rule(who=WHO, proof=st.sampled_from(list(Proof)))
    def prove(self, who, proof):
        self.ask(self.road.prove, proof, by=who)

    @rule()
    def finish_off(self):
        """Settle as much as honest people can, so that the end of the road is reached too."""
        for tag in TAGS:
            for act in (self.road.found, self.road.left, self.road.accept):
                self.ask(act, tag)
        for item in PROOFS:
            self.ask(self.road.prove, item.proof)
        for copy in (1, 2, 3):
            self.ask(
                copy_is_back, self.register, self.road.order, copy, fate="back", **self.moment("PL")
            )

    @rule(who=WHO)
    def call_off(self, who):
        self.ask(call_off, self.register, self.road.number, reason="no money", **self.moment(who))

    @rule(tag=TAG, who=WHO)
    def keep(self, tag, who):
        place, order = (tag, ""), self.road.order
        self.ask(keep_as_is, self.register, order, place, analysis="C-9", **self.moment(who))

    @rule(who=WHO)
    def put_in_force(self, who):
        self.ask(put_in_force, self.register, self.road.number, **self.moment(who))

    @rule(who=WHO)
    def renew(self, who):
        until = self.road.now.date() + timedelta(days=60)
        self.ask(
            ask_renewal, self.register, self.road.number, until=until, reason="late",
            **self.moment(who),
        )  # fmt: skip

    @rule(who=WHO)
    def close(self, who):
        self.ask(close_change, self.register, self.road.number, **self.moment(who))

    @rule()
    def next_day(self):
        self.road.later()

    # What must never be

    @invariant()
    def nothing_forbidden_stands(self):
        if not hasattr(self, "road"):
            return
        with self.register.reading() as session:
            change = change_of(session, self.road.number)
            lines = lines_of_change(session, change.id)
            pins = pins_in(session)
            approved = [s for s in signed_on_change(session, change) if s.meaning == "approved"]
            self.approval_comes_first(session, lines, approved)
            self.no_work_before_it_is_given_out(session, lines)
            self.three_people(session, change)
            self.closed_is_clean(change, lines, pins)
            self.no_yes_too_early(session, lines, pins)

    def approval_comes_first(self, session, lines, approved):
        turned = select(func.count(SettingEvent.id)).where(
            SettingEvent.work_order_line_id.is_not(None)
        )
        if session.scalar(turned) or any(LineState(ln.state) in OPEN_HANDS for ln in lines):
            assert approved

    def no_work_before_it_is_given_out(self, session, lines):
        not_out = {OrderState.WRITTEN, OrderState.CHECKED}
        for line in lines:
            if session.get_one(WorkOrder, line.work_order_id).state in not_out:
                assert LineState(line.state) in NOT_BEGUN

    def three_people(self, session, change):
        assessment = latest_assessment_or_none(session, change.id)
        signed = signed_on_change(session, change)
        if ChangeState(change.state).is_approved and assessment is not None:
            names = [one.person for one in standing(signed, "approved")]
            names += [one.person for one in standing(signed, "checked")]
            names += [session.get_one(Assessment, assessment.id).prepared_by]
            assert len(set(names)) >= 3

    def closed_is_clean(self, change, lines, pins):
        if change.state == ChangeState.CLOSED:
            assert all(LineState(line.state).is_settled for line in lines)
            units = {line.unit_id for line in lines}
            assert not self.closed_now() or not [p for p in pins if p.unit_id in units]

    def closed_now(self) -> bool:
        """Return whether the change was closed by the last step; pins may go in afterwards."""
        was, self.was_closed = getattr(self, "was_closed", False), True
        return not was

    def no_yes_too_early(self, session, lines, pins):
        answer = start_up_of(session, self.road.now).answer
        unsafe = {*OPEN_HANDS, LineState.TO_BE_PUT_RIGHT, LineState.OUT_OF_WINDOW}
        if pins or any(LineState(line.state) in unsafe for line in lines):
            assert answer is MayStart.NO


EMPTY: dict[str, Callable[[], Register]] = {}
"""Makes a register that holds nothing yet, on the database under test."""
REACHED: set[ChangeState] = set()
"""Where honest people brought a change in the end."""


def run(examples: int, steps: int) -> None:
    REACHED.clear()
    run_state_machine_as_test(
        Pressure,
        settings=settings(
            max_examples=examples, stateful_step_count=steps, deadline=None, database=None,
            derandomize=True, suppress_health_check=list(HealthCheck),
        ),
    )  # fmt: skip
    assert ChangeState.CLOSED in REACHED


@pytest.mark.parametrize("examples", [4, 9])
def test_no_pressure_brings_a_change_where_it_must_not_stand(sqlite_migrated, tmp_path, examples):
    """On SQLite, a file for each run."""
    number = itertools.count()

    def fresh() -> Register:
        path = tmp_path / f"register-{next(number)}.db"
        shutil.copy(sqlite_migrated, path)
        return Register(sqlite_url(path))

    EMPTY["register"] = fresh
    run(examples, steps=20)


def test_nor_does_it_on_postgresql(postgres_migrated):
    """The same machine with fewer runs: each empties the whole database."""

    def fresh() -> Register:
        run_on(postgres_migrated, EMPTIED)
        return Register(postgres_migrated, lock_wait=LOCK_WAIT)

    EMPTY["register"] = fresh
    run(examples=3, steps=10)
