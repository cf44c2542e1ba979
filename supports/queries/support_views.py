"""Supports with all that hangs there, as frozen views; read in whole sets, never one by one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Hashable, Iterable, Mapping
from dataclasses import fields
from types import MappingProxyType
from typing import Any, TypeVar

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import (
    Area,
    Assembly,
    Attachment,
    DesignCase,
    HardwarePiece,
    Line,
    Nameplate,
    RequiredLoad,
    SupportPoint,
    SupportTag,
    Unit,
    UnitPlacement,
)
from supports.queries.intake import waiting_at
from supports.queries.narrowing import only
from supports.queries.unit_history import last_readings, present_settings, stops_in
from supports.snapshots import (
    AttachmentView,
    NameplateView,
    PieceView,
    RequiredView,
    SupportView,
    UnitView,
)
from supports.tags import natural_key
from supports.vocabulary import Arrangement, CaseKind, InService, Known, SupportKind

Points = Collection[int] | None
"""Ids of support points; None means the whole plant."""

NO_LOADS: Mapping[str, int] = MappingProxyType({})
"""No required loads are wanted."""

_K = TypeVar("_K", bound=Hashable)
_T = TypeVar("_T")


def support_views(
    session: Session, points: Points = None, calculations: Mapping[str, int] = NO_LOADS
) -> list[SupportView]:
    """Return supports in natural order of their tags.

    Parameters
    ----------
    points
        Ids of the support points wanted; all if None.
    calculations
        By line number, the id of the calculation whose required loads are wanted.
    """
    parts = _Parts(session, points, calculations)
    query = (
        select(SupportPoint, SupportTag.tag, Area.code, Assembly)
        .join(SupportTag, _present_tag())
        .join(Assembly, Assembly.point_id == SupportPoint.id)
        .outerjoin(Area, SupportPoint.area_id == Area.id)
    )
    views = [parts.view(*row) for row in session.execute(only(query, SupportPoint.id, points))]
    return sorted(views, key=lambda view: natural_key(view.tag))


def points_on_lines(session: Session, lines: Collection[str]) -> list[int]:
    """Return the ids of the support points that hold any of the lines."""
    query = (
        select(Attachment.point_id)
        .join(Line, Attachment.line_id == Line.id)
        .where(Line.number.in_(lines))
        .distinct()
    )
    return sorted(session.scalars(query))


def _present_tag() -> Any:
    return (SupportTag.point_id == SupportPoint.id) & SupportTag.valid_to.is_(None)


def _grouped(
    items: Iterable[tuple[_K, _T]], order: Callable[[_T], Any] | None = None
) -> dict[_K, tuple[_T, ...]]:
    groups: dict[_K, list[_T]] = defaultdict(list)
    for key, item in items:
        groups[key].append(item)
    return {key: tuple(sorted(g, key=order) if order else g) for key, g in groups.items()}


class _Parts:
    """Everything that hangs at the points wanted, each kind read once."""

    def __init__(self, session: Session, points: Points, calculations: Mapping[str, int]) -> None:
        self.former = _grouped(_former_tags(session, points))
        self.attachments = _grouped(_attachments(session, points))
        self.units = _grouped(_units(session, points), order=lambda unit: unit.position)
        self.hardware = _grouped(
            _hardware(session, points), order=lambda piece: (piece.branch, piece.position)
        )
        self.waiting = waiting_at(session, points)
        self.required = _grouped(_required(session, points, calculations) if calculations else ())

    def view(
        self, point: SupportPoint, tag: str, area: str | None, assembly: Assembly
    ) -> SupportView:
        """Put one support together."""
        return SupportView(
            id=point.id,
            tag=tag,
            kind=SupportKind(point.kind),
            former_tags=self.former.get(point.id, ()),
            area=area or "",
            in_service=InService(point.in_service),
            criticality=point.criticality or "",
            floor=point.floor or "",
            grid=point.grid or "",
            elevation=point.elevation,
            height_above_floor=point.height_above_floor,
            scaffold_group=point.scaffold_group or "",
            arrangement=Arrangement(assembly.arrangement),
            arm_a=assembly.arm_a,
            arm_b=assembly.arm_b,
            beam_mass=assembly.beam_mass,
            rod_length=assembly.rod_length,
            rod_offset=assembly.rod_offset,
            attachments=self.attachments.get(point.id, ()),
            units=self.units.get(point.id, ()),
            hardware=self.hardware.get(point.id, ()),
            required=self.required.get(point.id, ()),
            waiting=self.waiting.get(point.id, ()),
        )


def _former_tags(session: Session, points: Points) -> Iterable[tuple[int, str]]:
    query = select(SupportTag.point_id, SupportTag.tag).where(SupportTag.valid_to.is_not(None))
    rows = session.execute(only(query.order_by(SupportTag.id), SupportTag.point_id, points))
    return ((row.point_id, row.tag) for row in rows)


def _attachments(session: Session, points: Points) -> Iterable[tuple[int, AttachmentView]]:
    query = select(Attachment, Line.number).join(Line, Attachment.line_id == Line.id)
    rows = session.execute(only(query.order_by(Attachment.id), Attachment.point_id, points))
    for place, number in rows:
        yield (
            place.point_id,
            AttachmentView(
                line=number,
                order_along=place.order_along,
                distance_along=place.distance_along,
                node=place.node or "",
                arm=place.arm,
                share=place.share,
            ),
        )


def _units(session: Session, points: Points) -> Iterable[tuple[int, UnitView]]:
    query = (
        select(Assembly.point_id, UnitPlacement, Unit, Nameplate)
        .select_from(UnitPlacement)
        .where(UnitPlacement.until.is_(None))
        .join(Unit, UnitPlacement.unit_id == Unit.id)
        .join(Assembly, UnitPlacement.assembly_id == Assembly.id)
        .outerjoin(Nameplate, Nameplate.unit_id == Unit.id)
    )
    rows = session.execute(only(query, Assembly.point_id, points)).all()
    wanted = None if points is None else [unit.id for _, _, unit, _ in rows]
    settings, readings = present_settings(session, wanted), last_readings(session, wanted)
    stops = stops_in(session, wanted)
    for point, placed, unit, plate in rows:
        yield (
            point,
            UnitView(
                id=unit.id,
                position=placed.position,
                kind=SupportKind(unit.kind),
                serial=unit.serial or "",
                nameplate=nameplate_view(plate) if plate else None,
                setting=settings.get(unit.id),
                last_reading=readings.get(unit.id),
                stops_in=stops.get(unit.id, ()),
                in_place_since=placed.since.year if placed.since else unit.year_built,
            ),
        )


_KNOWN = {"setting_changes_travel", "may_turn_locked"}


def nameplate_view(plate: Nameplate) -> NameplateView:
    """Return what stands on a plate; text not there is '', answers not there are unknown."""
    values: dict[str, Any] = {}
    for item in fields(NameplateView):
        stored = getattr(plate, item.name)
        if item.name in _KNOWN:
            values[item.name] = Known(stored or Known.UNKNOWN)
        elif stored is not None:
            values[item.name] = stored
    values["provisional"] = plate.provisional == Known.YES
    table = plate.load_per_turn_table or []
    values["load_per_turn_table"] = tuple((low, high, per) for low, high, per in table)
    return NameplateView(**values)


def _hardware(session: Session, points: Points) -> Iterable[tuple[int, PieceView]]:
    query = select(Assembly.point_id, HardwarePiece).join(
        Assembly, HardwarePiece.assembly_id == Assembly.id
    )
    for point, piece in session.execute(only(query, Assembly.point_id, points)):
        yield (
            point,
            PieceView(
                branch=piece.branch,
                position=piece.position,
                kind=piece.kind,
                size=piece.size or "",
                rated_load=piece.rated_load,
                rating_source=piece.rating_source or "",
                mass=piece.mass,
                derating=piece.derating,
                length=piece.length,
                adjustment_left=piece.adjustment_left,
            ),
        )


def _required(
    session: Session, points: Points, calculations: Mapping[str, int]
) -> Iterable[tuple[int, RequiredView]]:
    query = (
        select(RequiredLoad, Line.number, DesignCase.name, DesignCase.kind)
        .join(Line, RequiredLoad.line_id == Line.id)
        .join(DesignCase, RequiredLoad.case_id == DesignCase.id)
        .where(RequiredLoad.calculation_id.in_(set(calculations.values())))
        .order_by(RequiredLoad.id)
    )
    for load, line, case, kind in session.execute(only(query, RequiredLoad.point_id, points)):
        if calculations.get(line) != load.calculation_id:
            continue
        yield (
            load.point_id,
            RequiredView(
                line=line,
                case=case,
                case_kind=CaseKind(kind),
                load=load.load,
                includes_hardware=Known(load.includes_hardware or Known.UNKNOWN),
                movement_up=load.movement_up,
                movement_east=load.movement_east,
                movement_north=load.movement_north,
            ),
        )
