"""The load-change summary of an assessment."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from reports.contents.common import Direction, PaperHead, Signature, Turns
from reports.contents.judged_units import unit_tag
from reports.contents.load_change_summary import (
    Assumption,
    CaseLoad,
    DataDoubt,
    LoadChangeSummary,
    SupportRow,
    WeightItem,
    WeightTable,
)
from reports.contents.pack_of_order import basis_of
from reports.contents.turning import other_unit
from reports.contents.written import percent
from reports.languages import IN_ENGLISH, Texts
from supports.findings import Answer
from supports.rules.assessment import AssessmentContent
from supports.rules.constant_rules import adjusting_range
from supports.rules.judgement import SupportJudgement, UnitJudgement
from supports.rules.variable_rules import movement_of, present_hot
from supports.sentences import Sentence
from supports.snapshots import NameplateView, SupportView, UnitView
from supports.vocabulary import CaseKind, Verdict

ANALYSIS = (
    "The loads above are those of the calculation named. Whether a full analysis by a qualified "
    "engineer must confirm them is for the site's own list and the local code to say."
)


def summary_of_assessment(
    head: PaperHead,
    content: AssessmentContent,
    signatures: tuple[Signature, ...],
    conditions: tuple[str, ...] = (),
    say: Texts = IN_ENGLISH,
) -> LoadChangeSummary:
    """Return the summary, rows in order along the line.

    Parameters
    ----------
    conditions
        What the approver laid down in writing.
    """
    return LoadChangeSummary(
        head=head,
        change_number=content.change.number,
        change_revision=head.revision,
        line=", ".join(content.change.lines),
        verdict_sentence=say.sentence(content.sentence),
        weights=_weights(content),
        rows=support_rows(content.supports, content.judgements, content.change.lines),
        basis=basis_of(content),
        analysis_words=ANALYSIS,
        doubts=_doubts(content, say),
        assumptions=(*_assumptions(content, say), *_conditions(conditions, say)),
        signatures=signatures,
    )


def _weights(content: AssessmentContent) -> WeightTable:
    return WeightTable(
        tuple(
            WeightItem(
                what=item.description,
                mass=item.mass,
                source=item.source,
                distance=item.along,
                offset=item.off_axis or 0.0,
            )
            for item in content.change.weights
        )
    )


def support_rows(
    supports: Sequence[SupportView],
    judgements: Sequence[SupportJudgement],
    lines: Sequence[str],
) -> tuple[SupportRow, ...]:
    """Return a row for every unit, and for every support without one, in the order given."""
    rows: list[SupportRow] = []
    for support, judged in zip(supports, judgements, strict=True):
        units = {unit.id: unit for unit in support.units}
        for one in judged.units:
            unit = units[one.unit_id] if one.unit_id is not None else None
            rows.append(_row(len(rows) + 1, support, unit, one, lines))
    return tuple(rows)


def _row(
    order: int,
    support: SupportView,
    unit: UnitView | None,
    judged: UnitJudgement,
    lines: Sequence[str],
) -> SupportRow:
    plate = (unit.nameplate if unit else None) or NameplateView()
    symbol = plate.scale_unit or "kN"
    place = next((a for a in support.attachments if a.line in lines), None)
    low, high = _limits(unit, plate)
    weakest = judged.stack.weakest if judged.stack else None
    return SupportRow(
        order=order,
        tag=unit_tag(support, unit) if unit else support.tag,
        kind=str(unit.kind if unit else support.kind),
        verdict=judged.verdict,
        load_unit=symbol,
        other_unit=other_unit(symbol),
        present=_present(unit, judged, plate),
        required=judged.demand.governing,
        node=place.node if place else "",
        nameplate=plate.hot_load if unit and unit.kind.is_variable else plate.nameplate_load,
        low=low,
        high=high,
        distance=place.distance_along if place else None,
        cases=tuple(
            CaseLoad(c.case, c.load, governs=c.kind is CaseKind.OPERATING)
            for c in judged.demand.cases
        ),
        used_share=judged.re_set.used_share if judged.re_set else None,
        turns=_turns(judged),
        direction=_direction(judged),
        travel_words=_travel(judged),
        weakest_piece=weakest.name if weakest else "",
        weakest_share=weakest.utilisation if weakest else None,
        rule_codes=tuple(answer.rule for answer in judged.failures),
        reasons=_reasons(judged),
        missing=judged.missing,
    )


def _reasons(judged: UnitJudgement) -> tuple[str, ...]:
    """Return what is broken; where nothing is asked of the support, why not."""
    not_asked = [a.text for a in judged.answers if a.answer is Answer.NOT_APPLICABLE]
    return tuple(answer.text for answer in judged.failures) or tuple(
        text for text in not_asked if judged.demand.governing is None
    )


def _present(unit: UnitView | None, judged: UnitJudgement, plate: NameplateView) -> float | None:
    if unit is not None and unit.kind.is_variable:
        return present_hot(unit, movement_of(plate, judged.demand))
    return judged.present


def _limits(unit: UnitView | None, plate: NameplateView) -> tuple[float | None, float | None]:
    if unit is not None and unit.kind.is_variable:
        return plate.working_low, plate.working_high
    limited = adjusting_range(plate)
    return (limited.low, limited.high) if limited else (None, None)


def _turns(judged: UnitJudgement) -> Turns | None:
    if judged.verdict != Verdict.RE_SET or judged.re_set is None:
        return None
    count = judged.re_set.turns_per_bolt
    return Turns(count.turns, count.flats) if count else None


def _direction(judged: UnitJudgement) -> Direction | None:
    if judged.verdict != Verdict.RE_SET:
        return None
    if judged.re_set is not None:
        return Direction.INCREASE if judged.re_set.change >= 0 else Direction.DECREASE
    return None


def _travel(judged: UnitJudgement) -> str:
    if judged.take_up is not None and judged.verdict == Verdict.RE_SET:
        length = f"{judged.take_up.take_up * 1000.0:.1f}"
        return Sentence("take-up {length} mm, pipe held", length=length)
    named = {"travel-reserve-short", "travel-more-than-unit"}
    return next((answer.text for answer in judged.answers if answer.rule in named), "")


def _doubts(content: AssessmentContent, say: Texts) -> tuple[DataDoubt, ...]:
    return tuple(
        DataDoubt(
            judged.tag,
            ", ".join(map(say.sentence, judged.missing)),
            say("cannot judge; nothing is turned there"),
        )
        for judged in content.judgements
        if judged.missing
    )


def _assumptions(content: AssessmentContent, say: Texts) -> tuple[Assumption, ...]:
    taken = [
        Assumption(
            say(
                "Limits in force: {limits}. They are proposals until the site has "
                "confirmed them against its own procedures.",
                limits=_limits_words(content.settings, say),
            ),
            say("responsible engineer"),
        )
    ]
    if content.change.aim:
        taken.append(
            Assumption(
                say("Aim of the new loads: {aim}", aim=content.change.aim), say("stress engineer")
            )
        )
    noted = (
        f"{judged.tag}: {note}"
        for judged in content.judgements
        for unit in judged.units
        for note in unit.demand.notes
    )
    taken += [Assumption(words, say("stress engineer")) for words in dict.fromkeys(noted)]
    return tuple(taken)


def _limits_words(settings: Mapping[str, float], say: Texts) -> str:
    shares = {
        "tolerance": say("constants left within"),
        "variable_tolerance": say("variable springs within"),
        "band": say("engineer decides up to"),
        "range_end_share": say("written acceptance beyond this share of the range"),
    }
    return ", ".join(f"{words} {percent(settings[name])}" for name, words in shares.items())


def _conditions(conditions: tuple[str, ...], say: Texts) -> tuple[Assumption, ...]:
    return tuple(
        Assumption(
            say("Condition of the approval: {words}", words=words), say("responsible engineer")
        )
        for words in conditions
    )
