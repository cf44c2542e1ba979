"""The sheets that the register takes in: their columns, headings, kinds and accepted words.

One declaration serves reading, the blank workbook for users, the export and the documentation.
Field names are the register's own.
"""

from __future__ import annotations

from importers.common_columns import (
    LINES_CALLED,
    line_column,
    nth_column,
    tag_column,
    unit_position_column,
)
from importers.declared import LOAD_UNIT, TRAVEL_UNIT, UNIT_COLUMNS, Column, Form, Sheet
from importers.route_sheets import ROUTE_SHEETS
from supports.proposals import Record
from supports.units import Kind
from supports.vocabulary import (
    Arrangement,
    CalculationMethod,
    CalculationStatus,
    CaseKind,
    InService,
    Known,
    Occasion,
    PieceKind,
    PlantState,
    PlateSource,
    SettingMethod,
    SupportKind,
    TurnCounts,
    Way,
)

LINES = Sheet(
    "Lines",
    "line",
    ("line",),
    (
        line_column(),
        Column("area", "Area", aliases=("unit area",)),
        Column("service", "Service"),
        Column("nominal_size", "Nominal size", aliases=("size", "nps", "dn")),
        Column("schedule", "Schedule"),
        Column("outside_diameter", "Outside diameter", Kind.LENGTH, ("od",)),
        Column("wall", "Wall thickness", Kind.LENGTH, ("wall",)),
        Column("material", "Material"),
        Column("insulation", "Insulation"),
        Column("insulation_thickness", "Insulation thickness", Kind.LENGTH),
        Column("insulation_density", "Insulation density", Kind.DENSITY),
        Column("cladding_mass_per_length", "Cladding mass", Kind.MASS_PER_LENGTH),
        Column("pipe_mass_per_length", "Pipe mass", Kind.MASS_PER_LENGTH),
        Column("insulation_mass_per_length", "Insulation mass", Kind.MASS_PER_LENGTH),
        Column("content_mass_per_length", "Content mass", Kind.MASS_PER_LENGTH),
        Column("content_density", "Content density", Kind.DENSITY),
        Column("design_temperature", "Design temperature", Kind.TEMPERATURE),
        Column("operating_temperature", "Operating temperature", Kind.TEMPERATURE),
        Column("design_pressure", "Design pressure (gauge)", Kind.STRESS, ("design pressure",)),
        Column("code", "Code of construction", aliases=("code",)),
        Column("creep_or_high_energy", "Creep range or high energy", Known),
        Column("criticality", "Criticality", aliases=("class",)),
        Column("note", "Note", aliases=("remarks",)),
    ),
)

SUPPORTS = Sheet(
    "Supports",
    "support",
    ("tag",),
    (
        tag_column(),
        Column("former_tag", "Former tag", Form.NAME, ("old tag",)),
        Column("area", "Area", aliases=("unit area",)),
        Column("line", "Line number", Form.NAME, LINES_CALLED),
        Column("order_along", "Order along line", Form.WHOLE, ("order",)),
        Column("distance_along", "Distance along line", Kind.LENGTH, ("distance",)),
        Column("node", "Calculation node", Form.NAME, ("node",)),
        Column("kind", "Support type", SupportKind, ("type", "kind", "hanger type")),
        Column("function", "Function"),
        Column("arrangement", "Arrangement", Arrangement),
        Column("arm_a", "Arm to unit A", Kind.LENGTH, signed=True),
        Column("arm_b", "Arm to unit B", Kind.LENGTH, signed=True),
        Column(
            "beam_mass",
            "Trapeze beam mass, comes on top of the load",
            Kind.MASS,
            ("trapeze beam mass",),
        ),
        Column("rod_length", "Rod length pin to pin", Kind.LENGTH, ("rod length",)),
        Column("rod_offset", "Rod offset built in", Kind.LENGTH, ("rod offset",), signed=True),
        *(
            Column(f"gap_{way}", f"Gap to steel {way}, shut down", Kind.LENGTH, (f"gap {way}",))
            for way in Way
        ),
        Column("insulation_growth", "Growth of insulation into gaps", Kind.LENGTH),
        Column("bearing_length", "Bearing length of shoe", Kind.LENGTH, ("bearing length",)),
        Column("fall_designed", "Fall of line, designed", Kind.FRACTION, signed=True),
        Column("fall_found", "Fall of line, found", Kind.FRACTION, signed=True),
        Column("designed_for_fill", "Bears test water with travel stop out", Known),
        Column("drawn_load", "Nameplate load on drawing", Kind.LOAD),
        Column("drawn_rate", "Spring rate on drawing", Kind.RATE),
        Column("drawn_travel", "Total travel on drawing", Kind.LENGTH),
        Column("criticality", "Criticality", aliases=("class",)),
        Column("in_service", "In service", InService),
        Column("floor", "Floor"),
        Column("grid", "Column grid", aliases=("grid", "column row")),
        Column("elevation", "Elevation of pipe centre", Kind.LENGTH, ("elevation",), signed=True),
        Column("steel_elevation", "Elevation of support steel", Kind.LENGTH, signed=True),
        Column("height_above_floor", "Height above floor", Kind.LENGTH, ("height",), signed=True),
        Column("east", "Plant east", Kind.LENGTH, ("east",), signed=True),
        Column("north", "Plant north", Kind.LENGTH, ("north",), signed=True),
        Column("access", "Access"),
        Column("scaffold_group", "Scaffold group", aliases=("scaffold",)),
        Column("isometric", "Isometric", Form.NAME, ("iso",)),
        Column("isometric_mark", "Isometric mark", Form.NAME, ("mark",)),
        Column("note", "Note", aliases=("remarks",)),
    ),
)

SHARED = Sheet(
    "Shared supports",
    "attachment",
    ("tag", "line"),
    (
        tag_column(),
        line_column(),
        Column("order_along", "Order along line", Form.WHOLE, ("order",)),
        Column("distance_along", "Distance along line", Kind.LENGTH, ("distance",)),
        Column("node", "Calculation node", Form.NAME, ("node",)),
        Column("arm", "Distance from unit A", Kind.LENGTH, signed=True),
        Column("share", "Share of load", Kind.FRACTION),
    ),
)

_SINGLE_UNIT = (("position", "A"),)

UNITS = Sheet(
    "Units",
    "unit",
    ("tag", "position"),
    (
        tag_column(),
        unit_position_column(),
        Column("kind", "Unit type", SupportKind, ("type", "kind", "hanger type"), needed=True),
        Column("serial", "Serial number", Form.NAME, ("serial", "serial no")),
        Column("series", "Series"),
        Column("stock_code", "Stock code", Form.NAME),
        Column("year_built", "Year built", Form.WHOLE),
    ),
    when_blank=_SINGLE_UNIT,
)


def _load(field: str, heading: str, *aliases: str) -> Column:
    return Column(field, heading, Kind.LOAD, aliases, unit_column=LOAD_UNIT)


def _travel(field: str, heading: str, *aliases: str, signed: bool = False) -> Column:
    return Column(field, heading, Kind.LENGTH, aliases, unit_column=TRAVEL_UNIT, signed=signed)


NAMEPLATES = Sheet(
    "Nameplates",
    "nameplate",
    ("tag", "position"),
    (
        tag_column(),
        unit_position_column(),
        Column("source", "Read from", PlateSource),
        Column("provisional", "Provisional", Known),
        Column("scale_unit", LOAD_UNIT, Form.UNIT, UNIT_COLUMNS[LOAD_UNIT][1], needed=True),
        Column("pointer_unit", TRAVEL_UNIT, Form.UNIT, UNIT_COLUMNS[TRAVEL_UNIT][1], needed=True),
        _load("nameplate_load", "Nameplate load", "calibrated load", "plate load"),
        _load("range_low", "Adjusting range low", "range low", "range min"),
        _load("range_high", "Adjusting range high", "range high", "range max"),
        Column(
            "range_minus", "Adjusting range minus", Kind.FRACTION, ("range minus",), signed=True
        ),
        Column("range_plus", "Adjusting range plus", Kind.FRACTION, ("range plus",), signed=True),
        Column("load_per_turn", "Load per turn", Kind.LOAD_PER_TURN, unit_column=LOAD_UNIT),
        Column(
            "load_per_turn_table", "Load per turn table", Form.TURN_TABLE, unit_column=LOAD_UNIT
        ),
        Column(
            "direction_to_increase",
            "Direction to increase, as on plate",
            aliases=("direction to increase", "direction"),
        ),
        Column("direction_to_decrease", "Direction to decrease, as on plate"),
        Column("load_bolts", "Number of load bolts", Form.WHOLE, ("load bolts",)),
        Column("turn_counts", "Load per turn counts", TurnCounts),
        Column("bolt_pitch", "Load bolt pitch", Kind.LENGTH, ("bolt pitch",)),
        Column("free_to_increase", "Free thread to increase", Kind.LENGTH, ("free thread left",)),
        Column("free_to_decrease", "Free thread to decrease", Kind.LENGTH),
        _travel("total_travel", "Total travel"),
        _travel("design_travel", "Design travel, up positive", "design travel", signed=True),
        _travel("cold_mark", "Cold pointer mark", "cold mark"),
        _travel("hot_mark", "Hot pointer mark", "hot mark"),
        Column("zero_end", "Zero of the travel scale at", aliases=("zero end", "zero at")),
        Column("deviation", "Deviation incl. friction", Kind.FRACTION, ("deviation",)),
        Column("setting_changes_travel", "Setting changes travel", Known),
        Column("may_turn_locked", "May be turned locked", Known),
        _load("stop_rating", "Travel stop rated load", "stop rating"),
        Column("body_temperature_limit", "Highest body temperature", Kind.TEMPERATURE),
        Column("own_mass", "Own mass", Kind.MASS),
        Column("rate", "Spring rate", Kind.RATE, ("rate",)),
        _load("working_low", "Working range low"),
        _load("working_high", "Working range high"),
        _load("hot_load", "Hot load on plate", "hot load"),
        _load("cold_load", "Cold load on plate", "cold load"),
        _travel("movement", "Movement, up positive", "movement", signed=True),
        Column("thread_pitch", "Rod thread pitch", Kind.LENGTH, ("thread pitch",)),
        Column("take_up", "Take-up by", aliases=("take up",)),
    ),
    when_blank=_SINGLE_UNIT,
)

HARDWARE = Sheet(
    "Hardware",
    "hardware",
    ("tag", "branch", "stack_position"),
    (
        tag_column(),
        Column("branch", "Hangs on unit", Form.NAME, ("branch",)),
        Column("stack_position", "Position in stack", Form.WHOLE, ("stack position",), needed=True),
        Column("kind", "Piece", PieceKind, ("kind",), needed=True),
        Column("size", "Size"),
        Column("length", "Length", Kind.LENGTH),
        Column("material", "Material"),
        Column("rated_load", "Rated load", Kind.LOAD, unit_column=LOAD_UNIT),
        Column("rating_temperature", "Rating temperature", Kind.TEMPERATURE),
        Column("rating_source", "Rating source"),
        Column("mass", "Mass", Kind.MASS),
        Column("adjustment_left", "Adjustment left", Kind.LENGTH),
        Column("derating", "Derating factor", Kind.FRACTION),
        Column("thread_in_sight", "Thread in sight hole", Known),
        Column("condition", "Condition"),
    ),
    when_blank=(("branch", "all"),),
)

CALCULATIONS = Sheet(
    "Calculations",
    "calculation",
    ("calculation", "revision"),
    (
        Column("calculation", "Calculation", Form.NAME, ("calculation no",), needed=True),
        Column("revision", "Revision", Form.NAME, ("rev",), needed=True),
        Column("method", "Method", CalculationMethod, needed=True),
        Column("status", "Status", CalculationStatus, needed=True),
        Column("issued_on", "Issued on", Form.DAY, ("date",)),
        Column("author", "Author"),
        Column("basis", "Basis"),
    ),
)

REQUIRED_LOADS = Sheet(
    "Calculation loads",
    "required load",
    ("calculation", "revision", "tag", "line", "case"),
    (
        Column("calculation", "Calculation", Form.NAME, ("calculation no",), needed=True),
        Column("revision", "Revision", Form.NAME, ("rev",), needed=True),
        tag_column(),
        line_column(),
        Column("case", "Case", Form.NAME, needed=True),
        Column("case_kind", "Case kind", CaseKind, needed=True),
        Column(
            "load",
            "Load, carrying positive",
            Kind.LOAD,
            ("load",),
            unit_column=LOAD_UNIT,
            signed=True,
        ),
        Column("includes_hardware", "Load includes hardware", Known),
        _travel("movement_up", "Movement up", signed=True),
        _travel("movement_east", "Movement east", signed=True),
        _travel("movement_north", "Movement north", signed=True),
        _load("used_plate_load", "Nameplate load calculated with"),
        Column("used_rate", "Spring rate calculated with", Kind.RATE),
        _travel("used_travel", "Total travel calculated with"),
    ),
)

NOZZLE_LIMITS = Sheet(
    "Nozzle limits",
    "nozzle limit",
    ("line", "nozzle"),
    (
        line_column(),
        Column("nozzle", "Nozzle", Form.NAME, needed=True),
        Column("equipment", "Equipment"),
        Column("machine", "Load-limited machine", Known),
        Column("node", "Calculation node", Form.NAME, ("node",)),
        *(Column(f"force_{a}", f"Force {a}", Kind.LOAD) for a in "xyz"),
        *(Column(f"moment_{a}", f"Moment {a}", Kind.MOMENT) for a in "xyz"),
        Column("force_resultant", "Force resultant", Kind.LOAD),
        Column("moment_resultant", "Moment resultant", Kind.MOMENT),
        Column("source", "Source of limits", aliases=("source",)),
    ),
)

SETTINGS = Sheet(
    "Settings",
    "setting",
    ("tag", "position", "happened_on", "nth"),
    (
        tag_column(),
        unit_position_column(),
        Column("happened_on", "Set on", Form.DAY, ("date",), needed=True),
        Column("load", "Set load", Kind.LOAD, needed=True, unit_column=LOAD_UNIT),
        Column("turns_given", "Turns given", Kind.COUNT, signed=True),
        Column("method", "Method", SettingMethod, needed=True),
        Column("plant_state", "Plant state", PlantState),
        Column("set_by", "Set by", needed=True),
        Column("second_reader", "Second reader"),
        Column("note", "Note", aliases=("remarks",)),
        nth_column(),
    ),
    facts_in_key=("happened_on",),
    when_blank=_SINGLE_UNIT,
)

READINGS = Sheet(
    "Readings",
    "reading",
    ("tag", "position", "read_on", "read_by", "nth"),
    (
        tag_column(),
        unit_position_column(),
        Column("read_on", "Read on", Form.DAY, ("date",), needed=True),
        Column("plant_state", "Plant state", PlantState),
        Column("pipe_temperature", "Pipe temperature", Kind.TEMPERATURE),
        Column("body_temperature", "Temperature of unit body", Kind.TEMPERATURE),
        Column("scale_load", "Scale load", Kind.LOAD, unit_column=LOAD_UNIT),
        Column("pointer", "Pointer", Kind.LENGTH, unit_column=TRAVEL_UNIT),
        Column("cell_raising", "Load cell raising", Kind.LOAD, unit_column=LOAD_UNIT),
        Column("cell_lowering", "Load cell lowering", Kind.LOAD, unit_column=LOAD_UNIT),
        Column("rod_angle", "Rod angle", Kind.ANGLE, signed=True),
        Column("exposed_thread", "Exposed thread", Kind.LENGTH),
        Column("read_by", "Read by", needed=True),
        Column("second_reader", "Second reader"),
        Column("instrument", "Instrument"),
        Column("method", "Method", SettingMethod),
        Column("occasion", "Occasion", Occasion),
        Column("note", "Note", aliases=("remarks",)),
        nth_column(),
    ),
    facts_in_key=("read_on", "read_by"),
    when_blank=_SINGLE_UNIT,
)

HELP_SHEETS = ("How to fill", "Words")
"""Sheets of the blank workbook that hold no records."""

OTHER_COMMANDS = {
    "Weight items": "supports change weights CHANGE FILE",
    "As-found as-left": "supports work-order return ORDER FILE",
    "Walk": "supports walkdown return CAMPAIGN FILE",
}
"""Sheets that other commands read."""

SHEETS = (
    LINES,
    SUPPORTS,
    SHARED,
    UNITS,
    NAMEPLATES,
    HARDWARE,
    CALCULATIONS,
    REQUIRED_LOADS,
    NOZZLE_LIMITS,
    SETTINGS,
    READINGS,
    *ROUTE_SHEETS,
)
"""In the order in which they must be stored."""

TAG_AT = {sheet.subject: sheet.key.index("tag") for sheet in SHEETS if "tag" in sheet.key}
"""Where in the key of a subject the tag of its support stands."""


def named(record: Record) -> str:
    """Return the support of a record; what names it first where it speaks of none."""
    return record.key[TAG_AT.get(record.subject, 0)]
