"""How long work tells how far it has come, without knowing who listens."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

T = TypeVar("T")

Told = Callable[[str, int, int], None]
"""Called with what is being done, how much of it is done, and of how much in all."""

_STEPS = 100


def unheard(_: str, __: int, ___: int) -> None:
    """Listen to nothing."""


def told_along(what: str, items: Sequence[T], told: Told) -> Iterator[T]:
    """Give the items one by one and tell, a hundred times at most, how many are through."""
    step = max(len(items) // _STEPS, 1)
    for number, item in enumerate(items):
        if number % step == 0:
            told(what, number, len(items))
        yield item
    told(what, len(items), len(items))
