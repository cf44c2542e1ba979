"""What tests share: a register on each database, so that both answer in the same run."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest
from hypothesis import HealthCheck, settings
from sqlalchemy import URL, Engine, create_engine

import supports.database
from supports.database import Register, sqlite_url
from tests.alone import held_alone
from tests.postgres import NAMED_BY, NoServerError, address, find_server, own_database
from tests.tiers import waits

DATABASES = ("sqlite", "postgresql")
LOCK_WAIT = 10.0
EMPTIED = """
DO $$
DECLARE one record; filled boolean;
BEGIN
    FOR one IN SELECT relname AS name FROM pg_class
        WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace
        AND relname <> 'alembic_version'
    LOOP
        EXECUTE format('SELECT EXISTS (SELECT FROM %I)', one.name) INTO filled;
        IF filled THEN EXECUTE format('DELETE FROM %I', one.name); END IF;
    END LOOP;
    FOR one IN SELECT sequencename AS name FROM pg_sequences
        WHERE schemaname = 'public' AND last_value IS NOT NULL
    LOOP
        EXECUTE format('ALTER SEQUENCE %I RESTART', one.name);
    END LOOP;
END $$
"""
"""Empties what is filled only: a hundred tables truncated before every test cost more than it."""
BARE = "DROP SCHEMA public CASCADE; CREATE SCHEMA public"


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the thorough run be asked for."""
    parser.addoption("--thorough", action="store_true", help="leave no test out (tests/tiers.py)")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave for the thorough run what may wait, unless it was named on the command line."""
    named = any("::" in word or word.endswith(".py") for word in config.args)
    if named or config.getoption("--thorough"):
        return
    waiting = [item for item in items if waits(item.nodeid)]
    config.hook.pytest_deselected(items=waiting)
    items[:] = [item for item in items if not waits(item.nodeid)]


def pytest_configure(config: pytest.Config) -> None:
    """Find the server once, before the workers start; they inherit its address."""
    _keep_to_oneself(config)
    settings.register_profile("busy", deadline=None, suppress_health_check=[HealthCheck.too_slow])
    settings.load_profile("busy")
    if getattr(config.option, "numprocesses", None):
        try:
            os.environ[NAMED_BY] = find_server().render_as_string(hide_password=False)
        except NoServerError as error:
            if os.environ.get("CI"):
                raise pytest.UsageError(f"PostgreSQL: {error}") from error
        except ConnectionError as error:
            raise pytest.UsageError(f"PostgreSQL: {error}") from error


def _keep_to_oneself(config: pytest.Config) -> None:
    """Refuse a `--basetemp` that another run uses: pytest would clear it under its feet.

    Without that word pytest makes a folder of its own for each run.
    """
    named = config.getoption("basetemp")
    if named and not hasattr(config, "workerinput"):
        try:
            config.add_cleanup(held_alone(Path(named)).close)
        except OSError as error:
            raise pytest.UsageError(
                f"--basetemp {named} is used by another run, which would lose its files; "
                "name another folder, or none"
            ) from error


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say before the closing line how many tests ran on each database."""
    for name in DATABASES:
        here = re.compile(rf"[\[-]{name}[\]-]")
        counts = {
            outcome: sum(bool(here.search(report.nodeid)) for report in reports)
            for outcome, reports in terminalreporter.stats.items()
            if outcome in {"passed", "failed", "skipped", "error"}
        }
        said = ", ".join(f"{count} {outcome}" for outcome, count in counts.items() if count)
        if said:
            terminalreporter.write_line(f"on {name}: {said}")


@pytest.fixture(autouse=True, scope="session")
def _statements_compiled_once() -> Iterator[None]:
    """Let all registers of a worker share what is compiled of statements: each is opened anew."""
    shared: dict[str, tuple[Any, Any]] = {}

    def one_of_many(url: Any, **given: Any) -> Engine:
        engine = create_engine(url, **given)
        kept = shared.setdefault(engine.dialect.name, (engine.dialect, engine._compiled_cache))
        engine.dialect, engine._compiled_cache = kept
        return engine

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(supports.database, "create_engine", one_of_many)
        yield


@pytest.fixture(scope="session")
def postgres_server() -> URL:
    """Return the server's address; skip without one, unless this is the continuous check."""
    try:
        return find_server()
    except NoServerError as error:
        if os.environ.get("CI"):
            raise
        pytest.skip(f"PostgreSQL: {error}")


@pytest.fixture(scope="session")
def postgres_migrated(postgres_server: URL) -> Iterator[URL]:
    """Give this worker's database, its tables made once."""
    with own_database(postgres_server) as url:
        migrate(url)
        yield url


@pytest.fixture(scope="session")
def postgres_bare(postgres_server: URL) -> Iterator[URL]:
    """Give this worker's other database, for tests that make and drop the tables."""
    with own_database(postgres_server) as url:
        yield url


@pytest.fixture(scope="session")
def sqlite_migrated(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a register's file, its tables made once."""
    path = tmp_path_factory.mktemp("register") / "empty.db"
    migrate(sqlite_url(path))
    return path


@pytest.fixture(params=DATABASES)
def register(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Register]:
    """Give an empty register on SQLite, then one on PostgreSQL."""
    if request.param == "sqlite":
        shutil.copy(request.getfixturevalue("sqlite_migrated"), tmp_path / "register.db")
        yield from opened(sqlite_url(tmp_path / "register.db"))
    else:
        url = request.getfixturevalue("postgres_migrated")
        run_on(url, EMPTIED)
        yield from opened(url)


@pytest.fixture(params=DATABASES)
def bare(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Register]:
    """Give a database without tables on SQLite, then one on PostgreSQL."""
    if request.param == "sqlite":
        yield from opened(sqlite_url(tmp_path / "bare.db"))
    else:
        url = request.getfixturevalue("postgres_bare")
        run_on(url, BARE)
        yield from opened(url)


@pytest.fixture
def both(
    sqlite_migrated: Path, postgres_migrated: URL, tmp_path: Path
) -> Iterator[tuple[Register, Register]]:
    """Give an empty register on each database, to hold one answer against the other."""
    shutil.copy(sqlite_migrated, tmp_path / "both.db")
    run_on(postgres_migrated, EMPTIED)
    pair = (
        Register(sqlite_url(tmp_path / "both.db"), lock_wait=LOCK_WAIT),
        Register(postgres_migrated, lock_wait=LOCK_WAIT),
    )
    yield pair
    for one in pair:
        one.close()


def opened(url: URL) -> Iterator[Register]:
    """Give a register and let go of it."""
    one = Register(url, lock_wait=LOCK_WAIT)
    yield one
    one.close()


def migrate(url: URL) -> None:
    """Make the tables."""
    one = Register(url, lock_wait=LOCK_WAIT)
    one.migrate()
    one.close()


def run_on(url: URL, statement: Any) -> None:
    """Run statements as the server's administrator, past the guards of history."""
    with psycopg.connect(address(url), autocommit=True) as connection:
        connection.execute("SET lock_timeout = '10s'; SET session_replication_role = replica")
        connection.execute(statement)
