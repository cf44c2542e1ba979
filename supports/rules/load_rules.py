"""Rules of group 'load and adjustability' that look at one unit."""

from __future__ import annotations

import numpy as np

from supports.calc.constant_support import relative_difference, thread_needed, used_share
from supports.calc.elementwise import at_least, at_most, larger, smaller
from supports.calc.site_measurement import deviation
from supports.calc.variable_spring import cold_load, variability
from supports.findings import Severity
from supports.rules.frame import BoolColumn, FloatColumn, Frame, Subject
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind


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
    return Judged(
        applies=f.yes("constant") & asks_for_re_set(f, s),
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


def _outside_working_range(f: Frame, _: Limits) -> Judged:
    hot, cold = f["required"], cold_load(f["required"], f["rate"], f["movement"])
    low, high = f["working_low"], f["working_high"]
    inside = at_least(smaller(hot, cold), low) & at_most(larger(hot, cold), high)
    excess = larger(larger(hot, cold) - high, low - smaller(hot, cold))
    return Judged(
        applies=f.yes("variable"),
        fails=~inside,
        figures={
            "cold": Figure(cold, Kind.LOAD, "load shut down", "{required} + {rate} × {movement}"),
            "excess": Figure(excess, Kind.LOAD, "load outside the working range"),
        },
    )


def _variability(f: Frame, s: Limits) -> Judged:
    change = variability(f["required"], f["rate"], f["movement"])
    limit = np.where(
        f.yes("near_machine"), s.of("variability_near_nozzle", f), s.of("variability", f)
    )
    return Judged(
        applies=f.yes("variable"),
        fails=~at_most(change, limit),
        figures={
            "change": Figure(
                change, Kind.FRACTION, "variability", "{rate} × |{movement}| / {required}"
            ),
            "allowed": Figure(limit, Kind.FRACTION, "variability allowed here"),
        },
    )


def _variable_needs_re_set(f: Frame, s: Limits) -> Judged:
    apart = relative_difference(f["required"], f["setting_hot"])
    formula = "({required} − {setting_hot}) / {setting_hot}"
    take_up = (f["required"] - f["setting_hot"]) / f["rate"]
    return Judged(
        applies=f.yes("variable"),
        fails=~at_most(abs(apart), s.of("variable_tolerance", f)),
        figures={
            "difference": Figure(apart, Kind.FRACTION, "required load against setting", formula),
            "apart": Figure(abs(apart), Kind.FRACTION, "the same without sign", "|{difference}|"),
            "take_up": Figure(
                take_up,
                Kind.LENGTH,
                "take-up with the pipe held",
                "({required} − {setting_hot}) / {rate}",
            ),
        },
    )


def _pull_downwards(f: Frame, _: Limits) -> Judged:
    down = -f["required"]
    return Judged(
        applies=f.yes("one_way"),
        fails=f["required"] <= 0.0,
        figures={"down": Figure(down, Kind.LOAD, "pull downwards", "−{required}")},
    )


def _rigid_unloaded(f: Frame, s: Limits) -> Judged:
    share = relative_difference(f["required"], f["sustained"]) + 1.0
    least = s.of("rigid_unloading_share", f) * larger(f["sustained"], 0.0)
    return Judged(
        applies=f.yes("rigid") & f.yes("one_way"),
        fails=(f["required"] <= 0.0) | ~at_least(f["required"], least),
        figures={
            "share": Figure(
                share, Kind.FRACTION, "operating against sustained", "{required} / {sustained}"
            ),
            "missing_load": Figure(
                least - f["required"],
                Kind.LOAD,
                "load wanting",
                "{rigid_unloading_share} × {sustained} − {required}",
            ),
        },
    )


_RANGE = ("required", "nameplate_load", "range_low", "range_high")
_SET = (*_RANGE, "setting")
_SET_WORDS = "set {setting}, required {required}: {difference:+.2}"

LOAD_RULES = (
    Rule(
        "load-outside-field-range", Group.LOAD, Severity.STOP, Subject.UNIT,
        condition="the required load lies beyond either end of the adjusting range, which is "
        "counted from the nameplate load",
        ask=_outside_field_range, needs=_RANGE, measure="used",
        says="required {required} is {share:+} from the nameplate load {nameplate_load}; range "
        "{range_low} to {range_high}",
        remedy="do not turn; replace the unit, add a support or share the load anew",
        source="nameplate; MSS SP-58; common practice",
    ),
    Rule(
        "load-close-to-range-end", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="the required load is inside, but uses nearly all of its side of the range",
        ask=_close_to_range_end, needs=_RANGE, limits=("range_end_share",), measure="used",
        says="{used:.0} of that side of the range is used; the site asks for acceptance beyond "
        "{range_end_share}",
        remedy="accept it in writing or choose another unit",
        source="common practice",
    ),
    Rule(
        "constant-needs-re-set", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="required load and setting differ by more than the band, inside the range",
        ask=_needs_re_set, needs=_SET, limits=("band",), measure="apart",
        says=_SET_WORDS + "; band {band}",
        remedy="issue a re-set",
        source="common practice",
    ),
    Rule(
        "difference-inside-band", Group.LOAD, Severity.LOOK, Subject.UNIT,
        condition="required load and setting differ by more than the tolerance, within the band",
        ask=_inside_band, needs=_SET, limits=("tolerance", "band"), measure="apart",
        says=_SET_WORDS + "; tolerance {tolerance}, band {band}",
        remedy="the engineer decides, with care beside a nozzle and where neighbours add up",
        source="MSS SP-58; EN 13480-3",
    ),
    Rule(
        "difference-inside-tolerance", Group.LOAD, Severity.NOTE, Subject.UNIT,
        condition="required load and setting differ, within the tolerance",
        ask=_inside_tolerance, needs=_SET, limits=("difference_noted", "tolerance"),
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
        ask=_no_load_per_turn, needs=_SET, limits=("band",), measure="apart",
        says=_SET_WORDS + "; load per turn not known",
        remedy="get the certificate or measure with a load cell; no turns are printed",
        source="common practice",
    ),
    Rule(
        "load-bolt-thread-short", Group.LOAD, Severity.STOP, Subject.UNIT,
        condition="the turns need more thread of the load bolt than is free",
        ask=_thread_short, needs=("bolt_turns", "bolt_pitch", "free_thread"),
        limits=("thread_margin", "band"), measure="short",
        says="{needed:.1} of thread needed, {spare:.1} to spare",
        remedy="replace the unit or share the load anew",
        source="common practice",
    ),
    Rule(
        "variable-outside-working-range", Group.LOAD, Severity.STOP, Subject.UNIT,
        condition="the load of a variable spring leaves its working range, operating or shut down",
        ask=_outside_working_range,
        needs=("required", "rate", "movement", "working_low", "working_high"), measure="excess",
        says="operating {required}, shut down {cold}; working range {working_low} to "
        "{working_high}",
        remedy="choose another spring size",
        source="nameplate; MSS SP-58; EN 13480-3",
    ),
    Rule(
        "variability-high", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="the load of a variable spring changes too much over its movement; less is "
        "allowed on lines at nozzles of machines",
        ask=_variability, needs=("required", "rate", "movement"),
        limits=("variability", "variability_near_nozzle"), measure="change",
        says="variability {change}; limit {allowed:.0}",
        remedy="choose a softer spring or a constant support",
        source="MSS SP-58; ASME B31.1 para 121; common practice",
    ),
    Rule(
        "variable-needs-re-set", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="the load of a variable spring differs from its required load by more than its "
        "tolerance",
        ask=_variable_needs_re_set,
        needs=("required", "rate", "working_low", "working_high", "movement", "setting",
               "setting_hot"),
        limits=("variable_tolerance",), measure="apart",
        says="operating load set {setting_hot}, required {required}: {difference:+}; take-up "
        "{take_up:.1} with the pipe held",
        remedy="issue a re-set by the rod's take-up",
        source="EN 13480-3; common practice",
    ),
    Rule(
        "pull-needed-downwards", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="a support that can only carry is asked to carry nothing or to pull down",
        ask=_pull_downwards, needs=("required",), measure="down",
        says="required {required}",
        remedy="no support is needed there, or one of another type",
        source="common practice",
    ),
    Rule(
        "rigid-unloaded", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="a rigid support carries nothing or next to nothing of its sustained load in "
        "operation",
        ask=_rigid_unloaded, needs=("required", "sustained"),
        limits=("rigid_unloading_share",), measure="missing_load",
        says="operating {required}, sustained {sustained}; at least {rigid_unloading_share}",
        remedy="ask the stress engineer",
        source="ASME B31.3 para 321; common practice",
    ),
)  # fmt: skip
