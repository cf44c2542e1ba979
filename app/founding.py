"""A register made, empty and with its plant's name."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from sqlalchemy import URL

from supports.database import Register
from supports.errors import BadInput
from supports.operations.site import found_register
from supports.plant_time import require_zone


def is_there(url: URL) -> bool:
    """Return whether a register may be at a place: a file that is there, or any server."""
    return url.get_backend_name() != "sqlite" or Path(url.database or "").exists()


def make_register(url: URL, plant: str, key: str, moment: datetime, zone: str = "") -> Register:
    """Make an empty register; its days are those of a time zone, or of UTC.

    Raises
    ------
    BadInput
        There is a file by that name already, or no such time zone.
    """
    if url.get_backend_name() == "sqlite" and is_there(url):
        raise BadInput("there is something here already", where=url.database or "")
    if zone:
        require_zone(zone)
    made = Register(url)
    made.migrate()
    who = "whoever made the register"
    found_register(made, plant=plant, form_key=key, acting=who, now=moment, zone=zone)
    return made
