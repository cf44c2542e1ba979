"""Spring units with their own serial and nameplate, and where each hangs."""

from __future__ import annotations

from sqlalchemy import Index, UniqueConstraint, text
from sqlalchemy.orm import Mapped

from supports.model.base import (
    Base,
    Key,
    MaybeDay,
    MaybeList,
    MaybeWords,
    Versioned,
    Words,
    key_of,
)


class Unit(Versioned, Base):
    """One spring body, constant unit, strut or snubber."""

    __tablename__ = "unit"
    __table_args__ = (
        Index(
            "uq_unit_serial",
            "serial",
            "series",
            unique=True,
            sqlite_where=text("serial IS NOT NULL"),
            postgresql_where=text("serial IS NOT NULL"),
        ),
    )

    id: Mapped[Key]
    kind: Mapped[Words]
    serial: Mapped[MaybeWords]
    series: Mapped[MaybeWords]
    stock_code: Mapped[MaybeWords]
    year_built: Mapped[int | None]


class UnitPlacement(Base):
    """A unit hangs at a position of an assembly, from a day to a day."""

    __tablename__ = "unit_placement"
    __table_args__ = (
        Index(
            "uq_unit_placement_present",
            "assembly_id",
            "position",
            unique=True,
            sqlite_where=text("until IS NULL"),
            postgresql_where=text("until IS NULL"),
        ),
    )

    id: Mapped[Key]
    unit_id: Mapped[int] = key_of("unit")
    assembly_id: Mapped[int] = key_of("assembly")
    position: Mapped[Words]
    since: Mapped[MaybeDay]
    until: Mapped[MaybeDay]


class Nameplate(Versioned, Base):
    """What stands on the unit's plate or certificate; it goes where the unit goes."""

    __tablename__ = "nameplate"
    __table_args__ = (UniqueConstraint("unit_id"),)

    id: Mapped[Key]
    unit_id: Mapped[int] = key_of("unit")
    source: Mapped[MaybeWords]
    provisional: Mapped[MaybeWords]
    """'yes' where two people put it together from a drawing and a measurement."""
    scale_unit: Mapped[MaybeWords]
    """Unit of load printed on the scale."""
    pointer_unit: Mapped[MaybeWords]
    nameplate_load: Mapped[float | None]  # N
    range_low: Mapped[float | None]  # N
    range_high: Mapped[float | None]  # N
    load_per_turn: Mapped[float | None]  # N
    load_per_turn_table: Mapped[MaybeList]
    """[[from N, to N, N per turn], ...] where it is not uniform."""
    direction_to_increase: Mapped[MaybeWords]
    direction_to_decrease: Mapped[MaybeWords]
    load_bolts: Mapped[int | None]
    turn_counts: Mapped[MaybeWords]
    """What the load per turn is counted by on a unit with several bolts."""
    bolt_pitch: Mapped[float | None]  # m
    free_to_increase: Mapped[float | None]  # m
    free_to_decrease: Mapped[float | None]  # m
    total_travel: Mapped[float | None]  # m
    design_travel: Mapped[float | None]  # m, cold to hot, up positive
    cold_mark: Mapped[float | None]  # m from zero
    hot_mark: Mapped[float | None]  # m from zero
    zero_end: Mapped[MaybeWords]
    """'top' or 'bottom'."""
    deviation: Mapped[float | None]  # fraction, friction included
    setting_changes_travel: Mapped[MaybeWords]
    may_turn_locked: Mapped[MaybeWords]
    stop_rating: Mapped[float | None]  # N
    body_temperature_limit: Mapped[float | None]  # K
    own_mass: Mapped[float | None]  # kg
    rate: Mapped[float | None]  # N/m
    working_low: Mapped[float | None]  # N
    working_high: Mapped[float | None]  # N
    hot_load: Mapped[float | None]  # N
    cold_load: Mapped[float | None]  # N
    movement: Mapped[float | None]  # m, cold to hot, up positive
    thread_pitch: Mapped[float | None]  # m, of rod or turnbuckle
    take_up: Mapped[MaybeWords]
    """'turnbuckle' or 'nut'."""
