"""The sheets that give a line's route in space."""

from __future__ import annotations

from importers.common_columns import line_column
from importers.declared import Column, Form, Sheet
from supports.units import Kind
from supports.vocabulary import EndKind, RoutePiece


def _node(field: str, heading: str) -> Column:
    return Column(field, heading, Form.NAME, needed=True)


def _length(field: str, heading: str, *aliases: str) -> Column:
    return Column(field, heading, Kind.LENGTH, aliases, signed=True)


LINE_NODES = Sheet(
    "Line nodes",
    "line node",
    ("line", "node"),
    (
        line_column(),
        _node("node", "Node"),
        _length("east", "East", "plant east"),
        _length("north", "North", "plant north"),
        _length("elevation", "Elevation"),
    ),
)

LINE_ELEMENTS = Sheet(
    "Line elements",
    "line element",
    ("line", "from_node", "to_node"),
    (
        line_column(),
        _node("from_node", "From node"),
        _node("to_node", "To node"),
        Column("piece", "Piece", RoutePiece, needed=True),
        Column("outside_diameter", "Outside diameter", Kind.LENGTH),
        Column("wall", "Wall", Kind.LENGTH, ("wall thickness",)),
        Column("bend_radius", "Bend radius", Kind.LENGTH),
        Column("mass", "Mass", Kind.MASS),
        _length("centre_east", "Centre offset east"),
        _length("centre_north", "Centre offset north"),
        _length("centre_up", "Centre offset up"),
    ),
)

LINE_ENDS = Sheet(
    "Line ends",
    "line end",
    ("line", "node"),
    (
        line_column(),
        _node("node", "Node"),
        Column("end_kind", "Anchor or nozzle", EndKind, needed=True),
        Column("nozzle", "Nozzle"),
        Column("stiffness", "Stiffness", Kind.RATE),
        Column("rotational_stiffness", "Rotational stiffness", Kind.ROTATIONAL_STIFFNESS),
        _length("movement_east", "Movement east"),
        _length("movement_north", "Movement north"),
        _length("movement_up", "Movement up"),
    ),
)

ROUTE_SHEETS = (LINE_NODES, LINE_ELEMENTS, LINE_ENDS)
