"""Views and judgements as plain JSON data and back, and the fingerprint of what they say."""

from __future__ import annotations

import hashlib
import hmac
import json
from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

import orjson

if TYPE_CHECKING:
    from pydantic import TypeAdapter

T = TypeVar("T")


def to_plain(value: Any) -> dict[str, Any]:
    """Return a frozen dataclass as data that JSON can hold."""
    plain: dict[str, Any] = _adapter(type(value)).dump_python(value, mode="json")
    return plain


def from_plain(kind: type[T], data: dict[str, Any]) -> T:
    """Return the frozen dataclass that `to_plain` was given."""
    value: T = _adapter(kind).validate_python(data)
    return value


def fingerprint(data: Any) -> str:
    """Return a hash that changes whenever the content does."""
    return hashlib.sha256(canonical(data)).hexdigest()


def canonical(data: Any) -> bytes:
    """Return one writing for equal values, whatever database they went through."""
    return json.dumps(_steady(data), sort_keys=True, separators=(",", ":")).encode()


class Written(NamedTuple):
    """JSON that `written` wrote already; whoever stores it need not write it again."""

    text: str


def written(data: Any) -> str:
    """Return data as JSON, keys sorted, numbers and days as they are."""
    try:
        return orjson.dumps(data, option=orjson.OPT_SORT_KEYS).decode()
    except TypeError:  # numbers beyond 64 bits, keys that are no text
        return steadily_written(data)


def steadily_written(data: Any) -> str:
    """Return data as JSON as they come back from either database: large numbers as floats."""
    return orjson.dumps(_as_stored(data), option=orjson.OPT_SORT_KEYS).decode()


def mark_of(document: Any) -> dict[str, str]:
    """Return what stands for a document where it is not told itself: the hash of its writing."""
    text = document.text if isinstance(document, Written) else steadily_written(document)
    return {"sha256": hashlib.sha256(text.encode()).hexdigest()}


def is_mark(document: Any) -> bool:
    """Return whether a document is what stands for another.

    >>> is_mark(mark_of({"tag": ["A", "PS-1", ""]})), is_mark({"sha256": ["A", "PS-1", ""]})
    (True, False)
    """
    return isinstance(document, dict) and [*map(type, document.values())] == [str]


def seal(key: str, *parts: str) -> str:
    """Return a keyed hash of some words: whoever alters one cannot make a new seal."""
    return hmac.new(key.encode(), canonical(list(parts)), hashlib.sha256).hexdigest()[:20]


def short(mark: str) -> str:
    """Return a fingerprint as it is printed on papers."""
    return "-".join(mark[i : i + 4] for i in range(0, 12, 4)).upper()


def _steady(value: Any) -> Any:
    if isinstance(value, bool) or value is None or isinstance(value, str):
        return value
    if isinstance(value, int | float):
        return float(value) + 0.0
    if isinstance(value, dict):
        return {str(key): _steady(item) for key, item in value.items()}
    return [_steady(item) for item in value]


MANY_DIGITS = 1e15
"""From here on a database may give a number back in another writing."""


def _as_stored(value: Any) -> Any:
    if isinstance(value, bool | str | date | orjson.Fragment | None):
        return value
    if isinstance(value, int | float):
        return float(value) + 0.0 if abs(value) >= MANY_DIGITS else value + 0
    if isinstance(value, Mapping):
        return {str(key): _as_stored(item) for key, item in value.items()}
    return [_as_stored(item) for item in value]


_ADAPTERS: dict[type[Any], TypeAdapter[Any]] = {}


def _adapter(kind: type[Any]) -> TypeAdapter[Any]:
    if kind not in _ADAPTERS:
        from pydantic import TypeAdapter

        _ADAPTERS[kind] = TypeAdapter(kind)
    return _ADAPTERS[kind]
