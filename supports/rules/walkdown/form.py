"""What an issued form holds, frozen with the values that it was issued on."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from supports.rules.walkdown.expectation import Expected
from supports.rules.walkdown.route import Leg
from supports.rules.walkdown.words import Half, PhotoSubject
from supports.snapshots import NameplateView, ReadingView
from supports.vocabulary import PlantState, SupportKind


@dataclass(frozen=True, slots=True)
class OpenFinding:
    """A finding that is not at its end, as printed for the walker."""

    number: str
    tag: str
    what: str
    how_soon: str
    state: str
    owner: str = ""
    due_on: date | None = None


@dataclass(frozen=True, slots=True)
class LastPhoto:
    """The newest photo of one subject at a row; the picture lies in the store by its hash."""

    subject: PhotoSubject
    number: str
    taken_on: date
    content_hash: str


@dataclass(frozen=True, slots=True)
class FormRow:
    """One row: a unit, or a support without units. SI: m, N.

    Parameters
    ----------
    last
        The last four readings, newest first.
    changed
        Why it is to be looked at with care: changed since the last walk; '' if not.
    base
        Values that the campaign held for this row when the form was issued.
    """

    item_id: int
    order: int
    tag: str
    public_id: str
    unit_id: int | None
    kind: SupportKind
    line: str
    order_on_line: int | None
    distance: float | None = None
    serial: str = ""
    area: str = ""
    floor: str = ""
    grid: str = ""
    height: float | None = None
    criticality: str = ""
    plate: NameplateView = field(default_factory=NameplateView)
    setting: float | None = None
    set_on: date | None = None
    expected: Expected | None = None
    movement: float | None = None
    stops_in: tuple[str, ...] = ()
    last: tuple[ReadingView, ...] = ()
    changed: str = ""
    findings: tuple[str, ...] = ()
    stack: tuple[str, ...] = ()
    photos: tuple[LastPhoto, ...] = ()
    base: dict[str, Any] = field(default_factory=dict)

    @property
    def load_unit(self) -> str:
        """Return the unit printed on the load scale; '' where nobody knows."""
        return self.plate.scale_unit

    @property
    def pointer_unit(self) -> str:
        """Return the unit printed on the pointer scale; '' where nobody knows."""
        return self.plate.pointer_unit

    @property
    def wants_card(self) -> bool:
        """Return whether a card is printed: class A springs, and open findings."""
        return bool(self.findings) or (self.criticality == "A" and self.kind.is_spring)


@dataclass(frozen=True, slots=True)
class FormLine:
    """A line of the form."""

    number: str
    service: str = ""
    nominal_size: str = ""
    operating_temperature: float | None = None
    nozzles: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FormContent:
    """All that a form was issued with."""

    campaign: str
    title: str
    reason: str
    half: Half
    state_wanted: PlantState
    revision: int
    walk_on: date
    rows: tuple[FormRow, ...]
    lines: tuple[FormLine, ...] = ()
    legs: tuple[Leg, ...] = ()
    previous: str = ""
    pair: str = ""
    open_findings: tuple[OpenFinding, ...] = ()

    @property
    def form_id(self) -> str:
        """Return what names the form when it comes back."""
        return f"{self.campaign}/{self.revision}"

    @property
    def photo_hashes(self) -> frozenset[str]:
        """Return the photos that are printed on cards, by hash."""
        return frozenset(
            photo.content_hash for row in self.rows if row.wants_card for photo in row.photos
        )

    def row(self, item_id: int) -> FormRow | None:
        """Return the row of an item, if the form has it."""
        return next((row for row in self.rows if row.item_id == item_id), None)
