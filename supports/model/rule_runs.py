"""Runs of the rules with what they found, findings accepted, questions kept by name."""

from __future__ import annotations

from sqlalchemy import Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from supports.model.base import Base, Day, Document, Key, Moment, Note, Words, key_of


class RuleRun(Base):
    """All rules were asked of the whole register at one moment."""

    __tablename__ = "rule_run"
    append_only = True

    id: Mapped[Key]
    run_at: Mapped[Moment]
    for_day: Mapped[Day]
    """The day that days are counted to."""
    run_by: Mapped[Words]
    reason: Mapped[Note]
    after_batch_id: Mapped[int | None] = key_of("audit_batch")
    """The newest batch of writes that the run saw."""
    rules_version: Mapped[Words]
    limits: Mapped[Document]
    """Settings in SI, and those of one line or class."""
    counts: Mapped[Document]
    """{rule: [fails, passes, not applicable, cannot judge]}."""
    fingerprint: Mapped[Words]
    """Of all answers kept with the run."""


class RuleAnswers(Base):
    """What one rule found in one run: the answers that are no passes, packed."""

    __tablename__ = "rule_answers"
    append_only = True
    __table_args__ = (UniqueConstraint("run_id", "rule"),)

    id: Mapped[Key]
    run_id: Mapped[int] = key_of("rule_run")
    rule: Mapped[Words]
    answers: Mapped[Document]
    """{columns: names, rows: one list an answer}."""


class FindingAcceptance(Base):
    """A finding was accepted until a day, on the facts of that moment; the newest word holds."""

    __tablename__ = "finding_acceptance"
    append_only = True
    __table_args__ = (Index("ix_finding_acceptance_place", "rule", "subject", "subject_key"),)

    id: Mapped[Key]
    rule: Mapped[Words]
    subject: Mapped[Words]
    subject_key: Mapped[int]
    name: Mapped[Words]
    severity: Mapped[Words]
    inputs: Mapped[Words]
    """Mark of everything it was judged on."""
    accepted_by: Mapped[Words]
    role: Mapped[Words]
    accepted_at: Mapped[Moment]
    until: Mapped[Day]
    """Up to and with this day; a day before the acceptance withdraws it."""
    reason: Mapped[Words]


class SavedQuestion(Base):
    """A question about the register, kept by name; the newest of a name holds."""

    __tablename__ = "saved_question"
    append_only = True

    id: Mapped[Key]
    name: Mapped[Words]
    words: Mapped[Document]
    saved_by: Mapped[Words]
    saved_at: Mapped[Moment]
