"""Forms that come back: checked row by row, recorded where new, refused where altered."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from app.papers import form_id, row_seals
from app.words import word
from importers.pack_form import FilledForm, FilledRow, read_form
from importers.returned import three_way
from supports.database import Register
from supports.errors import BadInput, DatabaseTrouble, NotFound, SupportsError
from supports.operations.form_choices import Disputed, choose_reading
from supports.operations.unit_work import UnitReading, record_as_found, record_as_left
from supports.plant_time import day_of
from supports.proposals import Record, SourceLine, Value, alike
from supports.queries.form_choices import ChoiceView, choices_on_order
from supports.queries.work_order_views import work_order_view
from supports.sentences import Sentence, joined
from supports.snapshots import ReadingView, WorkOrderLineView, WorkOrderView
from supports.units import Kind, shown
from supports.vocabulary import Kept, PlantState, ReadAs

NOT_RECORDED = "NOT RECORDED"
"""Begins what is said of a reading that was not taken."""


def take_back(
    register: Register, number: str, file: Path, *, acting: str, now: datetime
) -> Iterator[str]:
    """Record what a filled-in form says; yield a line of words for each unit read.

    Raises
    ------
    BadInput
        The form is of another work order, or a row's tag or seal was altered.
    """
    form, order, choices = _checked(register, number, file)
    printed = by_printed_tag(order)
    for row in form.rows:
        if row.is_blank:
            yield Sentence("{tag}: nothing read", tag=row.tag)
            continue
        line = printed[row.tag]
        chosen = [choice for choice in choices if choice.line_id == line.id]
        yield from _take_row(register, order, row, line, chosen, acting, now)


def choose_on_form(
    register: Register, number: str, tag: str, file: Path, occasion: ReadAs, kept: Kept, *,
    acting: str, now: datetime, reason: str,
) -> str:  # fmt: skip
    """Let the form or what is recorded stand at one unit; return in words what stands.

    Raises
    ------
    NotFound
        The form has no row of that tag.
    BadInput
        The form says nothing else than what is recorded, or was altered.
    """
    form, order, _ = _checked(register, number, file)
    row = next((row for row in form.rows if row.tag == tag), None)
    if row is None:
        known = ", ".join(row.tag for row in form.rows)
        raise NotFound(Sentence("the form has no row of {tag}", tag=tag), found=known)
    line = by_printed_tag(order)[tag]
    said = next(each for each in _occasions(row, line) if each.name == occasion)
    if said.known is None or said.load is None or not _differing(row, said, said.known):
        raise BadInput(
            Sentence("nothing is in dispute at {tag} {occasion}", tag=tag, occasion=occasion),
            remedy=Sentence(
                "Hand the form in with: supports work-order return {number} {file}",
                number=number,
                file=str(file),
            ),
        )
    reading = _reading(row, line, said.load, said.pointer, day_of(now, register.zone))
    disputed = Disputed(occasion, reading, kept)
    choose_reading(register, number, disputed, acting=acting, now=now, reason=reason)
    stands = said.load if kept is Kept.FORM else said.known.scale_load
    return f"{tag} {occasion}: {_shown('load', stands)} stands, as {_WHERE[kept]}"


@dataclass(frozen=True, slots=True)
class ComparedReading:
    """One occasion at one unit: what the form says and what is recorded, in words.

    The form was issued with these boxes blank, so that it is the third side of the comparison.

    Parameters
    ----------
    stands
        'blank', 'incomplete', 'new', 'same', 'settled' or 'conflict'.
    differing
        What the form says otherwise than what is recorded.
    settled_by
        Who let what is recorded stand against this form, and when.
    """

    tag: str
    occasion: str
    form: tuple[str, str]
    """Load and pointer."""
    recorded: tuple[str, str] | None
    stands: str
    differing: tuple[str, ...] = ()
    settled_by: str = ""


def compare_form(register: Register, number: str, file: Path) -> list[ComparedReading]:
    """Hold a filled-in form against what is recorded; nothing is.

    Raises
    ------
    BadInput
        The form is of another work order, or was altered.
    """
    form, order, choices = _checked(register, number, file)
    printed = by_printed_tag(order)
    found: list[ComparedReading] = []
    for row in form.rows:
        line = printed[row.tag]
        chosen = [choice for choice in choices if choice.line_id == line.id]
        found += [_compared(row, said, chosen) for said in _occasions(row, line)]
    return found


def _compared(row: FilledRow, said: _Occasion, chosen: Sequence[ChoiceView]) -> ComparedReading:
    known = said.known
    words = _differing(row, said, known) if known and said.load is not None else []
    choice = _settling(said, known, chosen) if known and words else None
    if said.load is None:
        stands = "blank" if said.pointer is None else "incomplete"
    elif known is None:
        stands = "new"
    else:
        stands = "settled" if choice else "conflict" if words else "same"
    recorded = None
    if known is not None:
        recorded = (_shown("load", known.scale_load), _shown("pointer", known.pointer))
    return ComparedReading(
        row.tag,
        str(said.name),
        (_written("load", said.load), _written("pointer", said.pointer)),
        recorded,
        stands,
        tuple(words),
        f"{choice.person}, {choice.chosen_at:%Y-%m-%d}" if choice else "",
    )


_WHERE = {Kept.FORM: "the form says", Kept.RECORDED: "recorded before"}


def _checked(
    register: Register, number: str, file: Path
) -> tuple[FilledForm, WorkOrderView, list[ChoiceView]]:
    """Return a form that belongs to a work order and was not altered, and what was chosen."""
    form = read_form(file)
    with register.reading() as session:
        order = work_order_view(session, number)
        seals = row_seals(session, order)
        choices = choices_on_order(session, order.id)
    _check(form, order, seals)
    return form, order, choices


def _check(form: FilledForm, order: WorkOrderView, seals: dict[str, str]) -> None:
    if form.form_id != form_id(order):
        raise BadInput(
            "the form is not the present one of this work order",
            found=form.form_id,
            expected=form_id(order),
            remedy="Compare it by hand with the present form",
        )
    altered: list[str] = [
        Sentence("{tag} (row {row})", tag=row.tag, row=row.place.cell)
        for row in form.rows
        if not _true(row, seals)
    ]
    tags = [row.tag for row in form.rows]
    altered += [
        Sentence("{tag} (row {row}, stands there twice)", tag=row.tag, row=row.place.cell)
        for at, row in enumerate(form.rows)
        if row.tag in tags[:at]
    ]
    if altered:
        raise BadInput(
            "rows were altered where they may not be; nothing was taken",
            found=joined(altered, ", "),
        )


def _true(row: FilledRow, seals: dict[str, str]) -> bool:
    return seals.get(row.tag) == row.seal


def by_printed_tag(order: WorkOrderView) -> dict[str, WorkOrderLineView]:
    """Return the lines of an order by tag, and by tag with position."""
    lines = {line.tag: line for line in order.lines}
    return lines | {f"{line.tag}/{line.position}": line for line in order.lines}


def _take_row(
    register: Register,
    order: WorkOrderView,
    row: FilledRow,
    line: WorkOrderLineView,
    chosen: Sequence[ChoiceView],
    acting: str,
    now: datetime,
) -> Iterator[str]:
    """Record what a row says: held against the form as issued, which was blank, and what holds."""
    for said in _occasions(row, line):
        about = Sentence("{tag} {occasion}", tag=row.tag, occasion=said.name)
        if said.load is None:
            if said.pointer is not None:
                yield _not_recorded(about, Sentence("a pointer without its scale load"))
            continue
        if said.known is not None:
            words = _differing(row, said, said.known)
            yield _already(about, words, _settling(said, said.known, chosen), order.number)
            continue
        record = record_as_found if said.name == ReadAs.FOUND else record_as_left
        try:
            reading = _reading(row, line, said.load, said.pointer, day_of(now, register.zone))
            state = record(register, order.number, reading, acting=acting, now=now)
            yield Sentence("{about}: {state}", about=about, state=state)
        except DatabaseTrouble:
            raise  # it would be the same for every row; what was said to be recorded is
        except SupportsError as error:
            yield _not_recorded(about, error.said)


def _not_recorded(about: str, why: str) -> Sentence:
    return Sentence("{about}: NOT RECORDED: {why}", about=about, why=why)


@dataclass(frozen=True, slots=True)
class _Occasion:
    """What a row says of one occasion, and what is recorded of it."""

    name: ReadAs
    load: float | None
    pointer: float | None
    known: ReadingView | None


def _occasions(row: FilledRow, line: WorkOrderLineView) -> tuple[_Occasion, _Occasion]:
    return (
        _Occasion(ReadAs.FOUND, row.found_load, row.found_pointer, line.as_found),
        _Occasion(ReadAs.LEFT, row.left_load, row.left_pointer, line.as_left),
    )


def _already(about: str, words: Sequence[str], choice: ChoiceView | None, number: str) -> Sentence:
    """Return what becomes of a reading where one is recorded: nothing new, or a conflict."""
    if not words:
        return Sentence("{about}: recorded already", about=about)
    if choice is not None:
        return Sentence(
            "{about}: recorded already; {words}; {person} let that stand on {day}",
            about=about,
            words=joined(words),
            person=choice.person,
            day=f"{choice.chosen_at:%Y-%m-%d}",
        )
    why = Sentence(
        "CONFLICT: {words}; a person must choose: supports work-order choose {number}",
        words=joined(words),
        number=number,
    )
    return _not_recorded(about, why)


def _settling(
    said: _Occasion, known: ReadingView, chosen: Sequence[ChoiceView]
) -> ChoiceView | None:
    """Return the newest choice that has let stand what is recorded; None if there is none."""
    return next((one for one in reversed(chosen) if _settles(one, said, known)), None)


def _settles(choice: ChoiceView, said: _Occasion, known: ReadingView) -> bool:
    """Return whether somebody has let stand what is recorded against just this form."""
    return (
        choice.kept == Kept.RECORDED
        and choice.occasion == said.name
        and alike(choice.form_load, said.load)
        and alike(choice.form_pointer, said.pointer)
        and alike(choice.recorded_load, known.scale_load)
        and alike(choice.recorded_pointer, known.pointer)
    )


def _differing(row: FilledRow, occasion: _Occasion, known: ReadingView) -> list[str]:
    """Return in words what a row says otherwise than what is recorded."""
    place = SourceLine(row.place.file, row.place.sheet, int(row.place.cell))
    read = (occasion.load, occasion.pointer)
    return differing_words((row.tag, occasion.name), read, known, place)


def differing_words(
    what: tuple[str, str], read: tuple[float | None, float | None], known: ReadingView,
    place: SourceLine,
) -> list[str]:  # fmt: skip
    """Return in words what a reading says otherwise than what is recorded.

    Parameters
    ----------
    what
        Tag and occasion.
    read
        Load [N] and pointer [m]; a pointer that is None says nothing.
    """
    tag, occasion = what
    load, pointer = read
    name = (occasion, (tag,))
    said: dict[str, Value] = {"load": load}
    if pointer is not None:
        said["pointer"] = pointer
    recorded = {"load": known.scale_load, "pointer": known.pointer}
    compared = three_way({name: {}}, [Record(*name, said, place)], {name: recorded})
    words: list[str] = [
        Sentence(
            "{field} {form} on the form, {now} recorded",
            field=one.field,
            form=_shown(one.field, one.form),
            now=_shown(one.field, one.now),
        )
        for one in compared.conflicts
    ]
    words += [
        Sentence(
            "{field} {form} on the form, none recorded", field=field, form=_shown(field, value)
        )
        for record in compared.records
        for field, value in record.values.items()
    ]
    return words


def _shown(field: str, value: Value) -> str:
    number = value if isinstance(value, float) else None
    if field == "load":
        return shown(number, "kN", Kind.LOAD)
    return shown(number, "mm", Kind.LENGTH)


def _written(field: str, value: float | None) -> str:
    """Return a value of a form, nothing where its box is blank."""
    return "" if value is None else _shown(field, value)


def _reading(
    row: FilledRow, line: WorkOrderLineView, load: float, pointer: float | None, today: date
) -> UnitReading:
    return UnitReading(
        tag=line.tag,
        position=line.position,
        read_on=row.read_on or today,
        plant_state=word(PlantState, row.plant_state or PlantState.UNKNOWN),
        load=load,
        pointer=pointer,
        read_by=row.read_by,
        second_reader=row.second_reader,
        turns_given=row.turns_given,
        note=row.remarks,
    )
