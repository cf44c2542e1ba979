"""The route of a line in space: its nodes, the pieces between them, and its ends."""

from __future__ import annotations

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Key, MaybeWords, Versioned, Words, key_of


class LineNode(Versioned, Base):
    """A named point of a line, in plant coordinates."""

    __tablename__ = "line_node"
    __table_args__ = (UniqueConstraint("line_id", "node"),)

    id: Mapped[Key]
    line_id: Mapped[int] = key_of("line")
    node: Mapped[Words]
    east: Mapped[float | None]  # m
    north: Mapped[float | None]  # m
    elevation: Mapped[float | None]  # m


class LineElement(Versioned, Base):
    """A piece between two nodes: pipe, bend, reducer, valve, flange pair, rigid body."""

    __tablename__ = "line_element"
    __table_args__ = (UniqueConstraint("line_id", "from_node", "to_node"),)

    id: Mapped[Key]
    line_id: Mapped[int] = key_of("line")
    from_node: Mapped[Words]
    to_node: Mapped[Words]
    piece: Mapped[Words]
    outside_diameter: Mapped[float | None]  # m
    wall: Mapped[float | None]  # m
    bend_radius: Mapped[float | None]  # m
    mass: Mapped[float | None]  # kg, of the body besides its length of pipe
    centre_east: Mapped[float | None]  # m, from the middle of the piece
    centre_north: Mapped[float | None]  # m
    centre_up: Mapped[float | None]  # m


class LineEnd(Versioned, Base):
    """Where a line is held at an end: rigid unless its stiffness is given."""

    __tablename__ = "line_end"
    __table_args__ = (UniqueConstraint("line_id", "node"),)

    id: Mapped[Key]
    line_id: Mapped[int] = key_of("line")
    node: Mapped[Words]
    end_kind: Mapped[Words]
    """'anchor' or 'nozzle'."""
    nozzle: Mapped[MaybeWords]
    stiffness: Mapped[float | None]  # N/m, the same in all directions
    rotational_stiffness: Mapped[float | None]  # N·m/rad
    movement_east: Mapped[float | None]  # m, cold to hot
    movement_north: Mapped[float | None]  # m
    movement_up: Mapped[float | None]  # m
