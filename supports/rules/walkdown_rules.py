"""Rules of group 'walkdown': what was seen, when, in which plant state, and by whom."""

from __future__ import annotations

import numpy as np

from supports.calc.elementwise import at_most
from supports.findings import Severity
from supports.rules.frame import FloatColumn, Frame, Subject
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind

CLASSES = ("A", "B", "C")


def _never_seen(f: Frame, _: Limits) -> Judged:
    return Judged(applies=f.yes("spring"), fails=f["readings"] == 0.0)


def _no_pair(f: Frame, s: Limits) -> Judged:
    both = f.yes("read_shut_down") & f.yes("read_operating")
    apart = f["pair_days_apart"]
    return Judged(
        applies=f.yes("spring") & (f["readings"] > 0.0),
        fails=~both | ~at_most(apart, s.of("pair_days", f)),
        figures={"apart": Figure(apart, Kind.COUNT, "days between the nearest two")},
    )


def _interval(f: Frame, s: Limits) -> FloatColumn:
    """Return the days between walks by class; not known where the class is not."""
    days = np.full(f.size, np.nan)
    for letter in CLASSES:
        of_class = np.asarray(f.text("criticality") == letter, dtype=bool)
        days = np.where(of_class, s.of(f"walk_interval_{letter.lower()}", f), days)
    return days


def _overdue(f: Frame, s: Limits) -> Judged:
    days, interval = f.today - f["last_seen_day"], _interval(f, s)
    return Judged(
        applies=f.yes("spring") & (f["readings"] > 0.0),
        fails=~at_most(days, interval),
        unknown={"class of criticality": np.isnan(interval)},
        figures={
            "days": Figure(days, Kind.COUNT, "days since", "today − {last_seen_day}"),
            "interval": Figure(interval, Kind.COUNT, "days between walks for its class"),
            "over": Figure(days - interval, Kind.COUNT, "days over", "{days} − {interval}"),
        },
    )


def _no_walk_after(f: Frame, s: Limits) -> Judged:
    days = f.today - f["started_up_on"]
    return Judged(
        applies=f.yes("proved_in_operation") | f.known("started_up_on"),
        when=~at_most(days, s.of("walk_after_change", f)),
        fails=f["units_not_walked"] > 0.0,
        figures={
            "days": Figure(days, Kind.COUNT, "days since start-up", "today − {started_up_on}"),
            "left": Figure(f["units_not_walked"], Kind.COUNT, "units not read in operation"),
        },
    )


def _state(f: Frame, s: Limits) -> Judged:
    away = abs(f["reading_temperature"] - f["operating_temperature"])
    return Judged(
        applies=f.yes("spring") & f.yes("read_hot"),
        fails=~at_most(away, s.of("state_temperature", f)),
        figures={
            "away": Figure(
                away, Kind.TEMPERATURE_DIFFERENCE, "away",
                "|{reading_temperature} − {operating_temperature}|",
            )
        },
    )  # fmt: skip


def _impossible(f: Frame, _: Limits) -> Judged:
    pointer, load = f["pointer"], f["scale_load"]
    off_scale = (pointer < 0.0) | ~(at_most(pointer, f["total_travel"]) | np.isnan(pointer))
    high = f["scale_high"]
    off_load = (load <= 0.0) | ((load > high * (1.0 + 1e-9)) & ~np.isnan(high))
    read = f.known("pointer") | f.known("scale_load")
    blind = f.known("pointer") & ~f.known("total_travel")
    return Judged(
        applies=f.yes("spring") & read,
        fails=(off_scale & f.known("total_travel")) | (pointer < 0.0) | off_load,
        surely=f.yes("spring") & ((pointer < 0.0) | off_load),
        unknown={"length of the travel scale": blind},
    )


def _no_owner(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=f.yes("open") | ~f.known("open"),
        fails=~f.known("owner") | ~f.known("due_day"),
    )


def _no_photo(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=np.asarray(f.text("criticality") == "A", dtype=bool) & f.yes("is_spring_point"),
        fails=f["photos"] == 0.0,
        figures={"count": Figure(f["photos"], Kind.COUNT, "photos")},
    )


def _old_form(f: Frame, _: Limits) -> Judged:
    behind = f["form_revision_now"] - f["form_revision"]
    return Judged(
        applies=np.ones(f.size, dtype=bool),
        fails=behind > 0.0,
        figures={"behind": Figure(behind, Kind.COUNT, "revisions behind")},
    )


def _without_value(f: Frame, _: Limits) -> Judged:
    class_a = np.asarray(f.text("criticality") == "A", dtype=bool)
    blank = ~f.known("pointer") & ~f.known("scale_load")
    return Judged(
        applies=f.yes("spring") & (f["readings"] > 0.0) & (class_a | ~f.known("criticality")),
        fails=blank,
    )


WALKDOWN_RULES = (
    Rule(
        "never-seen", Group.WALKDOWN, Severity.ACT, Subject.UNIT,
        condition="nobody ever read the unit",
        ask=_never_seen, needs=("readings",),
        says="{readings} readings on record",
        remedy="put it in the next campaign",
        source="ASME B31.1 chapter VII for covered lines; API 570; API 574",
    ),
    Rule(
        "no-hot-cold-pair", Group.WALKDOWN, Severity.LOOK, Subject.UNIT,
        condition="no two readings, one shut down and one operating, lie close enough to compare",
        ask=_no_pair, needs=("readings", "read_shut_down", "read_operating"),
        limits=("pair_days",), measure="apart",
        says="read shut down: {read_shut_down}, operating: {read_operating}; nearest two "
        "{apart} days apart, limit {pair_days}",
        remedy="plan the other reading",
        source="ASME B31.1 app. V; common practice",
    ),
    Rule(
        "walk-overdue", Group.WALKDOWN, Severity.ACT, Subject.UNIT,
        condition="the last reading is older than the interval of the support's class",
        ask=_overdue, needs=("last_seen_day",),
        limits=("walk_interval_a", "walk_interval_b", "walk_interval_c"), measure="over",
        says="last read on {last_seen_day}, {days} days ago; class {criticality} every "
        "{interval} days",
        remedy="plan a walk",
        source="site procedure; API 570",
    ),
    Rule(
        "no-hot-walk-after-change", Group.WALKDOWN, Severity.ACT, Subject.CHANGE,
        condition="units of a change were not read in operation soon after start-up",
        ask=_no_walk_after, needs=("started_up_on", "units_not_walked"),
        limits=("walk_after_change",), measure="days",
        says="started up on {started_up_on}, {days} days ago; {left} units not read since",
        remedy="walk the line",
        source="common practice",
    ),
    Rule(
        "state-not-comparable", Group.WALKDOWN, Severity.NOTE, Subject.UNIT,
        condition="the pipe was not at the temperature of the plant state that was written down",
        ask=_state, needs=("reading_temperature", "operating_temperature"),
        limits=("state_temperature",), measure="away",
        says="read at {reading_temperature}, operating temperature {operating_temperature}; "
        "limit {state_temperature} away",
        remedy="leave the reading out of trends",
        source="common practice",
    ),
    Rule(
        "reading-impossible", Group.WALKDOWN, Severity.LOOK, Subject.UNIT,
        condition="a reading lies off its scale",
        ask=_impossible,
        says="pointer {pointer} of {total_travel}, scale {scale_load} of {scale_high}",
        remedy="read again and look at the unit of the scale",
        source="a scale cannot be read beyond its ends",
    ),
    Rule(
        "finding-without-owner", Group.WALKDOWN, Severity.ACT, Subject.FINDING,
        condition="an open finding has no person or no date",
        ask=_no_owner, needs=("open",),
        says="owner {owner}, due {due_day}",
        remedy="assign it",
        source="site procedure",
    ),
    Rule(
        "critical-without-photo", Group.WALKDOWN, Severity.LOOK, Subject.SUPPORT,
        condition="a spring support of class A has no photo of plate and pointer",
        ask=_no_photo, needs=("photos",), measure="",
        says="{photos} photos with the support",
        remedy="take a photo",
        source="common practice",
    ),
    Rule(
        "form-of-old-revision", Group.WALKDOWN, Severity.ACT, Subject.FORM,
        condition="a form came back in an older revision than the one given out",
        ask=_old_form, needs=("form_revision", "form_revision_now"), measure="behind",
        says="revision {form_revision}, now {form_revision_now}",
        remedy="compare it by hand",
        source="common practice",
    ),
    Rule(
        "seen-as-ok-without-value", Group.WALKDOWN, Severity.LOOK, Subject.UNIT,
        condition="a unit of class A was seen, and neither pointer nor scale was written down",
        ask=_without_value, needs=("criticality",),
        says="read on {reading_day}: pointer {pointer}, scale {scale_load}",
        remedy="visit it again",
        source="common practice",
    ),
)  # fmt: skip
