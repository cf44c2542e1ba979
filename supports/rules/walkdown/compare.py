"""Three ways of comparing: what a form was issued with, what it says now, what is known now."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

Values = Mapping[str, Any]
"""{field: value}; a blank is not in it."""


class Outcome(StrEnum):
    """What becomes of one field of a returned form."""

    UNTOUCHED = "untouched"
    """The form says what it was issued with, or nothing: ignored."""
    PROPOSED = "proposed"
    """Changed on the form alone: taken."""
    SAME = "same"
    """Form and register say the same."""
    CONFLICT = "conflict"
    """Changed on the form and in the register, to different values: a person chooses."""


@dataclass(frozen=True, slots=True)
class Compared:
    """One field of one row."""

    field: str
    outcome: Outcome
    base: Any
    form: Any
    now: Any


def three_ways(base: Values, form: Values, now: Values) -> tuple[Compared, ...]:
    """Compare each field that the form, its base or the register holds."""
    names = dict.fromkeys([*base, *form, *now])
    return tuple(_one(name, base.get(name), form.get(name), now.get(name)) for name in names)


def _one(name: str, base: Any, form: Any, now: Any) -> Compared:
    if form is None or alike(form, base):
        outcome = Outcome.UNTOUCHED
    elif alike(form, now):
        outcome = Outcome.SAME
    elif alike(now, base):
        outcome = Outcome.PROPOSED
    else:
        outcome = Outcome.CONFLICT
    return Compared(name, outcome, base, form, now)


def alike(one: Any, other: Any) -> bool:
    """Return whether two values say the same; numbers may differ in their last digits."""
    if _number(one) and _number(other):
        return math.isclose(one, other, rel_tol=1e-6, abs_tol=1e-9)
    return bool(one == other)


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


@dataclass(frozen=True, slots=True)
class Settled:
    """The entries of one row put together.

    Parameters
    ----------
    conflicts
        Fields on which entries differ and no entry was chosen.
    """

    values: dict[str, Any]
    walkers: tuple[str, ...]
    conflicts: tuple[str, ...] = ()


ALWAYS_LATEST = frozenset({"remarks", "photos", "read_on", "pipe_temperature", "told"})
"""Fields that two walkers may fill differently without contradicting each other."""


def settled(entries: Sequence[tuple[int, str, Values]], chosen: int | None) -> Settled:
    """Put the entries of a row together.

    Parameters
    ----------
    entries
        (id, walker, values), oldest first.
    chosen
        Id of the entry that a person chose; its word stands where others differ.
    """
    by_id = {key: values for key, _, values in entries}
    picked = by_id.get(chosen, {}) if chosen is not None else {}
    values: dict[str, Any] = {}
    conflicts: list[str] = []
    for name in dict.fromkeys(name for _, _, held in entries for name in held):
        said = [held[name] for _, _, held in entries if name in held]
        if name in picked:
            values[name] = picked[name]
        elif name in ALWAYS_LATEST or _all_alike(said):
            values[name] = said[-1]
        else:
            conflicts.append(name)
    who = entries if chosen is None else [one for one in entries if one[0] == chosen]
    walkers = tuple(dict.fromkeys(walker for _, walker, _ in who))
    return Settled(values, walkers, tuple(conflicts))


def _all_alike(said: Iterable[Any]) -> bool:
    first, *others = said
    return all(alike(first, other) for other in others)
