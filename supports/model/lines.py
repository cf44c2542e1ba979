"""Lines and the equipment nozzles at their ends."""

from __future__ import annotations

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Key, MaybeWords, Note, Versioned, Words, key_of


class Line(Versioned, Base):
    """A pipe run with one number and one set of design data."""

    __tablename__ = "line"
    __table_args__ = (UniqueConstraint("number"),)

    id: Mapped[Key]
    number: Mapped[Words]
    area_id: Mapped[int | None] = key_of("area")
    service: Mapped[MaybeWords]
    nominal_size: Mapped[MaybeWords]
    schedule: Mapped[MaybeWords]
    outside_diameter: Mapped[float | None]  # m
    wall: Mapped[float | None]  # m
    material: Mapped[MaybeWords]
    insulation: Mapped[MaybeWords]
    insulation_thickness: Mapped[float | None]  # m
    insulation_density: Mapped[float | None]  # kg/m³
    cladding_mass_per_length: Mapped[float | None]  # kg/m
    pipe_mass_per_length: Mapped[float | None]  # kg/m
    insulation_mass_per_length: Mapped[float | None]  # kg/m
    content_mass_per_length: Mapped[float | None]  # kg/m
    content_density: Mapped[float | None]  # kg/m³
    design_temperature: Mapped[float | None]  # K
    operating_temperature: Mapped[float | None]  # K
    design_pressure: Mapped[float | None]  # Pa, gauge
    code: Mapped[MaybeWords]
    creep_or_high_energy: Mapped[MaybeWords]
    """'yes', 'no' or 'unknown'."""
    criticality: Mapped[MaybeWords]
    note: Mapped[Note]


class NozzleLimit(Versioned, Base):
    """What a nozzle may carry, with the source of the limits."""

    __tablename__ = "nozzle_limit"
    __table_args__ = (UniqueConstraint("line_id", "nozzle"),)

    id: Mapped[Key]
    line_id: Mapped[int] = key_of("line")
    nozzle: Mapped[Words]
    equipment: Mapped[MaybeWords]
    machine: Mapped[MaybeWords]
    """'yes' for a pump, turbine, compressor or other load-limited machine; 'no', 'unknown'."""
    node: Mapped[MaybeWords]
    force_x: Mapped[float | None]  # N
    force_y: Mapped[float | None]  # N
    force_z: Mapped[float | None]  # N
    moment_x: Mapped[float | None]  # N·m
    moment_y: Mapped[float | None]  # N·m
    moment_z: Mapped[float | None]  # N·m
    force_resultant: Mapped[float | None]  # N
    moment_resultant: Mapped[float | None]  # N·m
    source: Mapped[MaybeWords]
