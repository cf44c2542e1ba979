"""An act and what its form asks; what was handed in, read as people write it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy.orm import Session
from starlette.datastructures import FormData

from app.readings import quantity_in
from supports.errors import BadInput
from supports.units import Kind, number

if TYPE_CHECKING:
    from app.web.visits import Visit

Where = tuple[str, ...]
"""What an act is about: number of the change; order, tag and position; ..."""


@dataclass(frozen=True, slots=True)
class Ask:
    """One thing that a form asks.

    Parameters
    ----------
    words
        Its label, as the catalogue has it.
    kind
        'text', 'long', 'number', 'date', 'choice', 'many', 'tick', 'file' or 'known'; what is
        'known' is only shown.
    options
        What can be chosen: what is handed in, and the words for it.
    unit
        In which a number is read where none is typed with it.
    """

    name: str
    words: str
    kind: str = "text"
    hint: str = ""
    needed: bool = False
    options: tuple[tuple[str, str], ...] = ()
    start: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Said:
    """What was handed in with a form."""

    form: FormData

    @classmethod
    def empty(cls) -> Said:
        """Return what stands in a form that nobody has filled in."""
        return cls(FormData())

    def text(self, name: str) -> str:
        """Return words; '' if none."""
        return str(self.form.get(name, "")).replace("\r\n", "\n").strip()

    def many(self, name: str) -> list[str]:
        """Return all that was ticked."""
        return [str(one) for one in self.form.getlist(name) if str(one).strip()]

    def day(self, name: str) -> date | None:
        """Return a day; None if none was said."""
        text = self.text(name)
        try:
            return date.fromisoformat(text) if text else None
        except ValueError:
            raise BadInput("a day cannot be read", found=text, expected="2031-05-20") from None

    def number(self, name: str) -> float | None:
        """Return a plain number; None if none was said."""
        text = self.text(name)
        return number(text) if text else None

    def whole(self, name: str) -> int | None:
        """Return a whole number; None if none was said."""
        text = self.text(name)
        if text and not text.isdigit():
            raise BadInput("a whole number is wanted", found=f"'{text}'")
        return int(text) if text else None

    def quantity(self, name: str, unit: str, kind: Kind) -> float | None:
        """Return a quantity in SI; a bare number is in the unit that the form named."""
        return quantity_in(self.text(name), unit, kind)


@dataclass(frozen=True, slots=True)
class Act:
    """One thing that somebody can do, with its form.

    Parameters
    ----------
    key
        As the tables of acts name it, and in the address with dashes.
    words
        On the button and over the form.
    run
        Calls the use case; returns the address to go on to.
    asks
        Returns what the form asks.
    note
        What whoever does it should know.
    signs
        Whether the form shows what is signed, part by part.
    grave
        It undoes or ends something: it is offered last and plainly.
    """

    key: str
    words: str
    run: Callable[[Visit, Where, Said], str]
    asks: Callable[[Session, Where, Visit], Sequence[Ask]]
    note: str = ""
    signs: bool = False
    grave: bool = False

    @property
    def dashed(self) -> str:
        """Return the key as it stands in an address."""
        return dashed(self.key)


def dashed(key: str) -> str:
    """Return an act's key as it stands in an address.

    >>> dashed("send back")
    'send-back'
    """
    return key.replace(" ", "-")


def same_words(words: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Return options that are handed in as they are shown."""
    return tuple((str(one), str(one)) for one in words)
