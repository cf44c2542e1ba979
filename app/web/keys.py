"""Keys, their marks, and passwords: what is drawn here is kept nowhere but as a hash."""

from __future__ import annotations

import hashlib
import hmac
from collections.abc import Callable
from functools import cache
from threading import BoundedSemaphore
from typing import TypeVar

from anyio import CapacityLimiter
from anyio.lowlevel import RunVar
from anyio.to_thread import run_sync
from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from supports.errors import BadInput
from supports.sentences import Sentence

SHORTEST, LONGEST = 12, 200
_HASHER = PasswordHasher()
"""Argon2id with the library's present parameters (RFC 9106, second choice: 64 MiB, 3 passes)."""

_AT_ONCE = BoundedSemaphore(1)
"""A hash takes 64 MiB and four processors: one after the other is done sooner than all at once."""
_LANE: RunVar[CapacityLimiter] = RunVar("lane of sign-ins")

T = TypeVar("T")


async def in_the_lane(act: Callable[[], T]) -> T:
    """Do what hashes a password: one at a time, and none of the threads that pages need waits.

    Whoever waits has not begun: what failed before them is counted when they are looked at.
    """
    lane = _LANE.get(None)
    if lane is None:
        lane = CapacityLimiter(1)
        _LANE.set(lane)
    return await run_sync(act, limiter=lane)


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
            found=Sentence("{count} characters", count=str(len(password))),
            expected=Sentence(
                "{shortest} to {longest}; several words in a row are good",
                shortest=str(SHORTEST),
                longest=str(LONGEST),
            ),
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
