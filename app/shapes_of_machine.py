"""What only the machine interface answers, and what it takes; numbers carry their unit by name."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from app.shapes import FileChecked
from supports.queries.line_list import ListedLine
from supports.rules.acceptances import Stood
from supports.snapshots import WorkOrderView
from supports.vocabulary import PlantState, ReadAs


@dataclass(frozen=True, slots=True)
class TokenHeld:
    """Whom a token acts for, with which roles today, within which scope."""

    person: str
    roles: tuple[str, ...]
    scope: str


@dataclass(frozen=True, slots=True)
class ReadingTaken:
    """A reading handed in; `recorded` is false where the very same was recorded before."""

    order: str
    tag: str
    position: str
    occasion: str
    recorded: bool
    state: str
    """Where the unit stands now."""


@dataclass(frozen=True, slots=True)
class FormTaken:
    """What became of each row of a form, in words."""

    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SheetPreview:
    """What a file would store, and the mark of just that."""

    checked: FileChecked
    mark: str
    """Hand it in with the file; where something else would be stored by then, it is refused."""


@dataclass(frozen=True, slots=True)
class SheetStored:
    """What became of a file; values that wait do so until somebody says what they mean."""

    checked: FileChecked
    stored: bool
    waiting: int
    answered: int


MACHINE_SHAPES: dict[str, Any] = {
    "token": TokenHeld,
    "line list": tuple[ListedLine, ...],
    "work-order list": tuple[WorkOrderView, ...],
    "rules found": tuple[Stood, ...],
    "reading taken": ReadingTaken,
    "form taken": FormTaken,
    "sheet preview": SheetPreview,
    "sheet stored": SheetStored,
}
"""What the machine interface answers beside the answers of commands."""

_Name = Annotated[str, Field(max_length=200)]
_Finite = Annotated[float, Field(allow_inf_nan=False)]


class SentReading(BaseModel):
    """What was read at one unit of a work order; what is left out is not known, never zero."""

    model_config = ConfigDict(
        extra="forbid",
        json_schema_extra={
            "examples": [
                {
                    "tag": "PS-1024", "position": "A", "occasion": "as found", "load_N": 18200.0,
                    "pointer_m": 0.042, "read_on": "2031-05-04", "plant_state": "shut down, full",
                    "read_by": "T. Reader",
                }
            ]
        },
    )  # fmt: skip

    tag: _Name
    position: Annotated[str, Field(max_length=10)] = ""
    occasion: ReadAs
    load_N: _Finite | None = None
    pointer_m: _Finite | None = None
    read_on: date
    plant_state: PlantState = PlantState.UNKNOWN
    read_by: _Name = ""
    second_reader: _Name = ""
    turns_given: _Finite | None = None
    note: Annotated[str, Field(max_length=2000)] = ""
