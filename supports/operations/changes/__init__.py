"""A change from the first note to its closing, a file a chapter."""

from supports.operations.changes.assessing import assess_change
from supports.operations.changes.calling_off import call_off, keep_as_is
from supports.operations.changes.deciding import Decision, decide_change, say_as_assessor
from supports.operations.changes.emergencies import Emergency, SafeAct, make_safe
from supports.operations.changes.meeting import meet_changes
from supports.operations.changes.noting import (
    Facts,
    Wish,
    add_weights,
    describe_change,
    note_change,
)
from supports.operations.changes.proving import ProofGiven, give_proof
from supports.operations.changes.sifting import Sifting, find_like_for_like, sift_change
from supports.operations.changes.temporary import ask_renewal, put_in_force

__all__ = [
    "Decision",
    "Emergency",
    "Facts",
    "ProofGiven",
    "SafeAct",
    "Sifting",
    "Wish",
    "add_weights",
    "ask_renewal",
    "assess_change",
    "call_off",
    "decide_change",
    "describe_change",
    "find_like_for_like",
    "give_proof",
    "keep_as_is",
    "make_safe",
    "meet_changes",
    "note_change",
    "put_in_force",
    "say_as_assessor",
    "sift_change",
]
