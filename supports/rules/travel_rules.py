"""Rules of group 'travel': room in the unit, pointers, movement between two plant states."""

from __future__ import annotations

from typing import Any

import numpy as np

from supports.calc.elementwise import at_least, at_most, larger, ratio, smaller
from supports.calc.travel import room_at_ends, travel_needed
from supports.findings import Severity
from supports.rules.frame import FloatColumn, Frame, Subject
from supports.rules.load_rules import SET, asks_for_re_set, re_set_in_doubt
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind


def _more_than_unit(f: Frame, _: Limits) -> Judged:
    design = abs(f["design_travel"])
    excess = design - f["total_travel"]
    return Judged(
        applies=f.yes("constant"),
        fails=~at_most(design, f["total_travel"]),
        figures={
            "design": Figure(design, Kind.LENGTH, "travel needed", "|{design_travel}|"),
            "excess": Figure(excess, Kind.LENGTH, "travel short", "{design} − {total_travel}"),
        },
    )


def _reserve_short(f: Frame, s: Limits) -> Judged:
    design = abs(f["design_travel"])
    least: Any = s.of("travel_extra_least", f)
    share: Any = s.of("travel_extra_share", f)
    needed = travel_needed(design, least, share)
    return Judged(
        applies=f.yes("constant"),
        when=at_most(design, f["total_travel"]),
        fails=~at_most(needed, f["total_travel"]),
        figures={
            "design": Figure(design, Kind.LENGTH, "design travel", "|{design_travel}|"),
            "needed": Figure(
                needed,
                Kind.LENGTH,
                "travel with reserve",
                "{design} + larger of {travel_extra_least} and {travel_extra_share} × {design}",
            ),
            "short": Figure(
                needed - f["total_travel"], Kind.LENGTH, "short by", "{needed} − {total_travel}"
            ),
        },
    )


def _end_room(f: Frame, s: Limits) -> Judged:
    total = f["total_travel"]
    top, bottom = room_at_ends(
        f["cold_mark"], f["hot_mark"], total, zero_at_top=f.yes("zero_at_top")
    )
    least = larger(s.of("end_room_least", f), s.of("end_room_share", f) * total)
    room = smaller(top, bottom)
    return Judged(
        applies=f.yes("constant"),
        fails=~at_least(room, least),
        figures={
            "top": Figure(top, Kind.LENGTH, "room at the top, the less of both states"),
            "bottom": Figure(bottom, Kind.LENGTH, "room at the bottom, the less of both states"),
            "least": Figure(
                least,
                Kind.LENGTH,
                "room asked for",
                "larger of {end_room_least} and {end_room_share} × {total_travel}",
            ),
            "short": Figure(least - room, Kind.LENGTH, "short by", "{least} − less room"),
        },
    )


def _on_the_stop(f: Frame, s: Limits) -> Judged:
    pointer, total = f["pointer"], f["total_travel"]
    room = smaller(pointer, total - pointer)
    return Judged(
        applies=f.yes("spring") & f.known("pointer"),
        when=(f["stops_in"] == 0.0) | ~f.known("stops_in"),
        fails=at_most(room, s.of("stop_touch", f)),
        graver=f.yes("near_machine"),
        figures={
            "room": Figure(room, Kind.LENGTH, "room to the nearer end"),
            "taken": Figure(-room, Kind.LENGTH, "room taken", "−{room}"),
        },
    )


def _not_as_expected(f: Frame, s: Limits) -> Judged:
    away = abs(f["pointer"] - f["pointer_expected"])
    design = abs(f["design_travel"])
    limit = larger(
        s.of("pointer_difference", f),
        s.of("pointer_difference_share", f) * np.where(np.isnan(design), 0.0, design),
    )
    return Judged(
        applies=f.yes("spring") & f.known("pointer") & f.yes("state_has_mark"),
        fails=~at_most(away, limit),
        figures={
            "away": Figure(away, Kind.LENGTH, "away", "|{pointer} − {pointer_expected}|"),
            "allowed": Figure(
                limit,
                Kind.LENGTH,
                "allowed",
                "larger of {pointer_difference} and {pointer_difference_share} × |{design_travel}|",
            ),
        },
    )


def _movement(f: Frame) -> dict[str, Figure]:
    seen = f["movement_seen"]
    wanted = f["design_travel"]
    return {
        "share": Figure(
            ratio(seen, wanted), Kind.FRACTION, "seen against calculated",
            "{movement_seen} / {design_travel}",
        ),
    }  # fmt: skip


def _pair(f: Frame, s: Limits) -> Judged:
    """Return where a pair of readings can be compared with a movement worth the name."""
    applies = f.yes("spring") & f.known("movement_seen")
    large: FloatColumn = abs(f["design_travel"])
    when = ~at_most(large, s.of("movement_least", f))
    return Judged(applies=applies, when=when, fails=np.zeros(f.size, dtype=bool))


def _wrong_way(f: Frame, s: Limits) -> Judged:
    pair = _pair(f, s)
    seen = f["movement_seen"]
    opposite = seen * f["design_travel"] < 0.0
    return Judged(
        applies=pair.applies,
        when=pair.when,
        fails=opposite & ~at_most(abs(seen), s.of("movement_least", f)),
        figures=_movement(f),
    )


def _too_little(f: Frame, s: Limits) -> Judged:
    pair = _pair(f, s)
    share = ratio(f["movement_seen"], f["design_travel"])
    wrong = (share < 0.0) & ~at_most(abs(f["movement_seen"]), s.of("movement_least", f))
    wanted = s.of("movement_share", f)
    return Judged(
        applies=pair.applies,
        when=pair.when,
        fails=~at_least(share, wanted) & ~wrong,
        figures={
            **_movement(f),
            "wanting": Figure(
                wanted - share, Kind.FRACTION, "wanting", "{movement_share} − {share}"
            ),
        },
    )


def _changes_travel(f: Frame, s: Limits) -> Judged:
    """Judge every re-set of such a unit; who checked the travel accepts the finding, by name."""
    turned = asks_for_re_set(f, s)
    return Judged(
        applies=turned | re_set_in_doubt(f),
        fails=f.yes("setting_changes_travel"),
        unknown={"setting_changes_travel": turned & ~f.known("setting_changes_travel")},
    )


TRAVEL_RULES = (
    Rule(
        "travel-more-than-unit", Group.TRAVEL, Severity.STOP, Subject.UNIT,
        condition="the pipe moves further than the unit can travel",
        ask=_more_than_unit, needs=("design_travel", "total_travel"), measure="excess",
        says="needs {design}, the unit has {total_travel}",
        remedy="choose another unit",
        source="nameplate; MSS SP-58; EN 13480-3",
    ),
    Rule(
        "travel-reserve-short", Group.TRAVEL, Severity.ACT, Subject.UNIT,
        condition="the unit has less than the design travel and its reserve",
        ask=_reserve_short, needs=("design_travel", "total_travel"),
        limits=("travel_extra_least", "travel_extra_share"), measure="short",
        says="design {design}, with reserve {needed}, the unit has {total_travel}",
        remedy="accept it in writing or replace the unit",
        source="MSS SP-58; common practice",
    ),
    Rule(
        "room-at-one-end-short", Group.TRAVEL, Severity.ACT, Subject.UNIT,
        condition="the pointer is expected close to an end of its travel, operating or shut down",
        ask=_end_room, needs=("cold_mark", "hot_mark", "total_travel", "zero_at_top"),
        limits=("end_room_least", "end_room_share"), measure="short",
        says="room {top} at the top, {bottom} at the bottom; asked for {least}",
        remedy="re-position by the rod's take-up",
        source="common practice",
    ),
    Rule(
        "on-the-stop", Group.TRAVEL, Severity.ACT, Subject.UNIT, graver=Severity.STOP,
        condition="the pointer stands at an end of its travel with no travel stop in; graver on "
        "lines at machines",
        ask=_on_the_stop, needs=("pointer", "total_travel", "stops_in"), limits=("stop_touch",),
        measure="taken",
        says="pointer {pointer} of {total_travel} on {reading_day}: {room} from the end",
        remedy="treat it as rigid with a load that nobody knows, and investigate",
        source="common practice",
    ),
    Rule(
        "pointer-not-as-expected", Group.TRAVEL, Severity.LOOK, Subject.UNIT,
        condition="the pointer is far from its mark for the plant state of the reading",
        ask=_not_as_expected, needs=("pointer", "pointer_expected"),
        limits=("pointer_difference", "pointer_difference_share"), measure="away",
        says="pointer {pointer}, mark {pointer_expected} for '{reading_state}': {away} away; "
        "allowed {allowed}",
        remedy="compare load, steel and neighbours",
        source="common practice",
    ),
    Rule(
        "moves-the-wrong-way", Group.TRAVEL, Severity.ACT, Subject.UNIT,
        condition="between shut down and operating the pipe moved against the calculation",
        ask=_wrong_way, needs=("movement_seen", "design_travel"), limits=("movement_least",),
        says="moved {movement_seen}, calculated {design_travel}",
        remedy="check signs and look for what restrains the line",
        source="common practice",
    ),
    Rule(
        "moves-too-little", Group.TRAVEL, Severity.LOOK, Subject.UNIT,
        condition="between shut down and operating the pipe moved much less than calculated",
        ask=_too_little, needs=("movement_seen", "design_travel"),
        limits=("movement_least", "movement_share"), measure="wanting",
        says="moved {movement_seen}, calculated {design_travel}: {share}; at least "
        "{movement_share}",
        remedy="look for a unit that is jammed or locked, or a line not at temperature",
        source="common practice",
    ),
    Rule(
        "adjustment-changes-travel", Group.TRAVEL, Severity.ACT, Subject.UNIT,
        condition="the unit's travel depends on its setting, and was not checked for the new one",
        ask=_changes_travel, needs=SET, limits=("band",),
        says="travel depends on the setting: {setting_changes_travel}",
        remedy="check the travel for the new setting",
        source="maker's data",
    ),
)  # fmt: skip
