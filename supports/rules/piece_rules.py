"""Rules of group 'hardware rating': every piece from the steel to the pipe, and their sum."""

from __future__ import annotations

import numpy as np

from supports.calc.constant_support import relative_difference
from supports.calc.elementwise import at_least, at_most
from supports.calc.hardware import utilisation
from supports.findings import Severity
from supports.rules.frame import BoolColumn, FloatColumn, Frame, Subject
from supports.rules.rule import Figure, Group, Judged, Limits, Rule
from supports.units import Kind
from supports.vocabulary import PieceKind

CLAMPS = (PieceKind.CLAMP, PieceKind.RISER_CLAMP, PieceKind.SHOE)
FASTENED = (PieceKind.WELD, PieceKind.LUG, PieceKind.BEAM_CLIP)
STEEL = (PieceKind.BEAM, PieceKind.TRAPEZE_BEAM)


def of_kind(f: Frame, *kinds: PieceKind) -> BoolColumn:
    """Return where a piece is of one of these kinds."""
    found = np.zeros(f.size, dtype=bool)
    for kind in kinds:
        found |= np.asarray(f.text("piece_kind") == kind, dtype=bool)
    return found


def _sound(f: Frame) -> BoolColumn:
    return ~at_most(f["derating"], np.full(f.size, 1.0 - 1e-9)) | ~f.known("derating")


def _derating(f: Frame) -> FloatColumn:
    return np.where(f.known("derating"), f["derating"], 1.0)


def _use(f: Frame) -> FloatColumn:
    return utilisation(f["piece_load"], f["rated_load"], _derating(f))


def _over(use: FloatColumn) -> BoolColumn:
    over: BoolColumn = ~at_most(use, np.ones_like(use)) & ~np.isnan(use)
    return over


_CAPACITY = "{piece_load} / {rated_load}"


def _figures(f: Frame, use: FloatColumn, formula: str = _CAPACITY) -> dict[str, Figure]:
    at_piece = f["unit_load"] - f["hanging_weight"] + f["weight_below"]
    return {
        "at_piece": Figure(
            at_piece, Kind.LOAD, "load at the piece",
            "{unit_load} − {hanging_weight} + {weight_below}",
        ),
        "use": Figure(use, Kind.FRACTION, "use of the piece", formula),
    }  # fmt: skip


def _rod(f: Frame, _: Limits) -> Judged:
    others = of_kind(f, PieceKind.UNIT, PieceKind.TRAPEZE_BEAM, *CLAMPS, *FASTENED)
    use = _use(f)
    return Judged(applies=~others & _sound(f), fails=_over(use), figures=_figures(f, use))


def _clamp(f: Frame, _: Limits) -> Judged:
    use = _use(f)
    over = _over(use)
    applies = of_kind(f, *CLAMPS) & _sound(f)
    return Judged(applies=applies, fails=over, surely=applies & over, figures=_figures(f, use))


def _weld(f: Frame, s: Limits) -> Judged:
    use, over = _use(f), _over(_use(f))
    rise = relative_difference(f["piece_load"], f["piece_load_before"])
    risen = ~f.known("rated_load") & ~at_most(rise, s.of("weld_rise", f)) & ~np.isnan(rise)
    applies = of_kind(f, *FASTENED) & _sound(f)
    return Judged(
        applies=applies,
        fails=over,
        surely=applies & (over | risen),
        graver=over,
        figures={
            **_figures(f, use),
            "rise": Figure(
                rise, Kind.FRACTION, "rise of load",
                "({piece_load} − {piece_load_before}) / {piece_load_before}",
            ),
        },
    )  # fmt: skip


def _beam(f: Frame, _: Limits) -> Judged:
    use = _use(f)
    applies = of_kind(f, PieceKind.TRAPEZE_BEAM) & _sound(f)
    return Judged(applies=applies, fails=_over(use), figures=_figures(f, use))


def _derated(f: Frame, _: Limits) -> Judged:
    use = _use(f)
    applies = ~_sound(f) & ~of_kind(f, PieceKind.UNIT)
    figures = _figures(f, use, "{piece_load} / ({rated_load} × {derating})")
    return Judged(applies=applies, fails=_over(use), figures=figures)


def _riser_arm(f: Frame, _: Limits) -> Judged:
    all_of_it = utilisation(f["piece_load_all"], f["rated_load"], _derating(f))
    return Judged(
        applies=f.yes("riser_pair") & ~of_kind(f, PieceKind.UNIT),
        when=~_over(_use(f)),
        fails=_over(all_of_it),
        figures={
            "use": Figure(
                all_of_it, Kind.FRACTION, "use if one arm carries all",
                "{piece_load_all} / {rated_load}",
            )
        },
    )  # fmt: skip


def _steel(f: Frame, s: Limits) -> Judged:
    rise = f["required"] - f["setting_operating"]
    share = relative_difference(f["required"], f["setting_operating"])
    over = ~at_most(share, s.of("civil_share", f)) | ~at_most(rise, s.of("civil_load", f))
    formula = "{required} − {setting_operating}"
    return Judged(
        applies=f.yes("spring") & (over | np.isnan(rise)),
        fails=f.no("civil_signed"),
        figures={
            "rise": Figure(rise, Kind.LOAD, "rise of load on the steel", formula),
            "share": Figure(share, Kind.FRACTION, "as a share", "{rise} / {setting_operating}"),
        },
    )


def _weakest(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=f.yes("carries"),
        fails=f["pieces_unrated"] > 0.0,
        figures={"unrated": Figure(f["pieces_unrated"], Kind.COUNT, "pieces without a rating")},
    )


def _mixed(f: Frame, _: Limits) -> Judged:
    return Judged(
        applies=f["threaded_pieces"] > 1.0,
        fails=f["thread_sizes"] > 1.0,
        figures={"sizes": Figure(f["thread_sizes"], Kind.COUNT, "thread sizes")},
    )


def _turnbuckle(f: Frame, s: Limits) -> Judged:
    """Judge rods that a variable's re-set takes up, and any with too little thread engaged."""
    needed = abs(f["take_up"])
    apart = relative_difference(f["required"], f["setting_hot"])
    turned = f.yes("variable") & ~at_most(abs(apart), s.of("variable_tolerance", f))
    unseen = f.yes("spring") & f.no("thread_in_sight")
    return Judged(
        applies=turned | unseen,
        fails=~at_least(f["take_up_left"], needed),
        surely=unseen,
        unknown={"take_up_left": turned & f.known("take_up") & ~f.known("take_up_left")},
        figures={
            "needed": Figure(needed, Kind.LENGTH, "take-up needed", "|{take_up}|"),
            "short": Figure(
                needed - f["take_up_left"], Kind.LENGTH, "short by", "{needed} − {take_up_left}"
            ),
        },
    )


def _body_hot(f: Frame, _: Limits) -> Judged:
    excess = f["body_temperature"] - f["body_temperature_limit"]
    return Judged(
        applies=f.yes("spring") & (f.known("body_temperature") | f.known("body_temperature_limit")),
        fails=~at_most(f["body_temperature"], f["body_temperature_limit"]),
        figures={"excess": Figure(excess, Kind.TEMPERATURE_DIFFERENCE, "too hot by")},
    )


_SAYS = "{piece} carries {piece_load} of {rated_load}: {use}"
_RATED = ("piece_load", "rated_load")

PIECE_RULES = (
    Rule(
        "rod-over-rating", Group.HARDWARE, Severity.STOP, Subject.PIECE,
        condition="a rod, nut, turnbuckle, clevis, pin or other piece in the pull carries more "
        "than its rating, the weight hung below it included",
        ask=_rod, needs=_RATED, measure="use", says=_SAYS,
        remedy="fit a larger piece",
        source="rating as registered; MSS SP-58; ASME B31.1 para 121",
    ),
    Rule(
        "clamp-over-rating-hot", Group.HARDWARE, Severity.STOP, Subject.PIECE,
        condition="a clamp or shoe carries more than its rating at pipe temperature",
        ask=_clamp, needs=(*_RATED, "rating_at_pipe_temperature"), measure="use", says=_SAYS,
        remedy="fit another clamp",
        source="rating as registered; MSS SP-58; EN 13480-3",
    ),
    Rule(
        "weld-or-lug-over", Group.HARDWARE, Severity.ACT, Subject.PIECE, graver=Severity.STOP,
        condition="a weld, lug or beam clip carries more than its rating (graver), or has none "
        "and its load rises",
        ask=_weld, needs=_RATED, limits=("weld_rise",), measure="use",
        says=_SAYS + "; rise of load {rise:+}",
        remedy="the stress engineer or the civil engineer signs, or it is strengthened",
        source="AISC 360; AWS D1.1; local rules for parts welded to the pipe",
    ),
    Rule(
        "trapeze-beam-over", Group.HARDWARE, Severity.STOP, Subject.PIECE,
        condition="a trapeze beam carries more than its rating, for the pipe where it hangs",
        ask=_beam, needs=_RATED, measure="use", says=_SAYS,
        remedy="fit a stronger beam",
        source="rating as registered; AISC 360",
    ),
    Rule(
        "derated-by-condition", Group.HARDWARE, Severity.STOP, Subject.PIECE,
        condition="a piece in poor condition carries more than what is left of its rating",
        ask=_derated, needs=(*_RATED, "derating"), measure="use",
        says="{piece} carries {piece_load} of {rated_load} × {derating}: {use}",
        remedy="repair or replace the piece",
        source="API 574; API 570; API 579-1/ASME FFS-1 where the site uses it",
    ),
    Rule(
        "riser-arm-for-half", Group.HARDWARE, Severity.ACT, Subject.PIECE,
        condition="a piece of a riser pair carries half of the load but not all of it, should one "
        "arm come to carry it alone",
        ask=_riser_arm, needs=(*_RATED, "piece_load_all"), measure="use",
        says="{piece}: all the load is {piece_load_all} against {rated_load}: {use}",
        remedy="check arm, rod and steel for all of the load on one side",
        source="common practice",
    ),
)  # fmt: skip

STACK_RULES = (
    Rule(
        "steel-not-checked", Group.HARDWARE, Severity.STOP, Subject.UNIT,
        condition="the load on the steel rises by more than the civil threshold and no civil "
        "engineer signed",
        ask=_steel, needs=("required", "setting_operating", "civil_signed"),
        limits=("civil_share", "civil_load"), measure="rise",
        says="load on the steel rises by {rise} ({share:+}); threshold {civil_share} or "
        "{civil_load}",
        remedy="have the steel checked by the civil engineer",
        source="AISC 360; EN 1993; the threshold is common practice",
    ),
    Rule(
        "weakest-piece-unknown", Group.HARDWARE, Severity.ACT, Subject.UNIT,
        condition="a piece of the stack has no rating, or no mass, so that the weakest is unknown",
        ask=_weakest, needs=("pieces", "largest"), measure="unrated",
        says="{unrated} of {pieces} pieces cannot be rated: {pieces_unrated_names}",
        remedy="survey the hardware",
        source="common practice",
    ),
    Rule(
        "mixed-sizes-in-stack", Group.HARDWARE, Severity.LOOK, Subject.UNIT,
        condition="rod, nut, clevis and turnbuckle of one branch have different threads",
        ask=_mixed, needs=("thread_sizes",), measure="sizes",
        says="threads in one branch: {thread_names}",
        remedy="verify on site",
        source="common practice",
    ),
    Rule(
        "turnbuckle-short", Group.HARDWARE, Severity.STOP, Subject.UNIT,
        condition="the take-up needed is more than is left, or thread does not show in the sight "
        "hole",
        ask=_turnbuckle, needs=("required", "setting_hot", "rate"), limits=("variable_tolerance",),
        measure="short",
        says="take-up needed {needed:.1}, left {take_up_left:.1}; thread in the sight hole: "
        "{thread_in_sight}",
        remedy="fit another rod",
        source="MSS SP-58",
    ),
    Rule(
        "temperature-of-unit-high", Group.HARDWARE, Severity.LOOK, Subject.UNIT,
        condition="the body of a unit is hotter than its limit",
        ask=_body_hot, needs=("body_temperature", "body_temperature_limit"), measure="excess",
        says="body at {body_temperature}, limit {body_temperature_limit}",
        remedy="move or shield the unit",
        source="maker's data",
    ),
)  # fmt: skip
