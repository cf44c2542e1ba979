"""Changed columns of what is there, subject by subject; events are never changed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from supports.errors import InputHasFaults
from supports.model import (
    Assembly,
    Attachment,
    Base,
    Calculation,
    HardwarePiece,
    Line,
    LineElement,
    LineEnd,
    LineNode,
    Nameplate,
    NozzleLimit,
    RequiredLoad,
    SupportPoint,
    Unit,
)
from supports.operations.creating import attach, former_name
from supports.operations.store import Store
from supports.proposals import Record, Value
from supports.queries.existing import plain_columns
from supports.sentences import Sentence, joined

Changed = dict[str, Value]


def change_facts(store: Store, record: Record, changed: Changed, source: int) -> None:
    """Change the plain columns of the one table behind a subject."""
    model = _TABLE[record.subject]
    _update(store, record, model, changed, source)
    if "area" in changed:
        area = {"area_id": store.area(dict(changed), source)}
        _update(store, record, model, area, source, also=("area_id",))


def _change_support(store: Store, record: Record, changed: Changed, source: int) -> None:
    for model in (SupportPoint, Assembly):
        _update(store, record, model, changed, source)
    point = store.need("support", record.key, "support_point", record)
    if "area" in changed:
        area = {"area_id": store.area(dict(changed), source)}
        _update(store, record, SupportPoint, area, source, also=("area_id",))
    if former := changed.get("former_tag"):
        former_name(store, point, str(former), source)
    _change_place(store, record, changed, point, source)


def _change_place(store: Store, record: Record, changed: Changed, point: int, source: int) -> None:
    """Move a support's place along its line, or hang it on the line now named."""
    known = store.today.id_of("support", record.key, "attachment")
    values = {**store.today.values["support", record.key], **changed}
    if known is None and values.get("line"):
        attach(store, point, values, record, source)
    elif known is not None:
        if "line" in changed:
            line = store.need("line", (str(changed["line"]),), "line", record)
            _update(store, record, Attachment, {"line_id": line}, source, also=("line_id",))
        _update(store, record, Attachment, changed, source)


def _update(
    store: Store,
    record: Record,
    model: type[Base],
    changed: dict[str, Any],
    source: int,
    also: tuple[str, ...] = (),
) -> None:
    wanted = {*plain_columns(model), *also}
    after = {name: value for name, value in changed.items() if name in wanted}
    was = store.today.values[record.subject, record.key]
    row_id = store.today.ids[record.subject, record.key][model.__tablename__]
    before = {"id": row_id, **{name: was.get(name) for name in after}}
    store.buffer.change(model, before, after, source)


def _event_differs(_: Store, record: Record, __: Changed, ___: int) -> None:
    raise InputHasFaults(
        Sentence(
            "{subject} {names} is stored with other values; an event is never changed ({place})",
            subject=record.subject,
            names=joined(record.key, " "),
            place=str(record.source.place("")),
        ),
        (),
        remedy="If it is another event, give it its own day or reader",
    )


_TABLE: dict[str, type[Base]] = {
    "line": Line,
    "attachment": Attachment,
    "unit": Unit,
    "nameplate": Nameplate,
    "hardware": HardwarePiece,
    "calculation": Calculation,
    "required load": RequiredLoad,
    "nozzle limit": NozzleLimit,
    "line node": LineNode,
    "line element": LineElement,
    "line end": LineEnd,
}

CHANGE: dict[str, Callable[[Store, Record, Changed, int], None]] = {
    "support": _change_support,
    "setting": _event_differs,
    "reading": _event_differs,
}
