"""What a work order says for each unit, worked out from an approved assessment."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from supports.calc.elementwise import at_most
from supports.calc.turns import TurnCount
from supports.calc.unit_re_set import ReSet
from supports.calc.variable_spring import TakeUp
from supports.errors import NotReady
from supports.rules.assessment import AssessmentContent
from supports.rules.judgement import UnitJudgement
from supports.rules.site_settings import SiteSettings, settings_as_frozen
from supports.rules.variable_rules import (
    Position,
    load_wanted,
    movement_of,
    position_of,
    present_in,
    rod_turns,
    rod_words,
)
from supports.sentences import Sentence, joined
from supports.snapshots import NameplateView, SupportView, UnitView
from supports.vocabulary import PlantState, Verdict

RE_SET = "re-set"
READ_ONLY = "read only"


@dataclass(frozen=True, slots=True)
class PlannedLine:
    """One line of a work order: what is done at one unit; loads [N] in the order's line state."""

    point_id: int
    unit_id: int
    action: str
    from_load: float | None = None
    to_load: float | None = None
    window_low: float | None = None
    window_high: float | None = None
    turns: int | None = None
    flats: int | None = None
    direction: str = ""
    remark: str = ""
    waits_for: str | None = None


def planned_lines(content: AssessmentContent, line_state: str) -> Iterator[PlannedLine]:
    """Plan every spring unit of the affected lines: those to be re-set, and neighbours to read.

    Parameters
    ----------
    line_state
        State in which the work is done and the scales are read.

    Raises
    ------
    NotReady
        A variable spring is to be re-set in a state where its reading cannot be foretold.
    """
    settings = settings_as_frozen(content.settings)
    for support, judgement in zip(content.supports, content.judgements, strict=True):
        units = {unit.id: unit for unit in support.units}
        for judged in judgement.units:
            if judged.unit_id is not None and units[judged.unit_id].kind.is_spring:
                yield _planned(support, units[judged.unit_id], judged, settings, line_state)


def need_position(tag: str, line_state: str) -> Position:
    """Return where the pipe stands in the state of an order.

    Raises
    ------
    NotReady
        That cannot be said; a variable spring's turns would be set by a load nobody can foretell.
    """
    if (position := position_of(line_state)) is not None:
        return position
    states = [f"'{one}'" for one in PlantState if position_of(one) is not None]
    raise NotReady(
        Sentence(
            "what {tag} reads with the line '{line_state}' cannot be said",
            tag=tag,
            line_state=line_state,
        ),
        ("a variable spring shows another load operating than shut down",),
        remedy=Sentence("Order the work for one of: {names}", names=joined(states, ", ")),
    )


def _planned(
    support: SupportView,
    unit: UnitView,
    judged: UnitJudgement,
    settings: SiteSettings,
    line_state: str,
) -> PlannedLine:
    if judged.verdict is Verdict.RE_SET and judged.re_set is not None:
        return _turned(support, unit, judged.re_set)
    if judged.verdict is Verdict.RE_SET and judged.take_up is not None:
        position = need_position(support.tag, line_state)
        return _taken_up((support, unit), judged, judged.take_up, settings, position)
    return PlannedLine(
        point_id=support.id,
        unit_id=unit.id,
        action=READ_ONLY,
        from_load=expected_as_found(unit, judged, position_of(line_state)),
        remark="" if judged.verdict is Verdict.LEAVE else str(judged.verdict),
    )


def _turned(support: SupportView, unit: UnitView, re_set: ReSet) -> PlannedLine:
    count = re_set.turns_per_bolt or TurnCount(0, 0)
    return PlannedLine(
        point_id=support.id,
        unit_id=unit.id,
        action=RE_SET,
        from_load=re_set.present,
        to_load=re_set.required,
        window_low=re_set.window_low,
        window_high=re_set.window_high,
        turns=count.turns,
        flats=count.flats,
        direction=re_set.direction or "",
    )


def expected_as_found(
    unit: UnitView, judged: UnitJudgement, position: Position | None
) -> float | None:
    """Return what a scale shows before anything is turned [N]; None where that is not known."""
    if not unit.kind.is_variable:
        return judged.present
    movement = movement_of(unit.nameplate or NameplateView(), judged.demand)
    return present_in(unit, movement, position)


def as_found_window(from_load: float, low: float, high: float) -> tuple[float, float]:
    """Return the readings between which a unit is found as planned [N].

    Parameters
    ----------
    from_load
        Load that the turns are counted from [N].
    low, high
        Window for the as-left reading; that for the as-found reading is as wide [N].
    """
    half = (high - low) / 2.0
    return from_load - half, from_load + half


def moved_as_expected(
    before: float | None, expected: float | None, load: float, share: float
) -> bool | None:
    """Return whether a scale moved as expected in a round; None where that cannot be judged.

    Parameters
    ----------
    before, expected, load
        Load before the round, expected after it, and read after it [N].
    share
        How much of the step expected the step seen may differ from it [1].
    """
    if before is None or expected is None:
        return None
    wanted, seen = expected - before, load - before
    return at_most(abs(seen - wanted), share * abs(wanted))


def variable_window(load: float, operating: float, settings: SiteSettings) -> tuple[float, float]:
    """Return the window of a variable spring in any position [N].

    The tolerance is a share of the operating load; in another position the window is as wide.
    """
    half = settings.variable_tolerance * abs(operating)
    return load - half, load + half


def _taken_up(
    place: tuple[SupportView, UnitView],
    judged: UnitJudgement,
    take_up: TakeUp,
    settings: SiteSettings,
    position: Position,
) -> PlannedLine:
    """Plan a variable spring: its load where the pipe stands, set by the rod's take-up."""
    support, unit = place
    plate = unit.nameplate or NameplateView()
    wanted = load_wanted(take_up, position)
    low, high = variable_window(wanted, take_up.hot, settings)
    turns = rod_turns(plate, take_up.take_up)
    count = TurnCount.nearest(abs(turns)) if turns is not None else None
    return PlannedLine(
        point_id=support.id,
        unit_id=unit.id,
        action=RE_SET,
        from_load=expected_as_found(unit, judged, position),
        to_load=wanted,
        window_low=low,
        window_high=high,
        turns=None if count is None else count.turns,
        flats=None if count is None else count.flats,
        direction=rod_words(take_up.take_up),
        remark=f"loads are those {position}",
    )
