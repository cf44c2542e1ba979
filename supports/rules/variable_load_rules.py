"""Rules of group 'load and adjustability' that look at one variable spring."""

from __future__ import annotations

import numpy as np

from supports.calc.constant_support import relative_difference
from supports.calc.elementwise import at_least, at_most, larger, smaller
from supports.calc.variable_spring import cold_load, variability
from supports.findings import Severity
from supports.rules.frame import Frame, Subject
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind


def _outside_working_range(f: Frame, _: Limits) -> Judged:
    """Judge the range by every operating case, and shut down from the load that is set."""
    cold = cold_load(f["required"], f["rate"], f["movement"])
    low, high = f["working_low"], f["working_high"]
    least, most = smaller(f["least_operating"], cold), larger(f["most_operating"], cold)
    inside = at_least(least, low) & at_most(most, high)
    excess = larger(most - high, low - least)
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


VARIABLE_LOAD_RULES = (
    Rule(
        "variable-outside-working-range", Group.LOAD, Severity.STOP, Subject.UNIT,
        condition="the load of a variable spring leaves its working range, in an operating case or "
        "shut down",
        ask=_outside_working_range,
        needs=("required", "least_operating", "most_operating", "rate", "movement",
               "working_low", "working_high"),
        measure="excess",
        says="operating {least_operating} to {most_operating}, shut down {cold}; working range "
        "{working_low} to {working_high}",
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
)  # fmt: skip
