"""Rules of group 'travel stops': in, out, counted, and strong enough for a test."""

from __future__ import annotations

from supports.calc.elementwise import at_most
from supports.calc.hardware import utilisation
from supports.calc.hydrotest import locked_load
from supports.findings import Severity
from supports.rules.frame import Frame, Subject
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind


def _running(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=f.yes("spring") & ((f["stops_in"] > 0.0) | ~f.known("stops_in")),
        fails=f.yes("line_running"),
        graver=f.yes("near_machine"),
        figures={"count": Figure(f["stops_in"], Kind.COUNT, "travel stops in")},
    )


def _not_all_out(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=f.yes("heat_up_asked"),
        fails=f["stops_in"] > 0.0,
        figures={"count": Figure(f["stops_in"], Kind.COUNT, "travel stops in")},
    )


def _before_weight(f: Frame, s: Limits) -> Judged:
    """Judge stops that must come out before heat-up by the line's state when last read.

    Less weight than the friction band hides may be off; that a line is cut or lifted is not held.
    """
    missing = f["weight_missing"]
    return Judged(
        applies=f.yes("stop_removal_asked"),
        fails=~at_most(missing, s.of("band", f)),
        figures={"missing": Figure(missing, Kind.FRACTION, "share of the line's weight off it")},
    )


def _fill(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=f.yes("spring") & f.yes("fill_asked"),
        when=~f.yes("designed_for_fill"),
        fails=f["stops_in"] == 0.0,
    )


def _rating(f: Frame, _: Limits) -> Judged:
    locked = locked_load(f["setting"], f["water_load"])
    use = utilisation(locked, f["stop_rating"])
    return Judged(
        applies=f.yes("spring") & (f.yes("has_test_case") | f.known("water_load")),
        fails=~at_most(locked, f["stop_rating"]),
        figures={
            "locked": Figure(
                locked, Kind.LOAD, "load on the locked unit", "{setting} + {water_load}"
            ),
            "use": Figure(use, Kind.FRACTION, "use", "{locked} / {stop_rating}"),
        },
    )


def _seized(f: Frame, _: Limits) -> Judged:
    return Judged(applies=f.yes("spring") & f.yes("stop_tried"), fails=f.yes("stop_seized"))


def _holder(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=f.yes("spring") & f.yes("stop_looked_for"),
        when=~(f["stops_in"] > 0.0),
        fails=f.no("stop_in_holder"),
    )


STOP_RULES = (
    Rule(
        "lock-in-while-running", Group.STOPS, Severity.ACT, Subject.UNIT, graver=Severity.STOP,
        condition="a travel stop is in while the line runs; graver on lines at machines",
        ask=_running, needs=("stops_in", "line_running"), measure="count",
        says="travel stops in: {stops_in}; line running: {line_running}",
        remedy="report it; it comes out by an engineered step only",
        source="common practice",
    ),
    Rule(
        "locks-not-all-out", Group.STOPS, Severity.STOP, Subject.LINE,
        condition="heat-up is asked for and travel stops of the line are still in",
        ask=_not_all_out, needs=("stops_in",), measure="count",
        says="{stops_in} travel stops are in before heat-up",
        remedy="find them and take them out; the count must be zero",
        source="common practice",
    ),
    Rule(
        "lock-out-before-weight", Group.STOPS, Severity.STOP, Subject.UNIT,
        condition="a travel stop is to come out before heat-up while contents or insulation are "
        "off the line",
        ask=_before_weight, needs=("weight_missing",), limits=("band",), measure="missing",
        says="{weight_missing} of the line's weight is off it; a stop may come out with no more "
        "than {band} off",
        remedy="put the weight on or keep the stop in",
        source="common practice",
    ),
    Rule(
        "fill-with-lock-out", Group.STOPS, Severity.STOP, Subject.UNIT,
        condition="the line is to be filled or tested with liquid and a spring is not locked",
        ask=_fill, needs=("stops_in",),
        says="travel stops in: {stops_in}; fill or test with liquid is asked for",
        remedy="lock it, or prove the load",
        source="ASME B31.1 and B31.3 test clauses; MSS SP-58",
    ),
    Rule(
        "lock-rating-short", Group.STOPS, Severity.STOP, Subject.UNIT,
        condition="setting and test water together exceed the rating of the travel stop",
        ask=_rating, needs=("setting", "water_load", "stop_rating"), measure="use",
        says="set {setting} and water {water_load} make {locked}; travel stop rated "
        "{stop_rating}: {use}",
        remedy="prop the line during the test",
        source="nameplate; MSS SP-58",
    ),
    Rule(
        "lock-seized", Group.STOPS, Severity.ACT, Subject.UNIT,
        condition="a travel stop cannot be taken out by hand",
        ask=_seized, needs=("stop_seized",),
        says="travel stop seized: {stop_seized}",
        remedy="balance the load again; never hammer",
        source="common practice",
    ),
    Rule(
        "lock-not-in-holder", Group.STOPS, Severity.LOOK, Subject.UNIT,
        condition="a travel stop that is out is not where it is kept",
        ask=_holder, needs=("stop_in_holder",),
        says="travel stop in its holder: {stop_in_holder}",
        remedy="replace it",
        source="common practice",
    ),
)  # fmt: skip
