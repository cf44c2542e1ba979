"""What a row of the record is about, as people name it: tag and unit, line, change, order."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Assembly, Base, Change, Line, SupportPoint, SupportTag, Unit, WorkOrder
from supports.queries.stops import where_unit_hangs

_MODELS = {one.class_.__tablename__: one.class_ for one in Base.registry.mappers}
_OWN = ("number", "tag", "code", "name", "title")
"""Fields under which a row may bear a name of its own."""
_LEADS = ("unit_id", "point_id", "assembly_id", "work_order_id", "change_id", "line_id")
"""Keys that lead to what has a name, the nearest first."""


@dataclass(slots=True)
class RowNames:
    """The names of rows of one register; what was looked up once is kept."""

    session: Session
    _known: dict[tuple[str, int], str] = field(default_factory=dict)

    def of(self, table: str, row: int) -> str:
        """Return what a row is about; '' where it is about nothing that has a name."""
        model = _MODELS.get(table)
        one: Any = None if model is None else self.session.get(model, row)
        if one is None:
            return ""
        if isinstance(one, SupportPoint | Unit):
            return self._led("point_id" if isinstance(one, SupportPoint) else "unit_id", row)
        for key in _LEADS:
            if (value := getattr(one, key, None)) is not None:
                return self._led(key, value)
        return next((str(getattr(one, key)) for key in _OWN if getattr(one, key, None)), "")

    def _led(self, key: str, row: int) -> str:
        if (key, row) not in self._known:
            self._known[key, row] = self._name(key, row)
        return self._known[key, row]

    def _name(self, key: str, row: int) -> str:
        if key == "unit_id":
            return where_unit_hangs(self.session, row)[0]
        if key == "assembly_id":
            return self._led("point_id", self.session.get_one(Assembly, row).point_id)
        if key == "point_id":
            present = (SupportTag.point_id == row) & SupportTag.valid_to.is_(None)
            return self.session.scalar(select(SupportTag.tag).where(present)) or ""
        named: type[Any] = {"work_order_id": WorkOrder, "change_id": Change, "line_id": Line}[key]
        return str(self.session.get_one(named, row).number)
