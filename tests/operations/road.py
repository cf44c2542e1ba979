"""The road of a change, walked by calling the use cases as the people who may."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from sqlalchemy import select

from supports.database import Register
from supports.model import AuditBatch, Change, Refusal, WorkOrder, WorkOrderLine
from supports.operations.acceptance import accept_line
from supports.operations.changes import (
    Decision,
    Facts,
    ProofGiven,
    Sifting,
    Wish,
    assess_change,
    decide_change,
    describe_change,
    give_proof,
    note_change,
    say_as_assessor,
    sift_change,
)
from supports.operations.travel_stops import StopMove, move_stop
from supports.operations.unit_work import UnitReading, record_as_found, record_as_left
from supports.operations.work_orders import check_order, copy_is_back, give_out, write_work_order
from supports.queries.lookups import change_of, work_order_of
from supports.queries.orders import name_of_line
from supports.rules.workflow.proofs import PROOFS, Proof
from supports.rules.workflow.record import FIVE_ITEMS
from supports.vocabulary import PlantState, Role
from tests.operations.days import START
from tests.operations.plant import REQUIRED, TAGS, furnish
from tests.stages import at_stage

DRAINED = PlantState.SHUT_DOWN_DRAINED
FIVE = dict.fromkeys(FIVE_ITEMS, "as written in the study")
GIVEN_BY = {
    Proof.BUILT_AS_DESIGNED: "IN",
    Proof.PROCEDURES_IN_PLACE: "OP",
    Proof.PEOPLE_TOLD: "CO",
    Proof.STOPS_BY_OPERATIONS: "OP",
    Proof.STOPS_BY_MAINTENANCE: "FO",
    Proof.SHUT_DOWN_WALK: "IN",
    Proof.OPERATING_WALK: "IN",
    Proof.DRAWINGS: "CO",
    Proof.CALCULATION_AS_BUILT: "S1",
    Proof.SPARES: "PL",
}


@dataclass
class Road:
    """One change on its way; every step has its usual person, and a clock."""

    register: Register
    now: datetime = START
    number: str = "CH-1"
    order: str = ""

    def later(self, days: int = 1) -> None:
        """Move the clock on."""
        self.now += timedelta(days=days)

    def note(self, *, by: str = "CO", **words: Any) -> str:
        wish = Wish("a valve", "isolation", ("L-1",), number=self.number, **words)
        return note_change(self.register, wish, acting=by, now=self.now)

    def sift(self, needs: Collection[Role] = (), *, by: str = "CO") -> tuple[str, ...]:
        sifting = Sifting("screening", "the whole line", needs)
        return sift_change(self.register, self.number, sifting, acting=by, now=self.now)

    def describe(self, *, by: str = "CO", five: dict[str, str] | None = None, **facts: Any) -> Any:
        said = Facts(FIVE if five is None else five, **facts)
        return describe_change(self.register, self.number, said, acting=by, now=self.now)

    def assess(self, revision: str = "B", *, by: str = "S1") -> Any:
        basis = ("C-1", revision)
        return assess_change(
            self.register, self.number, basis, aim="pipe at its level", acting=by, now=self.now
        )

    def say(self, decision: Decision, *, by: str, reason: str = "as assessed") -> str:
        return decide_change(
            self.register, self.number, decision, acting=by, reason=reason, now=self.now
        )

    def agree(self, *, by: str, agrees: bool = True) -> tuple[str, ...]:
        return say_as_assessor(
            self.register, self.number, agrees=agrees, acting=by, reason="steel", now=self.now
        )

    def prepared(self, **words: Any) -> Road:
        """Take it to the checker."""
        return self._once("prepared", self._prepare, words)

    def approved(self, **words: Any) -> Road:
        """Take it through checker and approver."""
        return self._once("approved", self._approve, words)

    def given_out(self, **words: Any) -> Road:
        """Take it to a given-out work order."""
        return self._once("given out", self._give_out, words)

    def _prepare(self, **words: Any) -> None:
        self.note(**words)
        self.sift()
        temporary = words.get("duration") == "temporary"
        self.describe(**({"owner": "OP", "watch_days": 7} if temporary else {}))
        self.assess()

    def _approve(self, **words: Any) -> None:
        self.prepared(**words)
        self.say(Decision.CHECK, by="S2")
        self.say(Decision.APPROVE, by="RE")

    def _give_out(self, **words: Any) -> None:
        self.approved(**words)
        self.issue()

    def _once(self, stage: str, walk: Callable[..., None], words: dict[str, Any]) -> Road:
        """Walk a piece of the road; who stood at the same place before is put where it ends."""

        def walked() -> str:
            walk(**words)
            return self.order

        with self.register.reading() as session:
            head = session.scalar(select(AuditBatch.hash).order_by(AuditBatch.id.desc()).limit(1))
        place = (stage, repr(sorted(words.items())), self.number, self.now, head)
        self.order = at_stage(self.register, place, walked)
        return self

    def issue(self) -> Road:
        """Write, check and give out the order of an approved change."""
        self.order = write_work_order(
            self.register, self.number, line_state=DRAINED, acting="PL", now=self.now
        )
        return self.hand_over()

    def hand_over(self, checker: str = "S2") -> Road:
        """Check and give out an order that is written."""
        check_order(self.register, self.order, acting=checker, now=self.now)
        give_out(self.register, self.order, ["crew"], acting="PL", now=self.now)
        return self

    def reading(self, tag: str, load: float | None, *, by: str = "T1", **words: Any) -> UnitReading:
        settled = {"read_on": self.now.date(), "plant_state": DRAINED, "pointer": 0.04} | words
        return UnitReading(tag=tag, position="", load=load, read_by=by, **settled)

    def found(
        self, tag: str, load: float | None = 20_000.0, *, by: str = "T1", **words: Any
    ) -> Any:
        read = self.reading(tag, load, by=by, **words)
        return record_as_found(self.register, self.order, read, acting=by, now=self.now)

    def left(self, tag: str, load: float | None = REQUIRED, *, by: str = "T1", **words: Any) -> Any:
        read = self.reading(tag, load, by=by, **({"second_reader": "T2"} | words))
        return record_as_left(self.register, self.order, read, acting=by, now=self.now)

    def accept(self, tag: str, *, by: str = "IN", reason: str = "", nozzle_check: str = "") -> Any:
        return accept_line(
            self.register, self.order, tag, "", acting=by, reason=reason, now=self.now,
            nozzle_check=nozzle_check,
        )  # fmt: skip

    def worked(self, tags: Collection[str] = TAGS, load: float = REQUIRED) -> Road:
        """Turn and accept units."""
        for tag in tags:
            self.found(tag)
            self.left(tag, load)
            self.accept(tag)
        return self

    def prove(self, proof: Proof, *, by: str = "", put_off_until: date | None = None) -> None:
        given = ProofGiven(proof, "seen", put_off_until)
        give_proof(self.register, self.number, given, acting=by or GIVEN_BY[proof], now=self.now)

    def proved(self) -> Road:
        """Give every proof, and take the copies back."""
        for item in PROOFS:
            self.prove(item.proof)
        copy_is_back(self.register, self.order, 1, fate="back", acting="PL", now=self.now)
        return self

    def stop(self, tag: str, pin: str, direction: str, *, by: str = "T1", **words: Any) -> None:
        move = StopMove(tag, "", pin, direction, "weight is off", **words)
        move_stop(self.register, move, acting=by, now=self.now)

    # What stands in the register

    def state(self) -> str:
        """Return where the change stands."""
        with self.register.reading() as session:
            return change_of(session, self.number).state

    def states(self, order: str = "") -> dict[str, str]:
        """Return where every unit of an order stands, by tag."""
        with self.register.reading() as session:
            found = work_order_of(session, order or self.order)
            query = select(WorkOrderLine).where(WorkOrderLine.work_order_id == found.id)
            return {
                name_of_line(session, line).split("/")[0]: line.state
                for line in session.scalars(query)
            }

    def orders(self) -> dict[str, str]:
        """Return the state of every order of the change, by kind."""
        with self.register.reading() as session:
            change = session.scalars(select(Change).where(Change.number == self.number)).one()
            query = select(WorkOrder.kind, WorkOrder.state).where(WorkOrder.change_id == change.id)
            return dict(session.execute(query.order_by(WorkOrder.id)).all())

    def refusals(self) -> list[tuple[str, str]]:
        """Return who was refused what, oldest first."""
        with self.register.reading() as session:
            query = select(Refusal.asked_by, Refusal.action).order_by(Refusal.id)
            return [tuple(row) for row in session.execute(query)]

    def last_batch(self) -> tuple[str, str]:
        """Return actor and action of the newest batch of the trail."""
        with self.register.reading() as session:
            query = select(AuditBatch.actor, AuditBatch.action).order_by(AuditBatch.id.desc())
            return tuple(session.execute(query.limit(1)).one())


def road_on(register: Register, number: str = "CH-1") -> Road:
    """Furnish an empty register and stand at the beginning of a change."""
    at_stage(register, "furnished", lambda: furnish(register))
    return Road(register, number=number)
