"""Rules of group 'load and adjustability' that look at one unit."""

from __future__ import annotations

import numpy as np

from supports.calc.constant_support import relative_difference, thread_needed, used_share
from supports.calc.elementwise import at_least, at_most, larger
from supports.calc.site_measurement import deviation
from supports.findings import Severity
from supports.rules.frame import BoolColumn, FloatColumn, Frame, Subject
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind

RANGE = ("required", "nameplate_load", "range_low", "range_high")
SET = (*RANGE, "setting")
"""What must be known to say whether a constant has to be turned."""


def inside_range(f: Frame) -> BoolColumn:
    """Return where the required load lies in the adjusting range, ends included."""
    required = f["required"]
    inside: BoolColumn = at_least(required, f["range_low"]) & at_most(required, f["range_high"])
    return inside


def difference(f: Frame) -> FloatColumn:
    """Return the required load against the setting [1]."""
    return relative_difference(f["required"], f["setting"])


def asks_for_re_set(f: Frame, s: Limits) -> BoolColumn:
    """Return where a constant must be turned: beyond the band, inside the range."""
    beyond: BoolColumn = ~at_most(abs(difference(f)), s.of("band", f))
    return f.yes("constant") & inside_range(f) & beyond & f.known("setting")


def re_set_in_doubt(f: Frame) -> BoolColumn:
    """Return the constants of which nobody can say whether they must be turned."""
    known = f.yes("constant")
    for name in SET:
        known = known & f.known(name)
    return f.yes("constant") & ~known


def _outside_field_range(f: Frame, _: Limits) -> Judged:
    share = relative_difference(f["required"], f["nameplate_load"])
    used = used_share(f["required"], f["nameplate_load"], f["range_low"], f["range_high"])
    return Judged(
        applies=f.yes("constant"),
        fails=~inside_range(f),
        figures={
            "share": Figure(
                share,
                Kind.FRACTION,
                "difference from the nameplate load",
                "({required} − {nameplate_load}) / {nameplate_load}",
            ),
            "used": _used(used),
        },
    )


def _used(used: FloatColumn) -> Figure:
    formula = "|{required} − {nameplate_load}| / |end of the range − {nameplate_load}|"
    return Figure(used, Kind.FRACTION, "part of that side of the range used", formula)


def _close_to_range_end(f: Frame, s: Limits) -> Judged:
    used = used_share(f["required"], f["nameplate_load"], f["range_low"], f["range_high"])
    return Judged(
        applies=f.yes("constant"),
        when=inside_range(f),
        fails=~at_most(used, s.of("range_end_share", f)),
        figures={"used": _used(used)},
    )


_DIFFERENCE = "({required} − {setting}) / {setting}"


def _differs(f: Frame) -> dict[str, Figure]:
    apart = difference(f)
    return {
        "difference": Figure(apart, Kind.FRACTION, "required load against setting", _DIFFERENCE),
        "apart": Figure(abs(apart), Kind.FRACTION, "the same without sign", "|{difference}|"),
    }


def _needs_re_set(f: Frame, s: Limits) -> Judged:
    return Judged(
        applies=f.yes("constant"),
        when=inside_range(f),
        fails=~at_most(abs(difference(f)), s.of("band", f)),
        figures=_differs(f),
    )


def _inside_band(f: Frame, s: Limits) -> Judged:
    apart = abs(difference(f))
    over, within = ~at_most(apart, s.of("tolerance", f)), at_most(apart, s.of("band", f))
    return Judged(
        applies=f.yes("constant"),
        when=inside_range(f),
        fails=over & within,
        figures=_differs(f),
    )


def _inside_tolerance(f: Frame, s: Limits) -> Judged:
    apart = abs(difference(f))
    seen, within = (
        ~at_most(apart, s.of("difference_noted", f)),
        at_most(apart, s.of("tolerance", f)),
    )
    return Judged(
        applies=f.yes("constant"),
        when=inside_range(f),
        fails=seen & within,
        figures=_differs(f),
    )


def _many_cases(f: Frame, s: Limits) -> Judged:
    spread = f["cases_spread"]
    formula = "half of (largest − least) / {required}"
    return Judged(
        applies=f.yes("constant") & (f["operating_cases"] > 1.0),
        fails=~at_most(spread, s.of("case_spread", f)),
        figures={"spread": Figure(spread, Kind.FRACTION, "half spread of the cases", formula)},
    )


def _band_too_wide(f: Frame, s: Limits) -> Judged:
    measured = deviation(f["cell_lowering"], f["cell_raising"])
    certified = f["certificate_deviation"]
    limit = np.where(np.isnan(certified), s.of("band", f), certified)
    formula = "({cell_lowering} − {cell_raising}) / ({cell_lowering} + {cell_raising})"
    return Judged(
        applies=f.yes("constant") & (f.known("cell_lowering") | f.known("cell_raising")),
        fails=~at_most(measured, limit),
        figures={
            "measured": Figure(measured, Kind.FRACTION, "deviation measured", formula),
            "allowed": Figure(
                limit, Kind.FRACTION, "deviation allowed", "certificate, else {band}"
            ),
        },
    )


def _no_load_per_turn(f: Frame, s: Limits) -> Judged:
    asked = asks_for_re_set(f, s)
    unknown = ~f.known("load_per_turn") & ~f.yes("load_per_turn_tabled")
    return Judged(applies=f.yes("constant"), when=asked, fails=unknown, figures=_differs(f))


def _thread_short(f: Frame, s: Limits) -> Judged:
    needed = thread_needed(f["bolt_turns"], f["bolt_pitch"])
    margin = s.of("thread_margin", f)
    spare = f["free_thread"] - margin - needed
    turned = asks_for_re_set(f, s)
    return Judged(
        applies=turned | re_set_in_doubt(f),
        unknown={
            name: turned & ~f.known(name) for name in ("bolt_turns", "bolt_pitch", "free_thread")
        },
        fails=~at_most(needed, f["free_thread"] - margin),
        figures={
            "needed": Figure(
                needed, Kind.LENGTH, "thread that the turns use", "{bolt_turns} × {bolt_pitch}"
            ),
            "spare": Figure(
                spare, Kind.LENGTH, "thread to spare", "{free_thread} − {thread_margin} − {needed}"
            ),
            "short": Figure(-spare, Kind.LENGTH, "thread short", "−{spare}"),
        },
    )


def _pull_downwards(f: Frame, _: Limits) -> Judged:
    """Judge by the least operating case: one case that pulls down is enough."""
    least = f["least_operating"]
    return Judged(
        applies=f.yes("one_way"),
        fails=least <= 0.0,
        figures={"down": Figure(-least, Kind.LOAD, "pull downwards", "−{least_operating}")},
    )


def _rigid_unloaded(f: Frame, s: Limits) -> Judged:
    """Judge by the least operating case: the pipe lifts off in one although others press."""
    load = f["least_operating"]
    share = relative_difference(load, f["sustained"]) + 1.0
    wanted = s.of("rigid_unloading_share", f) * larger(f["sustained"], 0.0)
    return Judged(
        applies=f.yes("rigid") & f.yes("one_way"),
        fails=(load <= 0.0) | ~at_least(load, wanted),
        figures={
            "share": Figure(
                share,
                Kind.FRACTION,
                "operating against sustained",
                "{least_operating} / {sustained}",
            ),
            "missing_load": Figure(
                wanted - load,
                Kind.LOAD,
                "load wanting",
                "{rigid_unloading_share} × {sustained} − {least_operating}",
            ),
        },
    )


_SET_WORDS = "set {setting}, required {required}: {difference:+.2}"

LOAD_RULES = (
    Rule(
        "load-outside-field-range", Group.LOAD, Severity.STOP, Subject.UNIT,
        condition="the required load lies beyond either end of the adjusting range, which is "
        "counted from the nameplate load",
        ask=_outside_field_range, needs=RANGE, measure="used",
        says="required {required} is {share:+} from the nameplate load {nameplate_load}; range "
        "{range_low} to {range_high}",
        remedy="do not turn; replace the unit, add a support or share the load anew",
        source="nameplate; MSS SP-58; common practice",
    ),
    Rule(
        "load-close-to-range-end", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="the required load is inside, but uses nearly all of its side of the range",
        ask=_close_to_range_end, needs=RANGE, limits=("range_end_share",), measure="used",
        says="{used:.0} of that side of the range is used; the site asks for acceptance beyond "
        "{range_end_share}",
        remedy="accept it in writing or choose another unit",
        source="common practice",
    ),
    Rule(
        "constant-needs-re-set", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="required load and setting differ by more than the band, inside the range",
        ask=_needs_re_set, needs=SET, limits=("band",), measure="apart",
        says=_SET_WORDS + "; band {band}",
        remedy="issue a re-set",
        source="common practice",
    ),
    Rule(
        "difference-inside-band", Group.LOAD, Severity.LOOK, Subject.UNIT,
        condition="required load and setting differ by more than the tolerance, within the band",
        ask=_inside_band, needs=SET, limits=("tolerance", "band"), measure="apart",
        says=_SET_WORDS + "; tolerance {tolerance}, band {band}",
        remedy="the engineer decides, with care beside a nozzle and where neighbours add up",
        source="MSS SP-58; EN 13480-3",
    ),
    Rule(
        "difference-inside-tolerance", Group.LOAD, Severity.NOTE, Subject.UNIT,
        condition="required load and setting differ, within the tolerance",
        ask=_inside_tolerance, needs=SET, limits=("difference_noted", "tolerance"),
        measure="apart",
        says=_SET_WORDS + "; tolerance {tolerance}",
        remedy="leave it alone; it is on record",
        source="common practice",
    ),
    Rule(
        "one-setting-many-cases", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="the operating cases of a constant support lie too far apart for one setting",
        ask=_many_cases, needs=("cases_spread",), limits=("case_spread",), measure="spread",
        says="operating cases lie ±{spread} about {required}; limit ±{case_spread}",
        remedy="choose the governing case and check the nozzle in the others",
        source="common practice",
    ),
    Rule(
        "band-too-wide", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="the deviation measured with a load cell exceeds the certificate, or the band "
        "where there is no certificate",
        ask=_band_too_wide, needs=("cell_lowering", "cell_raising"), limits=("band",),
        measure="measured",
        says="load cell: {cell_lowering} lowering, {cell_raising} raising, deviation {measured}; "
        "allowed {allowed}",
        remedy="free, service or replace the unit",
        source="MSS SP-58 (6 %); EN 13480-3 (5 %)",
    ),
    Rule(
        "no-load-per-turn", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="a re-set is needed and the load per turn is not known",
        ask=_no_load_per_turn, needs=SET, limits=("band",), measure="apart",
        says=_SET_WORDS + "; load per turn not known",
        remedy="get the certificate or measure with a load cell; no turns are printed",
        source="common practice",
    ),
    Rule(
        "load-bolt-thread-short", Group.LOAD, Severity.STOP, Subject.UNIT,
        condition="the turns need more thread of the load bolt than is free",
        ask=_thread_short, needs=SET,
        limits=("thread_margin", "band"), measure="short",
        says="{needed:.1} of thread needed, {spare:.1} to spare",
        remedy="replace the unit or share the load anew",
        source="common practice",
    ),
    Rule(
        "pull-needed-downwards", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="a support that can only carry is asked to carry nothing or to pull down in an "
        "operating case",
        ask=_pull_downwards, needs=("least_operating",), measure="down",
        says="required {least_operating} in the least of its operating cases",
        remedy="no support is needed there, or one of another type",
        source="common practice",
    ),
    Rule(
        "rigid-unloaded", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="a rigid support carries nothing or next to nothing of its sustained load in "
        "operation",
        ask=_rigid_unloaded, needs=("least_operating", "sustained"),
        limits=("rigid_unloading_share",), measure="missing_load",
        says="least operating case {least_operating}, sustained {sustained}; at least "
        "{rigid_unloading_share} of it",
        remedy="ask the stress engineer",
        source="ASME B31.3 para 321; common practice",
    ),
)  # fmt: skip
