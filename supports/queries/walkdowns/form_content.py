"""What a form is issued with: expected readings, history, open findings, and the way to walk."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import Campaign, FieldFinding, Line, NozzleLimit
from supports.queries.change_views import loads_apply_from
from supports.queries.support_views import support_views
from supports.queries.unit_history import readings_of
from supports.queries.walkdowns.lookups import findings_of, walk_limits_in_force
from supports.queries.walkdowns.photos import Place, last_photos
from supports.queries.walkdowns.rows import WalkedRow, walked_rows
from supports.rules.walkdown.expectation import Expected, expected, predicted_movement
from supports.rules.walkdown.flow import FindingState
from supports.rules.walkdown.form import FormContent, FormLine, FormRow, LastPhoto, OpenFinding
from supports.rules.walkdown.limits import WalkLimits
from supports.rules.walkdown.route import legs
from supports.rules.walkdown.words import Half
from supports.snapshots import NameplateView, PieceView, ReadingView, SupportView, UnitView
from supports.tags import natural_key
from supports.vocabulary import PlantState

LAST = 4
"""Readings printed on a card."""


@dataclass(frozen=True, slots=True)
class _Known:
    """All that is read once for a form."""

    views: Mapping[int, SupportView]
    temperatures: Mapping[str, float | None]
    readings: Mapping[int, list[ReadingView]]
    findings: Mapping[int, list[FieldFinding]]
    photos: Mapping[Place, tuple[LastPhoto, ...]]
    limits: WalkLimits
    state: PlantState


def form_content(session: Session, campaign: Campaign, revision: int, today: date) -> FormContent:
    """Return what a new issue of the form says."""
    rows = walked_rows(session, campaign)
    known = _known(session, campaign, {row.item.point_id for row in rows}, today)
    made = tuple(_row(row, known) for row in rows)
    tags = {view.id: view.tag for view in known.views.values()}
    ordered = [known.views[row.item.point_id] for row in rows]
    return FormContent(
        campaign=campaign.number,
        title=campaign.title,
        reason=campaign.reason or "",
        half=Half(campaign.half),
        state_wanted=PlantState(campaign.state_wanted),
        revision=revision,
        walk_on=campaign.walk_on,
        rows=made,
        lines=_lines(session, {row.line for row in made}),
        legs=legs(list(dict.fromkeys(ordered)), known.limits),
        previous=_previous(session, campaign),
        pair=_number(session, campaign.pair_id),
        open_findings=tuple(
            _open(one, tags[point]) for point, held in known.findings.items() for one in held
        ),
    )


def supports_of(session: Session, points: Collection[int]) -> dict[int, SupportView]:
    """Return supports by id, with the loads and movements of the calculations in force."""
    loads = loads_apply_from(session, points, None)
    return {view.id: view for view in support_views(session, points, loads)}


def operating_temperatures(session: Session) -> dict[str, float | None]:
    """Return the operating temperature of each line [K]."""
    rows = session.execute(select(Line.number, Line.operating_temperature))
    return {row.number: row.operating_temperature for row in rows}


def _known(session: Session, campaign: Campaign, points: set[int], today: date) -> _Known:
    views = supports_of(session, points)
    units = [unit.id for view in views.values() for unit in view.units]
    open_ones: dict[int, list[FieldFinding]] = {}
    for one in findings_of(session):
        if one.point_id in points and not FindingState(one.state).is_at_an_end:
            open_ones.setdefault(one.point_id, []).append(one)
    return _Known(
        views=views,
        temperatures=operating_temperatures(session),
        readings=readings_of(session, units),
        findings=open_ones,
        photos=last_photos(session, campaign.id),
        limits=walk_limits_in_force(session, today),
        state=PlantState(campaign.state_wanted),
    )


def _row(row: WalkedRow, known: _Known) -> FormRow:
    view = known.views[row.item.point_id]
    unit = next((one for one in view.units if one.id == row.item.unit_id), None)
    place = view.attachments[0] if view.attachments else None
    held = known.readings.get(unit.id, []) if unit else []
    return FormRow(
        item_id=row.item.id,
        order=row.item.order_no,
        tag=printed_tag(view, unit),
        public_id=view.public_id,
        unit_id=row.item.unit_id,
        kind=unit.kind if unit else view.kind,
        line=place.line if place else "",
        order_on_line=place.order_along if place else None,
        distance=place.distance_along if place else None,
        serial=unit.serial if unit else "",
        area=view.area,
        floor=view.floor,
        grid=view.grid,
        height=view.height_above_floor,
        criticality=view.criticality,
        plate=(unit.nameplate if unit else None) or NameplateView(),
        setting=unit.setting.load if unit and unit.setting else None,
        set_on=unit.setting.happened_on if unit and unit.setting else None,
        expected=_expected(view, unit, known),
        movement=predicted_movement(view, unit),
        stops_in=unit.stops_in if unit else (),
        last=tuple(reversed(held[-LAST:])),
        changed=_changed(unit, held),
        findings=tuple(one.number for one in known.findings.get(view.id, ())),
        stack=tuple(_piece(one) for one in view.hardware if not unit or _on(one, unit)),
        photos=known.photos.get((view.id, row.item.unit_id), ()),
        base=dict(row.settled.values),
    )


def printed_tag(view: SupportView, unit: UnitView | None) -> str:
    """Return the tag, with the position where a support has more than one unit."""
    return view.tag if unit is None or len(view.units) == 1 else f"{view.tag}/{unit.position}"


def _expected(view: SupportView, unit: UnitView | None, known: _Known) -> Expected | None:
    return expected(view, unit, known.state, known.limits) if unit else None


def _changed(unit: UnitView | None, held: list[ReadingView]) -> str:
    if unit is None or unit.setting is None:
        return ""
    walked = [one.read_on for one in held if one.occasion not in {"as found", "as left"}]
    after = walked and unit.setting.happened_on > max(walked)
    return f"re-set on {unit.setting.happened_on}" if after else ""


def _on(piece: PieceView, unit: UnitView) -> bool:
    return piece.branch in {"all", unit.position}


def _piece(piece: PieceView) -> str:
    return f"{piece.kind} {piece.size}".strip()


def _open(one: FieldFinding, tag: str) -> OpenFinding:
    return OpenFinding(
        number=one.number,
        tag=tag,
        what=one.what,
        how_soon=one.how_soon,
        state=one.state,
        owner=one.owner or "",
        due_on=one.due_on,
    )


def _lines(session: Session, numbers: set[str]) -> tuple[FormLine, ...]:
    made = []
    for line in session.scalars(select(Line).where(Line.number.in_(numbers))):
        nozzles = session.scalars(
            select(NozzleLimit.nozzle).where(NozzleLimit.line_id == line.id).distinct()
        )
        made.append(
            FormLine(
                number=line.number,
                service=line.service or "",
                nominal_size=line.nominal_size or "",
                operating_temperature=line.operating_temperature,
                nozzles=tuple(sorted(nozzles)),
            )
        )
    return tuple(sorted(made, key=lambda one: natural_key(one.number)))


def _previous(session: Session, campaign: Campaign) -> str:
    query = (
        select(Campaign.number)
        .where(Campaign.half == campaign.half, Campaign.id < campaign.id)
        .order_by(Campaign.id.desc())
        .limit(1)
    )
    return session.scalar(query) or ""


def _number(session: Session, campaign: int | None) -> str:
    return session.get_one(Campaign, campaign).number if campaign is not None else ""
