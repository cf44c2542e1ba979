"""A campaign's form as a tablet takes it along: every card with what is expected there."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from app.tablets.gauges import walk_gauges
from app.walkdown_papers import walk_seals
from app.walkdown_sketches import sketches
from importers.walkdown_form import FIELDS
from reports.contents.walkdown_package import (
    Sketch,
    arrow,
    expected_load,
    expected_pointer,
    last_words,
    place_of,
)
from reports.contents.written import amount
from reports.xlsx.walkdown_form import known_boxes
from supports.errors import NotReady
from supports.queries.site import plant_name
from supports.queries.walkdowns.lookups import campaign_of, content_of_form, form_of
from supports.queries.walkdowns.rows import copy_held
from supports.rules.walkdown.form import FormContent, FormLine, FormRow
from supports.rules.walkdown.words import Half
from supports.sentences import Sentence
from supports.units import Kind

Plain = dict[str, Any]
PHOTOS_A_COPY = 1000
"""Photo numbers that a copy has for itself, so that no two tablets give the same."""


def walk_copy(session: Session, number: str, person: str, now: datetime) -> Plain:
    """Return the newest form of a campaign for one person's tablet, as JSON can hold it.

    Raises
    ------
    NotReady
        The person has not taken the newest form out.
    """
    campaign = campaign_of(session, number)
    form = form_of(session, campaign)
    content, held = content_of_form(form), copy_held(session, form, person)
    if held is None:
        raise NotReady(
            Sentence(
                "the newest form of {number} is not out with {person}", number=number, person=person
            ),
            (content.form_id,),
            remedy="Take it along from the page of the campaign",
        )
    seals, drawn = walk_seals(session, content), sketches(session, content)
    return {
        "kind": "walkdown",
        "number": number,
        "form": content.form_id,
        "revision": content.revision,
        "copy": held.copy_number,
        "photos_from": PHOTOS_A_COPY * held.place,
        "person": person,
        "plant": plant_name(session),
        "title": content.title,
        "half": str(content.half),
        "state_wanted": str(content.state_wanted),
        "walk_on": content.walk_on.isoformat(),
        "taken_at": now.isoformat(),
        "lines": [_line(line, drawn.get(line.number)) for line in content.lines],
        "rows": [_row(row, seals[row.item_id], content) for row in content.rows],
    }


def _line(line: FormLine, sketch: Sketch | None) -> Plain:
    hot = line.operating_temperature
    return {
        "number": line.number,
        "service": line.service,
        "temperature": "" if hot is None else amount(hot, "°C", Kind.TEMPERATURE),
        "nozzles": list(line.nozzles),
        "sketch": sketch.svg if sketch else "",
        "told": sketch.told if sketch else "",
    }


def _row(row: FormRow, seal: str, content: FormContent) -> Plain:
    known = {FIELDS[name]: cell for name, cell in known_boxes(row).items() if cell is not None}
    return {
        "row": str(row.item_id),
        "seal": seal,
        "order": row.order,
        "tag": row.tag,
        "line": row.line,
        "kind": str(row.kind),
        "is_spring": row.kind.is_spring,
        "serial": row.serial,
        "class": row.criticality,
        "place": ", ".join(part for part in (row.area, place_of(row)) if part),
        "way": arrow(row),
        "expected": {"pointer": expected_pointer(row), "load": expected_load(row)},
        "last": {"cold": last_words(row, Half.SHUT_DOWN), "hot": last_words(row, Half.OPERATING)},
        "changed": row.changed,
        "stops_in": list(row.stops_in),
        "stack": list(row.stack),
        "findings": [
            f"{one.number}: {one.what} ({one.how_soon}; {one.state})"
            for one in content.open_findings
            if one.number in row.findings
        ],
        "gauges": walk_gauges(row),
        "known": {name: str(cell) for name, cell in known.items()},
    }
