"""Reading and writing the register, on SQLite or PostgreSQL.

A write is one transaction with one audit batch; on SQLite it takes the write lock at once
(``BEGIN IMMEDIATE``), so that two writers wait for each other instead of failing.
"""

from __future__ import annotations

import weakref
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from functools import cache, partial
from pathlib import Path
from typing import Any

from sqlalchemy import (
    URL,
    Connection,
    Engine,
    create_engine,
    event,
    inspect,
    make_url,
    select,
    text,
)
from sqlalchemy.exc import (
    DatabaseError,
    DataError,
    IntegrityError,
    InterfaceError,
    OperationalError,
)
from sqlalchemy.orm import Session
from sqlalchemy.orm.exc import StaleDataError

from supports.audit import Trail
from supports.errors import BadInput, Conflict, DatabaseTrouble, NotAllowed
from supports.model import SiteSetting
from supports.plant_time import TIME_ZONE, ZONE, Zone, zone_named
from supports.sentences import joined

_NO_ROOM = ("is full", "No space left", "disk I/O error")

_PRAGMAS = (
    "page_size=8192",
    "cache_size=-32000",
    "foreign_keys=ON",
    "journal_mode=WAL",
    "synchronous=FULL",
)
"""Of a connection to SQLite. A page of 8 kB holds several entries of the trail of an import, one of
4 kB two; a register keeps the pages that it was made with. With 32 MB of pages in memory, 2 being
usual, an import of 100,000 plates writes each page of its indexes out once, not again and again."""

LOCK_WAIT = 30.0
"""How long a writer waits for another [s]."""


def sqlite_url(path: Path) -> URL:
    """Return the URL of a register kept in a file."""
    return URL.create("sqlite", database=str(path))


@dataclass(slots=True)
class Writing:
    """An open write: the session, the trail that follows it, and who writes when."""

    session: Session
    trail: Trail
    actor: str
    now: datetime


class Register:
    """A database that holds one register."""

    def __init__(self, url: URL | str, *, lock_wait: float = LOCK_WAIT) -> None:
        self.url = make_url(url)
        self.engine = _engine(self.url, lock_wait)
        self.zone: Zone = None
        """Zone of the plant, by which every session counts days; read by `check`."""
        weakref.finalize(self, self.engine.dispose)

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """Give a session that writes nothing."""
        self._need_file()
        with _plain_errors(self.url), Session(self.engine, info=self._told) as session:
            yield session
            session.rollback()

    @contextmanager
    def writing(self, actor: str, reason: str, now: datetime, *, action: str) -> Iterator[Writing]:
        """Give one transaction; it is stored whole with its audit batch, or not at all."""
        self._need_file()
        engine = self.engine.execution_options(writes=True)
        with _plain_errors(self.url), Session(engine, info=self._told) as session, session.begin():
            trail = Trail(session)
            trail.listen()
            try:
                yield Writing(session, trail, actor, now)
                trail.close(action, actor, reason, now)
            finally:
                trail.forget()

    @contextmanager
    def off_the_record(self, *, waits: bool = True) -> Iterator[Session]:
        """Give one transaction for what passes away: sessions, failed sign-ins; no trail.

        Parameters
        ----------
        waits
            Whether to wait for another writer; else it is refused at once where one is at work.
        """
        engine = self.engine.execution_options(writes=True, waits=waits)
        with _plain_errors(self.url), Session(engine, info=self._told) as session, session.begin():
            event.listen(session, "before_flush", _refuse_records)
            yield session

    @contextmanager
    def snapshot(self) -> Iterator[Connection]:
        """Give a connection that sees the register as it stands now, whoever writes meanwhile."""
        self._need_file()
        engine = self.engine
        if self.url.get_backend_name() != "sqlite":
            engine = engine.execution_options(isolation_level="REPEATABLE READ")
        with _plain_errors(self.url), engine.connect() as connection, connection.begin():
            yield connection
            connection.rollback()

    @contextmanager
    def filling(self) -> Iterator[Connection]:
        """Give one transaction that makes the tables of an empty place and fills them."""
        with _plain_errors(self.url), _schema_connection(self.engine) as connection:
            _upgrade(connection)
            yield connection
            _check_after_upgrade(connection, {})

    def migrate(self) -> None:
        """Bring the database to the present revision; an empty one is made."""
        with _plain_errors(self.url), _schema_connection(self.engine) as connection:
            before = _row_counts(connection)
            _upgrade(connection)
            _check_after_upgrade(connection, before)

    def check(self) -> None:
        """Raise unless the database holds a register of the present revision."""
        self._need_file()
        with _plain_errors(self.url), self.engine.connect() as connection:
            present, wanted = _revisions(connection)
            if present == wanted:
                self.go_by(_zone(connection))
                return
        if present is None:
            raise _no_register(shown_url(self.url))
        raise DatabaseTrouble(
            "the register is of another revision",
            where=shown_url(self.url),
            found=present,
            expected=wanted,
            remedy="Keep a copy, then bring it up with: supports register upgrade",
        )

    @property
    def _told(self) -> dict[str, Any]:
        """Return what every session is told."""
        return {ZONE: self.zone}

    def go_by(self, zone: str) -> None:
        """Count days by a time zone, named as laid down; '' for UTC."""
        self.zone = zone_named(zone) if zone else None

    def _need_file(self) -> None:
        """Raise if the file is not there; SQLite itself would begin an empty one in its place."""
        file = self.url.database
        if self.url.get_backend_name() == "sqlite" and file and not Path(file).exists():
            raise _no_register(shown_url(self.url))

    def settle(self) -> None:
        """Bring everything written into the one file of a register on SQLite, and let go of it."""
        with _plain_errors(self.url), self.engine.connect() as connection:
            _raw(connection, "PRAGMA wal_checkpoint(TRUNCATE)")
        self.close()

    def close(self) -> None:
        """Let go of all connections."""
        self.engine.dispose()


def _refuse_records(session: Session, *_: Any) -> None:
    for row in (*session.new, *session.dirty, *session.deleted):
        if not row.off_record:
            raise NotAllowed("a record is written with its trail or not at all")


def shown_url(url: URL) -> str:
    """Return the URL as it may be printed, without a password."""
    return url.database or "" if url.get_backend_name() == "sqlite" else url.render_as_string()


def _engine(url: URL, lock_wait: float) -> Engine:
    if url.get_backend_name() != "sqlite":
        patience = f"-c lock_timeout={round(lock_wait * 1000.0)}"
        return create_engine(url, pool_pre_ping=True, connect_args={"options": patience})
    engine = create_engine(url, connect_args={"timeout": lock_wait})
    event.listen(engine, "connect", _sqlite_pragmas)
    event.listen(engine, "begin", partial(_sqlite_begin, round(lock_wait * 1000.0)))
    return engine


def _sqlite_pragmas(connection: Any, _: Any) -> None:
    connection.isolation_level = None
    cursor = connection.cursor()
    for pragma in _PRAGMAS:
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _sqlite_begin(patience: int, connection: Connection) -> None:
    options = connection.get_execution_options()
    if options.get("waits", True):
        connection.exec_driver_sql("BEGIN IMMEDIATE" if options.get("writes") else "BEGIN")
        return
    connection.exec_driver_sql("PRAGMA busy_timeout=0")
    try:
        connection.exec_driver_sql("BEGIN IMMEDIATE")
    finally:
        connection.exec_driver_sql(f"PRAGMA busy_timeout={patience}")


@contextmanager
def _plain_errors(url: URL) -> Iterator[None]:
    try:
        yield
    except StaleDataError as error:
        raise Conflict(
            "somebody else changed the same row meanwhile", remedy="Look at it again and repeat"
        ) from error
    except IntegrityError as error:
        raise Conflict(
            "the register refuses this as it contradicts what is stored",
            found=str(error.orig).strip().splitlines()[0],
            remedy="Look at what is stored now and repeat",
        ) from error
    except DataError as error:
        raise BadInput(
            "there is something that the register cannot keep",
            found=str(error.orig).strip().splitlines()[0],
            remedy="Mend it, or leave it out",
        ) from error
    except (OperationalError, InterfaceError, DatabaseError) as error:
        raise _trouble(error, url) from error


def _trouble(error: DatabaseError | InterfaceError, url: URL) -> DatabaseTrouble:
    cause = str(error.orig).strip().splitlines()[0]
    where = shown_url(url)
    if "locked" in cause or "lock timeout" in cause:
        return DatabaseTrouble(
            "another program is writing to the register", where=where, remedy="Try again shortly"
        )
    if any(words in cause for words in _NO_ROOM):
        return DatabaseTrouble(
            "the disk of the register is full, or refuses to be written", where=where, found=cause,
            remedy="Nothing of this was stored. Make room, then repeat",
        )  # fmt: skip
    if getattr(error, "connection_invalidated", False):
        return DatabaseTrouble(
            "the connection to the database was lost", where=where, found=cause,
            remedy="Look whether it was stored before you repeat it",
        )  # fmt: skip
    if "not a database" in cause:
        return DatabaseTrouble("this is not a register", where=where, found=cause)
    if "no such table" in cause or "does not exist" in cause:
        return _no_register(where, cause)
    return DatabaseTrouble("the database does not answer as it should", where=where, found=cause)


def _no_register(where: str, found: str = "") -> DatabaseTrouble:
    return DatabaseTrouble(
        "there is no register here", where=where, found=found,
        remedy="Make one with: supports register create",
    )  # fmt: skip


@contextmanager
def _schema_connection(engine: Engine) -> Iterator[Connection]:
    """Give a connection for revisions: on SQLite foreign keys are off, before BEGIN."""
    with engine.execution_options(writes=True).connect() as connection:
        sqlite = connection.dialect.name == "sqlite"
        if sqlite:
            _raw(connection, "PRAGMA foreign_keys=OFF")
        try:
            with connection.begin():
                yield connection
        finally:
            if sqlite:
                _raw(connection, "PRAGMA foreign_keys=ON")


def _raw(connection: Connection, statement: str) -> None:
    cursor = connection.connection.cursor()
    cursor.execute(statement)
    cursor.close()


def _alembic(connection: Connection) -> Any:
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(_scripts()))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    return config


def _upgrade(connection: Connection) -> None:
    from alembic import command

    command.upgrade(_alembic(connection), "head")


def _zone(connection: Connection) -> str:
    """Return the name of the plant's time zone that was laid down last; '' where none was."""
    query = (
        select(SiteSetting.value)
        .where(SiteSetting.name == TIME_ZONE, SiteSetting.scope == "")
        .order_by(SiteSetting.valid_from.desc(), SiteSetting.id.desc())
    )
    value = connection.scalar(query.limit(1))
    return "" if value is None else str(value["text"])


def _revisions(connection: Connection) -> tuple[str | None, str]:
    """Return the revision of a database, None where it has none, and the one that is wanted."""
    held = inspect(connection).has_table("alembic_version")
    asked = text("SELECT version_num FROM alembic_version")
    present = connection.execute(asked).scalar() if held else None
    return present, newest_revision()


@cache
def newest_revision() -> str:
    """Return the revision that this program works with: a script's name begins with its own.

    Every command asks for it; to read the scripts themselves would be the dearest part of many.
    """
    return max(path.name.partition("_")[0] for path in (_scripts() / "versions").glob("0*_*.py"))


def _scripts() -> Path:
    import migrations

    return Path(migrations.__file__).parent


def _row_counts(connection: Connection) -> dict[str, int]:
    names = [n for n in inspect(connection).get_table_names() if n != "alembic_version"]
    count = "SELECT count(*) FROM {}"
    quote = connection.dialect.identifier_preparer.quote
    return {
        name: int(connection.execute(text(count.format(quote(name)))).scalar_one())
        for name in names
    }


def _check_after_upgrade(connection: Connection, before: dict[str, int]) -> None:
    after = _row_counts(connection)
    lost = [name for name, rows in before.items() if name in after and after[name] < rows]
    if lost:
        raise DatabaseTrouble("the upgrade would lose rows", found=joined(lost, ", "))
    if connection.dialect.name == "sqlite":
        orphans = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
        if orphans:
            raise DatabaseTrouble("the upgrade would orphan rows", found=str(orphans[0]))
