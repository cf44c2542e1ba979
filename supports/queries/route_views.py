"""A line with its route in space, as a frozen view."""

from __future__ import annotations

from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from supports.errors import NotReady
from supports.findings import Place
from supports.model import (
    Area,
    Calculation,
    Line,
    LineElement,
    LineEnd,
    LineNode,
    RequiredLoad,
)
from supports.queries.change_views import nozzle_limits
from supports.queries.holding import ahead_of_the_line, holds
from supports.queries.lookups import area_of, line_of
from supports.queries.row_places import row_places
from supports.queries.support_views import points_on_lines, support_views
from supports.sentences import Sentence
from supports.snapshots import (
    LineView,
    RouteElementView,
    RouteEndView,
    RouteNodeView,
    RouteView,
)
from supports.tags import natural_key
from supports.vocabulary import EndKind, Known, RoutePiece


def route_view(session: Session, number: str) -> RouteView:
    """Return a line's route with everything that holds it.

    Raises
    ------
    NotReady
        The register has no route of this line.
    """
    line = line_of(session, number)
    nodes = _nodes(session, line.id)
    if not nodes:
        raise NotReady(
            Sentence("the register has no route of line {number}", number=number),
            remedy="Bring in its sheets 'Line nodes', 'Line elements' and 'Line ends'",
        )
    points = points_on_lines(session, [number])
    loads = calculations_on_record(session, number)
    return RouteView(
        line=line_view(session, line),
        material=line.material or "",
        insulation_thickness=line.insulation_thickness,
        insulation_density=line.insulation_density,
        cladding_mass_per_length=line.cladding_mass_per_length,
        content_density=line.content_density,
        insulation=line.insulation or "",
        nodes=nodes,
        elements=_elements(session, line.id),
        ends=_ends(session, line.id),
        supports=tuple(
            sorted(support_views(session, points, loads), key=lambda s: s.order_on(number))
        ),
        nozzles=tuple(nozzle_limits(session, [number])),
    )


def calculations_on_record(session: Session, number: str) -> dict[str, int]:
    """Return the newest calculation of a line that holds; none that is only planned."""
    query = (
        select(Calculation.id)
        .join(RequiredLoad, RequiredLoad.calculation_id == Calculation.id)
        .join(Line, RequiredLoad.line_id == Line.id)
        .where(Line.number == number, holds())
        .order_by(Calculation.issued_on.desc().nulls_last(), Calculation.id.desc())
    )
    known, ahead = list(session.scalars(query)), ahead_of_the_line(session)
    newest = next((one for one in known if one not in ahead), known[0] if known else None)
    return {} if newest is None else {number: newest}


def routed_lines(session: Session, area: str = "") -> tuple[str, ...]:
    """Return the numbers of all lines that have a route, of an area if one is named."""
    return _numbers(session, Line.id.in_(select(LineNode.line_id)), area)


def unrouted_lines(session: Session, area: str = "") -> tuple[str, ...]:
    """Return the numbers of all lines without a route, of an area if one is named."""
    return _numbers(session, Line.id.not_in(select(LineNode.line_id)), area)


def _numbers(session: Session, which: ColumnElement[bool], area: str) -> tuple[str, ...]:
    """Return numbers of lines in natural order.

    Raises
    ------
    NotFound
        The register has no such area.
    """
    query = select(Line.number).where(which)
    if area:
        query = query.where(Line.area_id == area_of(session, area).id)
    return tuple(sorted(session.scalars(query), key=natural_key))


def line_view(session: Session, line: Line) -> LineView:
    """Return a line as a view."""
    area = session.get(Area, line.area_id) if line.area_id is not None else None
    return LineView(
        id=line.id,
        number=line.number,
        area=area.code if area else "",
        service=line.service or "",
        nominal_size=line.nominal_size or "",
        outside_diameter=line.outside_diameter,
        wall=line.wall,
        pipe_mass_per_length=line.pipe_mass_per_length,
        insulation_mass_per_length=line.insulation_mass_per_length,
        content_mass_per_length=line.content_mass_per_length,
        operating_temperature=line.operating_temperature,
        creep_or_high_energy=Known(line.creep_or_high_energy or Known.UNKNOWN),
        criticality=line.criticality or "",
    )


def _nodes(session: Session, line_id: int) -> tuple[RouteNodeView, ...]:
    query = select(LineNode).where(LineNode.line_id == line_id).order_by(LineNode.id)
    rows = session.scalars(query).all()
    at = row_places(session, LineNode, [n.id for n in rows])
    return tuple(
        RouteNodeView(n.node, n.east, n.north, n.elevation, at.get(n.id, Place())) for n in rows
    )


def _elements(session: Session, line_id: int) -> tuple[RouteElementView, ...]:
    query = select(LineElement).where(LineElement.line_id == line_id).order_by(LineElement.id)
    rows = session.scalars(query).all()
    at = row_places(session, LineElement, [e.id for e in rows])
    return tuple(
        RouteElementView(
            from_node=e.from_node,
            to_node=e.to_node,
            piece=RoutePiece(e.piece),
            outside_diameter=e.outside_diameter,
            wall=e.wall,
            bend_radius=e.bend_radius,
            mass=e.mass,
            centre=(e.centre_east or 0.0, e.centre_north or 0.0, e.centre_up or 0.0),
            place=at.get(e.id, Place()),
        )
        for e in rows
    )


def _ends(session: Session, line_id: int) -> tuple[RouteEndView, ...]:
    query = select(LineEnd).where(LineEnd.line_id == line_id).order_by(LineEnd.id)
    rows = session.scalars(query).all()
    at = row_places(session, LineEnd, [e.id for e in rows])
    return tuple(
        RouteEndView(
            node=e.node,
            end_kind=EndKind(e.end_kind),
            nozzle=e.nozzle or "",
            stiffness=e.stiffness,
            rotational_stiffness=e.rotational_stiffness,
            movement=(e.movement_east or 0.0, e.movement_north or 0.0, e.movement_up or 0.0),
            place=at.get(e.id, Place()),
        )
        for e in rows
    )
