"""Units in service and the pieces they hang on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from supports.sentences import Sentence
from supports.vocabulary import Known, PlantState, SupportKind


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
class SettingUnder:
    """One setting of a unit, with the change and order by which it was made; '' is none."""

    load: float
    happened_on: date
    method: str
    set_by: str
    plant_state: str
    under: str = ""
    note: str = ""


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
    in_place_since: int | None = None
    """Year in which it was hung there, else in which it was built."""

    @property
    def setting_unknown(self) -> str:
        """Return how it is said that nobody knows the setting; the nameplate is no setting."""
        if self.in_place_since:
            return Sentence("setting not known since {day}", day=str(self.in_place_since))
        return "setting not known"


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
