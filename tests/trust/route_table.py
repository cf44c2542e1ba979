"""Who may ask for what at the desk and at the machine interface: one line for every route.

A route without a line, or a line without a route, fails `tests/web/test_who_may.py`, which also
asks. Where a path ends in the word of an act, each act has its own line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from fastapi.routing import APIRoute

from app.web.acts.change_acts import CHANGE_ACTS
from app.web.acts.order_acts import ORDER_ACTS
from app.web.acts.plan_acts import CHOOSE, PLANNING_ACTS
from app.web.acts.stop_acts import STOP_IN, STOP_OUT
from app.web.acts.unit_acts import UNIT_ACTS
from app.web.desk import ROUTERS
from app.web.tokens import READ, WRITE, by_token, by_writing_token
from app.web.visits import FOR_PROGRAMS, signed_in
from supports.operations.work_orders.issuing import TAKERS
from supports.rules.walkdown.flow import CAMPAIGN_STEPS, FINDING_STEPS
from supports.rules.workflow.unit_acts import UNIT_ACTS as ACTS_AT_UNITS
from supports.vocabulary import Role

ANYBODY, SIGNED, TABLET = "anybody", "whoever is signed in", "a tablet of whoever is signed in"
Who = str | frozenset[Role]

ENGINEER = frozenset({Role.STRESS_ENGINEER})
RESPONSIBLE = frozenset({Role.RESPONSIBLE_ENGINEER})
COORDINATOR = frozenset({Role.COORDINATOR})
KEEPERS = frozenset({Role.REGISTER_KEEPER, Role.COORDINATOR})
PLANNERS = frozenset({Role.PLANNER, Role.COORDINATOR})
WRITERS = PLANNERS | ENGINEER
SITE = frozenset({Role.REGISTER_KEEPER, Role.RESPONSIBLE_ENGINEER})
_STEPS = {one.act: one.roles for one in CAMPAIGN_STEPS}
_FINDING = {one.act: one.roles for one in FINDING_STEPS}
_AT_UNIT = {one.act.replace(" ", "-"): one.roles or SIGNED for one in ACTS_AT_UNITS}


@dataclass(frozen=True, slots=True)
class Line:
    """Who may ask.

    Parameters
    ----------
    status
        What whoever may is answered: 0 is anything but a refusal.
    early
        Something else is looked at before the roles, so that the wrong one may be told of that.
    note
        What else decides.
    said
        Fields that are handed in.
    """

    who: Who
    status: int = 0
    early: bool = False
    note: str = ""
    said: Mapping[str, str] = field(default_factory=dict)


LOOKED_AT: dict[str, Line] = dict.fromkeys(
    (
        "/", "/own-account", "/accounts", "/supports", "/supports-as-workbook",
        "/supports/{tag:path}", "/lines", "/lines/{number:path}", "/lines/{number:path}/weight",
        "/lines/{number:path}/change", "/lines/{number:path}/what-if", "/changes", "/changes/new",
        "/changes/make-safe",
        "/changes/{number}", "/changes/{number}/supports", "/changes/{number}/lines",
        "/changes/{number}/history", "/changes/{number}/add-weights",
        "/changes/{number}/do/{key}", "/plans/{number}", "/plans/{number}/do/{key}",
        "/work-orders", "/work-orders/{number}",
        "/work-orders/{number}/units/{tag:path}/{position}", "/work-orders/{number}/do/{key}",
        "/work-orders/{number}/at/{tag:path}/{position}/{key}", "/travel-stops",
        "/travel-stops/{key}", "/start-up", "/walkdowns", "/walkdowns/coverage",
        "/walkdowns/{number}", "/findings", "/findings/{number}", "/rules", "/rules/limits",
        "/rules/limits/{name}", "/rules/of/{number}", "/papers/{name}", "/sheets",
        "/sheets/profiles", "/sheets/decisions", "/sheets/doubts", "/sheets/blank-workbook",
        "/sheets/register-as/{form}", "/record", "/record/day", "/record/day/{then}/{tag:path}",
        "/record/between", "/record/whole", "/record/batch/{number}",
        "/record/row/{table}/{row}",
    ),
    Line(SIGNED, 200),
) | dict.fromkeys(
    (
        "/sheets/in/{token}", "/sheets/in/{token}/columns", "/sheets/in/{token}/names",
        "/sheets/in/{token}/unclear", "/sheets/in/{token}/back",
        "/work-orders/{number}/forms/{token}",
    ),
    Line(SIGNED, 404, note="by the token of a file"),
) | {
    "/saved-questions/{name:path}": Line(SIGNED, 303),
    "/rules/explained": Line(SIGNED, 303),
    "/sign-in": Line(ANYBODY, 200),
    "/sign-in/outside": Line(ANYBODY, 404),
    "/sign-in/outside/back": Line(ANYBODY, 403),
    "/first-run": Line(ANYBODY, 403, note="only before there is any account"),
    "/tablet": Line(ANYBODY, 200),
    "/tablet/worker.js": Line(ANYBODY, 200),
    "/tablet/files/{edition}/{name}": Line(ANYBODY, 404),
    "/tablet/who": Line(TABLET, 200),
    "/tablet/copies/walkdowns/{number}": Line(TABLET, note="of a copy of one's own"),
    "/tablet/copies/work-orders/{number}/{copy}": Line(TABLET, 200),
    "/api/v1/openapi.json": Line(ANYBODY, 200),
    "/api/v1/": Line(ANYBODY, 200),
}  # fmt: skip
"""Pages, by their path."""

HANDED_IN: dict[str, Line] = {
    "/sign-in": Line(ANYBODY),
    "/sign-out": Line(ANYBODY),
    "/first-run": Line(ANYBODY, 403, note="only before there is any account"),
    "/language": Line(ANYBODY),
    "/own-account/password": Line(SIGNED),
    "/own-account/tokens": Line(SIGNED),
    "/own-account/tokens/{number}/withdraw": Line(KEEPERS, note="or one's own"),
    "/accounts": Line(KEEPERS),
    "/accounts/{name}/password": Line(KEEPERS),
    "/accounts/{name}/close": Line(KEEPERS),
    "/saved-questions": Line(SIGNED),
    "/changes/new": Line(SIGNED),
    "/changes/make-safe": Line(SIGNED, note="two people of certain roles are named"),
    "/changes/{number}/add-weights": Line(SIGNED),
    "/walkdowns": Line(_STEPS["issue"]),
    "/walkdowns/{number}/issue": Line(_STEPS["issue"]),
    "/walkdowns/{number}/out": Line(_STEPS["go out"]),
    "/walkdowns/{number}/take-along": Line(_STEPS["go out"]),
    "/walkdowns/{number}/return": Line(_STEPS["return"], early=True),
    "/walkdowns/{number}/choose": Line(_STEPS["read in"], early=True),
    "/walkdowns/{number}/tell": Line(SIGNED),
    "/rules/runs": Line(SIGNED),
    "/rules/time-zone": Line(SITE, said={"zone": "Europe/Berlin", "reason": "as the plant"}),
    "/tablet/send/walkdowns": Line(TABLET),
    "/tablet/send/work-orders": Line(TABLET),
    "/tablet/photos": Line(TABLET),
    "/record/whole": Line(SIGNED),
} | dict.fromkeys(
    (
        "/sheets", "/sheets/in/{token}/columns", "/sheets/in/{token}/names",
        "/sheets/in/{token}/unclear", "/sheets/in/{token}/look", "/sheets/in/{token}/call-off",
        "/sheets/in/{token}/discard", "/sheets/in/{token}/store", "/sheets/decisions/undo",
        "/sheets/doubts/{number}/settle", "/work-orders/{number}/forms/{token}/take",
        "/work-orders/{number}/forms/{token}/choose",
    ),
    Line(SIGNED),
)  # fmt: skip
"""What is handed in, by its path."""

ACTS: dict[str, dict[str, Line]] = {
    "/changes/{number}/do/{key}": {
        "sift": Line(COORDINATOR), "find-like-for-like": Line(COORDINATOR),
        "describe": Line(SIGNED), "assess": Line(ENGINEER),
        "agree": Line(SIGNED, early=True, note="of the roles that the sifting asks"),
        "object": Line(SIGNED, early=True, note="of the roles that the sifting asks"),
        "check": Line(ENGINEER), "approve": Line(RESPONSIBLE),
        "send-back": Line(ENGINEER | RESPONSIBLE), "refuse": Line(RESPONSIBLE),
        "put-together": Line(COORDINATOR | RESPONSIBLE),
        "prove": Line(SIGNED, early=True, note="each proof by its roles, above"),
        "put-in-force": Line(RESPONSIBLE), "ask-for-the-renewal-of": Line(RESPONSIBLE),
        "call-off": Line(COORDINATOR, note="half-way: the responsible engineer"),
        "close": Line(COORDINATOR), "make-a-plan": Line(ENGINEER),
        "plan-the-way-back": Line(ENGINEER, early=True),
        "write-the-work-order": Line(WRITERS), "write-the-undo-order": Line(WRITERS),
    },
    "/plans/{number}/do/{key}": {"choose": Line(RESPONSIBLE)},
    "/work-orders/{number}/do/{key}": {
        "check": Line(ENGINEER), "plan": Line(PLANNERS), "give-out": Line(PLANNERS, early=True),
        "take-a-copy-back": Line(TAKERS, early=True), "take-a-form-back": Line(SIGNED),
        "job-before-is-done": Line(TAKERS), "plan-again": Line(ENGINEER),
    },
    "/work-orders/{number}/at/{tag:path}/{position}/{key}": {
        "read-as-found": Line(SIGNED), "read-after-a-round": Line(SIGNED),
        "read-as-left": Line(SIGNED), "stop-part-way": Line(SIGNED),
        "release": Line(_AT_UNIT["release"]), "accept": Line(_AT_UNIT["accept"], early=True),
        "accept-out-of-window": Line(_AT_UNIT["accept-out-of-window"], early=True),
        "compare": Line(_AT_UNIT["compare"]), "keep-as-it-is": Line(_AT_UNIT["keep-as-it-is"]),
        "release-hold": Line(SIGNED, early=True, note="of the roles that the order names"),
    },
    "/travel-stops/{key}": {"in": Line(SIGNED), "out": Line(SIGNED)},
    "/walkdowns/{number}/step/{act}": {
        name.replace(" ", "-"): Line(_STEPS[name], early=True)
        for name in ("read in", "take back", "review", "judge", "owners named", "give verdict",
                     "sign off")
    },
    "/findings/{number}/{act}": {
        name.replace(" ", "-").removeprefix("name-"): Line(roles, early=True)
        for name, roles in _FINDING.items()
    },
}  # fmt: skip
"""What is handed in at paths that end in the word of an act."""

KEYS: dict[str, tuple[str, ...]] = {
    "/changes/{number}/do/{key}": tuple(one.dashed for one in (*CHANGE_ACTS, *PLANNING_ACTS)),
    "/plans/{number}/do/{key}": (CHOOSE.dashed,),
    "/work-orders/{number}/do/{key}": tuple(one.dashed for one in ORDER_ACTS),
    "/work-orders/{number}/at/{tag:path}/{position}/{key}": tuple(one.dashed for one in UNIT_ACTS),
    "/travel-stops/{key}": (STOP_IN.dashed, STOP_OUT.dashed),
}
"""The words of acts that the desk knows, where it keeps them as such."""

BY_PROGRAMS: dict[str, str] = {
    "POST /api/v1/work-orders/{number}/readings": WRITE,
    "POST /api/v1/work-orders/{number}/returned-form": WRITE,
    "POST /api/v1/sheets/import": WRITE,
    "POST /api/v1/sheets/preview": READ,
}
"""Scope that programs need to hand something in; whatever is looked up asks for `read`."""


def routes() -> list[APIRoute]:
    """Return every route of the desk and of the machine interface."""
    every = (one for router in ROUTERS for one in router.routes)
    return [one for one in every if isinstance(one, APIRoute)]


def lines() -> Iterator[tuple[str, str, str, Line]]:
    """Yield method, path, word of the act if there is one, and line, for the desk."""
    yield from (("GET", path, "", line) for path, line in LOOKED_AT.items())
    yield from (("POST", path, "", line) for path, line in HANDED_IN.items())
    for path, acts in ACTS.items():
        yield from (("POST", path, key, line) for key, line in acts.items())


def is_for_programs(route: APIRoute) -> bool:
    """Return whether a route asks for a token."""
    return route.path.startswith(FOR_PROGRAMS) and route.path not in LOOKED_AT


def scope_declared(method: str, path: str) -> str:
    """Return the scope that the table says a program needs; a new way to write has none yet."""
    return READ if method == "GET" else BY_PROGRAMS.get(f"{method} {path}", "not declared")


def asked_of(route: APIRoute) -> str:
    """Return what a route itself asks of whoever comes."""
    gates = set(_gates(route.dependant))
    for gate, word in ((by_writing_token, WRITE), (by_token, READ), (signed_in, SIGNED)):
        if gate in gates:
            return word
    return ANYBODY


def _gates(dependant: object) -> Iterator[Callable[..., object]]:
    for one in getattr(dependant, "dependencies", ()):
        yield one.call
        yield from _gates(one)


def routes_sections() -> Iterable[str]:
    """Return the routes as tables for the page of permissions."""
    yield "## Addresses of the desk"
    yield (
        "Whoever is signed in looks at everything; what may be handed in is decided by the use\n"
        "case, the same as at the command line. `POST` hands in."
    )
    head = f"| Address | who | {' | '.join(Role)} |\n|---|---|{':-:|' * len(Role)}"
    yield "\n".join((head, *(_row(*line) for line in lines())))
    yield "## Addresses for programs"
    yield "A token acts for its owner and never for more than its scope."
    rows = [
        f"| {method} `{route.path}` | {scope_declared(method, route.path)} |"
        for route in routes() if is_for_programs(route)
        for method in sorted(route.methods or ())
    ]  # fmt: skip
    yield "\n".join(("| Address | scope |\n|---|---|", *rows))


def _row(method: str, path: str, key: str, line: Line) -> str:
    address = path.replace("{key}", key).replace("{act}", key) if key else path
    everybody = line.who if isinstance(line.who, str) else "roles"
    note = f"; {line.note}" if line.note else ""
    marks = ("●" if isinstance(line.who, str) or role in line.who else " " for role in Role)
    return f"| {method} `{address}` | {everybody}{note} | {' | '.join(marks)} |"
