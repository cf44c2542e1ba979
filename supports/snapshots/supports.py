"""A support with all that is known of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from supports.snapshots.lines import AttachmentView, RequiredView
from supports.snapshots.units import PieceView, UnitView
from supports.vocabulary import Arrangement, CaseKind, InService, SupportKind


@dataclass(frozen=True, slots=True)
class SupportView:
    """A support point with all that hangs there."""

    id: int
    tag: str
    kind: SupportKind
    former_tags: tuple[str, ...] = ()
    area: str = ""
    in_service: InService = InService.IN_PLACE
    criticality: str = ""
    floor: str = ""
    grid: str = ""
    elevation: float | None = None
    height_above_floor: float | None = None
    scaffold_group: str = ""
    arrangement: Arrangement = Arrangement.SINGLE
    arm_a: float | None = None
    arm_b: float | None = None
    beam_mass: float | None = None
    rod_length: float | None = None
    rod_offset: float | None = None
    attachments: tuple[AttachmentView, ...] = ()
    units: tuple[UnitView, ...] = ()
    hardware: tuple[PieceView, ...] = ()
    required: tuple[RequiredView, ...] = ()
    """Of one calculation per line, chosen by whoever asked."""
    waiting: tuple[str, ...] = ()
    """Values of files that were not taken because they are not clear, in words."""

    @property
    def public_id(self) -> str:
        """Return the point's own name, which outlives every tag."""
        return f"P{self.id:06d}"

    @property
    def lines(self) -> tuple[str, ...]:
        """Return the numbers of the lines held here."""
        return tuple(a.line for a in self.attachments)

    @property
    def sideways(self) -> float | None:
        """Return the sideways movement from shut down to operating [m]; None where not known."""
        for required in self.required:
            east, north = required.movement_east, required.movement_north
            if required.case_kind is CaseKind.OPERATING and east is not None and north is not None:
                return math.hypot(east, north)
        return None

    def order_on(self, line: str) -> tuple[int, float]:
        """Return a sort key along a line; unknown places come last."""
        place = next((a for a in self.attachments if a.line == line), None)
        if place is None or place.order_along is None:
            return (1_000_000, 0.0)
        return (place.order_along, place.distance_along or 0.0)
