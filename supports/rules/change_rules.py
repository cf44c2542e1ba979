"""Rules of group 'change control': approvals, revisions, dates, work left half done."""

from __future__ import annotations

import numpy as np

from supports.calc.elementwise import at_least, at_most
from supports.findings import Severity
from supports.rules.frame import Frame, Subject
from supports.rules.history_rules import BEFORE, furthest_apart
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind


def _without_approval(f: Frame, _: Limits) -> Judged:
    return Judged(applies=f.yes("setting_is_new_value"), fails=f.no("setting_approved"))


def _superseded(f: Frame, _: Limits) -> Judged:
    return Judged(applies=f.yes("approved") & f.yes("open"), fails=f.yes("newer_revision"))


def _same_person(f: Frame, _: Limits) -> Judged:
    count = f["signed_twice"]
    return Judged(
        applies=f.yes("assessed"),
        fails=count > 0.0,
        figures={"count": Figure(count, Kind.COUNT, "people who signed twice")},
    )


def _near_date(f: Frame, s: Limits) -> Judged:
    left = f["ends_on"] - f.today
    return Judged(
        applies=f.yes("temporary") & f.yes("open"),
        when=left >= 0.0,
        fails=at_most(left, s.of("temporary_notice", f)),
        figures={
            "left": Figure(left, Kind.COUNT, "days left"),
            "gone": Figure(-left, Kind.COUNT, "days gone", "−{left}"),
        },
    )


def _past_date(f: Frame, _: Limits) -> Judged:
    over = f.today - f["ends_on"]
    return Judged(
        applies=f.yes("temporary") & f.yes("open"),
        fails=over > 0.0,
        figures={"over": Figure(over, Kind.COUNT, "days over")},
    )


def _called_off(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=f.yes("called_off"),
        fails=f["jobs_done"] > 0.0,
        figures={"done": Figure(f["jobs_done"], Kind.COUNT, "jobs done")},
    )


def _mixed_state(f: Frame, _: Limits) -> Judged:
    mixed = (f["jobs_done"] > 0.0) & (f["jobs_left"] > 0.0)
    return Judged(
        applies=f.yes("open") & mixed,
        fails=f.yes("heat_up_asked"),
        figures={"left": Figure(f["jobs_left"], Kind.COUNT, "re-sets left")},
    )


def _emergency(f: Frame, s: Limits) -> Judged:
    hours = (f.today - f["requested_on"]) * 24.0
    return Judged(
        applies=f.yes("emergency") & f.yes("open"),
        when=~f.yes("approved"),
        fails=~at_most(hours, s.of("emergency_hours", f)),
        figures={
            "hours": Figure(hours, Kind.COUNT, "hours since", "(today − {requested_on}) × 24")
        },
    )


def _drawings(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=f.yes("to_be_closed") & (f["jobs_done"] > 0.0), fails=f["red_marks"] == 0.0
    )


def _two_changes(f: Frame, _: Limits) -> Judged:
    count = f["open_changes"]
    return Judged(
        applies=np.ones(f.size, dtype=bool),
        fails=at_least(count, np.full(f.size, 2.0)),
        figures={"count": Figure(count, Kind.COUNT, "open changes")},
    )


def _like_for_like(f: Frame, s: Limits) -> Judged:
    apart = furthest_apart(f, BEFORE)
    return Judged(
        applies=f.yes("replaced"),
        fails=~at_most(apart, s.of("data_difference", f)),
        unknown={"the same value on both nameplates": np.isnan(apart)},
        when=~f.yes("replacement_approved"),
        figures={"apart": Figure(apart, Kind.FRACTION, "largest difference of any value")},
    )


CHANGE_RULES = (
    Rule(
        "work-without-approval", Group.CHANGE, Severity.STOP, Subject.UNIT,
        condition="a unit was set to another load with no approved change behind it",
        ask=_without_approval, needs=("setting_approved",),
        says="set to {setting} on {setting_day} by {set_by}; approved change: {setting_approved}",
        remedy="stop, record and assess",
        source="OSHA 1910.119(l) or the national rule",
    ),
    Rule(
        "calculation-superseded", Group.CHANGE, Severity.STOP, Subject.CHANGE,
        condition="a change was approved on a calculation of which a newer revision is issued",
        ask=_superseded, needs=("newer_revision",),
        says="approved on {calculation}; newer revision issued: {newer_revision}",
        remedy="assess and approve again",
        source="site procedure",
    ),
    Rule(
        "checker-is-doer", Group.CHANGE, Severity.STOP, Subject.CHANGE,
        condition="one person prepared and checked or approved the same assessment",
        ask=_same_person, needs=("signed_twice",), measure="count",
        says="{signed_twice} people signed one assessment twice",
        remedy="another person must do it",
        source="site procedure",
    ),
    Rule(
        "temporary-near-date", Group.CHANGE, Severity.ACT, Subject.CHANGE,
        condition="a temporary change is about to end",
        ask=_near_date, needs=("ends_on",), limits=("temporary_notice",), measure="gone",
        says="ends on {ends_on}, {left} days left; notice from {temporary_notice}",
        remedy="remove it, or renew it with an assessment",
        source="site procedure",
    ),
    Rule(
        "temporary-past-date", Group.CHANGE, Severity.STOP, Subject.CHANGE,
        condition="a temporary change is past its end",
        ask=_past_date, needs=("ends_on",), measure="over",
        says="ended on {ends_on}, {over} days ago",
        remedy="remove it or have it approved afresh; report daily",
        source="OSHA 1910.119(l)",
    ),
    Rule(
        "part-done-then-called-off", Group.CHANGE, Severity.STOP, Subject.CHANGE,
        condition="a change was called off after work had been done",
        ask=_called_off, needs=("jobs_done",), measure="done",
        says="called off with {jobs_done} jobs done",
        remedy="undo it, or accept it as it is with an analysis",
        source="common practice",
    ),
    Rule(
        "line-in-mixed-state", Group.CHANGE, Severity.STOP, Subject.CHANGE,
        condition="some units are re-set and others not, and a line of the change was started up",
        ask=_mixed_state, needs=("heat_up_asked",), measure="left",
        says="{jobs_done} re-sets done, {jobs_left} left; started up since: {heat_up_asked}",
        remedy="complete the work or assess the mixed state",
        source="common practice",
    ),
    Rule(
        "emergency-not-regularised", Group.CHANGE, Severity.STOP, Subject.CHANGE,
        condition="an emergency change has stood too long without a full one",
        ask=_emergency, needs=("requested_on",), limits=("emergency_hours",), measure="hours",
        says="noted on {requested_on}, {hours} hours ago; limit {emergency_hours}",
        remedy="complete the change",
        source="site procedure",
    ),
    Rule(
        "drawings-not-updated", Group.CHANGE, Severity.STOP, Subject.CHANGE,
        condition="a change is to be closed after work on units, and no marked-up drawing is with "
        "its supports",
        ask=_drawings, needs=("red_marks",),
        says="{jobs_done} jobs done, {red_marks} documents since the approval",
        remedy="mark the drawings up; this blocks closing",
        source="OSHA 1910.119(d), (l)",
    ),
    Rule(
        "two-changes-one-line", Group.CHANGE, Severity.ACT, Subject.LINE,
        condition="two or more open changes act on one line",
        ask=_two_changes, needs=("open_changes",), measure="count",
        says="{open_changes} open changes",
        remedy="give them one owner and one sequence",
        source="common practice",
    ),
    Rule(
        "like-for-like-doubtful", Group.CHANGE, Severity.ACT, Subject.UNIT,
        condition="a unit was replaced by one of another load, rate, travel or length",
        ask=_like_for_like, limits=("data_difference",), measure="apart",
        says="new and former unit are {apart} apart; limit {data_difference}",
        remedy="treat it as a change",
        source="site procedure",
    ),
)  # fmt: skip
