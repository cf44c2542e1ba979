"""Views of the register as lines of text for a terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from app.fitting import table
from reports.contents.judged_units import place_words
from supports.calc.turns import TurnCount
from supports.queries.provenance import Origin
from supports.rules.assessment import AssessmentContent
from supports.rules.judgement import UnitJudgement
from supports.snapshots import (
    NameplateView,
    ReadingView,
    SettingView,
    SupportView,
    UnitView,
    WorkOrderLineView,
    WorkOrderView,
)
from supports.units import Kind, shown
from supports.vocabulary import Occasion, counted


def support_table(views: Sequence[SupportView]) -> list[str]:
    """Return supports a line each, and their count."""
    headings = ("support", "kind", "lines", "units")
    return [*table(map(_support_row, views), headings), f"{counted(len(views), 'support')}."]


def _support_row(view: SupportView) -> tuple[str, str, str, str]:
    settings = [_setting(unit) for unit in view.units if unit.kind.is_spring]
    return view.tag, view.kind, ", ".join(view.lines) or "no line", " | ".join(settings)


def _setting(unit: UnitView) -> str:
    if unit.setting is None:
        return unit.setting_unknown
    return f"set {_load(unit.setting.load, unit)} ({unit.setting.happened_on})"


def _load(load: float | None, unit: UnitView) -> str:
    symbol = (unit.nameplate.scale_unit if unit.nameplate else "") or "kN"
    return shown(load, symbol, Kind.LOAD)


def support_page(view: SupportView) -> Iterator[str]:
    """Return all that is known of a support, a fact a line; what is not known is said."""
    yield f"{view.tag}  ({view.public_id})  {view.kind}, {view.arrangement}"
    if view.former_tags:
        yield f"  formerly {', '.join(view.former_tags)}"
    for place in view.attachments:
        along = shown(place.distance_along, "m", Kind.LENGTH)
        yield f"  on {place.line}, {along} along it, node {place.node or 'not known'}"
    if where := place_words(view):
        yield f"  {where}"
    for unit in view.units:
        yield from _unit_lines(unit)
    for piece in view.hardware:
        rating = shown(piece.rated_load, "kN", Kind.LOAD)
        name = f"{piece.kind} {piece.size}".strip()
        yield f"  {piece.branch:<3} {piece.position:>2}  {name:<24} rated {rating:>12}"


def _unit_lines(unit: UnitView) -> Iterator[str]:
    plate = unit.nameplate or NameplateView()
    yield f"  unit {unit.position}: {unit.kind}, serial {unit.serial or 'not known'}"
    if not unit.kind.is_spring:
        return
    low = _load(plate.range_low or plate.working_low, unit)
    high = _load(plate.range_high or plate.working_high, unit)
    nominal = _load(plate.nameplate_load or plate.hot_load, unit)
    yield f"    nameplate {nominal}, range {low} to {high}"
    yield f"    {_setting(unit)}"
    if unit.last_reading:
        words = reading_words(unit.last_reading, *_units_of(plate))
        yield f"    {unit.last_reading.read_on}: {words}"
    if unit.stops_in:
        yield f"    travel stops in: {', '.join(unit.stops_in)}"


def _units_of(plate: NameplateView) -> tuple[str, str]:
    return plate.scale_unit or "kN", plate.pointer_unit or "mm"


def source_lines(origins: Iterable[tuple[str, Origin]]) -> Iterator[str]:
    """Return where values come from as lines: those of one row of the register together."""
    heading = ""
    for words, origin in origins:
        if words != heading:
            heading = words
            yield f"  from where, {words}:"
        yield f"    {origin.field:<22} {origin}"


def setting_words(setting: SettingView, scale: str = "kN") -> str:
    """Return one setting as words, in the unit of the scale."""
    load = shown(setting.load, scale, Kind.LOAD)
    return f"set to {load} by {setting.set_by} ({setting.method}, {setting.plant_state})"


def reading_words(reading: ReadingView, scale: str = "kN", pointer_unit: str = "mm") -> str:
    """Return one reading as words, in the units of the scale and the pointer."""
    load = shown(reading.scale_load, scale, Kind.LOAD)
    pointer = shown(reading.pointer, pointer_unit, Kind.LENGTH)
    where = reading.plant_state
    if reading.occasion != Occasion.OTHER:
        where = f"{reading.occasion}, {where}"
    return f"read {load}, pointer {pointer} by {reading.read_by} ({where})"


def assessment_lines(content: AssessmentContent) -> Iterator[str]:
    """Return an assessment as lines: a unit a line, reasons beneath."""
    for support, judged in zip(content.supports, content.judgements, strict=True):
        units = {unit.id: unit for unit in support.units}
        for one in judged.units:
            unit = units.get(one.unit_id or -1)
            yield _judged_row(support, unit, one)
            for answer in one.failures[:3]:
                yield f"{'':14}- {answer.text}"
    yield content.sentence


def _judged_row(support: SupportView, unit: UnitView | None, one: UnitJudgement) -> str:
    symbol = (unit.nameplate.scale_unit if unit and unit.nameplate else "") or "kN"
    tag = support.tag if len(support.units) < 2 else f"{support.tag}/{one.position}"
    kind = unit.kind if unit else support.kind
    if kind.carries_no_weight and one.demand.governing is None:
        return f"{tag:<12}  {'carries no weight':>26}  {_what(one)}"
    before = shown(one.present, symbol, Kind.LOAD) if one.present is not None else "-"
    after = shown(one.demand.governing, symbol, Kind.LOAD)
    return f"{tag:<12}  {before:>11} -> {after:>11}  {_what(one)}"


def _what(one: UnitJudgement) -> str:
    if one.missing:
        return f"{one.verdict} (missing: {', '.join(one.missing)})"
    if one.verdict == "re-set" and one.re_set is not None:
        return f"re-set: {one.re_set.turns_per_bolt}, {one.re_set.direction}"
    if one.verdict == "re-set" and one.take_up is not None:
        return f"re-set: take-up {one.take_up.take_up * 1000.0:.1f} mm"
    return str(one.verdict)


def work_order_lines(order: WorkOrderView) -> Iterator[str]:
    """Return a work order as lines, a unit a line."""
    yield f"{order.number} for {order.change}: {order.state}; line state: {order.line_state_needed}"
    several = Counter(line.tag for line in order.lines)
    for line in order.lines:
        tag = line.tag if several[line.tag] == 1 else f"{line.tag}/{line.position}"
        turns = "" if line.turns is None else str(TurnCount(line.turns, line.flats or 0))
        what = f"{_target(line)} {turns}" if line.action == "re-set" else line.action
        row = f"  {line.order_no:>2} {tag:<14} {what:<44} {line.state:<10} {line.direction}"
        yield row.rstrip()


def _target(line: WorkOrderLineView) -> str:
    """Return from where to where, in the unit of the scale that is read on site, then in kN."""

    def way(symbol: str) -> str:
        loads = (line.from_load, line.to_load)
        return " -> ".join(shown(load, symbol, Kind.LOAD) for load in loads)

    scale = line.scale_unit or "kN"
    return way(scale) if scale == "kN" else f"{way(scale)} ({way('kN')})"
