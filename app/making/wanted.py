"""What somebody wants made, the head that every paper carries, and files on disk."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy.orm import Session

from reports.catalogue import Form
from reports.contents.blocks import Block, Document
from reports.contents.common import PageSize, PaperHead
from reports.languages import Texts, texts
from supports.audit import head as chain_head
from supports.errors import BadInput
from supports.freezing import fingerprint, short
from supports.queries.plant_days import clock_at
from supports.queries.site import plant_name
from supports.sentences import Sentence


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked for.

    Parameters
    ----------
    about
        Tags, numbers of lines, changes, orders or campaigns.
    line
        Every support of this line.
    copy
        Number of the copy handed out; '' leaves a line to write it on.
    decisions
        What the site wants decided, each with its date: only the plant status prints them.
    photos
        Folder that photos of walkdowns are kept in; None where there is none.
    """

    about: tuple[str, ...]
    into: Path
    made: datetime
    line: str = ""
    page: PageSize = PageSize.A4
    language: str = "en"
    forms: tuple[Form, ...] = (Form.PDF,)
    copy: str = ""
    decisions: tuple[str, ...] = ()
    photos: Path | None = None

    @property
    def say(self) -> Texts:
        """Return the words of the language."""
        return texts(self.language)

    @property
    def letter(self) -> bool:
        """Return whether the sheet is letter."""
        return self.page is PageSize.LETTER

    def one_or_more(self, what: str) -> tuple[str, ...]:
        """Return what the paper is about.

        Raises
        ------
        BadInput
            Nothing was named.
        """
        if not self.about:
            raise BadInput(
                Sentence("the paper needs to know what it is about: name {what}", what=what)
            )
        return self.about


@dataclass(frozen=True, slots=True)
class Title:
    """What stands at the head of one paper.

    Parameters
    ----------
    valid_until
        In the paper's language; by default until the register changes.
    """

    title: str
    number: str
    about: str
    revision: str = ""
    valid_until: str = ""
    prepared_by: str = ""
    checked_by: str = ""
    approved_by: str = ""


def head_of(session: Session, wanted: Wanted, title: Title, mark: str) -> PaperHead:
    """Return the head of a paper; `mark` is the fingerprint of what it says."""
    say, made = wanted.say, clock_at(session, wanted.made)
    return PaperHead(
        title=title.title,
        number=title.number,
        about=title.about,
        revision=title.revision or say("as of {day}", day=f"{made:%Y-%m-%d}"),
        made=made,
        fingerprint=short(mark),
        valid_until=title.valid_until or say("the register changes"),
        plant=plant_name(session),
        copy_number=wanted.copy,
        prepared_by=title.prepared_by,
        checked_by=title.checked_by,
        approved_by=title.approved_by,
        chain_head=short(chain_head(session)),
    )


def document(
    session: Session,
    wanted: Wanted,
    title: Title,
    blocks: Sequence[Block],
    *,
    landscape: bool = False,
    code: str = "",
) -> Document:
    """Return a paper for reading with its head."""
    mark = fingerprint([[type(one).__name__, asdict(one)] for one in blocks])
    head = head_of(session, wanted, title, mark)
    return Document(head, tuple(blocks), wanted.language, landscape, code)


def write_document(made: Document, wanted: Wanted, stem: str) -> list[Path]:
    """Write a paper for reading in the forms asked for; return the files."""
    return write(
        wanted, stem, {Form.PDF: lambda: _pdf(made, wanted), Form.HTML: lambda: _html(made)}
    )


def write(wanted: Wanted, stem: str, makers: Mapping[Form, Callable[[], bytes]]) -> list[Path]:
    """Write a paper in the forms asked for, each made only then; return the files."""
    ending = f"-{wanted.language}" if wanted.language != "en" else ""
    name = file_name(f"{stem}{ending}")
    wanted.into.mkdir(parents=True, exist_ok=True)
    files = {wanted.into / f"{name}.{form}": makers[form] for form in wanted.forms}
    for path, make in files.items():
        path.write_bytes(make())
    return list(files)


def file_name(text: str) -> str:
    """Return text as a name that every file system takes.

    >>> file_name("PS-12/B: tag")
    'PS-12-B-tag'
    """
    kept = "".join(sign if sign.isalnum() or sign in "-_." else " " for sign in text)
    return "-".join(kept.split())[:120].strip(".-") or "paper"


def _pdf(made: Document, wanted: Wanted) -> bytes:
    from reports.pdf.document import document_pdf

    return document_pdf(made, wanted.page)


def _html(made: Document) -> bytes:
    from reports.html.document import document_html

    return document_html(made)
