"""Somebody walks the plant: fills the form as the scales stand and takes numbered pictures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl

from demo.pictures import take_picture
from demo.plant.seeds import generator
from supports.rules.walkdown.form import FormContent, FormRow
from supports.rules.walkdown.words import PhotoSubject
from supports.units import Kind, from_si

Cells = Mapping[str, object]
SUBJECTS = tuple(one for one in PhotoSubject if one is not PhotoSubject.OTHER)
FIRST_PICTURE = 401
"""Number that the camera gives to the first picture of the walk."""


@dataclass(frozen=True, slots=True)
class Walk:
    """A walk: by whom, when, what differs from what the paper expects, by tag and heading.

    Parameters
    ----------
    pointers
        Pointer in millimetres or inches, as the scale has it, where it is not as expected.
    pictured
        Tags whose plate, scale, pointer and assembly are photographed.
    """

    walker: str
    day: date
    state: str
    pipe_temperature: float
    pointers: Mapping[str, float] = field(default_factory=dict)
    cells: Mapping[str, Cells] = field(default_factory=dict)
    pictured: tuple[str, ...] = ()


def fill(blank: Path, form: FormContent, walk: Walk, filled: Path) -> None:
    """Fill the form in and save it under another name, as one does."""
    book = openpyxl.load_workbook(blank)
    for line in _below(book["Walk"], "Line"):
        line["Walked by"].value, line["Day of reading"].value = walk.walker, walk.day
        line["Plant state found"].value = walk.state
        line["Pipe temperature"].value = walk.pipe_temperature
        line["Unit of temperature"].value = "°C"
    rows = {row.tag: row for row in form.rows}
    for boxes in _below(book["Readings"], "Tag"):
        for heading, value in seen_at(rows[boxes["Tag"].value], walk).items():
            boxes[heading].value = value
    book.save(filled)


def _below(sheet: Any, heading: str) -> Iterator[dict[str, Any]]:
    """Give the cells of each row beneath the headings, by heading."""
    lines = sheet.iter_rows()
    heads = next(names for line in lines if heading in (names := [cell.value for cell in line]))
    for line in lines:
        yield dict(zip(heads, line, strict=True))


def seen_at(row: FormRow, walk: Walk) -> dict[str, object]:
    """Return what is written in a row: what the scales show, and what else there is to tell."""
    numbers = picture_numbers(walk).get(row.tag)
    found = {
        "Seen?": "yes",
        "Condition": "good",
        "Photo numbers": f"{numbers[0]}-{numbers[-1]}" if numbers else None,
        "Serial on the plate": row.serial if numbers else None,
        **_scales(row, walk),
        **walk.cells.get(row.tag, {}),
    }
    return {heading: value for heading, value in found.items() if value is not None}


def _scales(row: FormRow, walk: Walk) -> dict[str, object]:
    wanted = row.expected
    if wanted is None:
        return {}
    scales: dict[str, object] = {}
    if wanted.pointer is not None:
        as_expected = float(from_si(wanted.pointer, row.pointer_unit, Kind.LENGTH))
        about = as_expected + generator("walk", row.tag).uniform(-0.02, 0.02) * as_expected
        digits = 0 if row.pointer_unit == "mm" else 2
        scales["Found pointer"] = round(walk.pointers.get(row.tag, about), digits)
    if wanted.load is not None:
        load = float(from_si(wanted.load, row.load_unit, Kind.LOAD))
        scales["Found load"] = round(load, 1 if row.load_unit == "kN" else -1)
    return scales


def picture_numbers(walk: Walk) -> dict[str, range]:
    """Return the numbers of the pictures by tag, in the order in which they are taken."""
    many = len(SUBJECTS)
    return {
        tag: range(FIRST_PICTURE + many * place, FIRST_PICTURE + many * (place + 1))
        for place, tag in enumerate(walk.pictured)
    }


def take_pictures(form: FormContent, walk: Walk, camera: Path) -> None:
    """Take the pictures of a walk; the camera writes place and time into each, as cameras do."""
    rows = {row.tag: row for row in form.rows}
    for tag, numbers in picture_numbers(walk).items():
        for number, subject in zip(numbers, SUBJECTS, strict=True):
            take_picture(camera / f"IMG_{number:04d}.JPG", subject, rows[tag])
