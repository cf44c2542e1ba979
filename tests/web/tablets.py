"""A campaign and a work order on the worked line, and a tablet that sends without a browser."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from httpx2 import Response

from supports.database import Register
from supports.operations.changes import Decision, add_weights
from supports.operations.walkdowns.campaigns import CampaignPlan, issue_form, plan_campaign
from supports.queries.walkdowns.scope import Scope
from supports.vocabulary import PlantState
from tests.operations.days import START
from tests.operations.road import Road
from tests.rules.planning_lines import NUMBER, valve
from tests.web.desks import Visitor, signed_in

WALK = "WD-2031-001"
HOUR = 3_600_000.0
"""One hour on a tablet's clock [ms]."""


def campaign_out(register: Register, now: datetime = START) -> str:
    """Plan a campaign of all supports in operation and issue its form; return its number."""
    plan = CampaignPlan("yearly walk", PlantState.OPERATING_STEADY, date(2031, 5, 6), Scope())
    number = plan_campaign(register, plan, acting="IN", now=now)
    issue_form(register, number, acting="IN", now=now)
    return number


def order_out(register: Register, number: str = "CH-7") -> Road:
    """Take a valve on the worked line to a work order that is given out; return its road."""
    road = Road(register, number=number)
    road.note()
    road.sift()
    road.describe()
    add_weights(register, number, [valve(line=NUMBER)], acting="S1", now=road.now)
    road.assess()
    road.say(Decision.CHECK, by="S2")
    road.say(Decision.APPROVE, by="RE")
    return road.issue()


@dataclass
class Tablet:
    """A tablet without a browser: what it took along, and what it would send."""

    visitor: Visitor | None
    copy: dict[str, Any]
    name: str = "tablet 1"
    clock: float = 12 * HOUR
    revisions: dict[str, int] = field(default_factory=dict)

    def row(self, tag: str) -> dict[str, Any]:
        """Return a row of the copy."""
        return next(one for one in self.copy["rows"] if one["tag"] == tag)

    def noted(
        self, tag: str, /, row: str = "", at: float | None = None, **written: str
    ) -> dict[str, Any]:
        """Return a row as it is noted next, at a moment of the tablet's clock."""
        issued = self.row(tag)
        name = row or issued["row"]
        self.revisions[name] = self.revisions.get(name, 0) + 1
        return {
            "row": name, "tag": tag, "line": issued.get("line", ""), "seal": issued["seal"],
            "revision": self.revisions[name], "noted_at": self.clock if at is None else at,
            "written": written,
        }  # fmt: skip

    def said(self, *rows: dict[str, Any]) -> dict[str, Any]:
        """Return one sending."""
        return {
            "number": self.copy["number"], "form": self.copy["form"], "tablet": self.name,
            "person": self.copy["person"], "clock": self.clock, "rows": list(rows),
        }  # fmt: skip

    def send(self, *rows: dict[str, Any], **other: Any) -> Response:
        """Send rows."""
        assert self.visitor is not None
        road = {"walkdown": "walkdowns", "work order": "work-orders"}[self.copy["kind"]]
        return self.visitor.post(
            f"/tablet/send/{road}", json=self.said(*rows) | other,
            headers={"x-form-key": self.visitor.form_key},
        )  # fmt: skip

    def speaks(self, language: str) -> None:
        """Take a language from now on."""
        assert self.visitor is not None
        self.visitor.cookies.set("language", language)

    def told(self, *rows: dict[str, Any]) -> list[tuple[str, list[str]]]:
        """Send rows; return what became of each, and what its writer is told."""
        answer = self.send(*rows)
        assert answer.status_code == 200, answer.text
        return [(one["became"], one["words"]) for one in answer.json()["rows"]]

    def became(self, *rows: dict[str, Any]) -> list[str]:
        """Send rows; return what became of each."""
        return [became for became, _ in self.told(*rows)]


def tablet_of(register: Register, person: str, number: str = WALK, **said: Any) -> Tablet:
    """Return a tablet on which somebody took a campaign along."""
    visitor = signed_in(register, person, **said)
    visitor.look("/own-account")
    assert visitor.hand_in(f"/walkdowns/{number}/take-along").status_code == 303
    answer = visitor.get(f"/tablet/copies/walkdowns/{number}")
    assert answer.status_code == 200, answer.text
    return Tablet(visitor, answer.json(), f"tablet of {person}")


def order_tablet(register: Register, person: str, road: Road) -> Tablet:
    """Return a tablet on which somebody took the first copy of a work order along."""
    visitor = signed_in(register, person, now=road.now)
    visitor.look("/own-account")
    answer = visitor.get(f"/tablet/copies/work-orders/{road.order}/1")
    assert answer.status_code == 200, answer.text
    return Tablet(visitor, answer.json(), f"tablet of {person}")
