"""Rules of group 'setting history against the nameplate': what is set, read, stamped and drawn."""

from __future__ import annotations

import numpy as np

from supports.calc.constant_support import relative_difference
from supports.calc.elementwise import at_least, at_most, larger
from supports.calc.site_measurement import step_disagreement
from supports.findings import Severity
from supports.rules.frame import BoolColumn, FloatColumn, Frame, Subject
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind


def furthest_apart(f: Frame, pairs: tuple[tuple[str, str], ...]) -> FloatColumn:
    """Return the largest relative difference over pairs of columns; unknown pairs are left out."""
    worst = np.full(f.size, np.nan)
    for first, second in pairs:
        apart = abs(relative_difference(f[first], f[second]))
        worst = np.fmax(worst, apart)
    return worst


def any_known(f: Frame, *names: str) -> BoolColumn:
    """Return where at least one of the columns is known."""
    found = np.zeros(f.size, dtype=bool)
    for name in names:
        found |= f.known(name)
    return found


def _without_record(f: Frame, s: Limits) -> Judged:
    apart = relative_difference(f["scale_load"], f["setting_in_state"])
    formula = "({scale_load} − {setting_in_state}) / {setting_in_state}"
    allowed = np.where(
        f.yes("variable"), s.of("variable_reading_error", f), s.of("reading_error", f)
    )
    return Judged(
        applies=f.yes("spring") & f.known("scale_load") & (f["reading_day"] >= f["setting_day"]),
        fails=~at_most(abs(apart), allowed),
        figures={
            "difference": Figure(apart, Kind.FRACTION, "scale against record", formula),
            "apart": Figure(abs(apart), Kind.FRACTION, "the same without sign", "|{difference}|"),
            "allowed": Figure(allowed, Kind.FRACTION, "reading error of such a unit"),
        },
    )


def _not_readable(f: Frame, _: Limits) -> Judged:
    return Judged(applies=f.yes("spring"), fails=f.no("plate_readable"))


DRAWN = (
    ("nameplate_load", "drawn_load"),
    ("rate", "drawn_rate"),
    ("total_travel", "drawn_travel"),
)
CALCULATED = (
    ("nameplate_load", "calculated_plate_load"),
    ("rate", "calculated_rate"),
    ("total_travel", "calculated_travel"),
)
BEFORE = (
    ("nameplate_load", "former_nameplate_load"),
    ("hot_load", "former_hot_load"),
    ("rate", "former_rate"),
    ("total_travel", "former_travel"),
    ("rod_length", "former_rod_length"),
)


def _two_papers(f: Frame, s: Limits, pairs: tuple[tuple[str, str], ...]) -> Judged:
    apart = furthest_apart(f, pairs)
    return Judged(
        applies=f.yes("spring") & any_known(f, *(second for _, second in pairs)),
        fails=~at_most(apart, s.of("data_difference", f)),
        unknown={"the same value on the nameplate": np.isnan(apart)},
        figures={"apart": Figure(apart, Kind.FRACTION, "largest difference of any value")},
    )


def _drawing(f: Frame, s: Limits) -> Judged:
    return _two_papers(f, s, DRAWN)


def _calculation(f: Frame, s: Limits) -> Judged:
    return _two_papers(f, s, CALCULATED)


def _moved(f: Frame, _: Limits) -> Judged:
    places = f["other_places"]
    return Judged(
        applies=f.yes("has_unit"),
        fails=places > 0.0,
        figures={"places": Figure(places, Kind.COUNT, "other places")},
    )


def _drift(f: Frame, s: Limits) -> Judged:
    pointer, load = abs(f["pointer_drift"]), abs(f["load_drift"])
    moved = ~at_most(pointer, s.of("drift_pointer", f)) & ~np.isnan(pointer)
    loaded = ~at_most(load, s.of("drift_load", f)) & ~np.isnan(load)
    return Judged(
        applies=f.yes("spring") & at_least(f["comparable_readings"], s.of("trend_readings", f)),
        fails=moved | loaded,
        unknown={"pointer or load at enough readings": np.isnan(pointer) & np.isnan(load)},
        figures={
            "shift": Figure(pointer, Kind.LENGTH, "pointer in a year", "|{pointer_drift}|"),
            "load": Figure(load, Kind.FRACTION, "load from first to last", "|{load_drift}|"),
        },
    )


def _turns(f: Frame, s: Limits) -> Judged:
    expected = f["turns_given"] * f["load_per_turn_here"]
    apart = step_disagreement(expected, f["setting_step"])
    formula = "|{setting_step} − {expected}| / |{expected}|"
    return Judged(
        applies=f.yes("constant") & (f["turns_given"] != 0.0) & f.known("turns_given"),
        fails=~at_most(apart, s.of("step_disagreement", f)),
        figures={
            "expected": Figure(
                expected, Kind.LOAD, "change that the turns should make",
                "{turns_given} × {load_per_turn_here}",
            ),
            "apart": Figure(apart, Kind.FRACTION, "apart", formula),
        },
    )  # fmt: skip


def _older(f: Frame, _: Limits) -> Judged:
    days = f["weight_change_day"] - f["setting_day"]
    return Judged(
        applies=f.yes("spring") & f.known("weight_change_day"),
        fails=days > 0.0,
        figures={
            "days": Figure(days, Kind.COUNT, "days older", "{weight_change_day} − {setting_day}")
        },
    )


def _many(f: Frame, s: Limits) -> Judged:
    count = f["re_sets_in_ten_years"]
    return Judged(
        applies=f.yes("spring"),
        fails=at_least(count, s.of("re_sets", f)),
        figures={"count": Figure(larger(count, 0.0), Kind.COUNT, "re-sets in ten years")},
    )


HISTORY_RULES = (
    Rule(
        "set-without-record", Group.HISTORY, Severity.ACT, Subject.UNIT,
        condition="the scale reads something else than the last setting on record",
        ask=_without_record, needs=("scale_load", "setting", "setting_in_state"),
        limits=("reading_error", "variable_reading_error"), measure="apart",
        says="scale {scale_load} on {reading_day}, set {setting} on {setting_day}: "
        "{difference:+}; reading error {allowed}",
        remedy="find out who set it; treat it as a change without record",
        source="common practice; OSHA 1910.119(l)",
    ),
    Rule(
        "plate-not-readable", Group.HISTORY, Severity.ACT, Subject.UNIT,
        condition="the nameplate cannot be read in full, or its values are provisional",
        ask=_not_readable, needs=("plate_readable",),
        says="nameplate readable: {plate_readable}; source {plate_source}",
        remedy="identify the unit by drawing and measurement; two people make a provisional plate",
        source="common practice",
    ),
    Rule(
        "plate-and-drawing-differ", Group.HISTORY, Severity.ACT, Subject.UNIT,
        condition="load, rate or travel on nameplate and drawing differ",
        ask=_drawing, limits=("data_difference",),
        measure="apart",
        says="nameplate and drawing are {apart} apart; limit {data_difference}",
        remedy="find out which is right and whether the unit was exchanged",
        source="common practice",
    ),
    Rule(
        "plate-and-calculation-differ", Group.HISTORY, Severity.ACT, Subject.UNIT,
        condition="the calculation used another load, rate or travel than the nameplate has",
        ask=_calculation, limits=("data_difference",),
        measure="apart",
        says="nameplate and calculation are {apart} apart; limit {data_difference}",
        remedy="have the calculation corrected",
        source="common practice",
    ),
    Rule(
        "unit-moved", Group.HISTORY, Severity.ACT, Subject.UNIT,
        condition="the same unit is on record at another place too",
        ask=_moved, needs=("other_places",), measure="places",
        says="serial {serial} is on record at {places} other place(s)",
        remedy="confirm on site and trace both",
        source="common practice",
    ),
    Rule(
        "drift-between-walks", Group.HISTORY, Severity.LOOK, Subject.UNIT,
        condition="enough readings in one plant state show pointer or load drifting",
        ask=_drift, limits=("drift_pointer", "drift_load", "trend_readings"), measure="load",
        says="pointer drifts {shift:.1} a year (limit {drift_pointer}), load {load} (limit "
        "{drift_load}) over {comparable_readings} readings",
        remedy="look for creep, a leak of weight or a broken support",
        source="ASME B31.1 chapter VII and app. V; common practice",
    ),
    Rule(
        "turns-and-scale-disagree", Group.HISTORY, Severity.STOP, Subject.UNIT,
        condition="the load changed by something else than the turns given should have made",
        ask=_turns, needs=("turns_given", "load_per_turn_here", "setting_step"),
        limits=("step_disagreement",), measure="apart",
        says="{turns_given} turns should make {expected}, the scale made {setting_step}: {apart} "
        "apart; limit {step_disagreement}",
        remedy="stop turning and investigate before going on",
        source="common practice",
    ),
    Rule(
        "setting-older-than-weight-change", Group.HISTORY, Severity.ACT, Subject.UNIT,
        condition="the unit was last set before the weight of its line last changed",
        ask=_older, needs=("setting_day",), measure="days",
        says="set on {setting_day}, weight changed on {weight_change_day}",
        remedy="assess the setting again",
        source="common practice",
    ),
    Rule(
        "many-re-sets", Group.HISTORY, Severity.NOTE, Subject.UNIT,
        condition="one unit was re-set again and again within ten years",
        ask=_many, needs=("re_sets_in_ten_years",), limits=("re_sets",), measure="count",
        says="{count} re-sets in ten years; noted from {re_sets}",
        remedy="look for the cause",
        source="common practice",
    ),
)  # fmt: skip
