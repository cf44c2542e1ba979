"""Keys, their marks, and passwords: what is drawn here is kept nowhere but as a hash."""

from __future__ import annotations

import hashlib
import hmac
from functools import cache
from threading import BoundedSemaphore

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from supports.errors import BadInput

SHORTEST, LONGEST = 12, 200
_HASHER = PasswordHasher()
"""Argon2id with the library's present parameters (RFC 9106, second choice: 64 MiB, 3 passes)."""

_AT_ONCE = BoundedSemaphore(2)
"""A hash takes 64 MiB: many sign-ins at once wait for each other instead of for memory."""


def mark_of(key: str) -> str:
    """Return what is stored of a key drawn at random: its SHA-256."""
    return hashlib.sha256(key.encode()).hexdigest()


def form_key_of(key: str) -> str:
    """Return what a form of this browser must bring along; it says nothing about the key."""
    return hmac.new(key.encode(), b"form of the desk", hashlib.sha256).hexdigest()


def same(one: str, other: str) -> bool:
    """Return whether two secrets are the same, in a time that does not tell where they differ."""
    return hmac.compare_digest(one.encode(), other.encode())


def hashed(password: str, name: str = "") -> str:
    """Return the hash of a new password.

    Raises
    ------
    BadInput
        It is too short, too long, or the sign-in name again.
    """
    if not SHORTEST <= len(password) <= LONGEST:
        raise BadInput(
            "the password is too short" if len(password) < SHORTEST else "the password is too long",
            found=f"{len(password)} characters",
            expected=f"{SHORTEST} to {LONGEST}; several words in a row are good",
        )
    if name and name.casefold() in password.casefold():
        raise BadInput("the password holds the sign-in name", remedy="Take other words")
    with _AT_ONCE:
        return _HASHER.hash(password)


def fits(password: str, password_hash: str | None) -> bool:
    """Return whether a password is the one hashed; takes as long where there is no account."""
    wanted = password_hash or _nobodys()
    try:
        with _AT_ONCE:
            known = _HASHER.verify(wanted, password[:LONGEST])
    except (VerificationError, InvalidHashError):
        return False
    return known and password_hash is not None


@cache
def _nobodys() -> str:
    return _HASHER.hash("the password of nobody")
