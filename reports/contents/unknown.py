"""What is not known, told in the paper's language wherever a number would stand."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from enum import Enum
from typing import Any

from reports.contents.written import NOT_KNOWN
from reports.languages import ENGLISH, Texts


def unknown_said(value: Any, say: Texts) -> Any:
    """Return blocks or data in which 'not known' is said in the language.

    >>> from reports.languages import texts
    >>> unknown_said(["not known → 20.00 kN"], texts("de"))
    ['unbekannt → 20.00 kN']
    """
    if say.language == ENGLISH or isinstance(value, Enum):
        return value
    if isinstance(value, str):
        return value.replace(NOT_KNOWN, say(NOT_KNOWN))
    if isinstance(value, (list, tuple)):
        return type(value)([unknown_said(one, say) for one in value])
    if isinstance(value, dict):
        return {key: unknown_said(one, say) for key, one in value.items()}
    if is_dataclass(value) and not isinstance(value, type):
        told = {f.name: unknown_said(getattr(value, f.name), say) for f in fields(value) if f.init}
        return replace(value, **told)
    return value
