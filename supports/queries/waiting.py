"""What waits for one person: changes, work orders and walks by role, findings by name."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Campaign, Change, WorkOrder
from supports.queries.plant_standing import open_changes, temporary_changes
from supports.queries.walkdowns.findings import finding_views
from supports.rules.walkdown.findings import FindingView
from supports.rules.walkdown.flow import CAMPAIGN_STEPS, CampaignState
from supports.rules.workflow import OrderState
from supports.rules.workflow.steps import roles_an_order_waits_for
from supports.snapshots import OpenChange
from supports.vocabulary import Role


@dataclass(frozen=True, slots=True)
class OpenOrder:
    """A work order that is not at its end, and whose work takes it on."""

    number: str
    change: str
    kind: str
    state: str
    since: date
    waits_for: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OpenWalk:
    """A campaign of walks that is not signed off, and whose step is next."""

    number: str
    title: str
    state: str
    walk_on: date
    waits_for: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Waiting:
    """What waits for somebody, and how much else is open."""

    changes: tuple[OpenChange, ...]
    orders: tuple[OpenOrder, ...]
    walks: tuple[OpenWalk, ...]
    findings: tuple[FindingView, ...]
    temporary: tuple[tuple[str, str], ...]
    others_changes: tuple[OpenChange, ...]
    others_orders: tuple[OpenOrder, ...]

    @property
    def count(self) -> int:
        """Return how many things wait."""
        return len(self.changes) + len(self.orders) + len(self.walks) + len(self.findings)


def waiting_for(
    session: Session, names: Collection[str], roles: Collection[Role], today: date
) -> Waiting:
    """Return what waits for a person of these names (full, initials) who holds these roles."""
    held = {str(role) for role in roles}
    changes, orders = open_changes(session), open_orders(session)
    mine = tuple(one for one in changes if held & set(one.waits_for))
    my_orders = tuple(one for one in orders if held & set(one.waits_for))
    return Waiting(
        changes=mine,
        orders=my_orders,
        walks=tuple(one for one in open_walks(session) if held & set(one.waits_for)),
        findings=tuple(
            one for one in finding_views(session)
            if one.owner in names and not one.state.is_at_an_end
        ),
        temporary=temporary_changes(session, today),
        others_changes=tuple(one for one in changes if one not in mine),
        others_orders=tuple(one for one in orders if one not in my_orders),
    )  # fmt: skip


def open_orders(session: Session) -> tuple[OpenOrder, ...]:
    """Return the work orders that are not at their end, the oldest first."""
    query = (
        select(WorkOrder, Change.number)
        .join(Change, WorkOrder.change_id == Change.id)
        .where(WorkOrder.state.not_in({OrderState.ACCEPTED, OrderState.WITHDRAWN}))
        .order_by(WorkOrder.id)
    )
    return tuple(
        OpenOrder(
            order.number, change, order.kind, order.state, order.written_on,
            tuple(map(str, roles_an_order_waits_for(OrderState(order.state)))),
        )
        for order, change in session.execute(query)
    )  # fmt: skip


def open_walks(session: Session) -> tuple[OpenWalk, ...]:
    """Return the campaigns that are not signed off, the earliest walk first."""
    query = (
        select(Campaign)
        .where(Campaign.state != CampaignState.SIGNED_OFF)
        .order_by(Campaign.walk_on, Campaign.id)
    )
    return tuple(
        OpenWalk(
            one.number, one.title, one.state, one.walk_on, _walk_waits_for(CampaignState(one.state))
        )
        for one in session.scalars(query)
    )


def _walk_waits_for(state: CampaignState) -> tuple[str, ...]:
    """Return whose step leads on from a state; steps that stay where they are do not count."""
    steps = [one for one in CAMPAIGN_STEPS if state in one.frm and one.to is not state]
    return tuple(sorted({str(role) for one in steps for role in one.roles}))
