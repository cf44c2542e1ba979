"""Rules of group 'quality of data': values that cannot be, or that contradict each other."""

from __future__ import annotations

import numpy as np

from supports.calc.closure import NEAR, UNIT_RATIOS, size_ratio
from supports.calc.constant_support import relative_difference
from supports.calc.elementwise import at_least, at_most
from supports.findings import Severity
from supports.rules.frame import BoolColumn, FloatColumn, Frame, Subject
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind, from_si

PLACEHOLDERS = (0.0, 999.0, 9999.0)
"""What people write for 'not known'; common practice in old sheets."""

FIRST_DAY = 693_961.0
"""1 January 1901: earlier days come from serial day 0 or an empty cell."""


def _all(f: Frame) -> BoolColumn:
    return np.ones(f.size, dtype=bool)


def _count(values: FloatColumn, label: str) -> dict[str, Figure]:
    return {"count": Figure(values, Kind.COUNT, label)}


def _same_tag(f: Frame, _: Limits) -> Judged:
    count = f["bearers_of_tag"]
    return Judged(applies=_all(f), fails=count > 1.0, figures=_count(count, "places of that tag"))


def _tag_changed(f: Frame, s: Limits) -> Judged:
    days = f.today - f["tag_changed_on"]
    return Judged(
        applies=f.yes("has_former_tag"),
        fails=at_most(days, s.of("tag_change_notice", f)),
        figures={"days": Figure(days, Kind.COUNT, "days since", "today − {tag_changed_on}")},
    )


def _unit_not_stated(f: Frame, _: Limits) -> Judged:
    return Judged(applies=f.yes("is_quantity") | ~f.known("is_quantity"), fails=f.no("unit_stated"))


def _size(f: Frame, _: Limits) -> Judged:
    times = size_ratio(f["load_found"], f["expected_load"])
    suspected = np.zeros(f.size, dtype=bool)
    for typical in UNIT_RATIOS.values():
        suspected |= at_most(abs(times / typical - 1.0), np.full(f.size, NEAR))
    return Judged(
        applies=f.yes("carries") & f.yes("halfway_known"),
        fails=suspected,
        figures={
            "times": Figure(
                times, Kind.COUNT, "times the load of half the spans",
                "{load_found} / {expected_load}",
            )
        },
    )  # fmt: skip


def _placeholder(f: Frame, _: Limits) -> Judged:
    applies = f.yes("spring") & (f.known("nameplate_load") | f.known("setting"))
    found = np.zeros(f.size, dtype=bool)
    for name in ("nameplate_load", "hot_load", "setting"):
        for unit in ("N", "kN", "lbf", "kgf", "daN"):
            shown = from_si(f[name], unit, Kind.LOAD)
            for value in PLACEHOLDERS:
                found |= abs(shown - value) <= 1e-9 * max(value, 1.0)
    return Judged(applies=applies | found, fails=found)


def _signs(f: Frame, s: Limits) -> Judged:
    share = f["downward_loads"] / f["loads"]
    limit = s.of("mixed_sign_share", f)
    return Judged(
        applies=f["loads"] > 1.0,
        fails=at_least(share, limit) & (f["downward_loads"] < f["loads"]),
        figures={
            "share": Figure(share, Kind.FRACTION, "loads downward", "{downward_loads} / {loads}")
        },
    )


def _swapped(f: Frame, _: Limits) -> Judged:
    change = f["cold_load"] - f["hot_load"]
    return Judged(
        applies=f.yes("variable"),
        when=(change != 0.0) & (f["plate_movement"] != 0.0),
        fails=change * f["plate_movement"] < 0.0,
        figures={
            "change": Figure(change, Kind.LOAD, "shut down less operating",
                             "{cold_load} − {hot_load}")
        },
    )  # fmt: skip


def _rate(f: Frame, s: Limits) -> Judged:
    stamped = abs(f["cold_load"] - f["hot_load"])
    by_rate = f["rate"] * abs(f["plate_movement"])
    apart = abs(relative_difference(stamped, by_rate))
    return Judged(
        applies=f.yes("variable"),
        fails=~at_most(apart, s.of("rate_difference", f)),
        figures={
            "stamped": Figure(stamped, Kind.LOAD, "change stamped", "|{cold_load} − {hot_load}|"),
            "by_rate": Figure(by_rate, Kind.LOAD, "change by rate", "{rate} × |{plate_movement}|"),
            "apart": Figure(apart, Kind.FRACTION, "apart", "|{stamped} − {by_rate}| / {by_rate}"),
        },
    )


def _upside_down(f: Frame, _: Limits) -> Judged:
    low, plate, high = f["stamped_low"], f["nameplate_load"], f["stamped_high"]
    in_order = at_most(low, plate) & at_most(plate, high)
    return Judged(
        applies=f.yes("constant") & (f.known("stamped_low") | f.known("stamped_high")),
        fails=~in_order,
        surely=f.yes("constant") & (low > high),
    )


def _type(f: Frame, _: Limits) -> Judged:
    constant_with_rate = f.yes("constant") & f.known("rate")
    rigid_with_travel = f.yes("rigid") & (f.known("total_travel") | f.known("rate"))
    return Judged(
        applies=f.known("support_kind"),
        fails=constant_with_rate | rigid_with_travel,
        unknown={"kind of support": np.asarray(f.text("support_kind") == "unknown", dtype=bool)},
    )


def _date(f: Frame, _: Limits) -> Judged:
    built = f["built_day"]
    wrong = np.zeros(f.size, dtype=bool)
    for name in ("setting_day", "last_seen_day"):
        day = f[name]
        wrong |= (day > f.today) | (day < FIRST_DAY) | (day < built)
    dated = f.known("setting_day") | f.known("last_seen_day")
    return Judged(
        applies=f.yes("spring") & (dated | f.yes("undated")),
        fails=wrong,
        unknown={"day of the setting": f.yes("undated")},
        surely=f.yes("spring") & wrong,
    )


def _serial(f: Frame, _: Limits) -> Judged:
    count = f["bearers_of_serial"]
    return Judged(
        applies=f.yes("has_unit"),
        fails=count > 1.0,
        figures=_count(count, "units in place with that serial"),
    )


def _no_line(f: Frame, _: Limits) -> Judged:
    return Judged(applies=f.yes("in_place") | ~f.known("in_place"), fails=f["lines"] == 0.0)


def _node_without_tag(f: Frame, _: Limits) -> Judged:
    """Judge by the rows of loads that wait because their node leads to no support."""
    count = f["nodes_without_tag"]
    return Judged(
        applies=f.yes("calculated") | (count > 0.0),
        fails=count > 0.0,
        figures=_count(count, "such nodes"),
    )


def _tag_without_node(f: Frame, _: Limits) -> Judged:
    return Judged(applies=f.yes("line_calculated") & f.yes("carries"), fails=f.no("has_node"))


def _order(f: Frame, _: Limits) -> Judged:
    broken = f["order_missing"] + f["order_double"] + f["distance_falling"]
    return Judged(
        applies=f["supports"] > 1.0, fails=broken > 0.0, figures=_count(broken, "faults of order")
    )


def _edited(f: Frame, _: Limits) -> Judged:
    count = f["editors"]
    return Judged(
        applies=_all(f), fails=count > 1.0, figures=_count(count, "files that changed it")
    )


_PRACTICE = "common practice; units by ISO 80000, dates by ISO 8601"

DATA_RULES = (
    Rule(
        "same-tag-twice", Group.DATA, Severity.ACT, Subject.SUPPORT,
        condition="one tag, read without spaces and dashes, stands at two places",
        ask=_same_tag, needs=("bearers_of_tag",), measure="count",
        says="{count} places bear this tag", remedy="tell them apart", source=_PRACTICE,
    ),
    Rule(
        "tag-changed", Group.DATA, Severity.LOOK, Subject.SUPPORT,
        condition="a support bears a new tag, serial and place being the same",
        ask=_tag_changed, needs=("tag_changed_on",), limits=("tag_change_notice",),
        says="tag changed on {tag_changed_on}", remedy="confirm the new tag", source=_PRACTICE,
    ),
    Rule(
        "unit-not-stated", Group.DATA, Severity.STOP, Subject.VALUE,
        condition="a number waits in quarantine: it has no unit, or one that may mean two things",
        ask=_unit_not_stated, needs=("is_quantity", "unit_stated"),
        says="'{value_found}', unit stated: {unit_stated}",
        remedy="ask the owner of the sheet and declare the unit", source=_PRACTICE,
    ),
    Rule(
        "unit-size-suspicious", Group.DATA, Severity.LOOK, Subject.UNIT,
        condition="a load is about 100, 225 or 1,000 times that of half the spans beside it",
        ask=_size, needs=("load_found", "expected_load"),
        says="load {load_found}, expected about {expected_load}",
        remedy="ask for the unit of the sheet", source=_PRACTICE,
    ),
    Rule(
        "zero-or-nines", Group.DATA, Severity.LOOK, Subject.UNIT,
        condition="a load is written as 0, 999 or 9999",
        ask=_placeholder, needs=("spring",),
        says="nameplate {nameplate_load}, hot load {hot_load}, set {setting}",
        remedy="blank it, keeping what was written", source=_PRACTICE,
    ),
    Rule(
        "sign-or-axis-doubt", Group.DATA, Severity.STOP, Subject.LINE,
        condition="the loads of one line have mixed signs",
        ask=_signs, needs=("loads", "downward_loads"), limits=("mixed_sign_share",),
        says="{downward_loads} of {loads} loads pull downwards", measure="share",
        remedy="confirm sign and axis of the report", source=_PRACTICE,
    ),
    Rule(
        "hot-cold-swapped", Group.DATA, Severity.ACT, Subject.UNIT,
        condition="hot and cold load of a variable spring do not fit the sign of its movement",
        ask=_swapped, needs=("hot_load", "cold_load", "plate_movement"),
        says="operating {hot_load}, shut down {cold_load}, movement {plate_movement} up",
        remedy="check the nameplate",
        source="linear spring; the sign rule of MSS SP-58",
    ),
    Rule(
        "rate-does-not-fit", Group.DATA, Severity.LOOK, Subject.UNIT,
        condition="hot and cold load of a variable spring do not fit its rate and movement",
        ask=_rate, needs=("hot_load", "cold_load", "plate_movement", "rate"),
        limits=("rate_difference",), measure="apart",
        says="change stamped {stamped}, by rate {by_rate}: {apart} apart; limit "
        "{rate_difference}",
        remedy="check the nameplate", source=_PRACTICE,
    ),
    Rule(
        "range-upside-down", Group.DATA, Severity.ACT, Subject.UNIT,
        condition="low and high end of a range are exchanged, or the nameplate load lies outside",
        ask=_upside_down, needs=("stamped_low", "nameplate_load", "stamped_high"),
        says="low {stamped_low}, nameplate {nameplate_load}, high {stamped_high}",
        remedy="correct it against the nameplate", source=_PRACTICE,
    ),
    Rule(
        "type-and-data-disagree", Group.DATA, Severity.LOOK, Subject.UNIT,
        condition="a constant support has a spring rate, or a rigid one a travel",
        ask=_type, needs=("support_kind",),
        says="{support_kind} with rate {rate} and travel {total_travel}",
        remedy="correct type or data", source=_PRACTICE,
    ),
    Rule(
        "date-not-possible", Group.DATA, Severity.LOOK, Subject.UNIT,
        condition="a day lies in the future, before the unit was built, or before 1901",
        ask=_date,
        says="set on {setting_day}, read on {last_seen_day}, built {built_day}",
        remedy="correct it", source=_PRACTICE,
    ),
    Rule(
        "serial-twice", Group.DATA, Severity.ACT, Subject.UNIT,
        condition="one serial is in place at two points",
        ask=_serial, needs=("serial", "bearers_of_serial"), measure="count",
        says="serial {serial} is in place {count} times",
        remedy="check on site", source=_PRACTICE,
    ),
    Rule(
        "point-without-line", Group.DATA, Severity.LOOK, Subject.SUPPORT,
        condition="a support point in place holds no line",
        ask=_no_line, needs=("in_place",), says="holds {lines} lines",
        remedy="join it to its line", source=_PRACTICE,
    ),
    Rule(
        "node-without-tag", Group.DATA, Severity.LOOK, Subject.LINE,
        condition="a sheet gives loads at nodes that lead to no support",
        ask=_node_without_tag, needs=("nodes_without_tag",), measure="count",
        says="rows of loads whose node leads to no support: {count} ({nodes_where})",
        remedy="join node and tag: supports sheets decide NODE", source=_PRACTICE,
    ),
    Rule(
        "tag-without-node", Group.DATA, Severity.LOOK, Subject.SUPPORT,
        condition="a support on a calculated line has no node",
        ask=_tag_without_node, needs=("has_node",), says="node: {has_node}",
        remedy="join tag and node", source=_PRACTICE,
    ),
    Rule(
        "order-along-line-broken", Group.DATA, Severity.LOOK, Subject.LINE,
        condition="the order of supports along a line has gaps, doubles or falling distances",
        ask=_order, needs=("supports", "order_missing"), measure="count",
        says="{order_missing} without order, {order_double} double, {distance_falling} falling",
        remedy="correct the order", source=_PRACTICE,
    ),
    Rule(
        "edited-by-two", Group.DATA, Severity.ACT, Subject.RECORD,
        condition="two imports changed one field",
        ask=_edited, needs=("editors",), measure="count",
        says="{count} files changed {field}", remedy="choose one and keep both on record",
        source=_PRACTICE,
    ),
)  # fmt: skip
