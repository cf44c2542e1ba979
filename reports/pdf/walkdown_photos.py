"""Boxes for photo numbers on a support card, each above the last photo of the same subject."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from typing import Any

from reports.languages import IN_ENGLISH, Texts
from supports.rules.walkdown.form import FormRow, LastPhoto
from supports.rules.walkdown.words import PhotoSubject

WIDE, HIGH = 40, 30
"""Frame of a photo on the card [mm]; the picture is fitted into it."""


def photo_boxes(
    row: FormRow, pictures: Mapping[str, bytes], say: Texts = IN_ENGLISH
) -> list[dict[str, Any]]:
    """Return a box for each subject in the order in which photos are taken."""
    held = {one.subject: one for one in row.photos}
    return [
        _box(subject, held.get(subject), pictures, say)
        for subject in PhotoSubject
        if subject is not PhotoSubject.OTHER
    ]


def _box(
    subject: PhotoSubject, last: LastPhoto | None, pictures: Mapping[str, bytes], say: Texts
) -> dict[str, Any]:
    if last is None:
        return {"subject": str(subject), "words": "", "picture": "", "told": ""}
    data = pictures.get(last.content_hash)
    words = say("no. {number}, {day}", number=last.number, day=say.day(last.taken_on, "%d %b %Y"))
    return {
        "subject": str(subject),
        "words": words if data else f"{words}: {say('not in the folder of photos')}",
        "picture": framed(data) if data else "",
        "told": say(
            "Last photo of the {subject}, {day}, number {number}",
            subject=say.word(str(subject)),
            day=say.day(last.taken_on, "%d %B %Y"),
            number=last.number,
        ),
    }


def framed(jpeg: bytes) -> str:
    """Return a picture fitted into its frame, as SVG text that holds it."""
    held = base64.b64encode(jpeg).decode("ascii")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {HIGH}">'
        f'<image width="{WIDE}" height="{HIGH}" preserveAspectRatio="xMidYMid meet" '
        f'href="data:image/jpeg;base64,{held}"/></svg>'
    )
