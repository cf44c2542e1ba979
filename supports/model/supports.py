"""The place where a line is held, its names through time, and what hangs there."""

from __future__ import annotations

from sqlalchemy import CheckConstraint, Index, UniqueConstraint, text
from sqlalchemy.orm import Mapped

from supports.model.base import (
    Base,
    Day,
    Key,
    MaybeDay,
    MaybeWords,
    Note,
    Versioned,
    Words,
    follows,
    key_of,
)
from supports.tags import natural_key


class SupportPoint(Versioned, Base):
    """The place on the line where it is held; its identity is kept for ever."""

    __tablename__ = "support_point"

    id: Mapped[Key]
    area_id: Mapped[int | None] = key_of("area")
    kind: Mapped[Words]
    function: Mapped[MaybeWords]
    criticality: Mapped[MaybeWords]
    in_service: Mapped[Words]
    floor: Mapped[MaybeWords]
    grid: Mapped[MaybeWords]
    elevation: Mapped[float | None]  # m
    steel_elevation: Mapped[float | None]  # m
    height_above_floor: Mapped[float | None]  # m
    east: Mapped[float | None]  # m
    north: Mapped[float | None]  # m
    access: Mapped[MaybeWords]
    scaffold_group: Mapped[MaybeWords]
    isometric: Mapped[MaybeWords]
    isometric_mark: Mapped[MaybeWords]
    note: Mapped[Note]


class SupportTag(Base):
    """A name that a support point bears or bore."""

    __tablename__ = "support_tag"
    __table_args__ = (
        Index(
            "uq_support_tag_present",
            "tag",
            unique=True,
            sqlite_where=text("valid_to IS NULL"),
            postgresql_where=text("valid_to IS NULL"),
        ),
        Index("ix_support_tag_matching_key", "matching_key"),
        Index(
            "ix_support_tag_present_sort_key",
            "sort_key",
            sqlite_where=text("valid_to IS NULL"),
            postgresql_where=text("valid_to IS NULL"),
        ),
    )

    id: Mapped[Key]
    point_id: Mapped[int] = key_of("support_point")
    tag: Mapped[Words]
    matching_key: Mapped[Words]
    sort_key: Mapped[str] = follows("tag", natural_key)
    valid_from: Mapped[MaybeDay]
    valid_to: Mapped[MaybeDay]
    source: Mapped[MaybeWords]


class Assembly(Versioned, Base):
    """Everything between the steel and the pipe at one support point."""

    __tablename__ = "assembly"
    __table_args__ = (
        CheckConstraint(
            "arrangement IN ('single', 'two units on one trapeze', 'riser pair')",
            name="arrangement",
        ),
    )

    id: Mapped[Key]
    point_id: Mapped[int] = key_of("support_point", unique=True)
    arrangement: Mapped[Words]
    arm_a: Mapped[float | None]  # m, pipe centre to unit A
    arm_b: Mapped[float | None]  # m, pipe centre to unit B
    beam_mass: Mapped[float | None]  # kg
    rod_length: Mapped[float | None]  # m, pin to pin
    rod_offset: Mapped[float | None]  # m, horizontal offset built in against the swing
    gap_up: Mapped[float | None]  # m, shut down, to the nearest steel that way
    gap_down: Mapped[float | None]  # m
    gap_east: Mapped[float | None]  # m
    gap_west: Mapped[float | None]  # m
    gap_north: Mapped[float | None]  # m
    gap_south: Mapped[float | None]  # m
    insulation_growth: Mapped[float | None]  # m, into a gap
    bearing_length: Mapped[float | None]  # m, of the shoe from its edge to that of the steel
    fall_designed: Mapped[float | None]  # fraction, positive where the line falls along its order
    fall_found: Mapped[float | None]  # fraction, as levelled last
    designed_for_fill: Mapped[MaybeWords]
    """'yes' where the unit bears the line full of test water with its travel stop out."""
    drawn_load: Mapped[float | None]  # N, nameplate load of each unit by the drawing
    drawn_rate: Mapped[float | None]  # N/m
    drawn_travel: Mapped[float | None]  # m, total


class HardwarePiece(Versioned, Base):
    """One piece of the stack, numbered from the steel down to the pipe."""

    __tablename__ = "hardware_piece"
    __table_args__ = (UniqueConstraint("assembly_id", "branch", "position"),)

    id: Mapped[Key]
    assembly_id: Mapped[int] = key_of("assembly")
    branch: Mapped[Words]
    """Unit position that the piece hangs on ('A', 'B'), or 'all' for pieces that carry both."""
    position: Mapped[int]
    kind: Mapped[Words]
    size: Mapped[MaybeWords]
    length: Mapped[float | None]  # m
    material: Mapped[MaybeWords]
    rated_load: Mapped[float | None]  # N
    rating_temperature: Mapped[float | None]  # K
    rating_source: Mapped[MaybeWords]
    mass: Mapped[float | None]  # kg
    adjustment_left: Mapped[float | None]  # m
    derating: Mapped[float | None]
    thread_in_sight: Mapped[MaybeWords]
    """'yes' where the thread shows in the sight hole or beyond the nut."""
    condition: Mapped[MaybeWords]


class Attachment(Versioned, Base):
    """A support point on a line; one point may hold two lines."""

    __tablename__ = "attachment"
    __table_args__ = (UniqueConstraint("point_id", "line_id"),)

    id: Mapped[Key]
    point_id: Mapped[int] = key_of("support_point")
    line_id: Mapped[int] = key_of("line")
    order_along: Mapped[int | None]
    distance_along: Mapped[float | None]  # m
    node: Mapped[MaybeWords]
    arm: Mapped[float | None]  # m, from unit A along the beam
    share: Mapped[float | None]  # fraction of the line's load here that this point takes


class PointDocument(Base):
    """A document that speaks of a support point."""

    __tablename__ = "point_document"
    __table_args__ = (UniqueConstraint("point_id", "document_id"),)

    id: Mapped[Key]
    point_id: Mapped[int] = key_of("support_point")
    document_id: Mapped[int] = key_of("document")
    since: Mapped[Day]
