"""A line of three constants whose loads all rise by a tenth, and the people who see to it."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select

from supports.database import Register, Writing
from supports.model import (
    Assembly,
    Attachment,
    Calculation,
    DesignCase,
    HardwarePiece,
    Line,
    Nameplate,
    Person,
    PersonRole,
    RequiredLoad,
    SettingEvent,
    SupportPoint,
    SupportTag,
    Unit,
    UnitPlacement,
)
from supports.tags import matching_key
from supports.vocabulary import Role
from tests.operations.days import START

PEOPLE = {
    "KK": Role.REGISTER_KEEPER,
    "S1": Role.STRESS_ENGINEER,
    "S2": Role.STRESS_ENGINEER,
    "RE": Role.RESPONSIBLE_ENGINEER,
    "CO": Role.COORDINATOR,
    "PL": Role.PLANNER,
    "IN": Role.INSPECTOR,
    "T1": Role.TECHNICIAN,
    "T2": Role.TECHNICIAN,
    "FO": Role.FOREMAN,
    "OP": Role.OPERATIONS,
    "CE": Role.CIVIL_ENGINEER,
}
"""Everybody by name, each with one role."""

TAGS = ("C1", "C2", "C3")
PRESENT, REQUIRED = 20_000.0, 22_100.0


def furnish(register: Register) -> None:
    """Enter people and plant: line L-1 with C1 to C3, calculation C-1 rev. B."""
    with register.writing("KK", "", START, action="furnish") as writing:
        enter_people(writing)
        line_with_constants(writing, "L-1", TAGS)
        calculate(writing, "L-1", "C-1", "B", dict.fromkeys(TAGS, REQUIRED))


def enter_people(writing: Writing) -> None:
    """Add everybody with their role."""
    for name, role in PEOPLE.items():
        person = Person(name=name)
        writing.session.add(person)
        writing.session.flush()
        writing.session.add(PersonRole(person_id=person.id, role=role, valid_from=date(2031, 1, 1)))


def line_with_constants(writing: Writing, number: str, tags: tuple[str, ...]) -> None:
    """Add a line and its constants, each set to what its nameplate says."""
    session = writing.session
    line = Line(number=number)
    session.add(line)
    session.flush()
    session.add(DesignCase(line_id=line.id, name="operating", kind="operating"))
    for order, tag in enumerate(tags, start=1):
        unit, assembly = _hang(writing, line, tag, "constant hanger", order)
        session.add_all([plate_of(unit), _set_to(unit, PRESENT)])
        _stack(
            writing, assembly, unit=(44_000.0, 100.0), rod=(60_000.0, 5.0), clamp=(60_000.0, 10.0)
        )


def _hang(writing: Writing, line: Line, tag: str, kind: str, order: int) -> tuple[int, int]:
    """Hang a unit on a line; return the keys of unit and assembly."""
    session = writing.session
    point = SupportPoint(kind=kind, in_service="in place")
    session.add(point)
    session.flush()
    session.add(SupportTag(point_id=point.id, tag=tag, matching_key=matching_key(tag)))
    session.add(Attachment(point_id=point.id, line_id=line.id, order_along=order))
    assembly = Assembly(point_id=point.id, arrangement="single", rod_length=3.0)
    unit = Unit(kind=kind, serial=f"SN-{tag}")
    session.add_all([assembly, unit])
    session.flush()
    session.add(UnitPlacement(unit_id=unit.id, assembly_id=assembly.id, position="A"))
    return unit.id, assembly.id


def _set_to(unit: int, load: float) -> SettingEvent:
    """Return how the builder set a unit [N]."""
    return SettingEvent(
        unit_id=unit, happened_on=date(2030, 5, 1), load=load, method="scale",
        plant_state="shut down, drained", set_by="builder",
    )  # fmt: skip


def _stack(writing: Writing, assembly: int, **pieces: tuple[float, float]) -> None:
    """Hang pieces on a unit from the top: what each carries [N] and weighs [kg]."""
    for place, (kind, (rated, mass)) in enumerate(pieces.items(), start=1):
        writing.session.add(
            HardwarePiece(
                assembly_id=assembly, branch="A", position=place, kind=kind, rated_load=rated,
                mass=mass,
            )
        )  # fmt: skip


def plate_of(unit: int) -> Nameplate:
    """Return the plate of a constant: 17 to 23 kN about 20 kN, 0.25 kN a turn."""
    return Nameplate(
        unit_id=unit,
        source="plate",
        scale_unit="kN",
        pointer_unit="mm",
        nameplate_load=20_000.0,
        range_low=17_000.0,
        range_high=23_000.0,
        load_per_turn=250.0,
        direction_to_increase="clockwise from below",
        direction_to_decrease="anticlockwise from below",
        load_bolts=1,
        turn_counts="every bolt turned once",
        bolt_pitch=0.003,
        free_to_increase=0.100,
        free_to_decrease=0.100,
        total_travel=0.200,
        design_travel=-0.140,
        deviation=0.06,
        setting_changes_travel="no",
        may_turn_locked="yes",
    )


def add_variable(writing: Writing, line: str, tag: str) -> None:
    """Hang a variable spring on a line: 80 N/mm, 8 to 16 kN, 13.2 kN shut down, up 15 mm hot."""
    session = writing.session
    found = session.scalars(select(Line).where(Line.number == line)).one()
    unit, assembly = _hang(writing, found, tag, "variable hanger", 9)
    session.add(
        Nameplate(
            unit_id=unit, source="plate", scale_unit="kN", rate=80_000.0, movement=0.015,
            hot_load=12_000.0, cold_load=13_200.0, working_low=8_000.0, working_high=16_000.0,
            take_up="turnbuckle", thread_pitch=0.003, may_turn_locked="no",
        )
    )  # fmt: skip
    session.add(_set_to(unit, 13_200.0))
    _stack(writing, assembly, unit=(20_000.0, 60.0), rod=(36_000.0, 5.0), clamp=(30_000.0, 8.0))


def calculate(
    writing: Writing,
    line: str,
    number: str,
    revision: str,
    loads: dict[str, float],
    up: dict[str, float] | None = None,
) -> None:
    """Issue a calculation revision with the operating load of every support [N]."""
    session = writing.session
    earlier = session.scalars(select(Calculation).where(Calculation.number == number)).all()
    calculation = Calculation(
        number=number, revision=revision, method="full analysis", status="issued",
        issued_on=date(2031, 5, 1 + len(earlier)),
    )  # fmt: skip
    session.add(calculation)
    session.flush()
    found = session.scalars(select(Line).where(Line.number == line)).one()
    case = session.scalars(select(DesignCase).where(DesignCase.line_id == found.id)).one()
    movements = dict.fromkeys(loads, -0.140) | (up or {})
    for tag, load in loads.items():
        point = session.scalars(select(SupportTag.point_id).where(SupportTag.tag == tag)).one()
        session.add(
            RequiredLoad(
                calculation_id=calculation.id, point_id=point, line_id=found.id, case_id=case.id,
                load=load, includes_hardware="yes", movement_up=movements[tag], movement_east=0.0,
                movement_north=0.0,
            )
        )  # fmt: skip
