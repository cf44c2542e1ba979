"""What only the records together show: copied values, swapped cases, days that cannot be.

Everything here was taken; each finding asks a person to look. The thresholds are our own choice.
"""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import chain

from importers.tag_words import alike
from supports.findings import Finding, Place, Severity
from supports.proposals import Record, Value
from supports.sentences import Sentence, joined
from supports.vocabulary import CaseKind, Known, SupportKind

ENOUGH = 3
"""Fewer equal values than this may be chance."""
ENOUGH_WHOLE = 5

_By = dict[str, list[Record]]


def suspicions(records: Sequence[Record], saved_on: date | None) -> list[Finding]:
    """Return what the records of one reading show together."""
    by: _By = defaultdict(list)
    for record in records:
        by[record.subject].append(record)
    return list(
        chain(
            _alike_tags(by["support"]),
            _copied_plates(by["reading"], by["nameplate"]),
            _mixed_hardware(by["required load"]),
            _test_as_operating(by["required load"]),
            _rounded(by["reading"], "scale_load"),
            _rounded(by["setting"], "load"),
            _before_built([*by["reading"], *by["setting"]], by["unit"]),
            _all_saved_on(by["reading"], saved_on),
            _type_against_data(by["unit"], by["nameplate"]),
            _divisions(by["reading"], by["nameplate"]),
            _two_states(by["reading"], by["support"]),
            _load_in_note(by["reading"]),
            _millimetres_among_inches(by["nameplate"]),
        )
    )


def _look(code: str, what: str, place: Place, expected: str = "", subject: str = "") -> Finding:
    return Finding(code, Severity.LOOK, what, place, "", expected, subject=subject)


def _at(record: Record, name: str) -> Place:
    return record.source.place(name)


def _alike_tags(supports: Iterable[Record]) -> Iterator[Finding]:
    by_tag = {record.key[0]: record for record in supports}
    for one, other in alike(by_tag):
        what = Sentence(
            "tags {one} and {other} differ only in spaces, dashes, case, O/0 or I/1",
            one=one,
            other=other,
        )
        yield _look("tags-alike", what, _at(by_tag[other], "tag"), "one support or two?", other)


def _copied_plates(readings: Iterable[Record], plates: Iterable[Record]) -> Iterator[Finding]:
    """Nameplate load copied to 'actual' for all rows of one day."""
    loads = {plate.key: plate.values.get("nameplate_load") for plate in plates}
    days: dict[Value, list[Record]] = defaultdict(list)
    for reading in readings:
        if "scale_load" in reading.values and isinstance(loads.get(reading.key[:2]), float):
            days[reading.values["read_on"]].append(reading)
    for day, rows in days.items():
        same = [_near(r.values["scale_load"], loads[r.key[:2]]) for r in rows]
        if len(rows) >= ENOUGH and all(same):
            what = Sentence(
                "all {count} readings of {day} equal the nameplate loads",
                count=str(len(rows)),
                day=str(day),
            )
            yield _look("readings-equal-plates", what, _at(rows[0], "scale_load"), "loads as read")


def _near(one: Value, other: Value) -> bool:
    numbers = isinstance(one, float) and isinstance(other, float)
    return numbers and math.isclose(one, other, rel_tol=1e-6)  # type: ignore[arg-type]  # both float


def _mixed_hardware(loads: Iterable[Record]) -> Iterator[Finding]:
    said: dict[tuple[str, ...], dict[Value, Record]] = defaultdict(dict)
    for record in loads:
        if answer := record.values.get("includes_hardware"):
            said[record.key[:2]].setdefault(answer, record)
    for key, answers in said.items():
        if {Known.YES.value, Known.NO.value} <= set(answers):
            what = Sentence(
                "calculation {names} includes the hardware weight in some rows only",
                names=joined(key, " "),
            )
            place = _at(answers[Known.NO.value], "includes_hardware")
            yield _look("hardware-weight-mixed", what, place)


def _test_as_operating(loads: Iterable[Record]) -> Iterator[Finding]:
    """Water-filled load in the operating column: operating as heavy as the test."""
    kinds: dict[tuple[str, ...], dict[Value, Record]] = defaultdict(dict)
    for record in loads:
        if "load" in record.values:
            kinds[record.key[:4]][record.values.get("case_kind")] = record
    for key, cases in kinds.items():
        hot, test = cases.get(CaseKind.OPERATING.value), cases.get(CaseKind.TEST.value)
        if hot and test and _near(hot.values["load"], test.values["load"]):
            what = "the operating load equals the test load; is it with water?"
            yield _look("test-load-as-operating", what, _at(hot, "load"), subject=key[2])


def _rounded(records: Iterable[Record], name: str) -> Iterator[Finding]:
    found = [(r, v) for r in records if isinstance(v := r.values.get(name), float)]
    if len(found) >= ENOUGH_WHOLE and all(_near(v, round(v / 1e3) * 1e3) for _, v in found):
        what = Sentence(
            "all {count} loads are whole kN; the friction band is lost", count=str(len(found))
        )
        yield _look("loads-rounded", what, _at(found[0][0], name), "loads as read")


def _before_built(events: Iterable[Record], units: Iterable[Record]) -> Iterator[Finding]:
    built = {unit.key: unit.values.get("year_built") for unit in units}
    for event in events:
        name = "read_on" if event.subject == "reading" else "happened_on"
        day, year = event.values.get(name), built.get(event.key[:2])
        if isinstance(day, date) and isinstance(year, int) and day.year < year:
            what = Sentence(
                "{day} lies before the unit was built in {year}", day=str(day), year=str(year)
            )
            yield _look("date-before-built", what, _at(event, name), subject=event.key[0])


def _all_saved_on(readings: Sequence[Record], saved_on: date | None) -> Iterator[Finding]:
    """Last-saved date used as date of reading."""
    days = {record.values.get("read_on") for record in readings}
    if len(readings) >= ENOUGH and days == {saved_on}:
        what = Sentence(
            "all readings bear {day}, the day on which the file was last saved",
            day=str(saved_on),
        )
        yield _look("date-is-file-date", what, _at(readings[0], "read_on"), "the day of the walk")


def _type_against_data(units: Iterable[Record], plates: Iterable[Record]) -> Iterator[Finding]:
    known = ((unit.key, unit.values.get("kind")) for unit in units)
    kinds = {key: SupportKind(kind) for key, kind in known if isinstance(kind, str)}
    for plate in plates:
        kind = kinds.get(plate.key)
        if kind and kind.is_constant and "rate" in plate.values:
            what = Sentence(
                "the unit is a {kind}, but its plate gives a spring rate", kind=kind.value
            )
            yield _look("type-and-data-disagree", what, _at(plate, "rate"), subject=plate.key[0])


def _divisions(readings: Iterable[Record], plates: Iterable[Record]) -> Iterator[Finding]:
    """Divisions of the scale (0 to 10) entered as mm."""
    travel = {plate.key: plate.values.get("total_travel") for plate in plates}
    found = [
        (reading, pointer)
        for reading in readings
        if isinstance(pointer := reading.values.get("pointer"), float)
        and isinstance(long := travel.get(reading.key[:2]), float)
        and long >= 0.05
    ]
    if len(found) >= ENOUGH and all(pointer <= 0.010 for _, pointer in found):
        what = "all pointers stand within 10 mm on long scales; are these divisions?"
        yield _look("scale-divisions", what, _at(found[0][0], "pointer"), "the pointer in mm")


def _two_states(readings: Iterable[Record], supports: Iterable[Record]) -> Iterator[Finding]:
    """Hot and cold on one day along one line: one of the two states or days is wrong."""
    lines = {support.key[0]: support.values.get("line") for support in supports}
    states: dict[tuple[str, str], dict[str, Record]] = defaultdict(dict)
    for reading in readings:
        state, tag = str(reading.values.get("plant_state", "")), reading.key[0]
        where: str = Sentence("support {tag}", tag=tag)
        where = Sentence("line {line}", line=str(lines[tag])) if lines.get(tag) else where
        for beginning in ("operating", "shut down"):
            if state.startswith(beginning):
                states[where, reading.key[2]].setdefault(beginning, reading)
    for (line_or_tag, day), found in states.items():
        if len(found) > 1:
            what = Sentence(
                "{where} was read operating and shut down on {day}",
                where=line_or_tag,
                day=day,
            )
            hot = found["operating"]
            yield _look(
                "plant-state-doubt",
                what,
                _at(hot, "plant_state"),
                "the state on that day",
                hot.key[0],
            )


def _load_in_note(readings: Iterable[Record]) -> Iterator[Finding]:
    """Free-text notes with the only true value."""
    for reading in readings:
        note = reading.values.get("note")
        if isinstance(note, str) and not _READ_LOADS & reading.values.keys():
            for load in _LOAD.findall(note)[:1]:
                what = Sentence(
                    "the note says {load} and the row gives no load; it was not taken", load=load
                )
                yield _look(
                    "load-in-note",
                    what,
                    _at(reading, "note"),
                    "a load as read, in its column",
                    reading.key[0],
                )


_READ_LOADS = {"scale_load", "cell_raising", "cell_lowering"}
_LOAD = re.compile(r"\b\d+(?:[.,]\d+)?\s?(?:k?N|daN|kgf|lbf|kips?)\b")


def _millimetres_among_inches(plates: Iterable[Record]) -> Iterator[Finding]:
    """89 among travels of 3.5 in: mm entered under a heading in inches."""
    given = [(p, t) for p in plates if isinstance(t := p.values.get("total_travel"), float)]
    lengths = [travel for _, travel in given if travel > 0.0]
    if not lengths or max(lengths) < 0.8 * _MM_IN_INCH * min(lengths):
        return
    travels = [(plate, travel) for plate, travel in given if _is_in_inches(plate)]
    if len(travels) < ENOUGH:
        return
    middle = sorted(travel for _, travel in travels)[len(travels) // 2]
    for plate, travel in travels:
        if middle > 0.0 and abs(travel / middle / _MM_IN_INCH - 1.0) < 0.15:
            what = Sentence(
                "the travel looks like mm under inches: {travel}", travel=f"{travel / 0.0254:g}"
            )
            expected = Sentence("about {value} in", value=f"{middle / 0.0254:g}")
            yield _look(
                "unit-size-suspicious", what, _at(plate, "total_travel"), expected, plate.key[0]
            )


def _is_in_inches(plate: Record) -> bool:
    cell = plate.source.cells.get("total_travel")
    return cell is not None and cell.unit == "in"


_MM_IN_INCH = 25.4
