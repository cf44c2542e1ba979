"""Views of the register as lines of text for a terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from supports.queries.provenance import Origin
from supports.rules.assessment import AssessmentContent
from supports.rules.judgement import UnitJudgement
from supports.snapshots import (
    NameplateView,
    ReadingView,
    SettingView,
    SupportView,
    UnitView,
    WorkOrderView,
)
from supports.units import Kind, shown


def support_row(view: SupportView) -> str:
    """Return one support as one line."""
    settings = [_setting(unit) for unit in view.units]
    lines = ", ".join(view.lines) or "no line"
    return f"{view.tag:<12} {view.kind:<16} {lines:<22} {' | '.join(settings)}".rstrip()


def _setting(unit: UnitView) -> str:
    if unit.setting is None:
        return "setting not known"
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
        yield f"  on {place.line}, order {place.order_along}, node {place.node or 'not known'}"
    for unit in view.units:
        yield from _unit_lines(unit)
    for piece in view.hardware:
        rating = shown(piece.rated_load, "kN", Kind.LOAD)
        yield f"  {piece.branch:<4} {piece.position} {piece.kind} {piece.size}: rated {rating}"


def _unit_lines(unit: UnitView) -> Iterator[str]:
    plate = unit.nameplate or NameplateView()
    yield f"  unit {unit.position}: {unit.kind}, serial {unit.serial or 'not known'}"
    low = _load(plate.range_low or plate.working_low, unit)
    high = _load(plate.range_high or plate.working_high, unit)
    nominal = _load(plate.nameplate_load or plate.hot_load, unit)
    yield f"    nameplate {nominal}, range {low} to {high}"
    yield f"    {_setting(unit)}"
    if unit.stops_in:
        yield f"    travel stops in: {', '.join(unit.stops_in)}"


def source_lines(origins: Iterable[tuple[str, Origin]]) -> Iterator[str]:
    """Return where values come from as lines: those of one row of the register together."""
    heading = ""
    for words, origin in origins:
        if words != heading:
            heading = words
            yield f"  from where, {words}:"
        yield f"    {origin.field:<22} {origin}"


def setting_words(setting: SettingView) -> str:
    """Return one setting as words."""
    load = shown(setting.load, "kN", Kind.LOAD)
    return f"set to {load} by {setting.set_by} ({setting.method}, {setting.plant_state})"


def reading_words(reading: ReadingView) -> str:
    """Return one reading as words."""
    load = shown(reading.scale_load, "kN", Kind.LOAD)
    pointer = shown(reading.pointer, "mm", Kind.LENGTH)
    where = f"{reading.occasion}, {reading.plant_state}"
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
    for line in order.lines:
        tag = f"{line.tag}/{line.position}"
        turns = f"{line.turns} turns {line.flats} flats" if line.turns is not None else ""
        target = (
            f"{shown(line.from_load, 'kN', Kind.LOAD)} -> {shown(line.to_load, 'kN', Kind.LOAD)}"
        )
        what = f"{target} {turns}" if line.action == "re-set" else line.action
        yield f"  {line.order_no:>2} {tag:<14} {what:<44} {line.state}"
