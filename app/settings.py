"""The program's own settings: the only reader of the environment and of the clock."""

from __future__ import annotations

import os
import secrets
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import URL, make_url

from supports.database import Register, sqlite_url
from supports.errors import BadInput

REGISTER, PERSON, CLOCK = "SUPPORTS_REGISTER", "SUPPORTS_PERSON", "SUPPORTS_CLOCK"
DEFAULT_FILE = "supports-register.db"


def register_url(named: str | None) -> URL:
    """Return where the register is: as named, else from the environment, else a file here."""
    where = named or os.environ.get(REGISTER) or DEFAULT_FILE
    if "://" not in where:
        return sqlite_url(Path(where))
    url = make_url(where)
    if url.get_backend_name() not in {"sqlite", "postgresql"}:
        raise BadInput("a register is kept in SQLite or PostgreSQL", found=url.get_backend_name())
    return url


def open_register(named: str | None) -> Register:
    """Return a register that is there and of the present revision."""
    url = register_url(named)
    if url.get_backend_name() == "sqlite" and not Path(url.database or "").is_file():
        raise BadInput(
            "there is no register here",
            where=url.database or "",
            remedy="Make one with: supports register create",
        )
    register = Register(url)
    register.check()
    return register


def acting_person(named: str | None) -> str:
    """Return who acts, as named or from the environment; '' if nobody is."""
    return named or os.environ.get(PERSON, "")


def now() -> datetime:
    """Return the moment in UTC, to the second; a demonstration may fix it by the environment."""
    fixed = os.environ.get(CLOCK)
    moment = datetime.fromisoformat(fixed) if fixed else datetime.now(UTC)
    return moment.replace(microsecond=0, tzinfo=None)


def fresh_key() -> str:
    """Return a new random key."""
    return secrets.token_hex(16)
