"""What was written in a row of a form becomes values in SI, or a doubt that says why not."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum
from functools import partial
from typing import Any

from supports.errors import BadInput, QuantityUnreadable
from supports.rules.walkdown.form import FormRow
from supports.rules.walkdown.reading import (
    PointerScale,
    PointerWritten,
    pointer_from_zero,
    zero_end,
)
from supports.rules.walkdown.words import Fault, Grade, HowSoon, StopSeen
from supports.sentences import Sentence
from supports.tags import suggestions
from supports.units import Kind, number, to_si
from supports.vocabulary import PlantState

Written = Mapping[str, Any]
"""{field: text, number or day as written}; blanks are '' or None or not in it."""

DEFAULTS = ("read_on", "plant_state", "pipe_temperature")
"""Fields that a whole sheet may state once; alone they do not fill a row."""
TEXTS = ("why_not", "serial", "photos", "remarks", "told")
WORDS: Mapping[str, type[StrEnum]] = {
    "plant_state": PlantState,
    "stop": StopSeen,
    "grade": Grade,
    "fault": Fault,
    "how_soon": HowSoon,
}
_SEEN = {"yes": True, "y": True, "no": False, "n": False}


@dataclass(slots=True)
class TakenRow:
    """A row as taken: values in SI or words, the writing itself, and doubts by field."""

    values: dict[str, Any] = field(default_factory=dict)
    written: dict[str, str] = field(default_factory=dict)
    doubts: dict[str, str] = field(default_factory=dict)

    @property
    def is_blank(self) -> bool:
        """Return whether nothing was written in the row itself."""
        return not (set(self.values) | set(self.doubts)) - set(DEFAULTS)


def take_row(written: Written, row: FormRow) -> TakenRow:
    """Return what a row says; nothing is guessed, a blank stays a blank."""
    taken = TakenRow(written={name: str(text) for name, text in written.items() if _is(text)})
    for name in TEXTS:
        if _is(written.get(name)):
            taken.values[name] = str(written[name]).strip()
    for name, words in WORDS.items():
        _into(taken, name, written, partial(_word, words))
    _into(taken, "seen", written, _seen)
    for name in ("read_on", "act_by"):
        _into(taken, name, written, _day)
    _into(taken, "gap", written, lambda text: to_si(_number(text), "mm", Kind.LENGTH))
    _into(taken, "rod_angle", written, lambda text: to_si(_number(text), "°", Kind.ANGLE))
    _into(taken, "load", written, lambda text: _load(text, written, row))
    _into(taken, "pointer", written, lambda text: _pointer(text, written, row))
    _into(taken, "pipe_temperature", written, lambda text: _temperature(text, written))
    _check_seen(taken)
    return taken


def _is(text: Any) -> bool:
    return text is not None and str(text).strip() != ""


def _into(taken: TakenRow, name: str, written: Written, read: Callable[[Any], Any]) -> None:
    text = written.get(name)
    if not _is(text):
        return
    try:
        taken.values[name] = read(text)
    except BadInput as refused:
        taken.doubts[name] = Sentence("'{text}': {why}", text=str(text), why=refused.what)


def _number(text: Any) -> float:
    if isinstance(text, int | float) and not isinstance(text, bool):
        return float(text)
    return number(str(text))


def _word(words: type[StrEnum], text: Any) -> str:
    said = str(text).strip().lower()
    if said in set(words):
        return said
    near = suggestions(said, [str(one) for one in words])
    raise BadInput(
        Sentence("not on the list, perhaps {near}", near=near[0]) if near else "not on the list"
    )


def _seen(text: Any) -> bool:
    said = _SEEN.get(str(text).strip().lower())
    if said is None:
        raise BadInput("neither yes nor no")
    return said


def _day(text: Any) -> str:
    if isinstance(text, datetime):
        return text.date().isoformat()
    if isinstance(text, date):
        return text.isoformat()
    try:
        return date.fromisoformat(str(text).strip()[:10]).isoformat()
    except ValueError:
        raise BadInput("no day as year-month-day") from None


def _load(text: Any, written: Written, row: FormRow) -> float:
    symbol = str(written.get("load_unit") or "").strip() or row.load_unit
    if not symbol:
        raise QuantityUnreadable("unit of the load scale not stated")
    return to_si(_number(text), symbol, Kind.LOAD)


def _pointer(text: Any, written: Written, row: FormRow) -> float:
    divisions = written.get("divisions")
    as_written = PointerWritten(
        value=_number(text),
        unit=str(written.get("pointer_unit") or "").strip(),
        divisions=_number(divisions) if _is(divisions) else None,
        read_from=zero_end(str(written.get("read_from") or "").strip().lower()),
    )
    scale = PointerScale(row.pointer_unit, row.plate.total_travel, row.plate.zero_end)
    length, doubt = pointer_from_zero(as_written, scale)
    if length is None:
        raise QuantityUnreadable(doubt)
    return length


def _temperature(text: Any, written: Written) -> float:
    symbol = str(written.get("temperature_unit") or "").strip()
    if not symbol:
        raise QuantityUnreadable("unit of the temperature not stated")
    return to_si(_number(text), symbol, Kind.TEMPERATURE)


def _check_seen(taken: TakenRow) -> None:
    read = {"load", "pointer"} & set(taken.values)
    if taken.values.get("seen") is False and read:
        del taken.values["seen"]
        what = " and ".join(sorted(read))
        taken.doubts["seen"] = Sentence("'no', but {what} was read", what=what)
