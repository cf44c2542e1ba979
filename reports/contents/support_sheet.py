"""What the data sheet of a support says: all that is known of it, with its history and sources."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from reports.contents.blocks import (
    Abreast,
    Block,
    Caution,
    Cell,
    Column,
    Facts,
    Figure,
    Figures,
    Heading,
    Mark,
    Paragraph,
    Picture,
    Plot,
    Table,
    Written,
)
from reports.contents.judged_units import load_scale, place_words, pointer_gauge
from reports.contents.plate_facts import plate_facts
from reports.contents.stack_of_unit import stack_blocks
from reports.contents.walkdown_closeout import Drawn
from reports.contents.written import NOT_KNOWN, amount, bare, cut, load, percent
from reports.drawings.scales import load_scale_drawing, pointer_gauge_drawing
from reports.languages import Texts
from reports.pdf.scales import load_scale as scale_marks
from reports.pdf.scales import pointer_gauge as gauge_marks
from reports.svg.trend_plot import TrendPlot, trend_svg
from supports.rules.judgement import UnitJudgement
from supports.snapshots import (
    CalculationView,
    NameplateView,
    ReadingView,
    SettingUnder,
    SupportView,
    UnitView,
)
from supports.units import Kind
from supports.vocabulary import CalculationMethod, Occasion, PlantState


@dataclass(frozen=True, slots=True)
class UnitRecord:
    """One unit, or the support itself where no unit hangs there (`unit` None)."""

    name: str
    unit: UnitView | None
    judged: UnitJudgement
    settings: tuple[SettingUnder, ...] = ()
    readings: tuple[ReadingView, ...] = ()
    drawn: tuple[Drawn, ...] = ()


@dataclass(frozen=True, slots=True)
class RuleSaid:
    """What a rule says: its severity, its sentence, and whether it is broken or cannot judge."""

    rule: str
    subject: str
    severity: str
    words: str
    fails: bool = True


@dataclass(frozen=True, slots=True)
class Touched:
    """A work order that was written on the support."""

    order: str
    change: str
    written_on: date
    what: str
    state: str


@dataclass(frozen=True, slots=True)
class ReadFrom:
    """Where a value was read: file, sheet and cell, as found, by whom, when."""

    what: str
    field: str
    found: str
    place: str
    cell: str
    by: str
    on: str


@dataclass(frozen=True, slots=True)
class SupportSheet:
    """The whole sheet.

    Parameters
    ----------
    basis
        The calculations that the required loads are taken from.
    """

    support: SupportView
    units: tuple[UnitRecord, ...]
    basis: tuple[CalculationView, ...] = ()
    said: tuple[RuleSaid, ...] = ()
    touched: tuple[Touched, ...] = ()
    sources: tuple[ReadFrom, ...] = ()


def support_sheet(sheet: SupportSheet, say: Texts) -> tuple[Block, ...]:
    """Return the sheet as blocks."""
    return (*support_blocks(sheet, say), *source_blocks(sheet.sources, say))


def support_blocks(sheet: SupportSheet, say: Texts) -> tuple[Block, ...]:
    """Return all that is known of the support, without where it was read."""
    return (
        Facts(tuple(_facts(sheet.support, say))),
        *_basis(sheet.basis, say),
        *(block for one in sheet.units for block in _unit(sheet.support, one, say)),
        *_said(sheet.said, say),
        *_touched(sheet.touched, say),
    )


def _facts(support: SupportView, say: Texts) -> Iterator[tuple[str, Written]]:
    yield say("Kind"), Cell(say.word(str(support.kind)), strong=True)
    yield say("Arrangement"), say.word(str(support.arrangement))
    for one in support.attachments:
        along = _known(amount(one.distance_along, "m", Kind.LENGTH, 1), say)
        node = one.node or say(NOT_KNOWN)
        where = say("{line}, {along} along it, node {node}", line=one.line, along=along, node=node)
        yield say("On line"), where
    yield say("Place"), place_words(support, say) or say(NOT_KNOWN)
    yield say("Elevation"), _known(amount(support.elevation, "m", Kind.LENGTH, 2), say)
    yield say("Class"), support.criticality or say(NOT_KNOWN)
    yield say("In service"), say.word(str(support.in_service))
    yield say("Former tags"), ", ".join(support.former_tags) or "–"
    yield say("Scaffold group"), support.scaffold_group or "–"


def _known(text: str, say: Texts) -> str:
    return say(NOT_KNOWN) if text == NOT_KNOWN else text


def _basis(basis: Sequence[CalculationView], say: Texts) -> Iterator[Block]:
    if not basis:
        yield Caution(
            say("No required load"),
            say("No calculation in force gives a load here: nothing about the load is judged."),
        )
        return
    names = ", ".join(f"{one.name} ({say.word(one.method)})" for one in basis)
    words = say("Required loads are taken from calculation {names}.", names=names)
    if any(one.method != CalculationMethod.FULL for one in basis):
        words = f"{words} {say(SCREENING)}"
        yield Caution(say("SCREENING"), words)
    else:
        yield Paragraph(words, small=True)


SCREENING = (
    "It is a screening or hand method: it sorts and orders, and does not replace a full analysis "
    "by a qualified person."
)


def _unit(support: SupportView, one: UnitRecord, say: Texts) -> Iterator[Block]:
    kind = say.word(str(one.unit.kind if one.unit else support.kind))
    serial = (one.unit.serial if one.unit else "") or say(NOT_KNOWN)
    title = say("{name}: {kind}", name=one.name, kind=kind)
    yield Heading(
        say("{title}, serial {serial}", title=title, serial=serial) if one.unit else title
    )
    yield _figures(one, say)
    if one.unit is not None and one.unit.kind.is_spring:
        yield from _drawings(one, one.unit, say)
        yield Heading(say("Nameplate"), 3)
        yield Facts(plate_facts(one.unit, say))
        yield from _stops(one.unit, say)
    yield from stack_blocks(support, one.unit, one.judged, say)
    if one.unit is not None and one.unit.kind.is_spring:
        yield from _history(one, one.unit, say)


def _figures(one: UnitRecord, say: Texts) -> Figures:
    plate = (one.unit.nameplate if one.unit else None) or NameplateView()
    symbol = plate.scale_unit or "kN"
    judged = one.judged
    stack = judged.stack
    use = stack.weakest.utilisation if stack and stack.weakest else None
    doubt = Mark.CANNOT_JUDGE
    required = judged.demand.governing
    items = []
    if one.unit is not None and one.unit.kind.is_spring:
        last = one.settings[-1] if one.settings else None
        what = say("set on {day}", day=last.happened_on.isoformat()) if last else say("set load")
        number = _known(load(last.load if last else None, symbol), say)
        items.append(Figure(number, what, Mark.NONE if last else doubt))
    idle = required is None and not judged.missing
    needed = say("carries no weight") if idle else _known(load(required, symbol), say)
    unknown = required is None and not idle
    items += [
        Figure(needed, say("required load"), doubt if unknown else Mark.NONE),
        Figure(say.word(str(judged.verdict)), say("as set today"), Mark(str(judged.verdict))),
        Figure(
            _known(percent(use), say),
            say("use of the weakest piece"),
            doubt if use is None or (stack and stack.unknown) else Mark.NONE,
        ),
    ]
    return Figures(tuple(items))


def _drawings(one: UnitRecord, unit: UnitView, say: Texts) -> Iterator[Block]:
    plate = unit.nameplate or NameplateView()
    scale = scale_marks(load_scale(unit, plate, one.judged, PlantState.OPERATING_STEADY), say)
    if scale is not None:
        yield Picture(load_scale_drawing(scale))
    gauge = pointer_gauge(unit, plate)
    marks = gauge_marks(gauge, say) if gauge else None
    if marks is not None:
        yield Picture(pointer_gauge_drawing(marks))


def _stops(unit: UnitView, say: Texts) -> Iterator[Block]:
    if unit.stops_in:
        pins = ", ".join(unit.stops_in)
        yield Caution(say("Travel stop in"), say("Pins in: {pins}. The unit is locked.", pins=pins))


def _history(one: UnitRecord, unit: UnitView, say: Texts) -> Iterator[Block]:
    yield Heading(say("History of {name}, newest first", name=one.name), 3)
    plots = tuple((_plot(one.name, drawn, say),) for drawn in one.drawn)
    if plots:
        two = (plots[0], plots[1] if len(plots) > 1 else ())
        yield Abreast(two, (1.0, 1.0))
    plate = unit.nameplate or NameplateView()
    symbol, length = plate.scale_unit or "kN", plate.pointer_unit or "mm"
    columns = (
        Column(say("Day"), 0.0),
        Column(say("What"), 1.3),
        Column(f"{say('Load')} {symbol}", 0.0, right=True),
        Column(f"{say('Pointer')} {length}", 0.0, right=True),
        Column(say("Plant state"), 1.3),
        Column(say("By"), 1.2),
        Column(say("How, under what"), 1.6),
    )
    rows = sorted([*_set_rows(one, symbol, say), *_read_rows(one, symbol, length, say)])
    yield Table(columns, tuple(row for _, _, row in reversed(rows)), say("No entry."), small=True)


def _plot(name: str, drawn: Drawn, say: Texts) -> Plot:
    title = f"{cut(name, 20)}: {say.word(drawn.what)} [{drawn.unit}]"
    plot = TrendPlot(title, drawn.unit, drawn.points, drawn.lines, drawn.bands, size=19.0)
    told = "; ".join(f"{p.day} {say.word(str(p.state))} {p.value:g}" for p in drawn.points)
    return Plot(trend_svg(plot, say), f"{title}: {told}")


_Row = tuple[date, int, tuple[str, ...]]


def _set_rows(one: UnitRecord, symbol: str, say: Texts) -> Iterator[_Row]:
    for place, event in enumerate(one.settings):
        how = ", ".join(part for part in (say.word(event.method), event.under, event.note) if part)
        yield (
            event.happened_on,
            place,
            (
                event.happened_on.isoformat(), say("set"), bare(event.load, symbol, Kind.LOAD), "–",
                say.word(event.plant_state), event.set_by, how,
            ),
        )  # fmt: skip


def _read_rows(one: UnitRecord, symbol: str, length: str, say: Texts) -> Iterator[_Row]:
    for place, read in enumerate(one.readings, start=1000):
        occasion = "" if read.occasion == Occasion.OTHER else f", {say.word(read.occasion)}"
        pointer = _dashed(bare(read.pointer, length, Kind.LENGTH))
        scale = _dashed(bare(read.scale_load, symbol, Kind.LOAD))
        yield (
            read.read_on,
            place,
            (
                read.read_on.isoformat(), f"{say('read')}{occasion}", scale, pointer,
                say.word(read.plant_state), read.read_by, "–",
            ),
        )  # fmt: skip


def _dashed(text: str) -> str:
    return "–" if text == NOT_KNOWN else text


def _said(said: Sequence[RuleSaid], say: Texts) -> Iterator[Block]:
    yield Heading(say("What the rules find: {count}", count=len(said)))
    columns = (
        Column(say("How soon"), 0.0),
        Column(say("About"), 0.9),
        Column(say("Rule"), 1.4),
        Column(say("In the words of the rule"), 3.2),
    )
    yield Table(
        columns, tuple(_said_row(one, say) for one in said), say("Every rule that applies passes.")
    )


def _said_row(one: RuleSaid, say: Texts) -> tuple[Written, ...]:
    mark = Mark(one.severity) if one.fails else Mark.CANNOT_JUDGE
    first = Cell(one.severity if one.fails else say.word(one.severity), mark=mark)
    return (first, Cell(one.subject, name=True), one.rule, say.sentence(one.words))


def _touched(touched: Sequence[Touched], say: Texts) -> Iterator[Block]:
    yield Heading(say("Work orders: {count}", count=len(touched)))
    columns = (
        Column(say("Order"), 1.0),
        Column(say("Change"), 1.0),
        Column(say("Written"), 0.0),
        Column(say("What"), 1.0),
        Column(say("Stands at"), 1.6),
    )
    rows = tuple(
        (Cell(one.order, name=True), one.change, one.written_on.isoformat(), say.word(one.what),
         say.word(one.state))
        for one in touched
    )  # fmt: skip
    yield Table(columns, rows, say("None."))


def source_blocks(sources: Sequence[ReadFrom], say: Texts) -> Iterator[Block]:
    """Give where each value was read."""
    yield Heading(say("Where each value was read"))
    yield Paragraph(say("Fields by the name that the register has for them."), small=True)
    columns = (
        Column(say("Of"), 0.9),
        Column(say("File and sheet; by, on"), 1.3),
        Column(say("Field, cell, and the text as found there"), 4.0),
    )
    rows = tuple(
        (what, f"{place}; {by}, {on}", "  ·  ".join(map(_found, group)))
        for (what, place, by, on), group in _together(sources).items()
    )
    yield Table(columns, rows, say("Nothing was brought in."), small=True)


def _together(
    sources: Sequence[ReadFrom],
) -> dict[tuple[str, str, str, str], list[ReadFrom]]:
    """Return the values of one row of the register together, in their order."""
    groups: dict[tuple[str, str, str, str], list[ReadFrom]] = {}
    for one in sources:
        groups.setdefault((one.what, one.place, one.by, one.on), []).append(one)
    return groups


def _found(one: ReadFrom) -> str:
    cell = f" {one.cell}" if one.cell else ""
    return f"{one.field}{cell}: {one.found}" if one.found else f"{one.field}{cell}"


def title_of(support: SupportView, say: Texts) -> str:
    """Return what the sheet is about in one line."""
    lines = ", ".join(support.lines) or say("no line")
    return say("{kind} on {lines}", kind=say.word(str(support.kind)), lines=lines)
