"""Rules of group 'load and adjustability' that look past one unit: trapeze, line, nozzle."""

from __future__ import annotations

import numpy as np

from supports.calc.constant_support import relative_difference
from supports.calc.elementwise import at_least, at_most
from supports.findings import Severity
from supports.rules.frame import Frame, Subject
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind


def _trapeze_share(f: Frame, s: Limits) -> Judged:
    apart = relative_difference(f["setting"], f["setting_share"])
    formula = "({setting} − {setting_share}) / {setting_share}"
    return Judged(
        applies=f.yes("trapeze") & f.yes("constant"),
        fails=~at_most(abs(apart), s.of("tolerance", f)),
        figures={
            "difference": Figure(apart, Kind.FRACTION, "setting against its share", formula),
            "apart": Figure(abs(apart), Kind.FRACTION, "the same without sign", "|{difference}|"),
        },
    )


def _closure(f: Frame, s: Limits) -> Judged:
    apart = relative_difference(f["loads_sum"], f["line_weight"])
    formula = "({loads_sum} − {line_weight}) / {line_weight}"
    return Judged(
        applies=f["weight_supports"] > 0.0,
        fails=~at_most(abs(apart), s.of("closure", f)),
        figures={
            "difference": Figure(apart, Kind.FRACTION, "loads against weight", formula),
            "apart": Figure(abs(apart), Kind.FRACTION, "the same without sign", "|{difference}|"),
        },
    )


def _neighbour(f: Frame, s: Limits) -> Judged:
    away, within = f["changed_neighbour_away"], s.of("neighbours", f)
    return Judged(
        applies=f.yes("carries") & (f.yes("neighbour_changed") | f.yes("neighbour_order_unknown")),
        when=f.yes("neighbour_order_unknown") | at_most(away, within),
        fails=f.no("load_in_newest"),
        figures={"away": Figure(away, Kind.COUNT, "supports away from the changed load")},
    )


SEVERAL = 2.0
"""Constant supports on one line from which a hand method does not do."""


def _must_analyse(f: Frame, _: Limits) -> Judged:
    """Judge by what a line is; the reasons that lie in a change stand on its screening paper.

    Those are added weight, changed loads, centre of gravity, restraint, temperature and contents.
    """
    several = at_least(f["constants_on_line"], np.full(f.size, SEVERAL))
    must = f.yes("creep_or_high_energy") | f.yes("near_machine") | several
    screening = f.yes("by_screening")
    return Judged(
        applies=screening | ~f.known("by_screening"),
        when=must | ~f.known("creep_or_high_energy"),
        fails=must & screening,
        surely=must & screening,
    )


def _nozzle(f: Frame, _: Limits) -> Judged:
    use = f["nozzle_use"]
    return Judged(
        applies=np.ones(f.size, dtype=bool),
        fails=~at_most(use, np.ones(f.size)),
        figures={"use": Figure(use, Kind.FRACTION, "largest load against its limit, any state")},
    )


LINE_LOAD_RULES = (
    Rule(
        "trapeze-share-wrong", Group.LOAD, Severity.ACT, Subject.UNIT,
        condition="the two units of a trapeze are not set to what moments about the beam ask for",
        ask=_trapeze_share, needs=("setting", "setting_share"), limits=("tolerance",),
        measure="apart",
        says="set {setting}, its share of both settings is {setting_share}: {difference:+}; "
        "tolerance {tolerance}",
        remedy="set both units, together and in step",
        source="statics",
    ),
    Rule(
        "sum-does-not-close", Group.LOAD, Severity.ACT, Subject.LINE,
        condition="the support loads of a line do not add up to its weight",
        ask=_closure, needs=("loads_sum", "line_weight"), limits=("closure",), measure="apart",
        says="supports carry {supports_load} by the calculation and ends {ends_load} by screening, "
        "together {loads_sum}; the line weighs {line_weight}: {difference:+}; limit ±{closure} "
        "({line_screened})",
        remedy="look for a support, a weight or a unit of measure that is missing; a calculation "
        "with a change that is not built yet is 'planned' until it is",
        source="statics; the limit is common practice",
    ),
    Rule(
        "neighbour-not-recalculated", Group.LOAD, Severity.ACT, Subject.SUPPORT,
        condition="the newest calculation changes a load nearby and gives none here",
        ask=_neighbour, needs=("load_in_newest", "order_along"), limits=("neighbours",),
        says="load changed {away} supports away by the newest calculation, none given here",
        remedy="extend the calculation",
        source="common practice",
    ),
    Rule(
        "hand-method-on-must-analyse-line", Group.LOAD, Severity.STOP, Subject.LINE,
        condition="loads come from a screening or hand method on a line that asks for a full "
        "analysis: creep range, high energy, a machine nozzle, or two and more constant supports",
        ask=_must_analyse, needs=("by_screening", "creep_or_high_energy"),
        says="loads by {calculation_method} ({calculation}); creep or high energy: "
        "{creep_or_high_energy}, machine nozzle: {near_machine}, constant supports: "
        "{constants_on_line}",
        remedy="have the line analysed in full",
        source="site procedure; the list of reasons is common practice",
    ),
    Rule(
        "nozzle-over-limit", Group.LOAD, Severity.STOP, Subject.NOZZLE,
        condition="a force or moment at a nozzle exceeds its limit in any state, those during the "
        "work included",
        ask=_nozzle, needs=("nozzle_use",), measure="use",
        says="worst is {nozzle_worst}: {use} of its limit ({nozzle_source}; {line_screened})",
        remedy="find another share of loads or another sequence",
        source="limits as registered: API 610, NEMA SM 23, API 661, API 560, API 650, maker's data",
    ),
)  # fmt: skip
