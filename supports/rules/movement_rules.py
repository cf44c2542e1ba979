"""Rules of group 'movement and clearance': swing, gaps, bearing, level."""

from __future__ import annotations

import numpy as np

from supports.calc.elementwise import at_least, at_most, larger, smaller
from supports.calc.swing import swing_angle
from supports.findings import Severity
from supports.rules.frame import FloatColumn, Frame, Subject
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind


def _angle(apart: FloatColumn, length: FloatColumn) -> FloatColumn:
    """Return the rod's angle; no further out than the rod is long."""
    angle: FloatColumn = swing_angle(smaller(apart, length), length)
    return angle


def _offset(f: Frame) -> FloatColumn:
    """Return the offset built into the rod [m]; none where none is on record."""
    return np.nan_to_num(f["rod_offset"])


def _swing(f: Frame, s: Limits) -> Judged:
    offset = _offset(f)
    apart = larger(abs(f["sideways"] - offset), abs(offset))
    angle = _angle(apart, f["rod_length"])
    return Judged(
        applies=f.yes("hanger"),
        fails=~at_most(angle, s.of("swing", f)),
        figures={
            "apart": Figure(
                apart, Kind.LENGTH, "furthest out of plumb",
                "larger of |{sideways} − offset| and |offset|",
            ),
            "angle": Figure(angle, Kind.ANGLE, "rod angle", "asin({apart} / {rod_length})"),
        },
    )  # fmt: skip


def _swing_seen(f: Frame, s: Limits) -> Judged:
    offset = _offset(f)
    expected_apart = np.where(f.yes("read_hot"), abs(f["sideways"] - offset), abs(offset))
    expected = _angle(expected_apart, f["rod_length"])
    away = abs(f["rod_angle"] - expected)
    return Judged(
        applies=f.yes("hanger") & f.known("rod_angle"),
        fails=~at_most(away, s.of("swing_difference", f)),
        figures={
            "expected": Figure(expected, Kind.ANGLE, "angle expected in that plant state"),
            "away": Figure(away, Kind.ANGLE, "away", "|{rod_angle} − {expected}|"),
        },
    )


def _gap(f: Frame, s: Limits) -> Judged:
    left = f["gap_cold"] - f["movement_towards"]
    growth = np.where(f.known("insulation_growth"), f["insulation_growth"], 0.0)
    least = growth + s.of("gap_margin", f)
    short = ~at_least(left, least) & ~np.isnan(left)
    return Judged(
        applies=f.known("gap_cold"),
        fails=short,
        surely=f.known("gap_cold") & short,
        unknown={"movement towards every gap on record": f["gaps_unsure"] > 0.0},
        figures={
            "left": Figure(left, Kind.LENGTH, "gap left", "{gap_cold} − {movement_towards}"),
            "least": Figure(least, Kind.LENGTH, "gap asked for", "growth + {gap_margin}"),
            "short": Figure(least - left, Kind.LENGTH, "short by", "{least} − {left}"),
        },
    )


def _shoe(f: Frame, s: Limits) -> Judged:
    room = f["bearing_length"] - s.of("shoe_margin", f)
    return Judged(
        applies=f.yes("shoe"),
        fails=~at_most(f["sideways"], room),
        figures={
            "room": Figure(
                room, Kind.LENGTH, "movement that the shoe allows",
                "{bearing_length} − {shoe_margin}",
            ),
            "excess": Figure(
                f["sideways"] - room, Kind.LENGTH, "too far by", "{sideways} − {room}"
            ),
        },
    )  # fmt: skip


def _lifted(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=f.yes("bears_from_below") & (f.known("touches") | f.known("touch_expected")),
        when=~f.no("touch_expected"),
        fails=f.no("touches") & f.yes("touch_expected"),
    )


def _leaning(f: Frame, s: Limits) -> Judged:
    offset = abs(_offset(f))
    built_in = np.where(offset > 0.0, _angle(offset, f["rod_length"]), 0.0)
    beyond = f["lean_seen"] - built_in
    return Judged(
        applies=f.known("lean_seen"),
        fails=~at_most(beyond, s.of("lean", f)),
        unknown={"rod length": (offset > 0.0) & ~f.known("rod_length")},
        figures={
            "built_in": Figure(built_in, Kind.ANGLE, "lean built in"),
            "beyond": Figure(beyond, Kind.ANGLE, "lean beyond it", "{lean_seen} − {built_in}"),
        },
    )


def _slope(f: Frame, _: Limits) -> Judged:
    left = f["slope_now"] * np.sign(f["slope_design"])
    return Judged(
        applies=f.known("slope_design") | f.known("slope_now"),
        when=f["slope_design"] != 0.0,
        fails=left <= 0.0,
        figures={"against": Figure(-left, Kind.FRACTION, "fall the wrong way", "−{slope_now}")},
    )


MOVEMENT_RULES = (
    Rule(
        "rod-swing-large", Group.MOVEMENT, Severity.ACT, Subject.UNIT,
        condition="the rod leans too far from the vertical, operating or shut down",
        ask=_swing, needs=("sideways", "rod_length"), limits=("swing",), measure="angle",
        says="rod {rod_length} long swings {angle}; limit {swing}",
        remedy="offset the attachment, lengthen the rod or hang it on a trolley",
        source="MSS SP-58; common practice",
    ),
    Rule(
        "swing-seen-differs", Group.MOVEMENT, Severity.LOOK, Subject.UNIT,
        condition="the rod angle measured is far from the one expected in that plant state",
        ask=_swing_seen, needs=("rod_angle", "sideways", "rod_length", "read_hot"),
        limits=("swing_difference",), measure="away",
        says="measured {rod_angle}, expected {expected}: {away} away; limit {swing_difference}",
        remedy="check the movement of the line",
        source="common practice",
    ),
    Rule(
        "gap-too-small", Group.MOVEMENT, Severity.ACT, Subject.UNIT,
        condition="the gap to the nearest steel does not hold movement, insulation and margin",
        ask=_gap, needs=("gap_cold", "movement_towards"), limits=("gap_margin",),
        measure="short",
        says="gap {gap_way} {gap_cold}, movement that way {movement_towards}: {left} left; asked "
        "for {least}",
        remedy="cut back or move what is in the way",
        source="common practice",
    ),
    Rule(
        "shoe-off-beam", Group.MOVEMENT, Severity.STOP, Subject.UNIT,
        condition="the movement of a shoe is more than its bearing length allows",
        ask=_shoe, needs=("sideways", "bearing_length"), limits=("shoe_margin",),
        measure="excess",
        says="moves {sideways}; the shoe allows {room}",
        remedy="fit a longer shoe",
        source="common practice",
    ),
    Rule(
        "rest-lifted", Group.MOVEMENT, Severity.ACT, Subject.UNIT,
        condition="the pipe does not touch a rest on which it should lie",
        ask=_lifted, needs=("touches", "touch_expected"),
        says="gap under the pipe {gap_under}; touches: {touches}; expected: {touch_expected}",
        remedy="ask the stress engineer",
        source="common practice",
    ),
    Rule(
        "body-leaning", Group.MOVEMENT, Severity.LOOK, Subject.UNIT,
        condition="unit or rod is out of plumb beyond its built-in offset",
        ask=_leaning, needs=("lean_seen",), limits=("lean",), measure="beyond",
        says="leans {lean_seen}, {built_in} built in: {beyond} beyond it; limit {lean}",
        remedy="check the swing and the steel above",
        source="common practice",
    ),
    Rule(
        "slope-reversed", Group.MOVEMENT, Severity.ACT, Subject.UNIT,
        condition="the line lost its fall where it was re-positioned",
        ask=_slope, needs=("slope_design", "slope_now"), measure="against",
        says="fall {slope_now}, designed {slope_design}",
        remedy="look after drains and steam traps",
        source="common practice",
    ),
)  # fmt: skip
