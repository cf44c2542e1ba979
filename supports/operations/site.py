"""What the site lays down."""

from __future__ import annotations

from datetime import datetime

from supports.database import Register
from supports.model import SiteSetting
from supports.queries.site import FORM_KEY, PLANT_NAME


def found_register(
    register: Register, *, plant: str, form_key: str, acting: str, now: datetime
) -> None:
    """Lay down the plant's name, printed on papers, and the key that seals forms to be filled."""
    with register.writing(acting, "", now, action="found the register") as writing:
        for name, text in ((PLANT_NAME, plant), (FORM_KEY, form_key)):
            setting = SiteSetting(
                name=name, scope="", value={"text": text}, owner=acting, valid_from=now.date()
            )
            writing.session.add(setting)
