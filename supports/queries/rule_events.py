"""Changes, work, findings and forms as frames of the rules; few rows, each with its story."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from supports.model import (
    Assessment,
    AuditBatch,
    AuditEntry,
    Calculation,
    Campaign,
    Change,
    ChangeLine,
    ChangeProof,
    FieldFinding,
    Line,
    NozzleLimit,
    PointDocument,
    Signature,
    WalkForm,
    WalkReturn,
    WeightItem,
    WorkOrder,
    WorkOrderLine,
)
from supports.queries.holding import DONE, holding_calculations, oldest_first
from supports.queries.line_standings import Kept
from supports.queries.plant_days import day_at
from supports.queries.rule_facts import columns
from supports.queries.started_up import StartedUp, started_amid, started_up
from supports.rules.frame import Frame, Subject, day_number, frame, texts, whole_keys
from supports.rules.line.standing import NozzleStanding
from supports.rules.walkdown.flow import FindingState
from supports.rules.workflow import ChangeState, LineState
from supports.rules.workflow.proofs import Proof
from supports.vocabulary import CalculationStatus, Duration, Role

CALLED_OFF = {ChangeState.REFUSED, ChangeState.CALLED_OFF, ChangeState.TO_BE_PUT_RIGHT}
PROVED = {ChangeState.TO_BE_PROVED, ChangeState.IN_FORCE}


def change_frame(session: Session, today: float) -> Frame:
    """Return every change with what its signatures, orders and documents say."""
    changes = list(session.scalars(select(Change).order_by(Change.id)))
    signed = _signatures(session)
    jobs, marks = _jobs(session), _red_marks(session, approvals(session))
    newer, started = _newer_revisions(session), started_up(session)
    heated = started_amid(session)
    rows = [
        {
            "open": not ChangeState(c.state).is_over,
            "approved": ChangeState(c.state).is_approved,
            "assessed": c.id in newer,
            "temporary": c.duration == Duration.TEMPORARY,
            "emergency": c.safe_until is not None,
            "called_off": ChangeState(c.state) in CALLED_OFF,
            "to_be_closed": ChangeState(c.state) in PROVED,
            "proved_in_operation": ChangeState(c.state) in DONE and jobs[c.id]["done"] > 0,
            "newer_revision": newer[c.id][1] if c.id in newer else None,
            "calculation": newer[c.id][0] if c.id in newer else "",
            "signed_twice": signed.get(c.id, 0.0),
            "ends_on": day_number(c.ends_on),
            "requested_on": day_number(c.requested_on),
            "jobs_done": float(jobs[c.id]["done"]),
            "jobs_left": float(jobs[c.id]["left"]),
            "red_marks": marks.get(c.id),
            "heat_up_asked": float(c.id in heated),
            **_since_start_up(started.get(c.id)),
        }
        for c in changes
    ]
    made = _frame(Subject.CHANGE, [c.number for c in changes], rows, today)
    return whole_keys(made, [c.id for c in changes])


def _since_start_up(started: StartedUp | None) -> dict[str, Any]:
    if started is None:
        return {}
    return {
        "started_up_on": day_number(started.on),
        "units_not_walked": float(len(started.not_walked)),
    }


def _frame(subject: Subject, names: list[str], rows: list[dict[str, Any]], today: float) -> Frame:
    named = list(dict.fromkeys(name for row in rows for name in row))
    return frame(subject, names, {n: [row.get(n) for row in rows] for n in named}, today)


def _newest_assessments(session: Session) -> dict[int, tuple[int, int]]:
    query = select(Assessment.change_id, Assessment.id, Assessment.calculation_id)
    return {c: (a, k) for c, a, k in session.execute(query.order_by(Assessment.revision))}


def _signatures(session: Session) -> dict[int, float]:
    """Return by change how many people signed its newest assessment twice."""
    newest = {a: change for change, (a, _) in _newest_assessments(session).items()}
    query = select(Signature.subject_id, Signature.person_id, Signature.meaning).where(
        Signature.subject == "assessment",
        Signature.meaning.in_({"prepared", "checked", "approved"}),
    )
    hands: dict[int, dict[int, set[str]]] = defaultdict(lambda: defaultdict(set))
    for assessment, person, meaning in session.execute(query):
        if assessment in newest:
            hands[newest[assessment]][person].add(meaning)
    return {
        change: float(sum(len(meanings) > 1 for meanings in people.values()))
        for change, people in hands.items()
    }


def _jobs(session: Session) -> Mapping[int, Counter[str]]:
    """Return by change how many re-sets are done and how many are left."""
    query = (
        select(WorkOrder.change_id, WorkOrderLine.state)
        .join(WorkOrder, WorkOrderLine.work_order_id == WorkOrder.id)
        .where(WorkOrderLine.action == "re-set")
    )
    count: dict[int, Counter[str]] = defaultdict(Counter)
    for change, word in session.execute(query):
        state = LineState(word)
        if not state.is_untouched:
            count[change]["done" if state.is_settled else "left"] += 1
        elif not state.is_settled:
            count[change]["left"] += 1
    return count


def approvals(session: Session) -> dict[int, float]:
    """Return by change the day of its newest approval."""
    query = (
        select(Assessment.change_id, func.max(Signature.signed_at))
        .join(Signature, Signature.subject_id == Assessment.id)
        .where(Signature.subject == "assessment", Signature.meaning == "approved")
        .group_by(Assessment.change_id)
    )
    return {
        change: day_number(day_at(session, signed)) for change, signed in session.execute(query)
    }


def _red_marks(session: Session, approved: Mapping[int, float]) -> dict[int, float]:
    """Return by approved change the marked-up drawings: documents since then, or a word."""
    query = (
        select(WorkOrder.change_id, PointDocument.id, PointDocument.since)
        .join(WorkOrderLine, WorkOrderLine.work_order_id == WorkOrder.id)
        .join(PointDocument, PointDocument.point_id == WorkOrderLine.point_id)
        .distinct()
    )
    proved = select(ChangeProof.change_id).where(
        ChangeProof.item == Proof.DRAWINGS, ChangeProof.put_off_until.is_(None)
    )
    count = dict.fromkeys(approved, 0.0)
    for change in session.scalars(proved):
        count[change] = count.get(change, 0.0) + 1.0
    for change, _, since in session.execute(query):
        if change in approved and day_number(since) >= approved[change]:
            count[change] += 1.0
    return count


def _newer_revisions(session: Session) -> dict[int, tuple[str, bool]]:
    """Return by assessed change its calculation, and whether a newer revision is issued."""
    rank = {key: place for place, key in enumerate(oldest_first(session))}
    known = {c.id: c for c in session.scalars(select(Calculation))}
    found = {}
    for change, (_, key) in _newest_assessments(session).items():
        own = known[key]
        later = [
            c
            for c in known.values()
            if c.number == own.number
            and rank[c.id] > rank[key]
            and (c.status != CalculationStatus.PLANNED or c.status == own.status)
        ]
        found[change] = (f"{own.number} rev. {own.revision}", bool(later))
    return found


def changes_on_lines(session: Session) -> dict[str, dict[int, float]]:
    """Return by line id: open changes, changes to be proved, day of the last change of weight."""
    query = select(ChangeLine.line_id, Change.id, Change.state).join(
        Change, ChangeLine.change_id == Change.id
    )
    approved = approvals(session)
    pairs = session.execute(select(WeightItem.change_id, WeightItem.line_id)).all()
    weighed = {(pair.change_id, pair.line_id) for pair in pairs}
    count: dict[str, dict[int, float]] = {"open": {}, "proved": {}, "weight": {}}
    for line, change, word in session.execute(query):
        state = ChangeState(word)
        count["open"][line] = count["open"].get(line, 0.0) + float(not state.is_over)
        count["proved"][line] = count["proved"].get(line, 0.0) + float(state in PROVED)
        if state in DONE and (change, line) in weighed and change in approved:
            newest = count["weight"].get(line, 0.0)
            count["weight"][line] = max(newest, approved[change])
    return count


def civil_signed(session: Session) -> set[int]:
    """Return the ids of lines whose loads a civil engineer agreed to: those that hold now.

    A word on other loads says nothing of these, nor does an objection.
    """
    agreed = _civil_words(session)
    pairs = session.execute(select(ChangeLine.line_id, ChangeLine.change_id)).all()
    spoken_of = [(line, agreed[change]) for line, change in pairs if change in agreed]
    holding = holding_calculations(session, {line for line, _ in spoken_of})
    return {line for line, calculation in spoken_of if holding.get(line) == calculation}


def _civil_words(session: Session) -> dict[int, int]:
    """Return by change the calculation behind what a civil engineer last agreed to."""
    words = select(Signature.subject_id, Signature.meaning, Signature.signed_at).where(
        Signature.subject == "change", Signature.role.contains(Role.CIVIL_ENGINEER)
    )
    newest = {
        change: (meaning, signed)
        for change, meaning, signed in session.execute(words.order_by(Signature.id))
    }
    query = select(Assessment.change_id, Assessment.made_at, Assessment.calculation_id)
    return {
        change: calculation
        for change, made, calculation in session.execute(query.order_by(Assessment.revision))
        if change in newest and newest[change][0] == "agreed" and made <= newest[change][1]
    }


def nozzle_frame(session: Session, today: float, kept: Mapping[int, Kept]) -> Frame:
    """Return every nozzle with a limit and its worst use by the screening of its line."""
    query = select(
        NozzleLimit.id, NozzleLimit.nozzle, NozzleLimit.source, NozzleLimit.line_id, Line.number
    ).join(Line, NozzleLimit.line_id == Line.id)
    found = columns(session, query.order_by(NozzleLimit.id))
    stand = [
        _standing_of(kept[line], nozzle)
        for line, nozzle in zip(found["line_id"], found["nozzle"], strict=True)
    ]
    pairs = zip(found["number"], found["nozzle"], strict=True)
    made = frame(
        Subject.NOZZLE,
        [f"{number} {nozzle}" for number, nozzle in pairs],
        {
            "nozzle_source": found["source"],
            "line": found["number"],
            "nozzle_use": [one.use for one, _ in stand],
            "nozzle_worst": ["" if one.use is None else one.words for one, _ in stand],
            "line_screened": [source for _, source in stand],
        },
        today,
    )
    why = texts("" if one.use is not None else one.words for one, _ in stand)
    return whole_keys(made.with_columns({"nozzle_use?": why}), found["id"])


def _standing_of(kept: Kept, nozzle: str) -> tuple[NozzleStanding, str]:
    """Return how a nozzle stands, or why that is not known."""
    standing = kept.standing
    if standing.missing:
        return NozzleStanding(nozzle, None, standing.missing), kept.source
    none = NozzleStanding(nozzle, None, "the nozzle at an end of the route")
    return next((n for n in standing.nozzles if n.nozzle == nozzle), none), kept.source


def finding_frame(session: Session, today: float) -> Frame:
    """Return every finding of a walkdown."""
    found = list(session.scalars(select(FieldFinding).order_by(FieldFinding.id)))
    rows = [
        {
            "open": not FindingState(f.state).is_at_an_end,
            "owner": f.owner,
            "due_day": day_number(f.due_on),
        }
        for f in found
    ]
    made = _frame(Subject.FINDING, [f.number for f in found], rows, today)
    return whole_keys(made, [f.id for f in found])


def form_frame(session: Session, today: float) -> Frame:
    """Return every form that came back, with its revision and the newest one given out."""
    newest = (
        select(WalkForm.campaign_id, func.max(WalkForm.revision).label("now"))
        .group_by(WalkForm.campaign_id)
        .subquery()
    )
    query = (
        select(WalkReturn.id, Campaign.number, WalkForm.revision, newest.c.now)
        .join(WalkForm, WalkReturn.form_id == WalkForm.id)
        .join(Campaign, WalkForm.campaign_id == Campaign.id)
        .join(newest, newest.c.campaign_id == WalkForm.campaign_id)
        .order_by(WalkReturn.id)
    )
    found = columns(session, query)
    revisions = {"form_revision": found["revision"], "form_revision_now": found["now"]}
    made = frame(Subject.FORM, found["number"], revisions, today)
    return whole_keys(made, found["id"])


def record_frame(session: Session, today: float) -> Frame:
    """Return every field that more than one import changed, with how many did."""
    changed = (
        select(AuditEntry.table_name, AuditEntry.row_id)
        .join(AuditBatch, AuditEntry.batch_id == AuditBatch.id)
        .where(AuditBatch.action == "import", AuditEntry.before.is_not(None))
        .group_by(AuditEntry.table_name, AuditEntry.row_id)
        .having(func.count(AuditEntry.batch_id.distinct()) > 1)
        .subquery()
    )
    query = (
        select(AuditEntry)
        .join(AuditBatch, AuditEntry.batch_id == AuditBatch.id)
        .join(
            changed,
            (changed.c.table_name == AuditEntry.table_name)
            & (changed.c.row_id == AuditEntry.row_id),
        )
        .where(AuditBatch.action == "import", AuditEntry.before.is_not(None))
    )
    editors: dict[tuple[str, int, str], set[int]] = defaultdict(set)
    for entry in session.scalars(query):
        for name in set(entry.after or {}) - {"row_version"}:
            editors[entry.table_name, entry.row_id, name].add(entry.batch_id)
    rows = [(key, len(batches)) for key, batches in sorted(editors.items())]
    names = [f"{table.replace('_', ' ')} {row}" for (table, row, _), _ in rows]
    values: dict[str, Iterable[Any]] = {
        "editors": [float(n) for _, n in rows],
        "field": [key[2] for key, _ in rows],
    }
    return whole_keys(frame(Subject.RECORD, names, values, today), [key[1] for key, _ in rows])
