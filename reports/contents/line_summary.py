"""What the summary of a line says: the line in space, drawn straight, and its supports."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reports.contents.assessed_tables import drawn_line
from reports.contents.blocks import (
    Block,
    Caution,
    Cell,
    Column,
    Facts,
    Heading,
    Listing,
    Mark,
    Paragraph,
    Picture,
    Table,
    Written,
)
from reports.contents.load_change_summary import SupportRow
from reports.contents.written import NOT_KNOWN, amount, load, percent
from reports.drawings.isometric import A4, isometric
from reports.drawings.route import DrawnRoute
from reports.languages import IN_ENGLISH, Texts
from supports.snapshots import CalculationView, LineView, NozzleLimitView, ReadingView
from supports.units import Kind
from supports.vocabulary import CalculationMethod


@dataclass(frozen=True, slots=True)
class LineRow:
    """A unit of the line as judged today, with where it is and its last reading."""

    row: SupportRow
    place: str
    last: ReadingView | None = None
    stops_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LineSummary:
    """The whole paper.

    Parameters
    ----------
    route
        The line in space; None where the register has no route, then `no_route` says why.
    """

    line: LineView
    rows: tuple[LineRow, ...]
    basis: tuple[CalculationView, ...] = ()
    nozzles: tuple[NozzleLimitView, ...] = ()
    changes: tuple[str, ...] = ()
    route: DrawnRoute | None = None
    no_route: str = ""


def line_summary(paper: LineSummary, say: Texts = IN_ENGLISH) -> tuple[Block, ...]:
    """Return the paper as blocks."""
    rows = [one.row for one in paper.rows]
    return (
        Facts(tuple(_facts(paper.line, say)), columns=3),
        *_basis(paper.basis, say),
        Heading(say("The line drawn straight, as set today")),
        *drawn_line(rows, say),
        *_route(paper, say),
        Heading(say("Supports"), 1),
        *_table(paper.rows, say),
        Heading(say("Nozzles with limits")),
        _nozzles(paper.nozzles, say),
        Heading(say("Open changes on the line")),
        Listing(paper.changes) if paper.changes else Paragraph(say("None.")),
    )


def _facts(line: LineView, say: Texts) -> Iterator[tuple[str, Written]]:
    yield say("Line"), Cell(line.number, name=True)
    yield say("Service"), line.service or NOT_KNOWN
    yield say("Area"), line.area or NOT_KNOWN
    yield say("Nominal size"), line.nominal_size or NOT_KNOWN
    yield say("Outside diameter"), amount(line.outside_diameter, "mm", Kind.LENGTH)
    yield say("Wall"), amount(line.wall, "mm", Kind.LENGTH)
    yield say("Operating at"), amount(line.operating_temperature, "°C", Kind.TEMPERATURE)
    yield say("Pipe mass"), _mass(line.pipe_mass_per_length)
    yield say("Insulation mass"), _mass(line.insulation_mass_per_length)
    yield say("Content mass"), _mass(line.content_mass_per_length)
    yield say("Creep range or high energy"), say.word(str(line.creep_or_high_energy))
    yield say("Class"), line.criticality or NOT_KNOWN


def _mass(value: float | None) -> str:
    return NOT_KNOWN if value is None else f"{value:.1f}\u00a0kg/m"


def _basis(basis: Sequence[CalculationView], say: Texts) -> Iterator[Block]:
    if not basis:
        yield Caution(
            say("No required load"), say("No calculation in force gives a load on this line.")
        )
        return
    names = ", ".join(f"{one.name} ({say.word(str(one.method))})" for one in basis)
    screening = any(one.method != CalculationMethod.FULL for one in basis)
    if screening:
        yield Caution(
            say("SCREENING"),
            say("Required loads by screening or hand, not approved: {names}.", names=names),
        )
    else:
        yield Paragraph(
            say("Required loads are taken from calculation {names}.", names=names), small=True
        )


def _route(paper: LineSummary, say: Texts) -> Iterator[Block]:
    if paper.route is None:
        yield Paragraph(
            say(
                "The line cannot be drawn in space (missing: {missing}).",
                missing=say.sentence(paper.no_route),
            )
        )
        return
    drawing, room = isometric(paper.route, say)
    sheet = "" if room is A4 else room.name
    caption = say(
        "Not to scale. Beneath each tag: set today → required. Heights from the register."
    )
    if not sheet:
        yield Heading(say("The line in three axes"), 1)
    yield Picture(drawing, caption, sheet)


def _table(rows: Sequence[LineRow], say: Texts) -> Iterator[Block]:
    columns = (
        Column(say("No."), 0.0, right=True),
        Column(say("Tag"), 0.0),
        Column(say("Kind; node"), 1.3),
        Column(say("Place"), 2.0),
        Column(say("Set"), 0.0, right=True),
        Column(say("Required"), 0.0, right=True),
        Column(say("Weakest piece"), 1.2),
        Column(say("Last read"), 1.8),
        Column(say("As set today"), 1.4),
    )
    yield Table(
        columns, tuple(_row(one, say) for one in rows), say("No support on record."), small=True
    )


def _row(one: LineRow, say: Texts) -> tuple[Written, ...]:
    row, idle = one.row, one.row.is_idle
    weakest = (
        f"{say.sentence(row.weakest_piece)} {percent(row.weakest_share)}"
        if row.weakest_piece
        else NOT_KNOWN
    )
    verdict = say.word(str(row.verdict))
    said = (
        say("{verdict}; stop in: {pins}", verdict=verdict, pins=", ".join(one.stops_in))
        if one.stops_in
        else verdict
    )
    return (
        str(row.order),
        Cell(row.tag, name=True),
        f"{say.word(row.kind)}; {row.node or say('no node')}",
        one.place or NOT_KNOWN,
        "–" if idle else row.present_words,
        "–" if idle else load(row.required, row.load_unit),
        "–" if idle else weakest,
        _read(one, say),
        Cell(said, mark=Mark(str(row.verdict))),
    )


def _read(one: LineRow, say: Texts) -> str:
    last = one.last
    if last is None:
        return say("never")
    parts = [] if last.scale_load is None else [load(last.scale_load, one.row.load_unit)]
    if last.pointer is not None:
        parts.append(amount(last.pointer, "mm", Kind.LENGTH))
    state = say.word(str(last.plant_state))
    return f"{last.read_on.isoformat()}: {', '.join(parts) or say('no value')} ({state})"


def _nozzles(nozzles: Sequence[NozzleLimitView], say: Texts) -> Table:
    axes = ("x", "y", "z")
    columns = (
        Column(say("Nozzle"), 1.0),
        Column(say("Equipment"), 1.2),
        *(Column(f"F{axis} kN", 0.0, right=True) for axis in axes),
        *(Column(f"M{axis} kN·m", 0.0, right=True) for axis in axes),
        Column(say("Source"), 2.0),
    )
    return Table(columns, tuple(_nozzle_row(one, say) for one in nozzles), say("None on record."))


def _nozzle_row(one: NozzleLimitView, say: Texts) -> tuple[Written, ...]:
    limits = [_thousandth(value) for value in (*one.forces, *one.moments)]
    named = Cell(one.nozzle, name=True)
    return (named, one.equipment or NOT_KNOWN, *limits, one.source or say("not stated"))


def _thousandth(value: float | None) -> str:
    return NOT_KNOWN if value is None else f"{value / 1000.0:.2f}"
