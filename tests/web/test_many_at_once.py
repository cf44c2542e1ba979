"""What keeps many users from waiting for each other."""

from __future__ import annotations

import pytest
from anyio.to_thread import current_default_thread_limiter
from sqlalchemy import event

from app.web.desk import THREADS
from tests.rules.planning_lines import NUMBER
from tests.web.desks import Visitor, desk_on, signed_in

PAGES = (
    "/", "/supports", "/supports?severity=STOP", "/supports/C1", "/lines", f"/lines/{NUMBER}",
    f"/lines/{NUMBER}/weight", f"/lines/{NUMBER}/change", "/own-account", "/accounts", "/nowhere",
    "/changes", "/work-orders", "/travel-stops", "/start-up",
)  # fmt: skip


@pytest.mark.parametrize("address", PAGES)
def test_a_page_holds_one_connection_at_a_time(staffed, address):
    """With two for each, a few users at once would hold one and wait for each other's second."""
    visitor = signed_in(staffed, "KK")
    held, most = set(), []
    event.listen(
        staffed.engine, "checkout", lambda *words: (held.add(words[1]), most.append(len(held)))
    )
    event.listen(staffed.engine, "checkin", lambda *words: held.discard(words[1]))
    assert visitor.look(address).status_code in {200, 404}
    assert max(most) == 1


def test_no_more_is_worked_on_than_there_are_connections_for(staffed):
    pool = staffed.engine.pool
    assert pool.size() + pool._max_overflow >= 2 * THREADS
    with Visitor(desk_on(staffed)) as visitor:
        assert visitor.portal.call(threads) == THREADS


async def threads() -> float:
    """Return how many threads there are for requests."""
    return current_default_thread_limiter().total_tokens
