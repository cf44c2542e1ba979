"""What the summary of a line says: the line in space, drawn straight, and its supports."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reports.contents.assessed_tables import drawn_line, is_idle
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


def line_summary(paper: LineSummary) -> tuple[Block, ...]:
    """Return the paper as blocks."""
    rows = [one.row for one in paper.rows]
    return (
        Facts(tuple(_facts(paper.line)), columns=3),
        *_basis(paper.basis),
        Heading("The line drawn straight, as set today"),
        *drawn_line(rows),
        *_route(paper),
        Heading("Supports", 1),
        *_table(paper.rows),
        Heading("Nozzles with limits"),
        _nozzles(paper.nozzles),
        Heading("Open changes on the line"),
        Listing(paper.changes) if paper.changes else Paragraph("None."),
    )


def _facts(line: LineView) -> Iterator[tuple[str, Written]]:
    yield "Line", Cell(line.number, name=True)
    yield "Service", line.service or NOT_KNOWN
    yield "Area", line.area or NOT_KNOWN
    yield "Nominal size", line.nominal_size or NOT_KNOWN
    yield "Outside diameter", amount(line.outside_diameter, "mm", Kind.LENGTH)
    yield "Wall", amount(line.wall, "mm", Kind.LENGTH)
    yield "Operating at", amount(line.operating_temperature, "°C", Kind.TEMPERATURE)
    yield "Pipe mass", _mass(line.pipe_mass_per_length)
    yield "Insulation mass", _mass(line.insulation_mass_per_length)
    yield "Content mass", _mass(line.content_mass_per_length)
    yield "Creep range or high energy", str(line.creep_or_high_energy)
    yield "Class", line.criticality or NOT_KNOWN


def _mass(value: float | None) -> str:
    return NOT_KNOWN if value is None else f"{value:.1f}\u00a0kg/m"


def _basis(basis: Sequence[CalculationView]) -> Iterator[Block]:
    if not basis:
        yield Caution("No required load", "No calculation in force gives a load on this line.")
        return
    names = ", ".join(f"{one.name} ({one.method})" for one in basis)
    screening = any(one.method != CalculationMethod.FULL for one in basis)
    if screening:
        yield Caution("SCREENING", f"Required loads by screening or hand, not approved: {names}.")
    else:
        yield Paragraph(f"Required loads are taken from calculation {names}.", small=True)


def _route(paper: LineSummary) -> Iterator[Block]:
    if paper.route is None:
        yield Paragraph(f"The line cannot be drawn in space (missing: {paper.no_route}).")
        return
    drawing, room = isometric(paper.route)
    sheet = "" if room is A4 else room.name
    caption = "Not to scale. Beneath each tag: set today → required. Heights from the register."
    if not sheet:
        yield Heading("The line in three axes", 1)
    yield Picture(drawing, caption, sheet)


def _table(rows: Sequence[LineRow]) -> Iterator[Block]:
    columns = (
        Column("No.", 0.0, right=True),
        Column("Tag", 0.0),
        Column("Kind; node", 1.3),
        Column("Place", 2.0),
        Column("Set", 0.0, right=True),
        Column("Required", 0.0, right=True),
        Column("Weakest piece", 1.2),
        Column("Last read", 1.8),
        Column("As set today", 1.4),
    )
    yield Table(columns, tuple(_row(one) for one in rows), "No support on record.", small=True)


def _row(one: LineRow) -> tuple[Written, ...]:
    row, idle = one.row, is_idle(one.row)
    weakest = (
        f"{row.weakest_piece} {percent(row.weakest_share)}" if row.weakest_piece else NOT_KNOWN
    )
    verdict = f"{row.verdict}; stop in: {', '.join(one.stops_in)}" if one.stops_in else row.verdict
    return (
        str(row.order),
        Cell(row.tag, name=True),
        f"{row.kind}; {row.node or 'no node'}",
        one.place or NOT_KNOWN,
        "–" if idle else load(row.present, row.load_unit),
        "–" if idle else load(row.required, row.load_unit),
        "–" if idle else weakest,
        _read(one),
        Cell(str(verdict), mark=Mark(str(row.verdict))),
    )


def _read(one: LineRow) -> str:
    last = one.last
    if last is None:
        return "never"
    parts = [] if last.scale_load is None else [load(last.scale_load, one.row.load_unit)]
    if last.pointer is not None:
        parts.append(amount(last.pointer, "mm", Kind.LENGTH))
    return f"{last.read_on.isoformat()}: {', '.join(parts) or 'no value'} ({last.plant_state})"


def _nozzles(nozzles: Sequence[NozzleLimitView]) -> Table:
    axes = ("x", "y", "z")
    columns = (
        Column("Nozzle", 1.0),
        Column("Equipment", 1.2),
        *(Column(f"F{axis} kN", 0.0, right=True) for axis in axes),
        *(Column(f"M{axis} kN·m", 0.0, right=True) for axis in axes),
        Column("Source", 2.0),
    )
    return Table(columns, tuple(map(_nozzle_row, nozzles)), "None on record.")


def _nozzle_row(one: NozzleLimitView) -> tuple[Written, ...]:
    limits = [_thousandth(value) for value in (*one.forces, *one.moments)]
    named = Cell(one.nozzle, name=True)
    return (named, one.equipment or NOT_KNOWN, *limits, one.source or "not stated")


def _thousandth(value: float | None) -> str:
    return NOT_KNOWN if value is None else f"{value / 1000.0:.2f}"
