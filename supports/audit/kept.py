"""What a batch has written so far, in its order; what is much waits in a file of its own.

An import of a large sheet writes hundreds of megabytes of trail, and the hash over all of it, which
stands before it in the register, is known at the end only.
"""

from __future__ import annotations

import marshal
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import IO, Any, NamedTuple

from supports.audit.chain import Entry, lines
from supports.errors import DatabaseTrouble

_AT_ONCE = 2_000
_IN_MEMORY = 16_000_000
"""From here on a file is used [byte]."""


class Block(NamedTuple):
    """Some entries, a column at a time."""

    tables: list[str]
    ids: list[int]
    befores: list[str | None]
    afters: list[str | None]
    sources: list[int | None]

    def lines(self) -> bytes:
        """Return all of them as they go into the hash."""
        return lines(zip(*self, strict=True)).encode()


def _block() -> Block:
    return Block([], [], [], [], [])


@dataclass(slots=True)
class Kept:
    """Entries in the order in which they were written."""

    _open: Block = field(default_factory=_block)
    _file: IO[bytes] | None = None
    _lengths: list[int] = field(default_factory=list)

    def __bool__(self) -> bool:
        return self._file is not None or bool(self._open.ids)

    def add(self, entry: Entry) -> None:
        """Put down one entry."""
        columns: tuple[list[Any], ...] = self._open
        for column, value in zip(columns, entry, strict=True):
            column.append(value)
        self._lay_down()

    def add_new(
        self, table: str, ids: Sequence[int], afters: Iterable[str], sources: Sequence[int | None]
    ) -> None:
        """Put down new rows of one table."""
        self._open.tables.extend([str(table)] * len(ids))
        self._open.ids.extend(ids)
        self._open.befores.extend([None] * len(ids))
        self._open.afters.extend(afters)
        self._open.sources.extend(sources)
        self._lay_down()

    def _lay_down(self) -> None:
        if len(self._open.ids) < _AT_ONCE:
            return
        try:
            if self._file is None:
                self._file = tempfile.SpooledTemporaryFile(_IN_MEMORY)  # noqa: SIM115  see clear
            self._lengths.append(self._file.write(marshal.dumps(tuple(self._open))))
            self._file.flush()  # a full disk is told here, not where it is read again
        except OSError as fault:
            raise _no_room(fault) from fault
        self._open = _block()

    def blocks(self) -> Iterator[Block]:
        """Give all that was put down, once more each time."""
        if self._file is not None:
            self._file.seek(0)
            for length in self._lengths:
                yield Block(*marshal.loads(self._file.read(length)))  # noqa: S302  written above
        if self._open.ids:
            yield self._open

    def clear(self) -> None:
        """Forget everything."""
        if self._file is not None:
            self._file.close()
        self._file, self._lengths, self._open = None, [], _block()


def _no_room(fault: OSError) -> DatabaseTrouble:
    return DatabaseTrouble(
        "the disk for what waits in between is full, or refuses to be written",
        where=tempfile.gettempdir(),
        found=fault.strerror or str(fault),
        remedy="Nothing of this was stored. Make room, then repeat",
    )
