"""The register as the rules read it: one frame a subject, for some supports or the whole plant."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import numpy as np
from sqlalchemy import select
from sqlalchemy.orm import Session

from supports.model import (
    Attachment,
    CampaignItem,
    Document,
    PointDocument,
    SupportTag,
    TravelStopEvent,
    Unit,
    UnitPlacement,
    WalkPhoto,
)
from supports.queries.former_units import former_units
from supports.queries.line_runs import newest_runs
from supports.queries.line_standings import standings
from supports.queries.narrowing import only
from supports.queries.neighbours import changed_loads
from supports.queries.plant_days import day_at
from supports.queries.rule_events import (
    change_frame,
    changes_on_lines,
    civil_signed,
    finding_frame,
    form_frame,
    nozzle_frame,
    record_frame,
)
from supports.queries.rule_facts import Places, Points, columns, doubles, register_facts
from supports.queries.rule_lines import line_frame
from supports.queries.rule_values import value_frame
from supports.queries.rule_waiting import waiting_columns, waiting_of_lines, waiting_of_pieces
from supports.rules.along_lines import (
    half_spans,
    in_newest,
    line_loads,
    nearest_change,
    newest_state,
    run_of,
)
from supports.rules.facts import KINDS, STATES, Facts
from supports.rules.frame import Frame, Subject, day_number, numbers, texts
from supports.rules.grouping import at, count_by, largest_by
from supports.rules.piece_frame import piece_frame
from supports.rules.site_settings import SiteSettings
from supports.rules.unit_frame import unit_frame
from supports.rules.unit_loads import Carriers
from supports.vocabulary import Arrangement, InService, PlantState

Columns = dict[str, Any]
"""Columns by name, numbers and words."""

RUNNING = {PlantState.OPERATING_STEADY, PlantState.OPERATING_PART_LOAD}
RESTING = {PlantState.SHUT_DOWN_DRAINED, PlantState.SHUT_DOWN_FULL, PlantState.BARE}
_RUNS = numbers(1.0 if state in RUNNING else 0.0 if state in RESTING else None for state in STATES)
_UNSAID = STATES.index(PlantState.UNKNOWN)
_DRAINED = numbers(
    None if place == _UNSAID else float(state in {PlantState.SHUT_DOWN_DRAINED, PlantState.BARE})
    for place, state in enumerate(STATES)
)
_BARE = numbers(float(state is PlantState.BARE) for state in STATES)
_TEST = float(STATES.index(PlantState.UNDER_TEST))
_SPRING = numbers(float(kind.is_spring) for kind in KINDS)
_CARRIES = numbers(float(not kind.carries_no_weight) for kind in KINDS)


@dataclass(frozen=True, slots=True)
class PlantFrames:
    """Frames by subject, with the facts they were made of."""

    frames: Mapping[Subject, Frame]
    facts: Facts
    carriers: Carriers


def plant_frames(
    session: Session, today: date, settings: SiteSettings, points: Points = None
) -> PlantFrames:
    """Return the frames of the whole plant, or those of some support points alone.

    Parameters
    ----------
    points
        Ids of support points; for those only units, pieces and points themselves are given. Their
        lines are read whole, so that neighbours count, and then left out.
    """
    whole = points is None
    wider = None if points is None else _on_the_same_lines(session, points)
    facts = _with_lines(session, register_facts(session, today, wider))
    units, _, carriers, stacks = unit_frame(facts, settings)
    units = units.with_columns(_unit_columns(session, facts, carriers, units, whole=whole))
    pieces = piece_frame(facts, units, carriers, stacks)
    held_up = waiting_of_pieces(session, facts, units, stacks.carrier, pieces)
    frames = {
        Subject.UNIT: units,
        Subject.PIECE: pieces.with_columns(held_up),
        Subject.SUPPORT: _support_frame(session, facts, whole=whole),
    }
    if points is not None:
        return PlantFrames(_narrowed(frames, facts, carriers, points), facts, carriers)
    kept = standings(session)
    frames |= {
        Subject.LINE: line_frame(session, facts, kept).with_columns(
            waiting_of_lines(session, facts)
        ),
        Subject.NOZZLE: nozzle_frame(session, facts.today, kept),
        Subject.CHANGE: change_frame(session, facts.today),
        Subject.FINDING: finding_frame(session, facts.today),
        Subject.FORM: form_frame(session, facts.today),
        Subject.VALUE: value_frame(session, facts.today),
        Subject.RECORD: record_frame(session, facts.today),
    }
    return PlantFrames(frames, facts, carriers)


def _on_the_same_lines(session: Session, points: Collection[int]) -> list[int]:
    lines = only(select(Attachment.line_id), Attachment.point_id, points)
    along = session.scalars(select(Attachment.point_id).where(Attachment.line_id.in_(lines)))
    return sorted({*points, *along})


def _narrowed(
    frames: Mapping[Subject, Frame], facts: Facts, carriers: Carriers, points: Collection[int]
) -> dict[Subject, Frame]:
    wanted = np.isin(facts.points["id"], list(points))
    rows = {
        Subject.UNIT: wanted[carriers.point],
        Subject.PIECE: wanted[facts.pieces["point"]],
        Subject.SUPPORT: wanted,
    }
    return {subject: one.take(np.flatnonzero(rows[subject])) for subject, one in frames.items()}


def _with_lines(session: Session, facts: Facts) -> Facts:
    """Add to the lines what changes, signatures and readings say of them."""
    ids = facts.lines["id"].tolist()
    on_lines, signed = changes_on_lines(session), civil_signed(session)
    day, state = newest_state(facts)
    known = np.where(np.isnan(state), 0, state).astype(np.int64)
    return replace(
        facts,
        lines={
            **facts.lines,
            **_running_since(session, ids, day, np.where(np.isnan(state), np.nan, _RUNS[known])),
            "fill_asked": (state == _TEST).astype(float),
            "weight_missing": _weight_missing(facts, known, state),
            "civil_signed": numbers(float(line in signed) for line in ids),
            "weight_change_day": numbers(on_lines["weight"].get(line) for line in ids),
            "open_changes": numbers(on_lines["open"].get(line, 0.0) for line in ids),
            "heat_up_asked": numbers(float(on_lines["proved"].get(line, 0.0) > 0) for line in ids),
        },
    )


def _weight_missing(facts: Facts, state: Any, read: Any) -> Any:
    """Return the share of each line's weight that is off it in the state last read [1].

    Not known where the state or a mass is not; drained lines lack their contents, bare ones their
    insulation too. Parts that are cut out or lifted are not on record.
    """
    lines = facts.lines
    whole = lines["mass_per_length"]
    off = _DRAINED[state] * lines["content_mass"] + _BARE[state] * lines["insulation_mass"]
    return np.where(np.isnan(read), np.nan, off / whole)


def _running_since(session: Session, lines: list[int], day: Any, runs: Any) -> Columns:
    """Return the day from which it is known whether a line runs: of a reading, a start or a stop.

    Of the same day the start or the stop on record counts.
    """
    recorded = newest_runs(session)
    events = [recorded.get(line) for line in lines]
    on = numbers(day_number(event[0]) if event else None for event in events)
    later = (on >= day) | (np.isnan(day) & ~np.isnan(on))
    return {
        "newest_day": np.where(later, on, day),
        "runs": np.where(later, numbers(float(e[1]) if e else None for e in events), runs),
    }


def _unit_columns(
    session: Session, facts: Facts, carriers: Carriers, units: Frame, *, whole: bool
) -> Columns:
    own = facts.units
    wanted = own["id"].tolist()
    by_unit = {
        "bearers_of_serial": _bearers(session, facts, whole=whole),
        "other_places": _other_places(session, facts, None if whole else wanted),
        "built_day": own["built_day"],
    }
    replaced = former_units(session, facts, whole=whole)
    found: Columns = {name: at(values, carriers.unit) for name, values in by_unit.items()}
    found |= {name: at(values, carriers.unit) for name, values in replaced.items()}
    found["stop_removal_asked"] = (
        (units["stops_in"] > 0.0) & (units["heat_up_asked"] == 1.0)
    ).astype(float)
    found["line_running"] = _running(facts, carriers, _stop_days(session, wanted))
    found |= waiting_columns(session, facts, carriers)
    return found | _expected(facts, carriers, units)


def _bearers(session: Session, facts: Facts, *, whole: bool) -> Any:
    """Return by unit how many units in place bear its serial; another series is another serial."""
    query = (
        select(Unit.serial, Unit.series)
        .join(UnitPlacement, UnitPlacement.unit_id == Unit.id)
        .where(UnitPlacement.until.is_(None), Unit.serial.is_not(None))
    )
    serials = None if whole else {serial for serial in facts.units["serial"] if serial}
    everywhere = columns(session, only(query, Unit.serial, serials))
    pairs = [*zip(everywhere["serial"], (s or "" for s in everywhere["series"]), strict=True)]
    count: dict[str, dict[str, int]] = {}
    for serial, series in pairs:
        of_serial = count.setdefault(serial, {})
        of_serial[series] = of_serial.get(series, 0) + 1
    return numbers(
        float(_same(count.get(serial, {}), series)) if serial else None
        for serial, series in zip(facts.units["serial"], facts.units["series"], strict=True)
    )


def _same(series_counts: Mapping[str, int], series: str) -> int:
    """Count the bearers of a serial that may be the same unit: no series known may be any."""
    if not series:
        return sum(series_counts.values())
    return series_counts.get(series, 0) + series_counts.get("", 0)


def _other_places(session: Session, facts: Facts, wanted: Points) -> Any:
    query = select(UnitPlacement.unit_id, UnitPlacement.assembly_id).distinct()
    found = columns(session, only(query, UnitPlacement.unit_id, wanted))
    rows = Places(facts.units["id"]).of(found["unit_id"])
    kept = rows >= 0
    elsewhere = numbers(found["assembly_id"])[kept] != facts.units["assembly"][rows[kept]]
    return count_by(rows[kept][elsewhere], len(facts.units["id"]))


def _stop_days(session: Session, units: Collection[int]) -> dict[int, float]:
    """Return by unit the day of the newest travel stop put in."""
    query = select(TravelStopEvent.unit_id, TravelStopEvent.happened_at).where(
        TravelStopEvent.direction == "in"
    )
    known = set(units)
    rows = session.execute(query.order_by(TravelStopEvent.happened_at))
    return {unit: day_number(day_at(session, moment)) for unit, moment in rows if unit in known}


def _running(facts: Facts, carriers: Carriers, stop_days: Mapping[int, float]) -> Any:
    """Return whether the line was running when last read, if that was since the stop went in."""
    attachments, size = facts.attachments, len(facts.points["id"])
    line, point = attachments["line"], attachments["point"]
    day = largest_by(point, facts.lines["newest_day"][line], size)[carriers.point]
    runs = largest_by(point, facts.lines["runs"][line], size)[carriers.point]
    since = at(numbers(stop_days.get(unit) for unit in facts.units["id"].tolist()), carriers.unit)
    return np.where(day >= since, runs, np.nan)


def _expected(facts: Facts, carriers: Carriers, units: Frame) -> Columns:
    """Return the load of half the spans beside a support that holds one line with one unit [N]."""
    spans = half_spans(facts, run_of(facts))
    single = count_by(facts.attachments["point"], len(spans)) == 1.0
    alone = single[carriers.point] & (
        facts.points["arrangement"][carriers.point] == Arrangement.SINGLE
    )
    expected = np.where(alone, spans[carriers.point], np.nan)
    known = ~np.isnan(expected) & (expected > 0.0)
    return {
        "expected_load": np.where(known, expected, np.nan),
        "halfway_known": known.astype(float),
        "load_found": units["required"],
        "load_found?": units.text("required?"),
    }


def _support_frame(session: Session, facts: Facts, *, whole: bool) -> Frame:
    points, size = facts.points, len(facts.points["id"])
    held = count_by(facts.attachments["point"], size)
    former = _tag_changes(session, points["id"].tolist() if not whole else None)
    ids = points["id"].tolist()
    changed = numbers(former.get(point) for point in ids)
    return Frame(
        Subject.SUPPORT,
        points["id"],
        points["tag"],
        {
            "criticality": points["criticality"],
            "area": points["area"],
            "tag": points["tag"],
            "line": _first_line(facts),
            "in_place": (points["in_service"] == InService.IN_PLACE).astype(float),
            "is_spring_point": _SPRING[points["kind"]],
            "carries": _CARRIES[points["kind"]],
            "lines": held,
            "bearers_of_tag": _tag_bearers(session, facts, whole=whole),
            "has_former_tag": numbers(float(point in former) for point in ids),
            "tag_changed_on": changed,
            "photos": _photos(session, facts, None if whole else ids),
            **_neighbours(session, facts, whole=whole),
        },
        facts.today,
    )


def _first_line(facts: Facts) -> Any:
    attachments = facts.attachments
    said = texts([""] * len(facts.points["id"]))
    said[attachments["point"][::-1]] = facts.lines["number"][attachments["line"][::-1]]
    return said


def _tag_changes(session: Session, points: Points) -> dict[int, float]:
    """Return by point the day on which its newest former tag ended; not a number if not known."""
    query = select(SupportTag.point_id, SupportTag.valid_to).where(SupportTag.valid_to.is_not(None))
    rows = session.execute(only(query, SupportTag.point_id, points).order_by(SupportTag.valid_to))
    return {point: day_number(day) for point, day in rows}


def _tag_bearers(session: Session, facts: Facts, *, whole: bool) -> Any:
    keys = facts.points["matching_key"]
    if whole:
        return numbers(doubles(keys))
    query = select(SupportTag.matching_key).where(SupportTag.valid_to.is_(None))
    everywhere = Counter(session.scalars(only(query, SupportTag.matching_key, set(keys))))
    return numbers(float(everywhere[key]) for key in keys)


def _photos(session: Session, facts: Facts, points: Points) -> Any:
    filed = (
        select(PointDocument.point_id)
        .join(Document, PointDocument.document_id == Document.id)
        .where(Document.kind == "photo")
    )
    taken = select(CampaignItem.point_id).join(WalkPhoto, WalkPhoto.item_id == CampaignItem.id)
    found = [
        *session.scalars(only(filed, PointDocument.point_id, points)),
        *session.scalars(only(taken, CampaignItem.point_id, points)),
    ]
    rows = Places(facts.points["id"]).of(found)
    return count_by(rows[rows >= 0], len(facts.points["id"]))


def _neighbours(session: Session, facts: Facts, *, whole: bool) -> Columns:
    """Return what the newest calculation says here and beside."""
    attachments, size = facts.attachments, len(facts.points["id"])
    point, run = attachments["point"], run_of(facts)
    changed = changed_loads(session, facts, whole=whole)
    on_line = largest_by(attachments["line"], changed.astype(float), len(facts.lines["id"]))
    away = nearest_change(run, changed)
    placed = ~np.isnan(attachments["order_along"])
    blind = ~placed & (on_line[attachments["line"]] == 1.0)
    calculated = line_loads(facts)["calculated"][attachments["line"]]
    return {
        "order_along": largest_by(point, attachments["order_along"], size),
        "load_in_newest": -largest_by(point, -in_newest(facts).astype(float), size),
        "neighbour_changed": (~np.isnan(largest_by(point, away, size))).astype(float),
        "neighbour_order_unknown": np.nan_to_num(largest_by(point, blind.astype(float), size)),
        "changed_neighbour_away": -largest_by(point, -away, size),
        "line_calculated": np.nan_to_num(largest_by(point, calculated, size)),
        "has_node": largest_by(point, attachments["has_node"], size),
    }
