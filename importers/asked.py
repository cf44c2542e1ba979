"""Which names a file may speak of, so that a large register need not be read for a small file."""

from __future__ import annotations

from collections.abc import Iterable

from importers.joining import Match
from importers.profiles import Profile
from importers.reading import ReadResult
from importers.workbook import Workbook
from supports import tags

MOST_ROWS = 20_000
"""A file of more rows is read against all names of the register."""
_LONGEST = 200


def names_asked(book: Workbook, profiles: Iterable[Profile]) -> set[str] | None:
    """Return every text of a file that may be a name; None where the file is a large one."""
    if sum(len(table.rows) for table in book.tables) > MOST_ROWS:
        return None
    texts = {
        raw
        for table in book.tables
        for row in table.rows
        for raw in row
        if isinstance(raw, str) and 0 < len(raw) <= _LONGEST
    }
    texts |= {value for profile in profiles for value in profile.constants.values()}
    return texts | {tags.tidied(text) for text in texts}


def tags_by_marks(result: ReadResult) -> set[str]:
    """Return the tags of rows without one, by serial number, node or place, or that clean to it."""
    return {answer.tag for answer in result.unnamed if isinstance(answer, Match)} | result.cleaned
