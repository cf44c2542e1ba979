"""A photo taken on a tablet: put to the row it was taken at, by the number the tablet gave it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from app.walkdown_papers import walk_seals
from app.walkdown_photos import keep
from app.words import counting, word
from importers.walkdown_photos import kept_photo
from supports.database import Register
from supports.errors import BadInput, NotAllowed
from supports.operations.walkdowns.photos import PhotoFacts, attach_photos
from supports.queries.lookups import person_of
from supports.queries.walkdowns.lookups import campaign_of, content_of_form, form_of
from supports.rules.walkdown.words import PhotoSubject


@dataclass(frozen=True, slots=True)
class SentPhoto:
    """A picture, and the row that it belongs to."""

    campaign: str
    form: str
    person: str
    row: str
    tag: str
    line: str
    seal: str
    number: str
    subject: str
    picture: bytes


def take_photo(
    register: Register, sent: SentPhoto, store: Path | None, *, acting: str, now: datetime
) -> int:
    """Keep a photo; return 1 if it is new, 0 if it was sent before.

    Raises
    ------
    BadInput
        There is no folder for photos, the row was altered, or it is no picture.
    NotAllowed
        Somebody else took it.
    """
    if store is None:
        raise BadInput(
            "photos need a folder", remedy="Name it in SUPPORTS_PHOTOS where the desk is served"
        )
    with register.reading() as session:
        if person_of(session, acting).name != sent.person:
            raise NotAllowed("what one person noted is not sent by another", found=sent.person)
        revision = counting(sent.form.rpartition("/")[2])
        if revision is None or counting(sent.number) is None:
            raise BadInput("the photo names no form or no number", found=sent.form)
        content = content_of_form(form_of(session, campaign_of(session, sent.campaign), revision))
        item = counting(sent.row)
        row = None if item is None else content.row(item)
        if row is None or walk_seals(session, content)[row.item_id] != sent.seal:
            raise BadInput("the row was altered where it may not be", where=sent.tag)
    photo = kept_photo(f"photo {sent.number}", sent.picture)
    keep(store, photo)
    facts = PhotoFacts(
        item_id=row.item_id,
        number=sent.number,
        subject=word(PhotoSubject, sent.subject),
        content_hash=photo.content_hash,
        file_name=f"{sent.number}.jpg",
        width=photo.width,
        height=photo.height,
    )
    return attach_photos(register, [facts], acting=acting, now=now)
