"""What a tablet sends: rows with their seals, and when each was noted by the tablet's own clock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Annotated

from pydantic import AfterValidator, BaseModel, Field

from supports.errors import BadInput

MOST_ROWS = 100
"""Rows in one sending; a tablet sends more of them in several."""


def _storable(text: str) -> str:
    """Return a text as it is; signs that no database and no paper can hold make it unreadable."""
    if "\x00" in text or any("\ud800" <= sign <= "\udfff" for sign in text):
        raise ValueError
    return text


Text = Annotated[str, AfterValidator(_storable)]


class SentRow(BaseModel):
    """One row at one revision; moments in milliseconds of the tablet's clock."""

    row: Text = Field(max_length=40)
    tag: Text = Field(max_length=200)
    line: Text = Field(default="", max_length=200)
    seal: Text = Field(max_length=200)
    revision: int = Field(ge=1)
    noted_at: float
    written: dict[Text, Text] = Field(max_length=60)


class SentRows(BaseModel):
    """One sending of one copy."""

    number: Text = Field(max_length=100)
    form: Text = Field(max_length=200)
    tablet: Text = Field(min_length=8, max_length=64)
    person: Text = Field(max_length=200)
    clock: float
    rows: list[SentRow] = Field(max_length=MOST_ROWS)


@dataclass(frozen=True, slots=True)
class RowAnswer:
    """What became of a row: taken in, known before, or refused; the tablet keeps it anyhow.

    Parameters
    ----------
    words
        What its writer should know: conflicts, doubts, why it was refused. Sentences that are
        said in the reader's language where the answer is given.
    """

    row: str
    revision: int
    became: str
    words: tuple[str, ...] = ()


TAKEN, KNOWN, REFUSED = "taken", "known", "refused"


def noted_at(sent: SentRows, one: SentRow, now: datetime) -> datetime:
    """Return when a row was noted: so long before now as the tablet's own clock says.

    A tablet's clock may be wrong by hours; the time that passed on it is not.
    """
    age = max(0.0, sent.clock - one.noted_at)
    try:
        return (now - timedelta(milliseconds=age)).replace(microsecond=0)
    except OverflowError:
        raise BadInput("the tablet's clock says nothing that can be true", where=one.tag) from None


def refused(one: SentRow, why: str) -> RowAnswer:
    """Return the answer that refuses a row."""
    return RowAnswer(row=one.row, revision=one.revision, became=REFUSED, words=(why,))
