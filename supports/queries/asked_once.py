"""A reading session that puts each question to the database once, however often it is asked.

Queries are small and know nothing of each other, so that a page which gathers many of them asks for
the same rows again and again. A session that only reads is answered the same each time.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from contextlib import contextmanager

from sqlalchemy import ClauseElement, FrozenResult, Result, event
from sqlalchemy.orm import ORMExecuteState, Session


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
        yield
    finally:
        event.remove(session, "do_orm_execute", asked)


def _key(state: ORMExecuteState) -> Hashable | None:
    """Return what tells a statement with its values from every other; None if nothing does."""
    if not isinstance(state.statement, ClauseElement):
        return None
    key = state.statement._generate_cache_key()  # noqa: SLF001  as in SQLAlchemy's own examples
    if key is None:
        return None
    values = [one.effective_value for one in key.bindparams]
    return key.key, repr(values), repr(state.parameters)
