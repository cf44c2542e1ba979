"""When units were set, to what, and what was read since."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date, timedelta

from demo.plant.people import holders
from demo.plant.seeds import generator
from demo.plant.springs import SpringUnit, spring_units
from supports.vocabulary import PlantState, Role, SettingMethod

Row = dict[str, float | int | str | date]

COMMISSIONED = {1: date(1999, 9, 6), 2: date(2007, 5, 14)}
LAST_WALKS = {1: (date(2025, 3, 10), date(2025, 9, 15)), 2: (date(2025, 4, 7), date(2025, 10, 6))}
"""Last walk in operation and last walk shut down."""
HAND_MARKED = {"PS-1023": 21_500.0}
"""Units whose scale was found elsewhere than on record [N]."""
_AMBIENT = 293.15


def setting_rows(area: int) -> list[Row]:
    """Return all settings on record of an area."""
    return [row for unit in _set_units(area) for row in _settings(unit)]


def reading_rows(area: int) -> list[Row]:
    """Return what the last two walks read; some units were not seen."""
    return [row for unit in _set_units(area) for row in _readings(unit)]


def _set_units(area: int) -> Iterator[SpringUnit]:
    return (u for u in spring_units() if u.point.area == area and u.marked_load is not None)


def _was_set_again(unit: SpringUnit) -> bool:
    return not unit.point.demo and generator("set again", unit.point.tag).random() < 0.14


def present_setting(unit: SpringUnit) -> float:
    """Return the load that the unit was last set to, on record [N]."""
    if _was_set_again(unit) and unit.load is not None:
        return unit.point.line.system.load(unit.load)
    return unit.marked_load or 0.0


def _settings(unit: SpringUnit) -> Iterator[Row]:
    rng = generator("settings", unit.point.tag, unit.position)
    day = COMMISSIONED[unit.point.area] + timedelta(days=rng.randrange(20))
    yield _setting(unit, day, unit.marked_load or 0.0, SettingMethod.NAMEPLATE, rng)
    if _was_set_again(unit):
        later = date(2019, 10, 1) + timedelta(days=rng.randrange(1200))
        yield _setting(unit, later, present_setting(unit), SettingMethod.SCALE, rng)


def _setting(
    unit: SpringUnit, day: date, load: float, method: SettingMethod, rng: random.Random
) -> Row:
    state = PlantState.SHUT_DOWN_FULL
    if unit.point.kind.is_variable:
        state = PlantState.OPERATING_STEADY
    return {
        "tag": unit.point.tag,
        "position": unit.position,
        "happened_on": day,
        "load": load,
        "method": method.value,
        "plant_state": state.value,
        "set_by": rng.choice(holders(Role.TECHNICIAN)),
        "second_reader": rng.choice(holders(Role.INSPECTOR)),
    }


def _readings(unit: SpringUnit) -> Iterator[Row]:
    rng = generator("readings", unit.point.tag, unit.position)
    if rng.random() < 0.12 and not unit.point.demo:
        return
    running, shut = LAST_WALKS[unit.point.area]
    hot = unit.point.line.service.operating + 273.15
    yield _reading(unit, running, PlantState.OPERATING_STEADY, hot, rng)
    yield _reading(unit, shut, PlantState.SHUT_DOWN_FULL, _AMBIENT, rng)


def _reading(
    unit: SpringUnit, day: date, state: PlantState, temperature: float, rng: random.Random
) -> Row:
    row: Row = {
        "tag": unit.point.tag,
        "position": unit.position,
        "read_on": day + timedelta(days=rng.randrange(4)),
        "plant_state": state.value,
        "pipe_temperature": temperature,
        "scale_load": _scale(unit, state),
        "read_by": rng.choice(holders(Role.INSPECTOR)),
        "method": SettingMethod.SCALE.value,
        **_pointer(unit, state, rng),
    }
    if unit.point.tag in HAND_MARKED:
        row["note"] = "white paint mark at this load, no paper found"
    return row


def _scale(unit: SpringUnit, state: PlantState) -> float:
    """Return what the load scale shows: a variable unit shows its cold load when shut down."""
    load = HAND_MARKED.get(unit.point.tag, present_setting(unit))
    rate, way = unit.plate.get("rate"), unit.plate.get("movement")
    shut = state is PlantState.SHUT_DOWN_FULL
    if shut and isinstance(rate, float) and isinstance(way, float):
        load += rate * way
    return load


def _pointer(unit: SpringUnit, state: PlantState, rng: random.Random) -> Row:
    name = "hot_mark" if state is PlantState.OPERATING_STEADY else "cold_mark"
    mark = unit.plate.get(name)
    if not isinstance(mark, float):
        return {}
    return {"pointer": round(mark + rng.uniform(-0.004, 0.004), 3)}
