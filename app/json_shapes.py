"""The shape in which each command answers in JSON, as JSON Schema, out of the views themselves."""

from __future__ import annotations

import types
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from typing import Any, Union, get_args, get_origin, get_type_hints

from app import shapes, shapes_of_lines
from app.answers import VERSION, Files
from app.plainly import key_of
from app.standing import WhereYouStand
from importers.joining import Joined
from supports.calc.line.comparison import Compared
from supports.operations.copying import Copied
from supports.queries.accounts import AccountView
from supports.queries.differences import Difference
from supports.queries.history import Event
from supports.queries.intake import Doubt, ProfileView
from supports.queries.joining import DecisionView
from supports.queries.limits import LaidDown
from supports.queries.plans import PlanOnRecord
from supports.queries.props import PropIn
from supports.queries.rule_runs import RunView
from supports.queries.stops import PinIn
from supports.queries.walkdowns.lookups import CampaignRow
from supports.rules.run import Since
from supports.rules.site_settings import ProfileValue
from supports.rules.turnaround.scope import Scope
from supports.rules.walkdown.findings import FindingView
from supports.rules.wording import Explanation
from supports.snapshots import SupportView, WorkOrderView

SHAPES: dict[str, Any] = {
    "": WhereYouStand,
    "where": WhereYouStand,
    "begin": WhereYouStand,
    "ask": tuple[shapes.UnitAsked, ...],
    "audit as-of": shapes.AsOf,
    "audit between": tuple[Difference, ...],
    "audit refused": tuple[shapes.Refused, ...],
    "audit show": tuple[shapes.Batch, ...],
    "audit verify": shapes.Whole,
    "change history": tuple[Event, ...],
    "change list": tuple[shapes.ChangeRow, ...],
    "change show": shapes.ChangeStanding,
    "change steps": tuple[shapes.StepRow, ...],
    "change summary": Files,
    "desk account list": tuple[AccountView, ...],
    "line check": shapes_of_lines.LineChecked,
    "line compare": tuple[Compared, ...],
    "line influence": tuple[shapes_of_lines.Effects, ...],
    "line screen": shapes_of_lines.LineScreened,
    "line screen-all": shapes_of_lines.LinesScreened,
    "line states": tuple[shapes_of_lines.StateShown, ...],
    "line what-if": shapes_of_lines.WhatIf,
    "paper list": tuple[shapes.PaperRow, ...],
    "paper make": Files,
    "people list": tuple[shapes.PersonRow, ...],
    "plan list": tuple[PlanOnRecord, ...],
    "plan paper": Files,
    "plan show": PlanOnRecord,
    "props count": tuple[PropIn, ...],
    "register backup": Copied,
    "register export": Files,
    "register restore": Copied,
    "rules explain": tuple[Explanation, ...],
    "rules handbook": shapes.Text,
    "rules runs": tuple[RunView, ...],
    "rules show": shapes.FindingsNow,
    "rules since": Since,
    "settings history": tuple[LaidDown, ...],
    "settings list": tuple[shapes.LimitNow, ...],
    "settings periods": tuple[shapes.NumberNow, ...],
    "settings profile": dict[str, tuple[ProfileValue, ...]],
    "sheets blank": Files,
    "sheets check": shapes.FileChecked,
    "sheets decisions": tuple[DecisionView, ...],
    "sheets doubts": tuple[Doubt, ...],
    "sheets join": Joined,
    "sheets profiles": tuple[ProfileView, ...],
    "sheets propose": tuple[shapes.SheetProposed, ...],
    "stops count": tuple[PinIn, ...],
    "stops start-up": shapes.StartUpAnswer,
    "support list": tuple[SupportView, ...],
    "support show": shapes.SupportShown,
    "turnaround list": tuple[shapes.TurnaroundRow, ...],
    "turnaround norms": tuple[shapes.NumberNow, ...],
    "turnaround paper": Files,
    "turnaround scope": Scope,
    "unit history": shapes.UnitHistory,
    "verification run": tuple[shapes.ValueChecked, ...],
    "walkdown coverage": tuple[shapes.AreaSeen, ...],
    "walkdown findings": tuple[FindingView, ...],
    "walkdown list": tuple[CampaignRow, ...],
    "walkdown report": Files,
    "walkdown sample": shapes.Sampling,
    "walkdown show": shapes.CampaignShown,
    "walkdown trend": Files,
    "work-order pack": Files,
    "work-order show": WorkOrderView,
}
"""What each command that reads, or that writes files, answers with."""

_NAMED = {str: "string", bool: "boolean", int: "integer", float: "number", type(None): "null"}


def envelope_of(command: str) -> dict[str, Any]:
    """Return the JSON Schema of a whole answer; a command that only writes answers with null."""
    views: dict[str, Any] = {}
    answer = schema_of(SHAPES[command], views) if command in SHAPES else {"type": "null"}
    properties = {
        "command": {"const": command},
        "version": {"const": VERSION},
        "answer": answer,
        "said": {"type": "array", "items": {"type": "string"}},
    }
    return {**_object(properties), "$defs": views}


def schema_of(kind: Any, views: dict[str, Any]) -> dict[str, Any]:
    """Return the JSON Schema of a type, written as `app.plainly.plain` writes its values.

    Parameters
    ----------
    views
        Dataclasses met on the way are added here by name.
    """
    if get_origin(kind) in {Union, types.UnionType}:
        return {"anyOf": [schema_of(one, views) for one in get_args(kind)]}
    if get_origin(kind) is not None:
        return _container(get_origin(kind), get_args(kind), views)
    if is_dataclass(kind) and isinstance(kind, type):
        return _view(kind, views)
    return _single(kind)


def _container(origin: Any, args: tuple[Any, ...], views: dict[str, Any]) -> dict[str, Any]:
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return {"type": "object", "additionalProperties": schema_of(args[1], views)}
    if origin is tuple and args[-1] is not Ellipsis:
        items = [schema_of(one, views) for one in args]
        return {"type": "array", "prefixItems": items, "minItems": len(args)}
    return {"type": "array", "items": schema_of(args[0], views)}


def _view(kind: type[Any], views: dict[str, Any]) -> dict[str, Any]:
    name = kind.__name__
    if name not in views:
        views[name] = {}
        hints = get_type_hints(kind)
        properties = {
            key_of(name, one.name): schema_of(hints[one.name], views) for one in fields(kind)
        }
        said = (kind.__doc__ or "").strip().splitlines()[0]
        views[name] = {**_object(properties), "description": said}
    return {"$ref": f"#/$defs/{name}"}


def _single(kind: Any) -> dict[str, Any]:
    if kind is Any:
        return {}
    if kind is datetime:
        return {"type": "string", "format": "date-time"}
    if kind is date:
        return {"type": "string", "format": "date"}
    if issubclass(kind, Enum):
        return {"enum": [str(one) for one in kind]}
    named = {"type": _NAMED[kind]}
    return {"type": ["number", "null"]} if kind is float else named


def _object(properties: dict[str, Any]) -> dict[str, Any]:
    return {
        "type": "object", "properties": properties, "required": [*properties],
        "additionalProperties": False,
    }  # fmt: skip


def classes_of(kind: Any, seen: set[type[Any]] | None = None) -> set[type[Any]]:
    """Return every view that a type can hold, however deep."""
    seen = set() if seen is None else seen
    for one in get_args(kind):
        classes_of(one, seen)
    if is_dataclass(kind) and isinstance(kind, type) and kind not in seen:
        seen.add(kind)
        for hint in get_type_hints(kind).values():
            classes_of(hint, seen)
    return seen


def numbers_of(kind: Any) -> Iterator[tuple[str, str]]:
    """Yield view and field of every number with a fraction that a type can hold."""
    for view in classes_of(kind):
        hints = get_type_hints(view)
        for one in fields(view):
            if float in _flat(hints[one.name]):
                yield view.__name__, one.name


def _flat(kind: Any) -> set[Any]:
    return {kind} | {inner for one in get_args(kind) for inner in _flat(one)}
