"""Values of the record that no list, page or paper shows: they open doors."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy.orm import Session

from supports.model import Account, ApiToken, Base, SiteSetting
from supports.queries.site import form_key_rows

_SECRET = {(ApiToken.__tablename__, "mark"), (Account.__tablename__, "outside_name")}
"""Hashes of keys, and who somebody is at the site's own sign-in service."""
OFF_RECORD = {one.class_.__tablename__ for one in Base.registry.mappers if one.class_.off_record}
"""Tables of what is secret or passes away: it leaves no trail."""


@dataclass(frozen=True, slots=True)
class Untold:
    """What is not told: rows of settings that hold the key of forms, fields that are secret.

    Passwords, sessions and failed sign-ins are on no record; their tables are hidden all the same.
    """

    form_keys: frozenset[int]

    @classmethod
    def of(cls, session: Session) -> Untold:
        """Return what is not told of a register."""
        return cls(frozenset(form_key_rows(session)))

    def hides(self, table: str, row: int, field: str) -> bool:
        """Return whether a field of a row is kept back."""
        if table == SiteSetting.__tablename__ and row in self.form_keys:
            return field == "value"
        return table in OFF_RECORD or (table, field) in _SECRET
