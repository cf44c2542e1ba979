"""Every rule has all of its answers; every limit is compared with exactly where it stands."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from supports.findings import Severity
from supports.rules.catalogue import RULES, rule_of
from supports.rules.frame import catalogue
from supports.rules.rule import Code, Group, Limits, ask, missing_words
from supports.rules.site_settings import limits, proposed_settings
from supports.rules.wording import answer, columns_of, explain
from tests.rules import cases, cases_of_records
from tests.rules.cases import Case, Row, one, si

LIMITS = Limits(proposed_settings())
CASES: dict[str, Case] = {
    **cases.LOAD, **cases.TRAVEL, **cases.HARDWARE, **cases.MOVEMENT, **cases_of_records.HISTORY,
    **cases_of_records.STOPS, **cases_of_records.CHANGE, **cases_of_records.WALKDOWN,
    **cases_of_records.DATA,
}  # fmt: skip
IDS = [rule.id for rule in RULES]

ALWAYS_ASKED = {
    "nozzle-over-limit", "two-changes-one-line", "form-of-old-revision", "same-tag-twice",
    "edited-by-two",
}  # fmt: skip
"""Rules that have something to say of every row of their subject."""
NEVER_PASSED = {"hand-method-on-must-analyse-line"}
"""A full analysis, or a line that may be screened, is no matter of the rule."""
NEVER_UNKNOWN = {"zero-or-nines"}
"""Asked only of loads that are written."""

# The rules of the trade by group, as issued with the first list: 96 of them, the join of points,
# lines and nodes counted three times, and the re-set of a variable spring beside.
HOW_MANY = {
    Group.LOAD: 19, Group.TRAVEL: 8, Group.HARDWARE: 11, Group.MOVEMENT: 7, Group.HISTORY: 9,
    Group.STOPS: 7, Group.CHANGE: 11, Group.WALKDOWN: 10, Group.DATA: 17,
}  # fmt: skip


def code(rule_id: str, row: Row, limits_used: Limits = LIMITS) -> Code:
    rule = rule_of(rule_id)
    return Code(ask(rule, one(rule, row), limits_used).codes[0])


def test_the_list_is_whole():
    assert {group: sum(r.group is group for r in RULES) for group in Group} == HOW_MANY
    assert len(set(IDS)) == len(RULES) == 99
    assert set(CASES) == set(IDS)


@pytest.mark.parametrize("rule_id", IDS)
def test_a_rule_gives_each_of_its_answers(rule_id):
    case = CASES[rule_id]
    assert code(rule_id, case.fails) is Code.FAILS
    for row, wanted, absent in (
        (case.passes, Code.PASSES, NEVER_PASSED),
        (case.beside, Code.NOT_APPLICABLE, ALWAYS_ASKED),
        (case.unknown, Code.CANNOT_JUDGE, NEVER_UNKNOWN),
    ):
        assert (row is None) == (rule_id in absent)
        if row is not None:
            assert code(rule_id, row) is wanted


@pytest.mark.parametrize("rule_id", IDS)
def test_a_rule_with_nothing_known_neither_passes_nor_fails(rule_id):
    assert code(rule_id, {}) in {Code.NOT_APPLICABLE, Code.CANNOT_JUDGE}


EDGES = [(rule, name) for rule, case in CASES.items() for name in case.near_edges]


def shifted(name: str, share: float) -> Limits:
    """Return the limits with one moved by a share of itself, or by that much if it is nought."""
    moved = si(name) * (1.0 + share) or share
    return Limits(replace(proposed_settings(), **{name: moved}))


@pytest.mark.parametrize(("rule_id", "name"), EDGES)
@pytest.mark.parametrize("share", [1e-6, 0.03])
def test_a_limit_bites_exactly_where_it_stands(rule_id, name, share):
    row, way = CASES[rule_id].near_edges[name]
    broken_at_limit = abs(way) == 2
    biting = -share if way > 0 else share
    assert (code(rule_id, row) is Code.FAILS) is broken_at_limit
    assert (code(rule_id, row, shifted(name, biting)) is Code.FAILS) is not broken_at_limit
    assert (code(rule_id, row, shifted(name, -biting)) is Code.FAILS) is broken_at_limit


@pytest.mark.parametrize("rule_id", IDS)
def test_every_limit_of_a_rule_has_a_row_at_it(rule_id):
    edges = set(CASES[rule_id].near_edges)
    upper = {"difference-inside-band": {"band"}, "difference-inside-tolerance": {"tolerance"}}
    assert edges == set(rule_of(rule_id).limits) - upper.get(rule_id, set())


@pytest.mark.parametrize(
    ("rule_id", "name", "row"),
    [
        ("difference-inside-band", "band", {"required": 21_200.0}),
        ("difference-inside-tolerance", "tolerance", {"required": 20_400.0}),
    ],
)
def test_the_upper_end_of_a_step_belongs_to_it(rule_id, name, row):
    at_end = cases.but(cases.CONSTANT, **row)
    assert code(rule_id, at_end) is Code.FAILS
    assert code(rule_id, at_end, shifted(name, -1e-6)) is Code.PASSES


@pytest.mark.parametrize(
    ("rule_id", "row", "beyond"),
    [
        ("load-outside-field-range", cases.CONSTANT, {"required": 23_000.0}),
        ("rod-over-rating", cases.PIECE, {"piece_load": 21_730.0}),
        ("nozzle-over-limit", {}, {"nozzle_use": 1.0}),
        ("travel-more-than-unit", cases.CONSTANT, {"design_travel": -0.200}),
        ("lock-rating-short", cases_of_records.LOCKED, {"setting": 33_290.0}),
    ],
)
def test_an_end_that_is_no_setting_is_exact_too(rule_id, row, beyond):
    ((name, value),) = beyond.items()
    assert code(rule_id, cases.but(row, **{name: value})) is Code.PASSES
    assert code(rule_id, cases.but(row, **{name: value * (1.0 + 1e-6)})) is Code.FAILS


TURNED = cases.but(cases.CONSTANT, required=22_100.0)
LINE = {"by_screening": 1, "creep_or_high_energy": 0}


@pytest.mark.parametrize(
    ("rule_id", "row", "answer_wanted"),
    [
        # one of several operating cases is enough; statics
        ("pull-needed-downwards", cases.but(cases.CONSTANT, least_operating=-1.0), Code.FAILS),
        ("variable-outside-working-range",
         cases.but(cases.VARIABLE, most_operating=16_100.0), Code.FAILS),
        ("variable-outside-working-range",
         cases.but(cases.VARIABLE, least_operating=7_900.0), Code.FAILS),
        # nobody can say whether the unit is turned at all
        ("load-bolt-thread-short", cases.but(TURNED, setting=None), Code.CANNOT_JUDGE),
        ("adjustment-changes-travel", cases.but(TURNED, range_low=None), Code.CANNOT_JUDGE),
        ("turnbuckle-short",
         cases.but(cases.VARIABLE, setting_hot=None, take_up_left=0.1), Code.CANNOT_JUDGE),
        # thread out of the sight hole is a fault without any re-set
        ("turnbuckle-short", cases.but(cases.CONSTANT, thread_in_sight=0), Code.FAILS),
        ("hand-method-on-must-analyse-line", {**LINE, "constants_on_line": 1},
         Code.NOT_APPLICABLE),
        ("hand-method-on-must-analyse-line", {**LINE, "constants_on_line": 2}, Code.FAILS),
    ],
)  # fmt: skip
def test_a_rule_looks_at_all_that_it_must(rule_id, row, answer_wanted):
    assert code(rule_id, row) is answer_wanted


# Figures of standards as they were read or remembered; the source stands beside each.
STANDARDS = {
    "band": (0.06, "MSS SP-58, deviation of a constant support, from memory"),
    "tolerance": (0.02, "EN 13480-3 practice for constants, from memory"),
    "variable_tolerance": (0.05, "EN 13480-3 practice for springs, from memory"),
    "variability": (0.25, "MSS SP-58 and ASME B31.1 para 121, from memory"),
    "variability_near_nozzle": (0.10, "common practice, no source"),
    "travel_extra_share": (0.20, "MSS SP-58, from memory"),
    "travel_extra_least": (0.025, "MSS SP-58: 1 in (25 mm), from memory"),
    "swing": (np.radians(4.0), "MSS SP-58 (formerly SP-69), quoted as normal practice"),
    "walk_interval_a": (365.0, "ASME B31.1 appendix V: once a year, from memory"),
}


@pytest.mark.parametrize("name", STANDARDS)
def test_a_proposed_limit_is_the_figure_of_its_source(name):
    assert si(name) == pytest.approx(STANDARDS[name][0], rel=1e-12)


def test_every_limit_that_a_rule_asks_for_is_a_setting_of_the_site():
    assert {name for rule in RULES for name in rule.limits} <= set(limits())


@pytest.mark.parametrize("rule_id", IDS)
def test_a_rule_can_be_read(rule_id):
    rule, case = rule_of(rule_id), CASES[rule_id]
    asked = ask(rule, one(rule, case.fails), LIMITS)
    said, steps = answer(asked, 0, LIMITS), explain(asked, 0, LIMITS)
    assert said.text
    assert "{" not in "\n".join(steps.lines)
    assert said.severity in {rule.severity, rule.graver}
    names = set(columns_of(asked)) | set(rule.limits) | set(asked.judged.figures)
    apart = len(columns_of(asked)) + len(rule.limits) + len(asked.judged.figures)
    assert len(names) == apart
    assert not rule.measure or rule.measure in asked.judged.figures
    assert set(rule.needs) <= set(catalogue())
    assert rule.remedy
    assert rule.source


@pytest.mark.parametrize("rule_id", [r for r in IDS if CASES[r].unknown is not None])
def test_what_is_missing_is_named(rule_id):
    rule, row = rule_of(rule_id), CASES[rule_id].unknown
    asked = ask(rule, one(rule, row), LIMITS)
    assert missing_words(asked, 0)
    assert answer(asked, 0, LIMITS).text.startswith("cannot judge (missing: ")


def test_a_graver_case_is_graver():
    for rule_id, changes in (
        ("on-the-stop", {"near_machine": 1}),
        ("lock-in-while-running", {"near_machine": 1}),
        ("weld-or-lug-over", {}),
    ):
        rule = rule_of(rule_id)
        row = cases.but(CASES[rule_id].fails, **changes)
        asked = ask(rule, one(rule, row), LIMITS)
        assert answer(asked, 0, LIMITS).severity is Severity.STOP
        assert rule.severity is Severity.ACT
