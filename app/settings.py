"""The program's own settings: the only reader of the environment and of the clock."""

from __future__ import annotations

import hashlib
import os
import secrets
from datetime import UTC, date, datetime
from pathlib import Path

from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError

from supports.database import LOCK_WAIT, Register, sqlite_url
from supports.errors import BadInput
from supports.plant_time import day_of

REGISTER, PERSON, CLOCK = "SUPPORTS_REGISTER", "SUPPORTS_PERSON", "SUPPORTS_CLOCK"
WAIT = "SUPPORTS_LOCK_WAIT"
PHOTOS = "SUPPORTS_PHOTOS"
HANDED_IN = "SUPPORTS_HANDED_IN"
ISSUER, CLIENT, SECRET = "SUPPORTS_OIDC_ISSUER", "SUPPORTS_OIDC_CLIENT", "SUPPORTS_OIDC_SECRET"
TLS, SETUP_CODE = "SUPPORTS_DESK_TLS", "SUPPORTS_DESK_SETUP_CODE"
DEFAULT_FILE = "supports-register.db"


def register_url(named: str | None) -> URL:
    """Return where the register is: as named, else from the environment, else a file here."""
    where = named or os.environ.get(REGISTER) or DEFAULT_FILE
    if "://" not in where:
        return sqlite_url(Path(where))
    try:
        url = make_url(where)
    except (ArgumentError, ValueError) as error:
        raise BadInput(
            "the address of the register cannot be read",
            expected="a file, or postgresql://user@host/database",
        ) from error
    if url.get_backend_name() not in {"sqlite", "postgresql"}:
        raise BadInput("a register is kept in SQLite or PostgreSQL", found=url.get_backend_name())
    return url


def existing_url(named: str | None) -> URL:
    """Return where the register is, if something is there."""
    url = register_url(named)
    if url.get_backend_name() == "sqlite" and not Path(url.database or "").is_file():
        raise BadInput(
            "there is no register here",
            where=url.database or "",
            remedy="Make one with: supports begin, or: supports register create",
        )
    return url


def open_register(named: str | None) -> Register:
    """Return a register that is there and of the present revision."""
    register = Register(existing_url(named), lock_wait=lock_wait())
    register.check()
    return register


def photo_store(url: URL, named: Path | None) -> Path | None:
    """Return the folder of photos: as named, else beside the register's own file; None if neither.

    Parameters
    ----------
    named
        On the command; the environment comes next.
    """
    said = os.environ.get(PHOTOS)
    if named is not None or said:
        return named or Path(said or "")
    if url.get_backend_name() != "sqlite" or not url.database:
        return None
    return Path(f"{url.database}-photos")


def handed_in_store(url: URL) -> Path:
    """Return the private folder of files that wait at the desk: as named, else beside the register.

    A register on a server has no place beside it: the folder is then one of this machine and user.
    """
    said = os.environ.get(HANDED_IN)
    if said:
        return Path(said)
    if url.get_backend_name() == "sqlite" and url.database:
        return Path(f"{url.database}-handed-in")
    mark = hashlib.sha256(url.render_as_string().encode()).hexdigest()[:12]
    return Path.home() / ".supports" / f"handed-in-{mark}"


def lock_wait() -> float:
    """Return how long a writer waits for another [s]."""
    said = os.environ.get(WAIT)
    if not said:
        return LOCK_WAIT
    try:
        seconds = float(said)
    except ValueError:
        seconds = -1.0
    if not 0.0 <= seconds < 3600.0:
        raise BadInput(f"{WAIT} is not understood", found=said, expected="seconds, e.g. 30")
    return seconds


def acting_person(named: str | None) -> str:
    """Return who acts, as named or from the environment; '' if nobody is."""
    return named or os.environ.get(PERSON, "")


def now() -> datetime:
    """Return the moment in UTC, to the second; a demonstration may fix it by the environment."""
    fixed = os.environ.get(CLOCK)
    try:
        moment = datetime.fromisoformat(fixed) if fixed else datetime.now(UTC)
    except ValueError as error:
        raise BadInput(
            f"{CLOCK} is not understood", found=fixed or "", expected="e.g. 2031-05-04T08:00:00"
        ) from error
    return moment.replace(microsecond=0, tzinfo=None)


def today(register: Register) -> date:
    """Return the day at the plant."""
    return day_of(now(), register.zone)


def desk_is_secure() -> bool:
    """Return whether a proxy in front of the desk speaks TLS."""
    return os.environ.get(TLS, "") == "yes"


def setup_code() -> str:
    """Return what the first-run setup of the desk asks for; '' where there is none to be done."""
    return os.environ.get(SETUP_CODE, "")


def sign_in_service() -> tuple[str, str, str] | None:
    """Return issuer, client and secret of the site's sign-in service; None where there is none.

    Raises
    ------
    BadInput
        One of the three is missing, or the issuer is not reached over TLS.
    """
    said = tuple(os.environ.get(name, "") for name in (ISSUER, CLIENT, SECRET))
    if not any(said):
        return None
    if not all(said):
        raise BadInput(
            "the sign-in service is named by halves", expected=f"{ISSUER}, {CLIENT} and {SECRET}"
        )
    near = ("https://", "http://127.0.0.1", "http://localhost")
    if not said[0].startswith(near):
        raise BadInput(f"{ISSUER} is not reached over TLS", found=said[0], expected="https://...")
    return said[0], said[1], said[2]


def fresh_key() -> str:
    """Return a new random key."""
    return secrets.token_hex(16)
