"""Small routes of the register, as views, for the tests of the bridge to the line calculation."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from typing import Any

from supports.findings import Place
from supports.snapshots import (
    AttachmentView,
    LineView,
    NameplateView,
    NozzleLimitView,
    PieceView,
    RouteElementView,
    RouteEndView,
    RouteNodeView,
    RouteView,
    SettingView,
    SupportView,
    UnitView,
    WeightItemView,
)
from supports.vocabulary import EndKind, Known, PlantState, RoutePiece, SupportKind

G = 9.80665
NUMBER = "L-1"
MASS = 100.0
"""Pipe with its content [kg/m]."""
CONSTANT, VARIABLE = SupportKind.CONSTANT_HANGER, SupportKind.VARIABLE_HANGER


def line(**changed: Any) -> LineView:
    """Return a line of 12 inch pipe, fitted and run at one temperature, 80 + 20 kg/m."""
    facts: dict[str, Any] = {
        "outside_diameter": 0.3239, "wall": 0.00953, "pipe_mass_per_length": 80.0,
        "content_mass_per_length": 20.0, "operating_temperature": 293.15,
        "creep_or_high_energy": Known.NO,
    }  # fmt: skip
    return LineView(1, NUMBER, **{**facts, **changed})


def straight_route(*at: float, supports: tuple[SupportView, ...] = (), **changed: Any) -> RouteView:
    """Return a straight level line along east, a node at each place, a nozzle at the first."""
    nodes = tuple(
        RouteNodeView(name(x), x, 0.0, 5.0, Place("routes.xlsx", "Line nodes", f"row {n}"))
        for n, x in enumerate(at, start=2)
    )
    elements = tuple(
        RouteElementView(
            name(a), name(b), RoutePiece.PIPE,
            place=Place("routes.xlsx", "Line elements", f"row {n}"),
        )
        for n, (a, b) in enumerate(pairwise(at), start=2)
    )  # fmt: skip
    facts: dict[str, Any] = {
        "line": line(), "material": "carbon steel", "insulation": "none",
        "insulation_thickness": None, "insulation_density": None,
        "cladding_mass_per_length": None, "content_density": None, "nodes": nodes,
        "elements": elements, "ends": (RouteEndView(name(at[0]), EndKind.NOZZLE, "N1"),),
        "supports": supports,
    }  # fmt: skip
    return RouteView(**{**facts, **changed})


def name(x: float) -> str:
    """Return the name of the node at a place."""
    return f"{x:g}"


def point(tag: str, kind: SupportKind, at: float, *units: UnitView, **changed: Any) -> SupportView:
    """Return a support at the node of a place."""
    places = (AttachmentView(NUMBER, node=name(at), distance_along=at),)
    return SupportView(1, tag, kind, **{"attachments": places, "units": units, **changed})


def unit(
    kind: SupportKind, load: float | None, position: str = "A", *,
    state: PlantState = PlantState.OPERATING_STEADY, **plate: Any,
) -> UnitView:  # fmt: skip
    """Return a unit with its setting [N]; None is not known."""
    setting = None if load is None else SettingView(load, date(2030, 5, 4), "scale", "N. N.", state)
    return UnitView(1, position, kind, "S-1", NameplateView(scale_unit="kN", **plate), setting)


def constant(tag: str, at: float, load: float | None, **changed: Any) -> SupportView:
    """Return one constant hanger with its setting [N]."""
    return point(tag, CONSTANT, at, unit(CONSTANT, load), **changed)


def hung(mass: float | None, position: int = 3, branch: str = "A") -> PieceView:
    """Return a piece of the stack."""
    return PieceView(branch, position, "clamp", mass=mass)


def limits(node: str = "0", **changed: Any) -> NozzleLimitView:
    """Return nozzle limits of 10 kN and 20 kN·m each way."""
    facts: dict[str, Any] = {"forces": (1e4,) * 3, "moments": (2e4,) * 3, "source": "data sheet"}
    return NozzleLimitView(NUMBER, "N1", "P-1", Known.NO, node=node, **{**facts, **changed})


def weight(mass: float, along: float | None, **changed: Any) -> WeightItemView:
    """Return something put on."""
    return WeightItemView(NUMBER, "valve", mass, along, **changed)
