"""Frozen views of the register, handed to arithmetic, rules and papers.

SI floats throughout; None is 'not known' and stays so.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from supports.findings import Place
from supports.vocabulary import (
    Arrangement,
    CaseKind,
    EndKind,
    InService,
    Known,
    PlantState,
    RoutePiece,
    SupportKind,
)

NOWHERE = Place()
"""The place of a row that came from no sheet."""


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
class NameplateView:
    """What stands on a unit's plate."""

    source: str = ""
    provisional: bool = False
    scale_unit: str = ""
    pointer_unit: str = ""
    nameplate_load: float | None = None
    range_low: float | None = None
    range_high: float | None = None
    load_per_turn: float | None = None
    load_per_turn_table: tuple[tuple[float, float, float], ...] = ()
    direction_to_increase: str = ""
    direction_to_decrease: str = ""
    load_bolts: int | None = None
    turn_counts: str = ""
    bolt_pitch: float | None = None
    free_to_increase: float | None = None
    free_to_decrease: float | None = None
    total_travel: float | None = None
    design_travel: float | None = None
    cold_mark: float | None = None
    hot_mark: float | None = None
    zero_end: str = ""
    deviation: float | None = None
    setting_changes_travel: Known = Known.UNKNOWN
    may_turn_locked: Known = Known.UNKNOWN
    stop_rating: float | None = None
    own_mass: float | None = None
    rate: float | None = None
    working_low: float | None = None
    working_high: float | None = None
    hot_load: float | None = None
    cold_load: float | None = None
    movement: float | None = None
    thread_pitch: float | None = None
    take_up: str = ""


@dataclass(frozen=True, slots=True)
class SettingView:
    """The newest setting of a unit."""

    load: float
    happened_on: date
    method: str
    set_by: str
    plant_state: PlantState = PlantState.UNKNOWN


@dataclass(frozen=True, slots=True)
class ReadingView:
    """One reading of a unit."""

    read_on: date
    plant_state: str
    scale_load: float | None
    pointer: float | None
    read_by: str
    occasion: str
    second_reader: str = ""


@dataclass(frozen=True, slots=True)
class UnitView:
    """A unit in service at a position of an assembly."""

    id: int
    position: str
    kind: SupportKind
    serial: str = ""
    nameplate: NameplateView | None = None
    setting: SettingView | None = None
    last_reading: ReadingView | None = None
    stops_in: tuple[str, ...] = ()
    """Pin numbers of travel stops that are in."""


@dataclass(frozen=True, slots=True)
class PieceView:
    """One piece of the hardware stack, from the steel down."""

    branch: str
    position: int
    kind: str
    size: str = ""
    rated_load: float | None = None
    rating_source: str = ""
    mass: float | None = None
    derating: float | None = None
    length: float | None = None
    adjustment_left: float | None = None


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

    @property
    def public_id(self) -> str:
        """Return the point's own name, which outlives every tag."""
        return f"P{self.id:06d}"

    @property
    def lines(self) -> tuple[str, ...]:
        """Return the numbers of the lines held here."""
        return tuple(a.line for a in self.attachments)

    def order_on(self, line: str) -> tuple[int, float]:
        """Return a sort key along a line; unknown places come last."""
        place = next((a for a in self.attachments if a.line == line), None)
        if place is None or place.order_along is None:
            return (1_000_000, 0.0)
        return (place.order_along, place.distance_along or 0.0)


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
class WeightItemView:
    """Something that a change adds to a line, or takes away (negative mass)."""

    line: str
    description: str
    mass: float
    along: float | None = None
    off_axis: float | None = None
    above_axis: float | None = None
    source: str = ""


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


@dataclass(frozen=True, slots=True)
class ChangeView:
    """A change with its lines and weights."""

    id: int
    number: str
    title: str
    reason: str
    duration: str
    state: str
    aim: str
    requested_by: str
    requested_on: date
    ends_on: date | None = None
    lines: tuple[str, ...] = ()
    weights: tuple[WeightItemView, ...] = ()


@dataclass(frozen=True, slots=True)
class WorkOrderLineView:
    """What is done at one unit, and what was read there."""

    id: int
    order_no: int
    point_id: int
    tag: str
    unit_id: int
    position: str
    serial: str
    action: str
    state: str
    from_load: float | None = None
    to_load: float | None = None
    window_low: float | None = None
    window_high: float | None = None
    turns: int | None = None
    flats: int | None = None
    direction: str = ""
    remark: str = ""
    as_found: ReadingView | None = None
    as_left: ReadingView | None = None
    waits_for: str = ""


@dataclass(frozen=True, slots=True)
class WorkOrderView:
    """A work order with its lines, in order."""

    id: int
    number: str
    change: str
    assessment_id: int
    state: str
    line_state_needed: str
    written_on: date
    written_by: str
    crew: int | None = None
    hours: float | None = None
    lines: tuple[WorkOrderLineView, ...] = ()
    kind: str = "re-set"
    scaffold_group: str = ""
    scaffold_hours: float | None = None


@dataclass(frozen=True, slots=True)
class SignatureView:
    """Somebody signed, bound to what the thing said at that moment."""

    meaning: str
    person: str
    role: str
    signed_on: date
    fingerprint: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class RouteNodeView:
    """A node of a line's route, in plant coordinates [m]."""

    node: str
    east: float | None
    north: float | None
    elevation: float | None
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class RouteElementView:
    """A piece of a line's route: lengths [m], mass [kg]."""

    from_node: str
    to_node: str
    piece: RoutePiece
    outside_diameter: float | None = None
    wall: float | None = None
    bend_radius: float | None = None
    mass: float | None = None
    centre: tuple[float, float, float] = (0.0, 0.0, 0.0)
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class RouteEndView:
    """An end of a line: stiffness [N/m], [N·m/rad], rigid where None; movement [m]."""

    node: str
    end_kind: EndKind
    nozzle: str = ""
    stiffness: float | None = None
    rotational_stiffness: float | None = None
    movement: tuple[float, float, float] = (0.0, 0.0, 0.0)
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class RouteView:
    """A line with its route in space, and all that holds it."""

    line: LineView
    material: str
    insulation_thickness: float | None
    insulation_density: float | None
    cladding_mass_per_length: float | None
    content_density: float | None
    insulation: str = ""
    """In words; 'none' tells that there is none, a blank tells nothing."""
    nodes: tuple[RouteNodeView, ...] = ()
    elements: tuple[RouteElementView, ...] = ()
    ends: tuple[RouteEndView, ...] = ()
    supports: tuple[SupportView, ...] = ()
    nozzles: tuple[NozzleLimitView, ...] = ()
