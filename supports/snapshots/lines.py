"""Lines, their calculations, and the loads and limits that those give."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from supports.vocabulary import CaseKind, Known


@dataclass(frozen=True, slots=True)
class LineView:
    """A line as the register knows it."""

    id: int
    number: str
    area: str = ""
    service: str = ""
    nominal_size: str = ""
    outside_diameter: float | None = None
    wall: float | None = None
    pipe_mass_per_length: float | None = None
    insulation_mass_per_length: float | None = None
    content_mass_per_length: float | None = None
    operating_temperature: float | None = None
    creep_or_high_energy: Known = Known.UNKNOWN
    criticality: str = ""


@dataclass(frozen=True, slots=True)
class RequiredView:
    """What one calculation revision requires at a point, for a line and a case."""

    line: str
    case: str
    case_kind: CaseKind
    load: float | None
    includes_hardware: Known = Known.UNKNOWN
    movement_up: float | None = None
    movement_east: float | None = None
    movement_north: float | None = None


@dataclass(frozen=True, slots=True)
class AttachmentView:
    """A support point on a line."""

    line: str
    order_along: int | None = None
    distance_along: float | None = None
    node: str = ""
    arm: float | None = None
    share: float | None = None


@dataclass(frozen=True, slots=True)
class CalculationView:
    """A calculation at one revision."""

    id: int
    number: str
    revision: str
    method: str
    status: str
    issued_on: date | None = None
    author: str = ""
    basis: str = ""

    @property
    def name(self) -> str:
        """Return number and revision in one."""
        return f"{self.number} rev. {self.revision}"


@dataclass(frozen=True, slots=True)
class NozzleLimitView:
    """What a nozzle may carry; unknown components are None."""

    line: str
    nozzle: str
    equipment: str
    machine: Known
    forces: tuple[float | None, float | None, float | None]
    moments: tuple[float | None, float | None, float | None]
    force_resultant: float | None = None
    moment_resultant: float | None = None
    source: str = ""
    node: str = ""
