"""A reading session that puts each question to the database once, however often it is asked.

Queries are small and know nothing of each other, so that a page which gathers many of them asks for
the same rows again and again. A session that only reads is answered the same each time.

A page that shows many things of a kind says so first (`ask_together`): what a query asks of one of
them it then asks of all (`of_one`), so that a longer page does not ask more often.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Hashable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, TypeVar

from sqlalchemy import ClauseElement, FrozenResult, Result, event
from sqlalchemy.orm import ORMExecuteState, Session

_K = TypeVar("_K", bound=Hashable)
_T = TypeVar("_T")

Ask = Callable[[Session, Collection[int]], Mapping[int, _T]]
"""A question put for many ids at once; those about which there is nothing may be left out."""

_TOGETHER = "asked together"


@dataclass(frozen=True, slots=True)
class _Together:
    """Ids that are shown beside each other, by what they are ids of, and what was answered."""

    ids: dict[type, set[int]] = field(default_factory=lambda: defaultdict(set))
    answers: dict[Hashable, dict[int, Any]] = field(default_factory=lambda: defaultdict(dict))


@contextmanager
def each_asked_once(session: Session) -> Iterator[None]:
    """Answer a repeated `select` of this session from memory.

    For a session that writes nothing, and for questions of a page: every answer is held until the
    end, so it is not for tables read whole.
    """
    answers: dict[Hashable, FrozenResult[tuple[object, ...]]] = {}

    def asked(state: ORMExecuteState) -> Result[tuple[object, ...]] | None:
        key = _key(state) if state.is_select else None
        if key is None:
            return None
        if key not in answers:
            answers[key] = state.invoke_statement().freeze()
        return answers[key]()

    event.listen(session, "do_orm_execute", asked)
    try:
        with beside_each_other(session):
            yield
    finally:
        event.remove(session, "do_orm_execute", asked)


@contextmanager
def beside_each_other(session: Session) -> Iterator[None]:
    """Let what is asked of one be asked of all that are named, as long as nothing is written."""
    if _TOGETHER in session.info:
        yield
        return
    session.info[_TOGETHER] = _Together()
    try:
        yield
    finally:
        del session.info[_TOGETHER]


def ask_together(session: Session, what: type, ids: Iterable[int]) -> None:
    """Say that rows of a table are shown beside each other: what is asked of one is asked of all.

    Has no effect on a session that shows nothing beside each other: there, rows may change.
    """
    together: _Together | None = session.info.get(_TOGETHER)
    if together is not None:
        together.ids[what].update(ids)


def of_many(session: Session, what: type, ask: Ask[_T], ids: Iterable[int]) -> dict[int, _T | None]:
    """Return what is answered for each of the ids; None for those about which there is nothing."""
    wanted = dict.fromkeys(ids)
    together: _Together | None = session.info.get(_TOGETHER)
    if together is None:
        found = ask(session, list(wanted)) if wanted else {}
        return {one: found.get(one) for one in wanted}
    known = together.answers[(what, ask)]
    if not wanted.keys() <= known.keys():
        beside = together.ids[what]
        asked = wanted.keys() | beside if wanted.keys() & beside else wanted.keys()
        fresh = sorted(asked - known.keys())
        found = ask(session, fresh)
        known.update({one: found.get(one) for one in fresh})
    return {one: known[one] for one in wanted}


def of_one(session: Session, what: type, ask: Ask[_T], one: int) -> _T | None:
    """Return what is answered for one id; None if there is nothing about it."""
    return of_many(session, what, ask, (one,))[one]


def by_first(rows: Iterable[tuple[_K, _T]]) -> dict[_K, tuple[_T, ...]]:
    """Return rows grouped by what stands first in each, in the order they came in."""
    groups: dict[_K, list[_T]] = defaultdict(list)
    for key, one in rows:
        groups[key].append(one)
    return {key: tuple(group) for key, group in groups.items()}


def _key(state: ORMExecuteState) -> Hashable | None:
    """Return what tells a statement with its values from every other; None if nothing does."""
    if not isinstance(state.statement, ClauseElement):
        return None
    key = state.statement._generate_cache_key()  # noqa: SLF001  as in SQLAlchemy's own examples
    if key is None:
        return None
    values = [one.effective_value for one in key.bindparams]
    return key.key, repr(values), repr(state.parameters)
