"""What tests of the desk share: registers with accounts, one server and one browser a worker."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from argon2 import PasswordHasher

from app.web import keys
from app.web.desk import make_desk
from demo.served import served
from supports.database import Register, sqlite_url
from tests.operations.planned_line import stored_line
from tests.web.at_work import set_to_work
from tests.web.desks import PASSWORD, desk_on, furnish_desk


@pytest.fixture(autouse=True, scope="session")
def _quick_hashes() -> Iterator[None]:
    """Make hashes cheap: they are dear on purpose, and these tests sign in all the time."""
    dear = keys._HASHER
    keys._HASHER = PasswordHasher(time_cost=1, memory_cost=64, parallelism=1)
    yield
    keys._HASHER = dear


@pytest.fixture(scope="session")
def furnished(sqlite_migrated: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the file of a register with the worked line, its people and their accounts."""
    path = tmp_path_factory.mktemp("desk") / "register.db"
    shutil.copy(sqlite_migrated, path)
    register = Register(sqlite_url(path))
    stored_line(register)
    furnish_desk(register)
    register.settle()
    return path


@pytest.fixture
def staffed(furnished: Path, tmp_path: Path) -> Iterator[Register]:
    """Give a copy of the furnished register, to be written to."""
    shutil.copy(furnished, tmp_path / "register.db")
    register = Register(sqlite_url(tmp_path / "register.db"))
    yield register
    register.close()


@pytest.fixture(scope="session")
def at_work_file(sqlite_migrated: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the file of a plant at work."""
    path = tmp_path_factory.mktemp("at_work") / "register.db"
    shutil.copy(sqlite_migrated, path)
    register = Register(sqlite_url(path))
    set_to_work(register)
    register.settle()
    return path


@pytest.fixture
def at_work(at_work_file: Path, tmp_path: Path) -> Iterator[Register]:
    """Give a copy of a plant at work, to be written to."""
    shutil.copy(at_work_file, tmp_path / "at_work.db")
    register = Register(sqlite_url(tmp_path / "at_work.db"))
    yield register
    register.close()


@pytest.fixture
def both_staffed(register: Register) -> Register:
    """Give the same on SQLite, then on PostgreSQL, where the databases might differ."""
    stored_line(register)
    furnish_desk(register)
    return register


@pytest.fixture(scope="session")
def site(furnished: Path) -> Iterator[Register]:
    """Give one copy of it to all browser tests of a worker; but for sessions they only read it."""
    register = Register(sqlite_url(Path(shutil.copy(furnished, furnished.with_name("site.db")))))
    yield register
    register.close()


@pytest.fixture(scope="session")
def desk_address(site: Register) -> Iterator[str]:
    """Serve the site once for a worker; give its address."""
    with served(make_desk(desk_on(site))) as address:
        yield address


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Give one browser for a worker: the system's Chromium."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        pytest.skip("no Chromium on this machine: the desk is not looked at in a browser")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture(scope="session")
def sign_ins(browser: Any, desk_address: str) -> dict[str, Any]:
    """Return what is kept of each sign-in, by person; filled as they are asked for."""
    return {}


@pytest.fixture
def page_of(
    browser: Any, desk_address: str, sign_ins: dict[str, Any]
) -> Iterator[Callable[..., Any]]:
    """Give a page of the browser in which somebody is signed in; it must stay free of errors.

    Without a name nobody is; where a page is asked for that is not there, errors are expected.
    """
    opened, errors = [], []

    def page(name: str, *, errors_expected: bool = False, **settings: Any) -> Any:
        kept = sign_ins.get(name)
        context = browser.new_context(base_url=desk_address, storage_state=kept, **settings)
        opened.append(context)
        one = context.new_page()
        one.on("pageerror", lambda error: errors.append(str(error)))
        if not errors_expected:
            one.on(
                "console", lambda said: errors.append(said.text) if said.type == "error" else None
            )
        if kept is None and name:
            one.goto("/sign-in")
            one.get_by_label("Sign-in name").fill(name)
            one.get_by_label("Password", exact=True).fill(PASSWORD)
            one.get_by_role("button", name="Sign in").click()
            sign_ins[name] = context.storage_state()
        return one

    yield page
    for context in opened:
        context.close()
    assert errors == []
