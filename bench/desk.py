"""The desk: a page of the list against its bare query and template; weight of pages; many users.

Run ``python -m bench.desk``. The plant has 100,000 invented supports. Reference of the page: the
queries that fetch its rows, then the template, both alone, in one run on one machine; ours is the
whole request through the application, with session, gates, headers and the count of all rows. Many
users: as many signed-in browsers as `USERS`, at once, against workers of their own process on
PostgreSQL.
"""

from __future__ import annotations

import asyncio
import os
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

import httpx2
from sqlalchemy import URL, select, text

from app.settings import REGISTER
from app.web.asked import filter_of
from app.web.pages import filled
from app.web.visits import Visit
from supports.database import Register, sqlite_url
from supports.model import Account, Base, Person
from supports.queries.register_list import listed_page
from supports.rules.questions import Question
from tests.acceptance.planted_plant import plant
from tests.acceptance.planted_rows import store
from tests.operations.plant import enter_people
from tests.postgres import find_server, own_database
from tests.web.desks import PASSWORD, furnish_desk, signed_in

SUPPORTS, SUPPORTS_OF_MANY = 100_000, 20_000
ASKED = {"kind": "constant hanger", "text": "5"}
USERS, PAGES_EACH, WORKERS = 50, 10, 2
NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone

AT_MOST_TIMES_BARE = 3.0
"""A filtered page of 50, its whole request against query and template alone."""
HEAVIEST = 150_000
"""Page with its style and scripts, without fonts [bytes]."""
REPEATED = 31
PATIENCE = 180.0
"""How long the workers may take to open on a busy machine [s]."""


def fill(register: Register, size: int) -> None:
    """Fill a register with a plant of so many supports and people who can sign in."""
    register.migrate()
    supports, _ = plant(size, size * 2)
    with register.engine.begin() as connection:
        store(connection, Base.metadata.tables, supports)
    with register.writing("KK", "", NOW, action="furnish") as writing:
        enter_people(writing)
    furnish_desk(register)
    with register.engine.begin() as connection:
        connection.execute(text("ANALYZE"))


def median_of(act: Callable[[], Any]) -> float:
    """Return the median time of an act [s]."""
    act()
    times = []
    for _ in range(REPEATED):
        begin = time.perf_counter()
        act()
        times.append(time.perf_counter() - begin)
    return statistics.median(times)


def page_against_its_parts(register: Register) -> float:
    """Return the time of a filtered page over that of its query and its template."""
    visitor = signed_in(register, "S1")
    question = Question(kind=ASKED["kind"], part_of_tag=ASKED["text"])
    given = _given(visitor, register, question)
    visit = given.pop("visit")
    whole = median_of(lambda: _looked(visitor))
    query = median_of(lambda: _queried(register, question))
    drawn = median_of(lambda: filled(visit, "supports.html.jinja", **given))
    ratio = whole / (query + drawn)
    print(
        f"filtered page of 50 of {SUPPORTS}: {whole * 1e3:.1f} ms, query {query * 1e3:.1f} ms, "
        f"template {drawn * 1e3:.1f} ms: {ratio:.2f} times"
    )
    return ratio


def _looked(visitor: Any) -> None:
    assert visitor.get("/supports", params=ASKED).status_code == 200


def _queried(register: Register, question: Question) -> tuple[Any, ...]:
    with register.reading() as session:
        return listed_page(session, filter_of(question), "tag").rows


def _given(visitor: Any, register: Register, question: Question) -> dict[str, Any]:
    """Return what the page's template was handed, caught on its way there."""
    caught: dict[str, Any] = {}
    plain = Visit.page

    def catching(visit: Visit, template: str, status: int = 200, **words: Any) -> Any:
        caught.update(words, visit=visit)
        return plain(visit, template, status, **words)

    Visit.page = catching  # type: ignore[method-assign]
    try:
        _looked(visitor)
    finally:
        Visit.page = plain  # type: ignore[method-assign]
    assert caught["page"].rows == _queried(register, question)
    return caught


def heaviest_page(register: Register) -> int:
    """Return the bytes of the heaviest page with its style and scripts."""
    visitor = signed_in(register, "S1")
    with register.reading() as session:
        tag = listed_page(session, filter_of(Question())).rows[0].tag
    own = sum(
        len(visitor.get(f"/static/{name}").content)
        for name in ("desk.css", "htmx.min.js", "weight.js", "sign.svg")
    )
    pages = {
        address: len(visitor.get(address).content) + own
        for address in ("/", "/supports", f"/supports/{tag}", "/own-account", "/accounts")
    }
    for address, weight in pages.items():
        print(f"{address}: {weight / 1e3:.0f} kB with style and scripts ({own / 1e3:.0f} kB)")
    return max(pages.values())


@contextmanager
def opened(url: URL) -> Iterator[str]:
    """Open a desk of its own process on a register; give its address."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    words = ["desk", "open", "--port", str(port), "--workers", str(WORKERS)]
    kept = {REGISTER: url.render_as_string(hide_password=False)}
    program = [sys.executable, "-c", "from app.cli.main import main; main()", *words]
    desk = subprocess.Popen(program, env=os.environ | kept, stdout=subprocess.DEVNULL)
    address = f"http://127.0.0.1:{port}"
    try:
        _wait_for(address)
        yield address
    finally:
        desk.terminate()
        desk.wait(PATIENCE)


def _wait_for(address: str) -> None:
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        try:
            if httpx2.get(f"{address}/sign-in", timeout=PATIENCE).status_code == 200:
                return
        except httpx2.TransportError:
            time.sleep(0.1)
    raise TimeoutError(address)


async def users_at_once(address: str, names: list[str]) -> list[float]:
    """Let everybody sign in and look at pages; return the time of each page [s]."""
    found = await asyncio.gather(*(_one_user(address, name, n) for n, name in enumerate(names)))
    return [one for times in found for one in times]


async def _one_user(address: str, name: str, place: int) -> list[float]:
    times = []
    async with httpx2.AsyncClient(base_url=address, timeout=60.0) as browser:
        page = (await browser.get("/sign-in")).text
        form_key = page.split('name="form_key" value="')[1].split('"')[0]
        said = {"form_key": form_key, "name": name, "password": PASSWORD}
        answer = await browser.post("/sign-in", data=said)
        assert answer.status_code == 303, answer.text
        for n in range(PAGES_EACH):
            begin = time.perf_counter()
            answer = await browser.get("/supports", params={**ASKED, "text": str(place + n)})
            times.append(time.perf_counter() - begin)
            assert answer.status_code == 200, answer.text
    return times


def many_users() -> None:
    """Print what many users at once see; every answer must be right."""
    with own_database(find_server()) as url:
        register = Register(url)
        fill(register, SUPPORTS_OF_MANY)
        with register.reading() as session:
            names = list(
                session.scalars(select(Account.name).join(Person, Account.person_id == Person.id))
            )
        with opened(url) as address:
            who = [names[n % len(names)] for n in range(USERS)]
            begin = time.perf_counter()
            times = asyncio.run(users_at_once(address, who))
            lasted = time.perf_counter() - begin
        register.close()
    steps = statistics.quantiles(times, n=20)
    print(
        f"{USERS} users at once, {SUPPORTS_OF_MANY} supports, {len(times)} pages on PostgreSQL, "
        f"{WORKERS} workers: no error, "
        f"median {statistics.median(times) * 1e3:.0f} ms, p95 {steps[18] * 1e3:.0f} ms, "
        f"{len(times) / lasted:.0f} pages/s"
    )


def main() -> None:
    """Print the figures and hold them to their budgets."""
    with tempfile.TemporaryDirectory() as folder:
        register = Register(sqlite_url(Path(folder) / "register.db"))
        fill(register, SUPPORTS)
        ratio, heaviest = page_against_its_parts(register), heaviest_page(register)
        register.close()
    many_users()
    assert ratio <= AT_MOST_TIMES_BARE
    assert heaviest <= HEAVIEST


if __name__ == "__main__":
    main()
