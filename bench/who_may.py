"""Every address of the desk asked for by nobody and by each role: the table of who may, as a whole.

Run ``python -m bench.who_may``. Nothing is kept: each write is done and taken back. Budget: every
answer is the one that the table says (`tests.trust.route_table`).
"""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path

from app.web.visits import Visit
from supports.database import Register, sqlite_url
from supports.vocabulary import Role
from tests.trust.route_table import lines
from tests.web.asking import Asking, Unkept, bare
from tests.web.at_work import set_to_work


async def asked(register: Unkept) -> tuple[int, list[str]]:
    """Ask; return how often, and what was not as the table says."""
    asking, count, wrong = Asking(register), 0, []
    for line in lines():
        for who in (None, *Role):
            count += 1
            wrong += [words for words in [await asking.wrong(*line, who)] if words]
    return count, wrong


def main() -> None:
    """Print how many were asked and whatever was not as the table says."""
    with tempfile.TemporaryDirectory() as folder:
        url = sqlite_url(Path(folder) / "register.db")
        register = Register(url)
        register.migrate()
        set_to_work(register)
        register.close()
        Visit.page = bare  # type: ignore[assignment]
        count, wrong = asyncio.run(asked(Unkept(url)))
    print(f"{count} requests, {len(wrong)} not as the table says", *wrong, sep="\n")
    assert wrong == []


if __name__ == "__main__":
    main()
