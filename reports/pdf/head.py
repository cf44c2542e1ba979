"""The head and foot of every page as data."""

from __future__ import annotations

from typing import Any

from reports.contents.common import PageSize, PaperHead, Signature
from reports.contents.written import cut, plain
from supports.plant_time import to_the_minute

_LONGEST = {"title": 44, "number": 20, "about": 84, "plant": 36}


VALID_UNTIL = 66
"""Signs of the day or event until which a paper holds: three lines of the foot."""


def head_data(head: PaperHead, page: PageSize) -> dict[str, Any]:
    """Return what every page prints; long values are cut in the head so that the page holds.

    The cover prints them whole.
    """
    return {
        "paper": page.value,
        **{name: cut(getattr(head, name), longest) for name, longest in _LONGEST.items()},
        "whole_about": plain(head.about),
        "whole_title": plain(head.title),
        "below": [
            ["Revision", cut(head.revision)],
            ["Made", to_the_minute(head.made)],
            ["Valid until", cut(head.valid_until, VALID_UNTIL)],
            ["Fingerprint", cut(head.fingerprint)],
            *([["Record's head", cut(head.chain_head)]] if head.chain_head else []),
            ["Prepared by", cut(head.prepared_by)],
            ["Checked by", cut(head.checked_by)],
            ["Approved by", cut(head.approved_by)],
            ["Printed copy no.", cut(head.copy_number)],
        ],
    }


def signature_data(signatures: tuple[Signature, ...]) -> list[list[str]]:
    """Return the lines to sign."""
    return [[one.role, one.name] for one in signatures]
