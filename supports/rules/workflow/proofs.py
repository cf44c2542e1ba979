"""What is proved between the last turn and the closing, and who may say so."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum

from supports.vocabulary import Role


class Proof(StrEnum):
    """One thing to be proved by somebody's word."""

    BUILT_AS_DESIGNED = "built as designed"
    PROCEDURES_IN_PLACE = "procedures in place"
    PEOPLE_TOLD = "people told and trained"
    STOPS_BY_OPERATIONS = "travel stops counted by operations"
    STOPS_BY_MAINTENANCE = "travel stops counted by maintenance"
    SHUT_DOWN_WALK = "walk while shut down"
    OPERATING_WALK = "walk in operation"
    DRAWINGS = "drawings marked up"
    CALCULATION_AS_BUILT = "calculation stamped as built"
    SPARES = "spares updated"


@dataclass(frozen=True, slots=True)
class ProofItem:
    """A proof: who may give it, whether start-up waits for it, where the demand comes from."""

    proof: Proof
    roles: frozenset[Role]
    before_start_up: bool
    source: str


_R = Role
_PRE_START = "29 CFR 1910.119(i)(2)"
_PRACTICE = "common practice, no source"


def _item(proof: Proof, roles: Collection[Role], source: str, *, before: bool) -> ProofItem:
    return ProofItem(proof, frozenset(roles), before, source)


PROOFS = (
    _item(
        Proof.BUILT_AS_DESIGNED,
        {_R.INSPECTOR, _R.STRESS_ENGINEER},
        f"{_PRE_START}(i)",
        before=True,
    ),
    _item(Proof.PROCEDURES_IN_PLACE, {_R.OPERATIONS}, f"{_PRE_START}(ii)", before=True),
    _item(
        Proof.PEOPLE_TOLD,
        {_R.OPERATIONS, _R.COORDINATOR},
        f"{_PRE_START}(iv), (l)(3)",
        before=True,
    ),
    _item(Proof.STOPS_BY_OPERATIONS, {_R.OPERATIONS}, _PRACTICE, before=True),
    _item(Proof.STOPS_BY_MAINTENANCE, {_R.FOREMAN}, _PRACTICE, before=True),
    _item(Proof.SHUT_DOWN_WALK, {_R.INSPECTOR}, _PRACTICE, before=True),
    _item(Proof.OPERATING_WALK, {_R.INSPECTOR, _R.STRESS_ENGINEER}, _PRACTICE, before=False),
    _item(
        Proof.DRAWINGS,
        {_R.COORDINATOR, _R.STRESS_ENGINEER},
        "29 CFR 1910.119(l)(4)",
        before=False,
    ),
    _item(Proof.CALCULATION_AS_BUILT, {_R.STRESS_ENGINEER}, _PRACTICE, before=False),
    _item(Proof.SPARES, {_R.PLANNER, _R.COORDINATOR}, _PRACTICE, before=False),
)
"""In the order in which they are usually given; the first six are the pre-start review."""


def item_of(proof: Proof) -> ProofItem:
    """Return who may give a proof and when it is wanted."""
    return next(item for item in PROOFS if item.proof is proof)


MAY_BE_PUT_OFF = frozenset({Proof.OPERATING_WALK})
"""Only a look that needs the plant in operation may be put off to a day by an engineer."""
