"""Requests drawn from the description of the machine interface, held against it."""

from __future__ import annotations

from collections import Counter
from typing import Any

import schemathesis
from fastapi import FastAPI
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import response_schema_conformance, status_code_conformance

from app.web.tokens import WRITE
from tests.web.at_work import CHANGE, ORDER, PLAN, shown
from tests.web.tablets import WALK

CHECKS = [not_a_server_error, status_code_conformance, response_schema_conformance]

KNOWN: dict[str, Any] = {
    "tag": "C1", "position": "A", "day": "2031-05-04", "line": "L-1", "change": CHANGE,
    "limit": 3, "occasion": "as found",
}  # fmt: skip
NUMBERS = {"lines": "L-1", "changes": CHANGE, "plans": PLAN, "work-orders": ORDER,
           "walkdowns": WALK}  # fmt: skip

PATIENCE = 120.0
"""How long an answer may take on a busy machine [s]; the answers are judged, not the time."""


def told_apart(app: FastAPI, examples: int, person: str = "S1") -> Counter[int]:
    """Ask every route so often, each with words drawn and with names that are known.

    Returns
    -------
    Counter[int]
        How often each status was answered; whatever contradicts the description is raised.
    """
    schema = schemathesis.openapi.from_asgi("/api/v1/openapi.json", app)
    seen: Counter[int] = Counter()
    for found in schema.get_all_operations():
        _asked(found.ok(), examples, person, seen)
    return seen


def _asked(operation: Any, examples: int, person: str, seen: Counter[int]) -> None:
    @settings(
        max_examples=examples, deadline=None, database=None, derandomize=True,
        suppress_health_check=list(HealthCheck), phases=[Phase.generate],
    )  # fmt: skip
    @given(case=operation.as_strategy(), known=st.booleans())
    def ask(case: Any, *, known: bool) -> None:
        if known:
            _name_what_is_there(case)
        answer = case.call(headers=shown(person, WRITE), timeout=PATIENCE)
        seen[answer.status_code] += 1
        case.validate_response(answer, checks=CHECKS)

    ask()


def _name_what_is_there(case: Any) -> None:
    """Put names that the register knows where names are asked for."""
    subject = case.operation.path.removeprefix("/api/v1/").partition("/")[0]
    known = KNOWN | {"number": NUMBERS.get(subject, "")}
    for said in (case.path_parameters, case.query, case.body):
        if isinstance(said, dict):
            said.update({name: known[name] for name in said if name in known})
            said.pop("after", None)
