"""The worked line of two constants stored in a register, with a valve to be hung on it."""

from __future__ import annotations

from dataclasses import asdict, fields
from datetime import date
from typing import Any

from sqlalchemy.orm import Session

from supports.database import Register
from supports.model import (
    Assembly,
    Attachment,
    Calculation,
    DesignCase,
    HardwarePiece,
    Line,
    LineElement,
    LineEnd,
    LineNode,
    Nameplate,
    NozzleLimit,
    RequiredLoad,
    SettingEvent,
    SupportPoint,
    SupportTag,
    Unit,
    UnitPlacement,
)
from supports.operations.changes import Decision, add_weights
from supports.snapshots import NameplateView, RouteView, SupportView, UnitView
from supports.tags import matching_key
from tests.operations.days import START
from tests.operations.plant import enter_people
from tests.operations.road import Road
from tests.rules.planning_lines import NUMBER, valve, worked_line
from tests.stages import at_stage

ISSUED = date(2031, 5, 1)


def stored_line(register: Register, route: RouteView | None = None) -> RouteView:
    """Enter people and the worked line; return it as it was worked out."""
    route = route or worked_line(reach=0.95)
    with register.writing("KK", "", START, action="furnish") as writing:
        enter_people(writing)
        _store(writing.session, route)
    return route


def _store(session: Session, route: RouteView) -> None:
    named = ("number", "outside_diameter", "wall", "pipe_mass_per_length",
             "insulation_mass_per_length", "content_mass_per_length",
             "operating_temperature")  # fmt: skip
    line = Line(material=route.material, **{name: getattr(route.line, name) for name in named})
    case = _kept(session, line, DesignCase, name="operating", kind="operating")
    for node in route.nodes:
        session.add(LineNode(line_id=line.id, node=node.node, east=node.east, north=0.0,
                             elevation=0.0))  # fmt: skip
    for piece in route.elements:
        session.add(LineElement(line_id=line.id, from_node=piece.from_node,
                                to_node=piece.to_node, piece=piece.piece))  # fmt: skip
    for end in route.ends:
        session.add(LineEnd(line_id=line.id, node=end.node, end_kind=end.end_kind,
                            nozzle=end.nozzle))  # fmt: skip
    _nozzles(session, route, line)
    calculation = Calculation(number="C-1", revision="B", method="full analysis",
                              status="issued", issued_on=ISSUED)  # fmt: skip
    session.add(calculation)
    session.flush()
    for support in route.supports:
        _support(session, support, (line.id, case, calculation.id))


def _kept(session: Session, line: Line, table: Any, **values: Any) -> int:
    session.add(line)
    session.flush()
    row = table(line_id=line.id, **values)
    session.add(row)
    session.flush()
    return int(row.id)


def _nozzles(session: Session, route: RouteView, line: Line) -> None:
    for limit in route.nozzles:
        forces = dict(zip(("force_x", "force_y", "force_z"), limit.forces, strict=True))
        moments = dict(zip(("moment_x", "moment_y", "moment_z"), limit.moments, strict=True))
        session.add(
            NozzleLimit(
                line_id=line.id,
                nozzle=limit.nozzle,
                equipment=limit.equipment,
                machine=limit.machine,
                node=limit.node,
                source=limit.source,
                **forces,
                **moments,
            )
        )


def _support(session: Session, view: SupportView, keys: tuple[int, int, int]) -> None:
    line, case, calculation = keys
    point = SupportPoint(kind=view.kind, in_service="in place",
                         height_above_floor=view.height_above_floor)  # fmt: skip
    session.add(point)
    session.flush()
    place = view.attachments[0]
    assembly = Assembly(point_id=point.id, arrangement=view.arrangement, rod_length=3.0,
                        arm_a=view.arm_a, arm_b=view.arm_b, beam_mass=view.beam_mass)  # fmt: skip
    session.add_all([
        SupportTag(point_id=point.id, tag=view.tag, matching_key=matching_key(view.tag)),
        Attachment(point_id=point.id, line_id=line, order_along=place.order_along,
                   distance_along=place.distance_along, node=place.node, share=1.0),
        assembly,
    ])  # fmt: skip
    session.flush()
    for unit in view.units:
        _unit(session, unit, assembly.id)
    for piece in view.hardware:
        session.add(HardwarePiece(
            assembly_id=assembly.id, branch=piece.branch, position=piece.position, kind=piece.kind,
            size=piece.size, rated_load=piece.rated_load, mass=piece.mass,
            adjustment_left=piece.adjustment_left,
        ))  # fmt: skip
    for wanted in view.required:
        session.add(RequiredLoad(calculation_id=calculation, point_id=point.id, line_id=line,
                                 case_id=case, load=wanted.load, includes_hardware="yes",
                                 movement_up=0.0))  # fmt: skip


def _unit(session: Session, view: UnitView, assembly: int) -> None:
    unit = Unit(kind=view.kind, serial=view.serial)
    session.add(unit)
    session.flush()
    session.add(UnitPlacement(unit_id=unit.id, assembly_id=assembly, position=view.position))
    columns = {column.name for column in Nameplate.__table__.columns}
    plate = view.nameplate or NameplateView()
    known = {
        field.name: getattr(plate, field.name)
        for field in fields(plate)
        if field.name in columns and getattr(plate, field.name) not in {None, "", ()}
    }
    session.add(Nameplate(unit_id=unit.id, source="plate", **known))
    assert view.setting is not None
    session.add(SettingEvent(unit_id=unit.id, **asdict(view.setting)))


def assessed(register: Register, route: RouteView | None = None) -> Road:
    """Take a valve of 6.0 kN at 7 m to its assessment."""

    def walked() -> None:
        stored_line(register, route)
        road = Road(register)
        road.note()
        road.sift()
        road.describe()
        add_weights(register, road.number, [valve(line=NUMBER)], acting="S1", now=road.now)
        road.assess()

    at_stage(register, ("valve assessed", repr(route)), walked)
    return Road(register)


def approved(register: Register, route: RouteView | None = None) -> Road:
    """Take it through checker and approver."""

    def walked() -> None:
        road = assessed(register, route)
        road.say(Decision.CHECK, by="S2")
        road.say(Decision.APPROVE, by="RE")

    at_stage(register, ("valve approved", repr(route)), walked)
    return Road(register)
