"""Tables and the drawing of an assessment: weights, supports, stacks, cases, doubts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reports.contents.blocks import (
    Block,
    Cell,
    Column,
    Facts,
    Mark,
    Paragraph,
    Picture,
    Table,
    Written,
)
from reports.contents.load_change_summary import (
    LoadChangeSummary,
    SupportRow,
    WeightItem,
    WeightTable,
)
from reports.contents.written import (
    NOT_KNOWN,
    amount,
    bare,
    cut,
    load,
    percent,
    signed_load,
    span,
)
from reports.drawings.assessed_line import AssessedSupport, assessed_strips
from reports.languages import IN_ENGLISH, Texts
from supports.calc.hardware import PieceUse, StackUse
from supports.rules.assessment import AssessmentContent
from supports.units import Kind
from supports.vocabulary import SupportKind, Verdict

_STOPPED = {Verdict.CANNOT_BE_SET, Verdict.HARDWARE_FAILS}
_ALONG = 16
"""Signs of a tag in the drawing; the table holds it whole."""


def added_blocks(weights: WeightTable, say: Texts = IN_ENGLISH) -> Iterator[Block]:
    """Give what is put on and taken off, with sums; a sum with an unknown in it is unknown."""
    columns = (
        Column(say("What"), 2.4),
        Column(say("Mass"), 0.0, right=True),
        Column(say("Weight"), 0.0, right=True),
        Column(say("Along"), 0.0, right=True),
        Column(say("Off the axis"), 0.0, right=True),
        Column(say("Source"), 2.0),
    )
    rows = tuple(_weight_row(one, weights, say) for one in weights.items)
    total = (
        Cell(say("Net"), strong=True),
        _strong(amount(weights.mass, weights.mass_unit, Kind.MASS)),
        _strong(load(weights.weight, weights.load_unit)),
        _strong(amount(weights.centre, weights.length_unit, Kind.LENGTH)),
        "",
        say(
            "twist about the axis {moment}",
            moment=amount(weights.twist, weights.moment_unit, Kind.MOMENT),
        ),
    )
    yield Table(columns, (*rows, total) if rows else (), say("No weight is recorded."))
    if weights.missing:
        yield Paragraph(
            say("Mass not known: {names}.", names=", ".join(weights.missing)), strong=True
        )


def _weight_row(one: WeightItem, weights: WeightTable, say: Texts) -> tuple[Written, ...]:
    weight = WeightTable((one,)).weight
    return (
        one.what,
        amount(one.mass, weights.mass_unit, Kind.MASS),
        signed_load(weight, weights.load_unit),
        amount(one.distance, weights.length_unit, Kind.LENGTH),
        amount(one.offset, weights.length_unit, Kind.LENGTH) if one.offset else "–",
        one.source or say("not stated"),
    )


def _strong(text: str) -> Cell:
    return Cell(text, strong=True, mark=Mark.CANNOT_JUDGE if text == NOT_KNOWN else Mark.NONE)


def drawn_line(rows: Sequence[SupportRow], say: Texts = IN_ENGLISH) -> Iterator[Picture]:
    """Give the line drawn straight, in strips, with present, required and room of every support."""
    strips = assessed_strips([_drawn(row, say) for row in rows], say=say)
    for place, strip in enumerate(strips, start=1):
        named = (
            say("Strip {place} of {count}.", place=place, count=len(strips)) + " "
            if len(strips) > 1
            else ""
        )
        yield Picture(strip, f"{named}{say('One scale of load. In the order along the line.')}")


def _drawn(row: SupportRow, say: Texts) -> AssessedSupport:
    kind = SupportKind(row.kind) if row.kind in set(SupportKind) else SupportKind.UNKNOWN
    idle = row.is_idle
    room = span(row.low, row.high, row.load_unit)
    place = NOT_KNOWN if row.distance is None else amount(row.distance, "m", Kind.LENGTH, 1)
    return AssessedSupport(
        tag=cut(row.tag, _ALONG),
        kind=kind,
        verdict=row.verdict,
        present=0.0 if idle else row.present,
        required=0.0 if idle else row.required,
        low=row.low,
        high=row.high,
        written=(
            place,
            "–" if idle else row.present_words,
            "–" if idle else load(row.required, row.load_unit),
            "–" if room == NOT_KNOWN else room,
        ),
        stop=say.word("STOP") if row.verdict in _STOPPED else "",
    )


def rows_blocks(rows: Sequence[SupportRow], say: Texts = IN_ENGLISH) -> Iterator[Block]:
    """Give the table of supports: numbers, verdict, and the rules behind it."""
    columns = (
        Column(say("Tag"), 0.0),
        Column(say("Kind; node"), 1.1),
        Column(say("Nameplate"), 0.0, right=True),
        Column(say("Present"), 0.0, right=True),
        Column(say("Required"), 0.0, right=True),
        Column(say("Change"), 0.0, right=True),
        Column(say("Range"), 0.0, right=True),
        Column(say("Used"), 0.0, right=True),
        Column(say("Turns; travel"), 0.8),
        Column(say("Weakest piece"), 1.0),
        Column(say("Verdict, rules, reasons"), 2.4),
    )
    yield Table(
        columns, tuple(_support_row(row, say) for row in rows), say("No support."), small=True
    )
    yield Paragraph(
        say(
            "Loads on the unit, hardware beneath it counted as the calculation states. Turns are "
            "per "
            "bolt, counted from the present setting; the room is counted from the nameplate."
        ),
        small=True,
    )


def _support_row(row: SupportRow, say: Texts) -> tuple[Written, ...]:
    turns = say.sentence(row.travel_words) or "–"
    if row.turns:
        turns = f"{say.sentence(str(row.turns))}, {say.word(str(row.direction))}"
    weakest = (
        f"{say.sentence(row.weakest_piece)} {percent(row.weakest_share)}"
        if row.weakest_piece
        else NOT_KNOWN
    )
    told = [
        say.word(str(row.verdict)),
        *map(say.sentence, row.reasons),
        *(say("missing: {what}", what=say.sentence(one)) for one in row.missing),
    ]
    room = span(row.low, row.high, row.load_unit)
    numbers: tuple[Written, ...] = ("–",) * 4
    if not row.is_idle:
        numbers = (
            row.nameplate_words,
            row.present_words,
            Cell(load(row.required, row.load_unit), strong=True),
            _change(row),
        )
    return (
        Cell(row.tag, name=True),
        f"{say.word(row.kind)}; {row.node or say('no node')}",
        *numbers,
        "–" if room == NOT_KNOWN else room,
        "–" if row.used_share is None else percent(row.used_share),
        turns,
        "–" if row.is_idle else weakest,
        Cell("; ".join(told), mark=Mark(str(row.verdict))),
    )


def _change(row: SupportRow) -> str:
    if row.change is None:
        return NOT_KNOWN
    share = percent(row.change_share, signed=True, decimals=1)
    return f"{signed_load(row.change, row.load_unit)} ({share})"


def stack_table(content: AssessmentContent, say: Texts = IN_ENGLISH) -> Iterator[Block]:
    """Give every stack with the use of each piece at the new load; doubt is told."""
    columns = (
        Column(say("Tag"), 0.0),
        Column(say("Governs"), 1.2),
        Column(say("From steel to pipe: carries / rated, kN = use"), 5.0),
    )
    stacks = [(name, stack) for name, stack in _stacks(content) if stack is not None]
    rows = tuple(_stack_row(name, stack, say) for name, stack in stacks)
    yield Table(columns, rows, say("No piece is listed: nothing can be judged."), small=True)
    silent = [name for name, stack in _stacks(content) if stack is None]
    if silent:
        yield Paragraph(
            say("No stack, or no load, so not judged: {names}.", names=", ".join(silent))
        )
    yield Paragraph(
        say(
            "Loads on structural steel rise by what the units rise; where the rise passes the "
            "site's "
            "threshold the civil engineer signs. See the rule 'steel-not-checked' in the appendix."
        ),
        small=True,
    )


def _stacks(content: AssessmentContent) -> Iterator[tuple[str, StackUse | None]]:
    for judged in content.judgements:
        for unit in judged.units:
            alone = len(judged.units) == 1
            yield (judged.tag if alone else f"{judged.tag}/{unit.position}"), unit.stack


def _stack_row(name: str, stack: StackUse, say: Texts) -> tuple[Written, ...]:
    weakest = stack.weakest
    over = weakest is not None and (weakest.utilisation or 0.0) > 1.0
    mark = Mark.HARDWARE_FAILS if over else Mark.CANNOT_JUDGE if stack.unknown else Mark.NONE
    said = (
        f"{say.sentence(weakest.name)} {percent(weakest.utilisation, decimals=1)}"
        if weakest
        else NOT_KNOWN
    )
    return (
        Cell(name, name=True),
        Cell(said, strong=True, mark=mark),
        "  ·  ".join(_piece(one, say) for one in stack.pieces),
    )


def _piece(one: PieceUse, say: Texts) -> str:
    carried, rated = bare(one.load, "kN", Kind.LOAD), bare(one.capacity, "kN", Kind.LOAD)
    use = say("cannot judge") if one.utilisation is None else percent(one.utilisation, decimals=1)
    return f"{say.sentence(one.name)} {carried} / {rated} = {use}"


def cases_blocks(
    content: AssessmentContent, summary: LoadChangeSummary, say: Texts = IN_ENGLISH
) -> Iterator[Block]:
    """Give the calculation and the required load of every case."""
    calculation, basis = content.calculation, summary.basis
    yield Facts(
        (
            (say("Calculation"), calculation.name),
            (say("Method"), say.word(str(calculation.method))),
            (say("Status"), say.word(str(calculation.status))),
            (
                say("Issued"),
                calculation.issued_on.isoformat() if calculation.issued_on else NOT_KNOWN,
            ),
            (say("Author"), calculation.author or NOT_KNOWN),
            (say("Basis"), calculation.basis or NOT_KNOWN),
            (say("Signs"), say.word(basis.sign_convention)),
            (say("Aim"), say.word(content.change.aim) or NOT_KNOWN),
        )
    )
    columns = (
        Column(say("Tag"), 0.0), Column(say("Node"), 0.0), Column(say("Case"), 1.2),
        Column(say("Required kN"), 0.0, right=True), Column(say("Governs"), 0.6),
    )  # fmt: skip
    rows = tuple(
        (Cell(row.tag, name=True), row.node or NOT_KNOWN, case.case,
         bare(case.load, "kN", Kind.LOAD),
         Cell(say("governs"), strong=True) if case.governs else "–")
        for row in summary.rows
        for case in row.cases
    )  # fmt: skip
    yield Table(columns, rows, say("No case gives a load: nothing can be judged."), small=True)


def doubt_blocks(
    content: AssessmentContent, summary: LoadChangeSummary, say: Texts = IN_ENGLISH
) -> Iterator[Block]:
    """Give all that cannot be judged, and the age of readings."""
    columns = (
        Column(say("Support"), 0.8),
        Column(say("Missing"), 2.0),
        Column(say("What follows"), 1.6),
    )
    rows = tuple(
        (Cell(d.subject, name=True), say.sentence(d.missing), say.word(d.consequence))
        for d in summary.doubts
    )
    yield Table(columns, rows, say("Nothing that the verdicts need is missing."))
    never = [
        s.tag for s in content.supports if s.units and not any(u.last_reading for u in s.units)
    ]
    days = [u.last_reading.read_on for s in content.supports for u in s.units if u.last_reading]
    oldest = (
        " " + say("The oldest last reading is of {day}.", day=min(days).isoformat()) if days else ""
    )
    named = (
        say("Never read: {names}.", names=", ".join(never))
        if never
        else say("Every unit was read at least once.")
    )
    yield Paragraph(f"{named}{oldest}")
