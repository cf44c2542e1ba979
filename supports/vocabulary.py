"""The register's closed lists of words, in the trade's terms."""

from __future__ import annotations

from enum import StrEnum


def counted(number: int, one: str, many: str = "") -> str:
    """Return a number with its noun: '1 unit', '3 units'; `many` where it is not one with an s.

    >>> counted(1, "unit"), counted(0, "batch", "batches")
    ('1 unit', '0 batches')
    """
    return f"{number:,} {one if number == 1 else many or one + 's'}"


class SupportKind(StrEnum):
    """What holds the pipe at a support point."""

    CONSTANT_HANGER = "constant hanger"
    CONSTANT_REST = "constant rest"
    VARIABLE_HANGER = "variable hanger"
    VARIABLE_REST = "variable rest"
    RIGID_ROD = "rigid rod"
    RIGID_STRUT = "rigid strut"
    REST = "rest"
    ROLLER = "roller"
    GUIDE = "guide"
    LINE_STOP = "line stop"
    ANCHOR = "anchor"
    SHOCK_ARRESTOR = "shock arrestor"
    SWAY_BRACE = "sway brace"
    DUMMY_LEG = "dummy leg"
    COUNTERWEIGHT = "counterweight"
    UNKNOWN = "unknown"

    @property
    def is_constant(self) -> bool:
        """Return whether it is a constant support."""
        return self in {SupportKind.CONSTANT_HANGER, SupportKind.CONSTANT_REST}

    @property
    def is_variable(self) -> bool:
        """Return whether it is a variable spring."""
        return self in {SupportKind.VARIABLE_HANGER, SupportKind.VARIABLE_REST}

    @property
    def is_spring(self) -> bool:
        """Return whether its load can be set."""
        return self.is_constant or self.is_variable

    @property
    def is_hanger(self) -> bool:
        """Return whether the pipe hangs there from a rod that swings."""
        return self in {
            SupportKind.CONSTANT_HANGER,
            SupportKind.VARIABLE_HANGER,
            SupportKind.RIGID_ROD,
        }

    @property
    def carries_no_weight(self) -> bool:
        """Return whether it guides, stops or damps, and carries nothing."""
        return self in {
            SupportKind.GUIDE,
            SupportKind.LINE_STOP,
            SupportKind.SHOCK_ARRESTOR,
            SupportKind.SWAY_BRACE,
        }


class Arrangement(StrEnum):
    """How units hang at one support point."""

    SINGLE = "single"
    TRAPEZE = "two units on one trapeze"
    RISER_PAIR = "riser pair"


class Known(StrEnum):
    """An answer that may not be known."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


class InService(StrEnum):
    """Whether a support is there."""

    IN_PLACE = "in place"
    SPARE = "spare"
    REMOVED = "removed"
    PLANNED = "planned"
    NOT_FOUND = "not found"


class Way(StrEnum):
    """A way in which a pipe may meet steel."""

    UP = "up"
    DOWN = "down"
    EAST = "east"
    WEST = "west"
    NORTH = "north"
    SOUTH = "south"


class PlantState(StrEnum):
    """The state of the plant at a reading; 'shut down' and 'operating' serve cold lines too."""

    OPERATING_STEADY = "operating, steady"
    OPERATING_PART_LOAD = "operating, part load"
    SHUT_DOWN_FULL = "shut down, full"
    SHUT_DOWN_DRAINED = "shut down, drained"
    BARE = "bare"
    UNDER_TEST = "under test"
    UNKNOWN = "unknown"


class CaseKind(StrEnum):
    """What a design case stands for."""

    OPERATING = "operating"
    SUSTAINED = "sustained"
    COLD = "cold"
    TEST = "test"
    OCCASIONAL = "occasional"
    EMPTY = "empty"


class CalculationMethod(StrEnum):
    """How a calculation was made."""

    FULL = "full analysis"
    SCREENING = "screening"
    HAND = "hand"


class CalculationStatus(StrEnum):
    """Where a calculation revision stands; one that is planned holds once its change is done."""

    PLANNED = "planned"
    ISSUED = "issued"
    SUPERSEDED = "superseded"
    AS_BUILT = "as built"


class LineRun(StrEnum):
    """What operations did with a line."""

    START_UP = "start-up"
    SHUT_DOWN = "shut-down"


class SettingMethod(StrEnum):
    """How a setting or a reading was got."""

    SCALE = "scale"
    LOAD_CELL = "load cell"
    ESTIMATE = "estimate"
    PAPER_MARK = "paper mark"
    NAMEPLATE = "nameplate"
    TURNS = "turns counted"


class RoutePiece(StrEnum):
    """A piece of a line's route between two nodes."""

    PIPE = "pipe"
    BEND = "bend"
    REDUCER = "reducer"
    VALVE = "valve"
    FLANGE_PAIR = "flange pair"
    RIGID = "rigid body"


class EndKind(StrEnum):
    """How a line is held at an end."""

    ANCHOR = "anchor"
    NOZZLE = "nozzle"


class Occasion(StrEnum):
    """What a reading was taken for."""

    AS_FOUND = "as found"
    AS_LEFT = "as left"
    WALKDOWN = "walkdown"
    OTHER = "other"


class TurnCounts(StrEnum):
    """What the load per turn on a plate is counted by, on a unit with several load bolts."""

    ONE_BOLT = "one bolt turned once"
    EVERY_BOLT = "every bolt turned once"


class PlateSource(StrEnum):
    """Where nameplate data were read."""

    PLATE = "plate"
    CERTIFICATE = "certificate"
    DRAWING = "drawing"
    MEASURED = "measured"


class PieceKind(StrEnum):
    """A piece of the hardware stack."""

    BEAM = "beam"
    BEAM_CLIP = "beam clip"
    LUG = "lug"
    ROD = "rod"
    NUT = "nut"
    TURNBUCKLE = "turnbuckle"
    COUPLING = "coupling"
    CLEVIS = "clevis"
    PIN = "pin"
    UNIT = "unit"
    YOKE = "yoke"
    TRAPEZE_BEAM = "trapeze beam"
    CLAMP = "clamp"
    RISER_CLAMP = "riser clamp"
    SHOE = "shoe"
    PAD = "pad"
    WELD = "weld"
    OTHER = "other"


class ReadAs(StrEnum):
    """When a unit is read for a work order: before it is touched, and when it is left."""

    FOUND = "as found"
    LEFT = "as left"


class Kept(StrEnum):
    """Which of two stands where a form and the register differ."""

    FORM = "form"
    RECORDED = "recorded"


class Verdict(StrEnum):
    """What is to become of a support under a change."""

    CANNOT_BE_SET = "cannot be set"
    HARDWARE_FAILS = "hardware fails"
    CANNOT_JUDGE = "cannot judge"
    RE_SET = "re-set"
    ENGINEER_DECIDES = "engineer decides"
    LEAVE = "leave"

    @property
    def rank(self) -> int:
        """0 for what weighs most; a support's verdict is the weightiest of its units'."""
        return list(Verdict).index(self)


class Duration(StrEnum):
    """How long a change is meant to stand."""

    PERMANENT = "permanent"
    TEMPORARY = "temporary"


class Role(StrEnum):
    """What a person may do."""

    STRESS_ENGINEER = "stress engineer"
    RESPONSIBLE_ENGINEER = "responsible engineer"
    COORDINATOR = "change coordinator"
    PLANNER = "planner"
    INSPECTOR = "inspector"
    FOREMAN = "foreman"
    TECHNICIAN = "technician"
    OPERATIONS = "operations"
    CIVIL_ENGINEER = "civil engineer"
    REGISTER_KEEPER = "register keeper"
