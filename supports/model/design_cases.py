"""Design cases, calculations and the loads that they require."""

from __future__ import annotations

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Key, MaybeDay, MaybeWords, Note, Versioned, Words, key_of


class DesignCase(Base):
    """A case that a line is worked out for: operating, cold, test, ..."""

    __tablename__ = "design_case"
    __table_args__ = (UniqueConstraint("line_id", "name"),)

    id: Mapped[Key]
    line_id: Mapped[int] = key_of("line")
    name: Mapped[Words]
    kind: Mapped[Words]


class Calculation(Versioned, Base):
    """A calculation at one revision: who, when, how, on what basis."""

    __tablename__ = "calculation"
    __table_args__ = (UniqueConstraint("number", "revision"),)

    id: Mapped[Key]
    number: Mapped[Words]
    revision: Mapped[Words]
    method: Mapped[Words]
    """'full analysis', 'screening' or 'hand'."""
    status: Mapped[Words]
    """'issued', 'superseded' or 'as built'."""
    issued_on: Mapped[MaybeDay]
    author: Mapped[MaybeWords]
    basis: Mapped[Note]


class RequiredLoad(Versioned, Base):
    """Load and movement required at a point, for a line, a case and a calculation revision."""

    __tablename__ = "required_load"
    __table_args__ = (UniqueConstraint("calculation_id", "point_id", "line_id", "case_id"),)

    id: Mapped[Key]
    calculation_id: Mapped[int] = key_of("calculation")
    point_id: Mapped[int] = key_of("support_point")
    line_id: Mapped[int] = key_of("line")
    case_id: Mapped[int] = key_of("design_case")
    load: Mapped[float | None]  # N, positive when it carries the pipe
    includes_hardware: Mapped[MaybeWords]
    movement_up: Mapped[float | None]  # m, cold to this case
    movement_east: Mapped[float | None]  # m
    movement_north: Mapped[float | None]  # m
    used_plate_load: Mapped[float | None]  # N, nameplate load of each unit as calculated with
    used_rate: Mapped[float | None]  # N/m
    used_travel: Mapped[float | None]  # m, total
