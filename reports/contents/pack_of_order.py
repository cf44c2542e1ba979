"""The re-setting pack of a work order, from the approved assessment that it was written on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from reports.contents.common import (
    Amount,
    LoadBasis,
    PaperHead,
    Signature,
    TravelStopState,
)
from reports.contents.judged_units import place_words, unit_sheet, unit_tag
from reports.contents.ordered_sheets import ordered_sheet
from reports.contents.planned_rounds import PlannedRounds
from reports.contents.planned_sheets import planned_sheet
from reports.contents.plans_of_order import (
    FollowedPlan,
    holds_of_plans,
    rounds_of_plan,
    use_by_round,
)
from reports.contents.resetting_pack import (
    HoldPoint,
    Neighbour,
    NozzlePage,
    NozzleReading,
    ResettingPack,
    TravelStopEntry,
    UnitSheet,
)
from reports.languages import IN_ENGLISH, Texts
from supports.rules.assessment import AssessmentContent
from supports.rules.workflow import OrderKind
from supports.snapshots import (
    CalculationView,
    CopyView,
    NameplateView,
    NozzleLimitView,
    SupportView,
    UnitView,
    WorkOrderLineView,
    WorkOrderView,
)
from supports.units import Kind
from supports.vocabulary import CalculationMethod, Known, Verdict

SIGNS = "a load that carries the pipe is positive; movement up is positive"

HOLDS = (
    HoldPoint(1, "As-found reading differs from this pack by more than the window", "engineer"),
    HoldPoint(2, "After round 1 at a unit near a load-limited nozzle", "engineer or named deputy"),
    HoldPoint(3, "As-left reading, second reader", "foreman"),
    HoldPoint(4, "Travel stop out by hand, pin in its holder", "operations"),
)


@dataclass(frozen=True, slots=True)
class JobFacts:
    """What the planner adds: crew, permits, who may start."""

    crew: str = "two people, one of them a technician trained on constant supports"
    hours: str = ""
    permits: tuple[str, ...] = ("work at height", "line state confirmed by operations")
    start_authority: str = "foreman, after operations has confirmed the line state"
    issued: CopyView | None = None


def pack_of_order(
    head: PaperHead,
    order: WorkOrderView,
    content: AssessmentContent,
    facts: JobFacts,
    plans: Sequence[FollowedPlan] = (),
    say: Texts = IN_ENGLISH,
) -> ResettingPack:
    """Return the pack: every unit of the lines in order, those not turned with their reasons.

    Parameters
    ----------
    plans
        The chosen plan of each line that the order follows; none for an order that takes its turns
        from the assessment.
    """
    planned = tuple(rounds_of_plan(plan, content, say) for plan in plans)
    sheets, neighbours = _units(content, order, planned, say)
    scaffolds = sorted({s.scaffold_group for s in content.supports if s.scaffold_group})
    return ResettingPack(
        head=head,
        job=order.number,
        change_number=order.change,
        change_revision=head.revision,
        line=", ".join(content.change.lines),
        reason=_reason(order, content),
        aim=content.change.aim,
        line_state_needed=order.line_state_needed,
        start_authority=facts.start_authority,
        basis=basis_of(content),
        units=sheets,
        turning_order=_turning_order(sheets, planned),
        neighbours=neighbours,
        travel_stops=_stops(content),
        permits=facts.permits,
        crew=facts.crew,
        hours=facts.hours,
        scaffold_group=", ".join(scaffolds),
        hold_points=(*HOLDS, *holds_of_plans(planned, len(HOLDS) + 1)),
        nozzles=_nozzles(content, planned),
        assumptions=_assumptions(content),
        signatures=_signatures(),
        copy_words=_copy_words(facts.issued),
        planned=planned,
        plan_words=tuple(plan.words for plan in plans),
        way_back=order.kind != OrderKind.RE_SET,
    )


def _reason(order: WorkOrderView, content: AssessmentContent) -> str:
    reason = content.change.reason or content.change.title
    if order.kind == OrderKind.RE_SET:
        return reason
    return f"Takes back what was turned under {order.change}, which was for: {reason}"


def _copy_words(copy: CopyView | None) -> str:
    if copy is None:
        return ""
    return f"no. {copy.number}, given to {copy.given_to} on {copy.given_on}"


def basis_of(content: AssessmentContent) -> LoadBasis:
    """Return where the required loads come from."""
    calculation: CalculationView = content.calculation
    cases = {r.case for s in content.supports for r in s.required}
    return LoadBasis(
        calculation=calculation.number,
        revision=calculation.revision,
        method=calculation.method,
        sign_convention=SIGNS,
        screening=calculation.method != CalculationMethod.FULL,
        cases=tuple(sorted(cases)),
    )


def _nozzles(
    content: AssessmentContent, planned: Sequence[PlannedRounds]
) -> tuple[NozzlePage, ...]:
    """Return the nozzles of machines, and every other that a plan watches from round to round."""
    uses = [(one, use_by_round(one, planned)) for one in content.nozzles]
    return tuple(
        replace(_nozzle(one), use_by_round=by_round)
        for one, by_round in uses
        if by_round or one.machine is Known.YES
    )


def _turning_order(
    sheets: Sequence[UnitSheet], planned: Sequence[PlannedRounds]
) -> tuple[str, ...]:
    """Return tags in the order of work: by the plans' steps, else along the line."""
    by_plan = (step.place for rounds in planned for step in rounds.steps if step.is_turn)
    along = (sheet.tag for sheet in sheets if sheet.job is not None)
    return tuple(dict.fromkeys((*by_plan, *along)))


def _units(
    content: AssessmentContent,
    order: WorkOrderView,
    planned: Sequence[PlannedRounds],
    say: Texts,
) -> tuple[tuple[UnitSheet, ...], tuple[Neighbour, ...]]:
    near_nozzle = any(n.machine is Known.YES for n in content.nozzles)
    tolerance = content.settings["step_disagreement"]
    sheets: list[UnitSheet] = []
    neighbours: list[Neighbour] = []
    ordered = {line.unit_id: line for line in order.lines}
    for support, judged in zip(content.supports, content.judgements, strict=True):
        for unit in support.units:
            if not unit.kind.is_spring:
                continue
            place = len(sheets) + 1
            sheet = unit_sheet(
                place,
                support,
                judged,
                unit,
                line_state=order.line_state_needed,
                near_nozzle=near_nozzle,
                step_tolerance=tolerance,
                say=say,
            )
            sheet = _by_order(sheet, unit, order, ordered.get(unit.id), planned, tolerance)
            if sheet.verdict in {Verdict.LEAVE, Verdict.ENGINEER_DECIDES}:
                neighbours.append(
                    _neighbour(
                        (place, place_words(support, say)), support, unit, sheet.scale.present
                    )
                )
            on_form = unit.id in ordered or not ordered
            sheets.append(replace(_with_window(sheet, ordered.get(unit.id)), on_form=on_form))
    return tuple(sheets), tuple(neighbours)


def _by_order(
    sheet: UnitSheet,
    unit: UnitView,
    order: WorkOrderView,
    line: WorkOrderLineView | None,
    planned: Sequence[PlannedRounds],
    tolerance: float,
) -> UnitSheet:
    """Return a page with the turns of the order: by its plans, or its own where it undoes work."""
    forward = order.kind == OrderKind.RE_SET
    if not forward:
        sheet = ordered_sheet(sheet, unit, line, tolerance)
    for rounds in planned:
        sheet = planned_sheet(sheet, unit, rounds, tolerance, back=not forward)
    return sheet


def _with_window(sheet: UnitSheet, line: WorkOrderLineView | None) -> UnitSheet:
    """Print the window that the order will hold the as-left reading against."""
    if line is None or line.window_low is None:
        return sheet
    window = replace(sheet.scale, window_low=line.window_low, window_high=line.window_high)
    return replace(sheet, scale=window)


def _neighbour(
    order: tuple[int, str], support: SupportView, unit: UnitView, present: float | None
) -> Neighbour:
    number, place = order
    plate, last = unit.nameplate or NameplateView(), unit.last_reading
    return Neighbour(
        order=number,
        tag=unit_tag(support, unit),
        serial=unit.serial or "not known",
        kind=str(unit.kind),
        place=place,
        load_unit=plate.scale_unit or "kN",
        length_unit=plate.pointer_unit or "mm",
        last_load=present,
        last_pointer=last.pointer if last else None,
    )


def _stops(content: AssessmentContent) -> tuple[TravelStopEntry, ...]:
    return tuple(
        TravelStopEntry(pin, unit_tag(support, unit), TravelStopState.FITTED)
        for support in content.supports
        for unit in support.units
        for pin in unit.stops_in
    )


FLANGE_READINGS = ("flange gap, largest less smallest", "flange offset")
"""What a hand can read at a nozzle; the limits are the site's own (common practice, no source)."""


def _nozzle(limit: NozzleLimitView) -> NozzlePage:
    by_hand = tuple(
        NozzleReading(what, Amount(None, "mm", Kind.LENGTH), "the site's own procedure")
        for what in FLANGE_READINGS
    )
    forces = _allowed("force", limit.forces, ("kN", Kind.LOAD), limit.source)
    moments = _allowed("moment", limit.moments, ("kN·m", Kind.MOMENT), limit.source)
    return NozzlePage(
        limit.equipment,
        limit.nozzle,
        (*by_hand, *forces, *moments),
        machine=limit.machine is not Known.NO,
    )


def _allowed(
    what: str, values: tuple[float | None, ...], unit: tuple[str, Kind], source: str
) -> Iterator[NozzleReading]:
    """Give the allowed loads known, for whoever compares the calculation with them."""
    for axis, value in zip("xyz", values, strict=True):
        if value is not None:
            words = f"allowed {what} {axis}, calculated"
            yield NozzleReading(words, Amount(value, *unit), source)


def _assumptions(content: AssessmentContent) -> tuple[str, ...]:
    notes = [
        f"{judged.tag}: {note}"
        for judged in content.judgements
        for unit in judged.units
        for note in unit.demand.notes
    ]
    return (
        "Loads, settings and ratings are those of the register on the day of the assessment.",
        *dict.fromkeys(notes),
    )


def _signatures() -> tuple[Signature, ...]:
    roles = ("technician", "second reader", "foreman", "inspector", "stress engineer")
    return tuple(Signature(role) for role in roles)
