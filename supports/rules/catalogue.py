"""The one list of rules."""

from __future__ import annotations

from supports.errors import NotFound
from supports.rules.change_rules import CHANGE_RULES
from supports.rules.data_rules import DATA_RULES
from supports.rules.history_rules import HISTORY_RULES
from supports.rules.line_load_rules import LINE_LOAD_RULES
from supports.rules.load_rules import LOAD_RULES
from supports.rules.movement_rules import MOVEMENT_RULES
from supports.rules.piece_rules import PIECE_RULES, STACK_RULES
from supports.rules.rule import Rule
from supports.rules.stop_rules import STOP_RULES
from supports.rules.travel_rules import TRAVEL_RULES
from supports.rules.variable_load_rules import VARIABLE_LOAD_RULES
from supports.rules.walkdown_rules import WALKDOWN_RULES
from supports.sentences import Sentence, either
from supports.tags import suggestions

RULES: tuple[Rule, ...] = (
    *LOAD_RULES,
    *VARIABLE_LOAD_RULES,
    *LINE_LOAD_RULES,
    *TRAVEL_RULES,
    *PIECE_RULES,
    *STACK_RULES,
    *MOVEMENT_RULES,
    *HISTORY_RULES,
    *STOP_RULES,
    *CHANGE_RULES,
    *WALKDOWN_RULES,
    *DATA_RULES,
)
"""Every rule, in the order of the handbook."""

RULES_VERSION = "5"
"""Raised whenever a rule or a verdict differs for the same facts."""


def rule_of(name: str) -> Rule:
    """Return a rule by its id.

    Raises
    ------
    NotFound
        There is no such rule.
    """
    found = next((rule for rule in RULES if rule.id == name), None)
    if found is None:
        near = suggestions(name, [rule.id for rule in RULES])
        raise NotFound(
            Sentence("there is no rule '{name}'", name=name),
            remedy=Sentence("Did you mean {near}?", near=either(near))
            if near
            else "See: supports rules handbook",
        )
    return found
