"""The rules on load, travel, hardware and swing, asked of some supports known as views."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from supports.rules.answers import RuleAnswer
from supports.rules.catalogue import RULES
from supports.rules.facts import facts_of_views
from supports.rules.frame import Frame, Subject
from supports.rules.piece_frame import piece_frame
from supports.rules.rule import Asked, Code, Group, Limits, Rule, ask
from supports.rules.unit_frame import unit_frame
from supports.rules.unit_loads import Carriers, Stacks, UnitLoads
from supports.rules.wording import answer
from supports.snapshots import SupportView

_GROUPS = {Group.LOAD, Group.TRAVEL, Group.HARDWARE}


def judged_rules() -> tuple[Rule, ...]:
    """Return the rules that decide what becomes of a unit when its load changes."""
    return tuple(
        rule
        for rule in RULES
        if rule.subject in {Subject.UNIT, Subject.PIECE}
        and (rule.group in _GROUPS or rule.id == "rod-swing-large")
    )


@dataclass(frozen=True, slots=True)
class AskedOfSome:
    """Answers about some supports, to be read unit by unit."""

    units: Frame
    loads: UnitLoads
    carriers: Carriers
    case_names: Sequence[str]
    limits: Limits
    asked: Mapping[Subject, Sequence[Asked]]
    pieces: Mapping[int, Sequence[int]]
    """Rows of the pieces that each unit hangs on."""

    def rows_of(self, place: int) -> list[int]:
        """Return the rows of the units of one support, in their order."""
        return [int(row) for row in np.flatnonzero(self.carriers.point == place)]

    def answers(self, row: int) -> tuple[RuleAnswer, ...]:
        """Return every answer that applies to a unit and to its hardware."""
        rows = {Subject.UNIT: [row], Subject.PIECE: self.pieces.get(row, [])}
        return tuple(
            answer(asked, one, self.limits)
            for subject, askeds in self.asked.items()
            for asked in askeds
            for one in rows[subject]
            if asked.codes[one] != Code.NOT_APPLICABLE
        )

    def unrated(self, row: int) -> tuple[str, ...]:
        """Return the pieces of a unit whose rating or mass is not known."""
        words = str(self.units.text("pieces_unrated_names")[row])
        return tuple(words.split("; ")) if words else ()


def ask_of_some(
    supports: Sequence[SupportView],
    limits: Limits,
    *,
    near_nozzle: Collection[str] = (),
    near_machine: Collection[str] = (),
) -> AskedOfSome:
    """Ask the rules of some supports at once."""
    facts = facts_of_views(supports, near_nozzle=near_nozzle, near_machine=near_machine)
    units, loads, carriers, stacks = unit_frame(facts, limits.settings)
    frames = {
        Subject.UNIT: units,
        Subject.PIECE: piece_frame(facts, units, carriers, stacks),
    }
    asked: dict[Subject, list[Asked]] = defaultdict(list)
    for rule in judged_rules():
        asked[rule.subject].append(ask(rule, frames[rule.subject], limits))
    return AskedOfSome(
        units=units,
        loads=loads,
        carriers=carriers,
        case_names=facts.case_names,
        limits=limits,
        asked=asked,
        pieces=_pieces_of(facts.pieces["point"], carriers, stacks),
    )


def _pieces_of(point: Sequence[int], carriers: Carriers, stacks: Stacks) -> dict[int, list[int]]:
    """Return the pieces of each unit; a piece that carries both units speaks for both."""
    rows: dict[int, list[int]] = defaultdict(list)
    for piece, carrier in enumerate(stacks.carrier.tolist()):
        owners = [carrier] if carrier >= 0 else np.flatnonzero(carriers.point == point[piece])
        for owner in owners:
            rows[int(owner)].append(piece)
    return rows
