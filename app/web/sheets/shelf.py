"""The shelf of files that were handed in: a private folder for each, under a token drawn by chance.

Nothing that a visitor says becomes part of a path but the last part of a file's name, and of that
letters, digits and a few marks. Every process that serves the desk sees the same shelf.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any, BinaryIO

from importers.workbook import OTHER_WORKBOOKS, TEXTS, WORKBOOKS, digest_at
from supports.errors import BadInput, DatabaseTrouble, FileUnusable, NotAllowed, NotFound, NotReady
from supports.sentences import Sentence, joined

KEPT = timedelta(days=7)
"""A file that nobody stores or discards goes after this."""
MOST_OF_ONE = 12
"""Files that one person may have on the shelf at a time."""
LONGEST_NAME = 120

_TOKEN = re.compile(r"[0-9a-z-]{16,64}")
_ABOUT, _FILE = "about.json", "file"


@dataclass(frozen=True, slots=True)
class HandedIn:
    """A file on the shelf.

    Parameters
    ----------
    source
        Where it comes from, as column profiles and decisions are kept for it.
    on
        The day that it speaks of; None is the day on which it is read.
    order
        Number of the work order whose form it is; '' for sheets of the register.
    digest
        SHA-256 of the file.
    """

    token: str
    name: str
    by: str
    at: datetime
    source: str = ""
    on: date | None = None
    order: str = ""
    digest: str = ""

    @property
    def until(self) -> datetime:
        """Return when it goes."""
        return self.at + KEPT


def plain_name(name: str) -> str:
    """Return the name of a file without folders and odd marks; its ending must be a known one.

    Raises
    ------
    FileUnusable
        It is no workbook and no text table by its ending.

    >>> plain_name("../x/Lines: 'new'.XLSX")
    'Lines_ _new_.XLSX'
    """
    last = re.split(r"[/\\]", name)[-1]
    kept = "".join(c if c.isalnum() or c in " -_.()" else "_" for c in last).strip(" .")
    stem, dot, ending = kept.rpartition(".")
    known = (*WORKBOOKS, *OTHER_WORKBOOKS, *TEXTS)
    if not dot or f".{ending.lower()}" not in known:
        raise FileUnusable(
            "this is neither a workbook nor a text table",
            found=last[:LONGEST_NAME] or "no name",
            expected=Sentence("a file ending in one of {names}", names=joined(known, ", ")),
        )
    return f"{stem.strip(' .')[:LONGEST_NAME] or 'sheets'}.{ending}"


class Shelf:
    """The folder in which files wait, each in a folder of its own."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def put(self, handed: HandedIn, content: BinaryIO) -> HandedIn:
        """Keep a file; those past their time go.

        Raises
        ------
        FileUnusable
            It has another ending than those read, or nothing in it.
        NotReady
            The person has too many files here already.
        DatabaseTrouble
            The disk is full, or refuses to be written.
        """
        handed = replace(handed, name=plain_name(handed.name))
        held = [one for one in self.all(handed.at) if one.by == handed.by]
        if len(held) >= MOST_OF_ONE:
            names = [one.name for one in held[:3]]
            raise NotReady(
                Sentence("{count} of your files wait already", count=str(len(held))),
                names,
                remedy="Store or discard some",
            )
        try:
            return self._written(handed, content)
        except OSError as error:
            self.discard(handed.token)
            raise DatabaseTrouble(
                "the file cannot be kept: the disk is full, or refuses to be written",
                found=error.strerror or "", remedy="Nothing was kept. Make room, then repeat",
            ) from error  # fmt: skip
        except FileUnusable:
            self.discard(handed.token)
            raise

    def _written(self, handed: HandedIn, content: BinaryIO) -> HandedIn:
        place, file = self.place(handed.token), self.file(handed)
        self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        place.mkdir(mode=0o700)
        file.parent.mkdir()
        with file.open("xb") as written:
            shutil.copyfileobj(content, written)
        if not file.stat().st_size:
            raise FileUnusable("the file is empty", where=handed.name)
        kept = replace(handed, digest=digest_at(file))
        self.say_anew(kept)
        return kept

    def all(self, now: datetime) -> list[HandedIn]:
        """Return what is on the shelf, newest first; what is past its time is taken away."""
        found = []
        for one in self._found():
            if one.until <= now:
                self.discard(one.token)
            else:
                found.append(one)
        return sorted(found, key=lambda one: one.at, reverse=True)

    def _found(self) -> Iterator[HandedIn]:
        if self.folder.is_dir():
            for place in sorted(self.folder.iterdir()):
                said = self.noted(place.name, _ABOUT) if _TOKEN.fullmatch(place.name) else None
                if said is not None:
                    yield _handed(said)

    def get(self, token: str, now: datetime) -> HandedIn:
        """Return what is kept under a token.

        Raises
        ------
        NotFound
            Nothing is, or no more.
        """
        said = self.noted(token, _ABOUT) if _TOKEN.fullmatch(token) else None
        found = _handed(said) if said else None
        if found is None or found.until <= now:
            raise NotFound(
                "this file is not here, or no more",
                remedy=Sentence(
                    "Files wait for {days} days; hand it in again", days=str(KEPT.days)
                ),
            )
        return found

    def say_anew(self, handed: HandedIn) -> None:
        """Keep what is said of a file."""
        self.note(handed.token, _ABOUT, asdict(handed))

    def discard(self, token: str) -> None:
        """Take a file and all that was made of it away."""
        place = self.place(token)
        (place / _ABOUT).unlink(missing_ok=True)
        shutil.rmtree(place, ignore_errors=True)

    def place(self, token: str) -> Path:
        """Return the folder of a token.

        Raises
        ------
        BadInput
            It is none that the desk draws.
        """
        if not _TOKEN.fullmatch(token):
            raise BadInput("this is no token of the desk")
        return self.folder / token

    def file(self, handed: HandedIn) -> Path:
        """Return where the file itself lies."""
        return self.place(handed.token) / _FILE / handed.name

    def note(self, token: str, name: str, said: Any) -> None:
        """Write something down beside a file, whole or not at all."""
        place = self.place(token)
        fresh = place / f"{name}.new"
        fresh.write_text(json.dumps(said, default=str, allow_nan=False), encoding="utf-8")
        fresh.replace(place / name)

    def noted(self, token: str, name: str) -> Any:
        """Return what was written down; None if nothing was."""
        try:
            return json.loads((self.place(token) / name).read_text(encoding="utf-8"))
        except FileNotFoundError:
            return None


def _handed(said: dict[str, Any]) -> HandedIn:
    on = date.fromisoformat(said["on"]) if said["on"] else None
    return HandedIn(**{**said, "at": datetime.fromisoformat(said["at"]), "on": on})


def may_discard(handed: HandedIn, acting: str, *, keeper: bool) -> None:
    """Raise unless somebody handed a file in, or keeps the register.

    Raises
    ------
    NotAllowed
        It is another's file.
    """
    if acting != handed.by and not keeper:
        raise NotAllowed(
            "another person handed this in", found=handed.by, expected="that person, or a keeper"
        )
