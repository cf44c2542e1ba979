"""Photos put to the rows that name their numbers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from supports.database import Register
from supports.model import WalkPhoto
from supports.operations.acting import deed


@dataclass(frozen=True, slots=True)
class PhotoFacts:
    """A photo that lies in the store, and the row it belongs to."""

    item_id: int
    number: str
    subject: str
    content_hash: str
    file_name: str
    width: int
    height: int


def attach_photos(
    register: Register, photos: Iterable[PhotoFacts], *, acting: str, now: datetime,
    place_kept: str = "",
) -> int:  # fmt: skip
    """Put photos to their rows; return how many are new.

    Parameters
    ----------
    place_kept
        Why the places where they were taken were left in them, for the record; '' if they were not.
    """
    action = "attach photos, their places kept" if place_kept else "attach photos"
    with deed(register, acting, now, action=action, reason=place_kept) as act:
        new = 0
        for one in photos:
            known = select(WalkPhoto.id).where(
                WalkPhoto.item_id == one.item_id,
                WalkPhoto.number == one.number,
                WalkPhoto.content_hash == one.content_hash,
            )
            if act.session.scalar(known) is not None:
                continue
            new += 1
            act.session.add(
                WalkPhoto(
                    item_id=one.item_id,
                    number=one.number,
                    subject=one.subject,
                    content_hash=one.content_hash,
                    file_name=one.file_name,
                    width=one.width,
                    height=one.height,
                    stored_by=act.person.name,
                    stored_at=now,
                )
            )
        return new
