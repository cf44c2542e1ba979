"""The frame of units: every column that the rules of one unit read, from the facts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from supports.calc.constant_support import change_of_load
from supports.calc.elementwise import at_most
from supports.calc.variable_spring import cold_load, hot_load, take_up_pipe_held
from supports.rules.events import reading_columns, setting_columns
from supports.rules.facts import KINDS, STATES, Facts
from supports.rules.frame import (
    BoolColumn,
    FloatColumn,
    Frame,
    IntColumn,
    Subject,
    TextColumn,
    answers_of,
    texts,
)
from supports.rules.grouping import at, count_by, first_by, largest_by
from supports.rules.load_bolt import load_bolt_columns
from supports.rules.place_columns import place_columns
from supports.rules.site_settings import SiteSettings
from supports.rules.stack_columns import stack_columns
from supports.rules.unit_loads import (
    Carriers,
    Stacks,
    UnitLoads,
    carriers_of,
    of_unit,
    stacks_of,
    unit_loads,
    words_of_unit,
)
from supports.rules.walkdown.words import StopSeen
from supports.units import STANDARD_GRAVITY
from supports.vocabulary import Arrangement, PlantState, SupportKind

Columns = dict[str, Any]
"""Columns by name, numbers and words."""

UNITS_AT_MOST = 10_000_000
"""A unit's row is known by its point times this, and its unit."""

HANGERS = {kind for kind in SupportKind if kind.is_hanger}
FROM_BELOW = {SupportKind.REST, SupportKind.ROLLER, SupportKind.DUMMY_LEG}
RIGID = {
    SupportKind.RIGID_ROD,
    SupportKind.RIGID_STRUT,
    SupportKind.REST,
    SupportKind.ROLLER,
    SupportKind.DUMMY_LEG,
}
HOT = tuple(STATES.index(s) for s in (PlantState.OPERATING_STEADY,))
COLD = tuple(STATES.index(s) for s in (PlantState.SHUT_DOWN_DRAINED, PlantState.SHUT_DOWN_FULL))


def _flags(test: set[SupportKind]) -> FloatColumn:
    return np.array([float(kind in test) for kind in KINDS])


_KIND_FLAGS: Mapping[str, FloatColumn] = {
    "constant": np.array([float(kind.is_constant) for kind in KINDS]),
    "variable": np.array([float(kind.is_variable) for kind in KINDS]),
    "spring": np.array([float(kind.is_spring) for kind in KINDS]),
    "carries": np.array([float(not kind.carries_no_weight) for kind in KINDS]),
    "hanger": _flags(HANGERS),
    "bears_from_below": _flags(FROM_BELOW),
    "shoe": _flags({SupportKind.REST}),
    "rigid": _flags(RIGID),
    "anchor": _flags({SupportKind.ANCHOR}),
}


def unit_frame(facts: Facts, settings: SiteSettings) -> tuple[Frame, UnitLoads, Carriers, Stacks]:
    """Return the frame of units with what it was made of.

    Parameters
    ----------
    settings
        Tolerance and assumed range of the site; limits are compared by the rules alone.
    """
    carriers = carriers_of(facts)
    stacks = stacks_of(facts, carriers)
    loads = unit_loads(facts, carriers, stacks, settings.tolerance)
    columns: Columns = {
        **_place(facts, carriers),
        **_load_columns(loads),
        **_plate(facts, carriers, settings),
        **setting_columns(facts, carriers),
        **reading_columns(facts, carriers),
    }
    columns |= _movement(columns, loads, facts, carriers)
    columns |= _seen_by_walkers(columns, facts, carriers, settings.contact_gap)
    columns |= _in_state(columns)
    columns |= _trapeze(columns, facts, carriers)
    columns |= load_bolt_columns(columns, facts, carriers)
    columns |= stack_columns(facts, carriers, stacks)
    columns |= place_columns(facts, carriers)
    columns |= _why(columns)
    frame = Frame(
        Subject.UNIT, _keys(facts, carriers), _names(facts, carriers), columns, facts.today
    )
    return frame, loads, carriers, stacks


def _keys(facts: Facts, carriers: Carriers) -> IntColumn:
    """Return point and unit in one number, so that a key is never taken for another."""
    units = np.where(carriers.unit >= 0, at(facts.units["id"], carriers.unit), 0.0)
    keys: IntColumn = (facts.points["id"][carriers.point] * UNITS_AT_MOST + units).astype(np.int64)
    return keys


def _names(facts: Facts, carriers: Carriers) -> TextColumn:
    tags = facts.points["tag"][carriers.point]
    several = count_by(facts.units["point"], len(facts.points["id"]))[carriers.point] > 1.0
    positions = words_of_unit(facts.units["position"], carriers)
    names: TextColumn = np.where(several, tags + "/" + positions, tags) if carriers.size else tags
    return names


def _place(facts: Facts, carriers: Carriers) -> Columns:
    points, kind = facts.points, carriers.kind
    arrangement = points["arrangement"][carriers.point]
    paired = carriers.unit >= 0
    flags = {name: flag[kind] for name, flag in _KIND_FLAGS.items()}
    anchor = flags.pop("anchor")
    return {
        **flags,
        "one_way": flags["carries"] * (1.0 - anchor),
        "support_kind": texts(KINDS[k] for k in kind.tolist()),
        "criticality": points["criticality"][carriers.point],
        "area": points["area"][carriers.point],
        "tag": points["tag"][carriers.point],
        "rod_length": points["rod_length"][carriers.point],
        "rod_offset": points["rod_offset"][carriers.point],
        "trapeze": (paired & (arrangement == Arrangement.TRAPEZE)).astype(float),
        "riser_pair": (paired & (arrangement == Arrangement.RISER_PAIR)).astype(float),
        "has_unit": paired.astype(float),
        "serial": words_of_unit(facts.units["serial"], carriers),
        **_line(facts, carriers),
    }


def _line(facts: Facts, carriers: Carriers) -> Columns:
    """Return what the lines say; the first line's number, the gravest answer of all."""
    lines, attachments, size = facts.lines, facts.attachments, len(facts.points["id"])
    point, line = attachments["point"], attachments["line"]
    first = first_by(point, size)
    held = np.where(first >= 0, line[first], -1) if len(line) else first
    numbers = texts(lines["number"][held]) if len(lines["number"]) else texts([""] * size)
    numbers[held < 0] = ""
    columns: Columns = {"line": numbers[carriers.point]}
    for name in ("near_nozzle", "near_machine"):
        worst = largest_by(point, lines[name][line], size)
        columns[name] = np.nan_to_num(worst)[carriers.point]
    for name in (
        "operating_temperature", "fill_asked", "weight_change_day", "civil_signed",
        "weight_missing", "heat_up_asked",
    ):  # fmt: skip
        if name in lines:
            columns[name] = largest_by(point, lines[name][line], size)[carriers.point]
    return columns


def _load_columns(loads: UnitLoads) -> Columns:
    return {
        "required": loads.required,
        "required?": loads.missing,
        "least_operating": loads.least,
        "least_operating?": loads.missing,
        "most_operating": loads.most,
        "most_operating?": loads.missing,
        "largest": loads.largest,
        "largest?": loads.missing,
        "sustained": loads.sustained,
        "operating_cases": loads.operating_cases,
        "cases_spread": loads.spread,
        "cases_spread?": loads.missing,
        "sideways": loads.sideways,
        "has_test_case": (~np.isnan(loads.test)).astype(float),
        "water_load": loads.test - loads.governing,
    }


_PLAIN = (
    "nameplate_load", "load_per_turn", "bolt_pitch", "total_travel", "cold_mark", "hot_mark",
    "stop_rating", "rate", "working_low", "working_high", "hot_load", "cold_load",
)  # fmt: skip


def _plate(facts: Facts, carriers: Carriers, settings: SiteSettings) -> Columns:
    units = facts.units
    own: Columns = {name: of_unit(units[name], carriers) for name in _PLAIN}
    low, high = of_unit(units["range_low"], carriers), of_unit(units["range_high"], carriers)
    zero = words_of_unit(units["zero_end"], carriers)
    readable = np.where(of_unit(units["provisional"], carriers) == 1.0, 0.0, 1.0)
    return {
        **own,
        **_range(own["nameplate_load"], low, high, settings.field_range),
        "stamped_low": low,
        "stamped_high": high,
        "scale_high": _scale_end(own["working_high"], high),
        "plate_movement": of_unit(units["movement"], carriers),
        "certificate_deviation": of_unit(units["deviation"], carriers),
        "load_per_turn_tabled": (
            words_of_unit(units["load_per_turn_table"], carriers) != ""
        ).astype(float),
        "zero_at_top": np.select([zero == "top", zero == "bottom"], [1.0, 0.0], np.nan),
        "setting_changes_travel": answers_of(
            words_of_unit(units["setting_changes_travel"], carriers)
        ),
        "plate_readable": np.where(of_unit(units["has_plate"], carriers) == 1.0, readable, np.nan),
        "plate_source": words_of_unit(units["source"], carriers),
        "scale_unit": words_of_unit(units["scale_unit"], carriers),
        "pointer_unit": words_of_unit(units["pointer_unit"], carriers),
        "stops_in": of_unit(units["stops_in"], carriers),
        "body_temperature_limit": of_unit(
            units.get("body_temperature_limit", np.full(len(units["id"]), np.nan)), carriers
        ),
        **_stop_seen(words_of_unit(units["stop_seen"], carriers)),
    }


def _stop_seen(words: TextColumn) -> Columns:
    """Return whether a walker found the travel stop seized, or out, and then in its holder."""
    out, missing = words == StopSeen.OUT, words == StopSeen.MISSING
    seized = words == StopSeen.SEIZED
    return {
        "stop_tried": (out | missing | seized).astype(float),
        "stop_seized": np.select([seized, out | missing], [1.0, 0.0], np.nan),
        "stop_looked_for": (out | missing).astype(float),
        "stop_in_holder": np.select([out, missing], [1.0, 0.0], np.nan),
    }


def _seen_by_walkers(
    columns: Columns, facts: Facts, carriers: Carriers, contact_gap: float
) -> Columns:
    """Return whether a rest was seen to touch, and the lean of what has no swing to be held to.

    A rest should touch where its load presses in every operating case; a rod whose movement and
    length are known is held against its swing, and its angle is no lean.
    """
    below, least = columns["bears_from_below"] == 1.0, columns["least_operating"]
    gap = np.where(below, facts.points["gap_seen"][carriers.point], np.nan)
    touches = np.where(np.isnan(gap), np.nan, at_most(gap, contact_gap).astype(float))
    expected = np.where(np.isnan(least), np.nan, (least > 0.0).astype(float))
    swings = (
        (columns["hanger"] == 1.0)
        & ~np.isnan(columns["sideways"])
        & ~np.isnan(columns["rod_length"])
    )
    return {
        "gap_under": gap,
        "touches": touches,
        "touch_expected": np.where(np.isnan(gap), np.nan, expected),
        "touch_expected?": columns["required?"],
        "lean_seen": np.where(swings, np.nan, abs(columns["rod_angle"])),
    }


def _range(plate: FloatColumn, low: FloatColumn, high: FloatColumn, assumed: float) -> Columns:
    """Return the adjusting range to judge by: the nameplate's, else the site's if it has one."""
    if assumed > 0.0:
        blank = np.isnan(low) & np.isnan(high)
        low = np.where(blank, plate * (1.0 - assumed), low)
        high = np.where(blank, plate * (1.0 + assumed), high)
    with np.errstate(invalid="ignore"):
        upside_down = ~((low >= 0.0) & (low <= plate) & (plate <= high))
    known = ~np.isnan(low) & ~np.isnan(high) & ~np.isnan(plate)
    wrong: BoolColumn = known & upside_down
    why = np.where(wrong, "an adjusting range that holds the nameplate load", "")
    return {
        "range_low": np.where(wrong, np.nan, low),
        "range_low?": texts(why),
        "range_high": np.where(wrong, np.nan, high),
        "range_high?": texts(why),
    }


def _scale_end(working: FloatColumn, adjusting: FloatColumn) -> FloatColumn:
    """Return the end of the load scale, taken as one and a half times the range it must show.

    Registers do not hold the scale's end; a reading beyond this is off any scale.
    """
    return 1.5 * np.where(np.isnan(working), adjusting, working)


def _movement(columns: Columns, loads: UnitLoads, facts: Facts, carriers: Carriers) -> Columns:
    """Return the movement, cold to hot: the calculation's, else the nameplate's [m]."""
    constant = columns["constant"] == 1.0
    stamped = np.where(
        constant, of_unit(facts.units["design_travel"], carriers), columns["plate_movement"]
    )
    design = np.where(np.isnan(loads.up), stamped, loads.up)
    return {"design_travel": design, "movement": design}


def _in_state(columns: Columns) -> Columns:
    """Return the setting in the operating position, and in the plant state of the reading [N]."""
    variable = columns["variable"] == 1.0
    rate, movement, setting = columns["rate"], columns["movement"], columns["setting"]
    state = columns["setting_state"].astype(np.int64)
    as_hot = hot_load(setting, rate, movement)
    hot = np.where(np.isin(state, HOT), setting, np.where(np.isin(state, COLD), as_hot, np.nan))
    seen = columns["newest_state"].astype(np.int64)
    as_read = np.where(
        np.isin(seen, HOT),
        hot,
        np.where(np.isin(seen, COLD), cold_load(hot, rate, movement), np.nan),
    )
    marks = np.where(np.isin(seen, HOT), columns["hot_mark"], columns["cold_mark"])
    marked = np.isin(seen, HOT + COLD)
    return {
        "setting_hot": hot,
        "setting_operating": np.where(variable, hot, setting),
        "setting_in_state": np.where(variable, as_read, setting),
        "pointer_expected": np.where(marked, marks, np.nan),
        "state_has_mark": marked.astype(float),
        "read_hot": np.where(seen < 0, np.nan, np.isin(seen, HOT).astype(float)),
        "take_up": np.where(
            variable, take_up_pipe_held(change_of_load(columns["required"], hot), rate), np.nan
        ),
    }


NO_UNIT = "unit with its nameplate"
OF_PLATE = (
    "nameplate_load", "range_low", "range_high", "rate", "working_low", "working_high", "setting",
    "setting_hot", "setting_operating", "total_travel", "cold_mark", "hot_mark", "zero_at_top",
    "plate_readable", "stops_in", "readings",
)  # fmt: skip


def _why(columns: Columns) -> Columns:
    """Return why something is not known where its own name would mislead."""
    bare = (columns["spring"] == 1.0) & (columns["has_unit"] == 0.0)
    hot = np.select(
        [np.isnan(columns[name]) for name in ("setting", "rate", "movement")],
        ["present setting", "spring rate", "movement"],
        "",
    )
    said = {"setting_hot": hot}
    said |= {name: columns[f"{name}?"] for name in OF_PLATE if f"{name}?" in columns}
    none = texts([""] * len(bare))
    said["setting_operating"] = np.where(columns["variable"] == 1.0, hot, none)
    return {f"{name}?": texts(np.where(bare, NO_UNIT, said.get(name, none))) for name in OF_PLATE}


def _trapeze(columns: Columns, facts: Facts, carriers: Carriers) -> Columns:
    """Return what each unit of a trapeze should be set to, of what both are set to together [N]."""
    points, pair = facts.points, columns["trapeze"] == 1.0
    where, size = carriers.point, len(points["id"])
    both = np.bincount(where, np.where(pair, columns["setting"], 0.0), size)[where]
    beam = points["beam_mass"][where] * STANDARD_GRAVITY
    near, far = points["arm_a"][where], points["arm_b"][where]
    lever = np.where(carriers.second, near, far) / (near + far)
    alone = count_by(facts.attachments["point"], size)[where] == 1.0
    wanted = np.bincount(where, np.where(pair, columns["required"], 0.0), size)[where]
    asked = (columns["required"] - beam / 2.0) / (wanted - beam)
    part = np.where(alone, lever, asked)
    share = (both - beam) * part + beam / 2.0
    return {"setting_share": np.where(pair, share, np.nan)}
