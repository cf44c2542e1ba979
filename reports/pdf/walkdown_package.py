"""The walkdown package as PDF: its contents made ready for the template."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from reports.contents.common import PageSize, Signature
from reports.contents.walkdown_package import (
    CAUTIONS,
    DEFERENCE,
    HOW_TO_WRITE,
    WalkdownPackage,
    arrow,
    expected_load,
    expected_pointer,
    half_words,
    last_words,
    length_unit,
    place_of,
    scale_unit,
)
from reports.contents.written import NOT_KNOWN, amount, load
from reports.drawings.square_code import square_code
from reports.languages import ENGLISH, IN_ENGLISH, Texts, texts
from reports.pdf.engine import render
from reports.pdf.head import head_data, signature_data
from reports.pdf.spoken import head_spoken, spoken
from reports.pdf.walkdown_figures import floor_plans, line_strips
from reports.pdf.walkdown_gauge import card_gauge
from reports.pdf.walkdown_photos import photo_boxes
from supports.rules.walkdown.form import FormLine, FormRow, OpenFinding
from supports.rules.walkdown.trend import Point, Trend, trends
from supports.rules.walkdown.words import Fault, Grade, Half, HowSoon
from supports.snapshots import ReadingView
from supports.units import Kind
from supports.vocabulary import PlantState

FEWEST = 3
"""Readings in one state that a trend on a card needs."""


def walkdown_package_pdf(
    package: WalkdownPackage, page: PageSize = PageSize.A4, language: str = ENGLISH
) -> bytes:
    """Return the package as PDF bytes; the date is the head's."""
    say = texts(language)
    said = replace(package, head=head_spoken(package.head, say))
    data = spoken(package_data(said, page, say), say)
    return render("walkdown_package", data, date=package.head.made, words=say)


def package_data(
    package: WalkdownPackage, page: PageSize, say: Texts = IN_ENGLISH
) -> dict[str, Any]:
    """Return what the template prints, as words and positions."""
    form = package.form
    return {
        "head": head_data(package.head, page),
        "cover": _cover(package, say),
        "legs": [
            [
                one.floor,
                one.row,
                str(len(one.tags)),
                say("{minutes} min", minutes=f"{one.minutes:.0f}"),
                ", ".join(one.tags),
            ]
            for one in form.legs
        ],
        "hours": f"{sum(one.minutes for one in form.legs) / 60.0:.1f}",
        "plans": floor_plans(form.rows, say),
        "lines": [_line(line, package, say) for line in form.lines],
        "unlined": [_reading_row(row, say) for row in package.rows_on("")],
        "cards": [_card(row, package, say) for row in package.cards],
        "open": [_open(one, say) for one in form.open_findings],
        "how_soon": [str(one) for one in HowSoon],
        "grades": [[one[0].upper(), str(one)] for one in Grade if one is not Grade.NOT_SEEN],
        "faults": [str(one) for one in Fault],
        "how_to_write": HOW_TO_WRITE,
        "deference": DEFERENCE,
        "counts": len(form.rows),
        "signatures": signature_data(
            (
                Signature(say("walker")),
                Signature(say("second walker")),
                Signature(say("reviewer, another person")),
            )
        ),
    }


def _cover(package: WalkdownPackage, say: Texts) -> dict[str, Any]:
    form = package.form
    facts = [
        [say("Campaign"), f"{form.campaign}: {form.title}"],
        [say("Reason"), form.reason or say("not given")],
        [say("Planned for"), say.day(form.walk_on, "%A %d %B %Y")],
        [say("Plant state wanted"), str(form.state_wanted)],
        [say("Other half of the pair"), form.pair or say("not planned yet")],
        [say("Last walk of this half"), form.previous or say("none on record")],
        [say("Open findings taken along"), str(len(form.open_findings))],
        [say("Lines"), ", ".join(line.number for line in form.lines)],
    ]
    return {
        "half": half_words(form.half, say),
        "count": len(form.rows),
        "facts": [[name, value or NOT_KNOWN] for name, value in facts],
        "kinds": [[kind, str(n)] for kind, n in package.by_kind],
        "cautions": list(CAUTIONS),
        "form_id": form.form_id,
        "code": square_code(form.form_id),
        "walkers": list(package.walkers),
    }


def _line(line: FormLine, package: WalkdownPackage, say: Texts) -> dict[str, Any]:
    rows, sketch = package.rows_on(line.number), package.sketches.get(line.number)
    facts = [
        line.service,
        line.nominal_size,
        say(
            "operates at {amount}",
            amount=amount(line.operating_temperature, "°C", Kind.TEMPERATURE, 0),
        ),
        say("nozzles: {names}", names=", ".join(line.nozzles))
        if line.nozzles
        else say("no nozzle on record"),
    ]
    return {
        "number": line.number,
        "facts": [one for one in facts if one],
        "strips": line_strips(rows, say),
        "sketch": sketch.svg if sketch else "",
        "sketch_told": sketch.told if sketch else "",
        "changed": [f"{row.order} {row.tag}: {row.changed}" for row in rows if row.changed],
        "rows": [_reading_row(row, say) for row in rows],
    }


def _reading_row(row: FormRow, say: Texts) -> dict[str, Any]:
    spring = row.kind.is_spring
    return {
        "order": str(row.order),
        "tag": row.tag,
        "kind": str(row.kind),
        "place": place_of(row, say),
        "class": row.criticality,
        "changed": bool(row.changed),
        "provisional": row.plate.provisional,
        "finding": bool(row.findings),
        "spring": spring,
        "pointer": spring and row.plate.total_travel is not None,
        "hot": last_words(row, Half.OPERATING, say) if spring else "",
        "cold": last_words(row, Half.SHUT_DOWN, say) if spring else "",
        "expect_pointer": expected_pointer(row, say),
        "expect_load": expected_load(row, say),
        "length_unit": row.pointer_unit or say("unit?"),
        "load_unit": row.load_unit or say("unit?"),
        "zero": say("0 at {zero_end}", zero_end=say.word(row.plate.zero_end))
        if row.plate.zero_end
        else say("0 at ?"),
        "gap": not spring,
    }


def _card(row: FormRow, package: WalkdownPackage, say: Texts) -> dict[str, Any]:
    return {
        **_reading_row(row, say),
        "serial": row.serial or say(NOT_KNOWN),
        "line": row.line,
        "moves": arrow(row, say) or NOT_KNOWN,
        "set": _set_words(row, say),
        "gauge": card_gauge(row, say),
        "last": [_last_row(one, row, say) for one in row.last],
        "trend": trend_words(row, say),
        "stack": list(row.stack),
        "findings": list(row.findings),
        "stops": ", ".join(row.stops_in),
        "missing": list(row.expected.missing) if row.expected else [],
        "code": square_code(row.public_id),
        "photos": photo_boxes(row, package.pictures, say),
    }


def _set_words(row: FormRow, say: Texts) -> str:
    if row.setting is None:
        return say("setting not known")
    return say("set {load} on {set_on}", load=load(row.setting, scale_unit(row)), set_on=row.set_on)


def _last_row(one: ReadingView, row: FormRow, say: Texts) -> list[str]:
    return [
        say.day(one.read_on, "%d %b %Y"),
        str(one.plant_state),
        amount(one.pointer, length_unit(row), Kind.LENGTH) if one.pointer is not None else "–",
        load(one.scale_load, scale_unit(row)) if one.scale_load is not None else "–",
        one.read_by,
    ]


def trend_words(row: FormRow, say: Texts = IN_ENGLISH) -> str:
    """Return the trend over the readings printed, or that there are too few."""
    said = [
        say(
            "{arrow} {amount} a year {state}",
            arrow=_arrow_of(one),
            amount=amount(one.slope, unit, kind, _decimals(unit)),
            state=say.word(str(one.state)),
        )
        for one, unit, kind in _trends(row)
    ]
    return "; ".join(said) or say("no trend: fewer than three readings in one plant state")


def _trends(row: FormRow) -> list[tuple[Trend, str, Kind]]:
    def points(name: str) -> list[Point]:
        return [
            Point(one.read_on, PlantState(one.plant_state), getattr(one, name))
            for one in row.last
            if getattr(one, name) is not None
        ]

    by_pointer = trends(points("pointer"), fewest=FEWEST, since=row.set_on)
    by_load = trends(points("scale_load"), fewest=FEWEST, since=row.set_on)
    return [(one, length_unit(row), Kind.LENGTH) for one in by_pointer] + [
        (one, scale_unit(row), Kind.LOAD) for one in by_load
    ]


def _decimals(unit: str) -> int:
    return {"mm": 1, "in": 2, "kN": 2}.get(unit, 0)


def _arrow_of(trend: Trend) -> str:
    if trend.slope == 0.0:
        return "→"
    return "↗" if trend.slope > 0.0 else "↘"


def _open(one: OpenFinding, say: Texts) -> list[str]:
    owner = (
        say("{owner}, by {due_on}", owner=one.owner, due_on=one.due_on)
        if one.owner
        else say("no owner yet")
    )
    return [one.number, one.tag, one.what, one.how_soon, f"{one.state}: {owner}"]
