"""One change from the wish to its closing in the browser, by seven people who each sign in.

The same line, people and troubles as in `drive_closing`: the wrong person approves and is refused,
a unit is left out of its window, a travel stop is found late. Everything is invented.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from fastapi import FastAPI

from app.settings import CLOCK, PERSON, REGISTER, fresh_key
from app.web.desk import make_desk
from app.web.keys import hashed
from app.web.visits import Desk
from demo.closing_line import CALCULATION, LINE, TAGS, Cast, cast, write_line, write_revision
from demo.drive_closing import CHANGE, ORDER, PIN, PLANT, RECORD
from demo.driver import Driver, begin_in
from supports.database import Register, sqlite_url
from supports.errors import SupportsError
from supports.operations.accounts import NewAccount, open_account
from supports.rules.workflow.record import FIVE_ITEMS

PASSWORD = "nine quiet hangers"  # noqa: S105  of invented people
WAIT = 30_000
"""How long a page may take [ms]."""
DRAINED = "shut down, drained"

Typed = Mapping[str, str]
Shot = Callable[[str, Any], None]


BEGINS = datetime.fromisoformat("2026-03-02T08:00:00")


@dataclass(slots=True)
class Clock:
    """The clock of the desk; the story moves it on from day to day."""

    now: datetime = BEGINS

    def __call__(self) -> datetime:
        """Return the moment."""
        return self.now

    def on(self, day: str) -> None:
        """Go on to the morning of a day."""
        self.now = datetime.fromisoformat(f"{day}T08:00:00")


def sign_in_name_of(person: str) -> str:
    """Return what somebody types to sign in."""
    return person.lower().replace(" ", ".")


def furnish(folder: Path) -> Register:
    """Fill a register with the line as it stands, the new calculation, the seven and accounts.

    It types commands, so the environment names the register afterwards.
    """
    begin_in(folder)
    driver, who = Driver(folder, "2026-03-02T08:00:00"), cast()
    driver.type("register", "create", "--plant", PLANT)
    for name, roles in who.roles.items():
        words = [word for role in roles for word in ("--role", str(role))]
        driver.type("people", "add", name, *words, person=who.checker)
    for book in (write_line(folder / "sheets"), write_revision(folder / "sheets")):
        driver.type("sheets", "import", str(book), "--reason", "first filling", person=who.checker)
    driver.type(
        "people", "deputy", who.checker, "--instead-of", who.approver, "--role",
        "responsible engineer", "--since", "2026-03-05", "--until", "2026-03-31",
        person=who.checker,
    )  # fmt: skip
    register = Register(sqlite_url(folder / "register.db"))
    for name in who.roles:
        sign_in = sign_in_name_of(name)
        account = NewAccount(name, sign_in, hashed(PASSWORD, sign_in))
        open_account(register, account, acting=who.checker, now=BEGINS)
    return register


@contextmanager
def kept_environment() -> Iterator[None]:
    """Put back what the commands of the setting up changed in the environment."""
    before = {name: os.environ.get(name) for name in (REGISTER, PERSON, CLOCK)}
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def desk_of(register: Register, clock: Clock) -> FastAPI:
    """Return a desk whose clock the story moves."""
    return make_desk(Desk(register, clock, fresh_key))


@dataclass(slots=True)
class Story:
    """Seven people in one browser, each with cookies of their own."""

    browser: Any
    address: str
    clock: Clock
    shot: Shot = lambda _, __: None
    size: tuple[int, int] = (1280, 900)
    pages: dict[str, Any] = field(default_factory=dict)
    signed_in: list[str] = field(default_factory=list)

    def page(self, person: str) -> Any:
        """Return the page that a person works in."""
        if person not in self.pages:
            width, height = self.size
            context = self.browser.new_context(
                base_url=self.address, viewport={"width": width, "height": height}
            )
            context.set_default_timeout(WAIT)
            self.pages[person] = context.new_page()
        return self.pages[person]

    def look(self, person: str, where: str) -> Any:
        """Go to a page; sign in where the desk asks for it."""
        page = self.page(person)
        page.goto(where)
        if "/sign-in" in page.url:
            self.sign_in(person, page)
        return page

    def sign_in(self, person: str, page: Any) -> None:
        """Sign somebody in on a page that asks for it."""
        page.get_by_label("Sign-in name").fill(sign_in_name_of(person))
        page.get_by_label("Password", exact=True).fill(PASSWORD)
        if not self.signed_in:
            self.shot("sign-in", page)
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_load_state()
        self.signed_in.append(person)

    def do(
        self, person: str, where: str, typed: Typed, button: str, *, shot: str = "",
        refused: bool = False,
    ) -> Any:  # fmt: skip
        """Fill a form in and hand it in; return the page that answers.

        Raises
        ------
        SupportsError
            The desk took what it was to refuse, or refused what it was to take.
        """
        page = self.look(person, where)
        for label, words in typed.items():
            _fill(page.locator("main").get_by_label(label, exact=True), words)
        if shot:
            self.shot(shot, page)
        page.locator("main").get_by_role("button", name=button, exact=True).click()
        page.wait_for_load_state()
        told = page.get_by_role("alert").all_inner_texts()
        if bool(told) != refused:
            raise SupportsError(
                "the story took another turn", where=where, found="; ".join(told) or "no refusal"
            )
        return page

    def close(self) -> None:
        """Leave the browser."""
        for page in self.pages.values():
            page.context.close()


def _fill(field: Any, words: str) -> None:
    if field.evaluate("one => one.tagName") == "SELECT":
        field.select_option(label=words)
    else:
        field.fill(words)


THE_CHANGE, THE_ORDER = f"/changes/{CHANGE}", f"/work-orders/{ORDER}"


def tell(story: Story) -> None:
    """Take the change from the wish to its closing."""
    who = cast()
    wish(story, who)
    signatures(story, who)
    order(story, who)
    work(story, who)
    late_stop(story, who)
    proofs(story, who)


def _act(
    story: Story, person: str, key: str, typed: Typed, button: str, *, shot: str = "",
    refused: bool = False,
) -> Any:  # fmt: skip
    where = f"{THE_CHANGE}/do/{key}"
    return story.do(person, where, typed, button, shot=shot, refused=refused)


def wish(story: Story, who: Cast) -> None:
    """Wish for a valve; it is sifted, described and assessed."""
    story.clock.on("2026-03-03")
    story.do(who.operations, "/changes/new", {
        "What is wished, in a few words": "Gate valve before the exchanger",
        "Why": "the exchanger cannot be isolated",
        "Lines touched": LINE,
        "Number, if the site gives its own": CHANGE,
        "What, row 1": "gate valve with hand wheel", "Mass, row 1": "300",
        "Along the line, row 1": "6.4", "Source, row 1": "valve data sheet",
        "What, row 2": "drain with double valves, filled", "Mass, row 2": "48",
        "Along the line, row 2": "6.9", "Source, row 2": "isometric",
    }, "Note it", shot="new-change")  # fmt: skip
    sifted = {"How deep to look": "full analysis",
              "Which part of the line feels it": "all three supports"}  # fmt: skip
    _act(story, who.coordinator, "sift", sifted, "Sift")
    record = {FIVE_ITEMS[name.replace("-", "_")]: words
              for name, words in RECORD.items()}  # fmt: skip
    _act(story, who.coordinator, "describe", record, "Write the record")
    story.clock.on("2026-03-04")
    page = _act(story, who.engineer, "assess", {
        "Calculation with the new loads": f"{CALCULATION} rev. B, full analysis",
        "What the new loads are to achieve": "pipe back to its level",
    }, "Assess every support")  # fmt: skip
    story.shot("every-support-judged", page)


def signatures(story: Story, who: Cast) -> None:
    """Check by another engineer, who is refused as a stand-in for the approver, who approves."""
    story.clock.on("2026-03-05")
    _act(story, who.checker, "check", {}, "Check", shot="check")
    remark = {"Remark or conditions": "as assessed"}
    page = _act(story, who.checker, "approve", remark, "Approve", refused=True)
    story.shot("refused", page)
    story.clock.on("2026-03-06")
    page = _act(story, who.approver, "approve", remark, "Approve")
    story.shot("cleared", page)


def order(story: Story, who: Cast) -> None:
    """Write the work order, plan it, check it against what was approved, give it out."""
    story.clock.on("2026-03-09")
    state = {"State of the line that the work needs": DRAINED}
    _act(story, who.coordinator, "write-the-work-order", state, "Write the work order")
    planned = {"People at work": "2", "Hours of the whole crew": "6", "Scaffold group": "SC-1"}
    story.do(who.coordinator, f"{THE_ORDER}/do/plan", planned,
             "Lay down crew, hours and what it needs")  # fmt: skip
    story.do(who.engineer, f"{THE_ORDER}/do/check", {}, "Check the figures")
    story.do(who.coordinator, f"{THE_ORDER}/do/give-out",
             {"Who gets a copy": "crew at the line"}, "Give out copies")  # fmt: skip


def _read(story: Story, person: str, tag: str, key: str, typed: Typed, button: str) -> Any:
    return story.do(person, f"{THE_ORDER}/at/{tag}/A/{key}", typed, button)


def work(story: Story, who: Cast) -> None:
    """Put a stop in, read, turn and read again; one unit is left out of its window."""
    first, second, _ = TAGS
    story.clock.on("2026-03-16")
    story.do(who.technician, "/travel-stops/in", {
        "Unit, as PS-12 or PS-12/B": second, "Number stamped on the pin": PIN,
        "Why it goes in": "weight comes off the line at the cut", "Who saw it": who.inspector,
    }, "A travel stop goes in")  # fmt: skip
    scale, pointer = "Load on the scale [kN]", "Pointer on its scale [mm]"
    for tag in TAGS:
        page = _read(story, who.technician, tag, "read-as-found",
                     {scale: "20.0", pointer: "40"}, "Read as found")  # fmt: skip
    page = story.look(who.technician, f"{THE_ORDER}/units/{first}/A")
    story.shot("unit-in-hand", page)
    for tag, load, turns in ((second, "21.3", "5.2"), (first, "21.4", "5.6")):
        typed = {scale: load, pointer: "40", "Read a second time by": who.inspector,
                 "Turns given": turns}  # fmt: skip
        page = _read(story, who.technician, tag, "read-as-left", typed, "Read as left")
    story.shot("out-of-window", page)
    _read(story, who.engineer, second, "accept", {}, "Accept as left")
    story.clock.on("2026-03-17")
    reason = "Reason, in your own words"
    why = "bolt is seized; 0.7 kN go to the next support, which has room for it"
    nozzle = "exchanger nozzle at 78 % with 21.4 kN, by revision B"
    for person, words in ((who.engineer, {reason: why, "Nozzle check": nozzle}),
                          (who.approver, {reason: "as the engineer says"})):  # fmt: skip
        page = _read(story, person, first, "accept-out-of-window", words, "Accept out of window")
    story.shot("work-order", story.look(who.coordinator, THE_ORDER))


def late_stop(story: Story, who: Cast) -> None:
    """Ask for start-up: a travel stop is still in, is found and taken out."""
    story.clock.on("2026-03-18")
    story.shot("start-up-no", story.look(who.operations, f"/start-up?line={LINE}"))
    story.do(who.technician, "/travel-stops/out", {
        "Which": f"{PIN} in {TAGS[1]}/A", "Remark": "found on the count",
        "Who saw it": who.operations, "Who saw that the unit is really free": who.inspector,
        "Where it was found, if away from its unit": "hanging beside the unit, pushed half out",
    }, "A travel stop comes out")  # fmt: skip


def proofs(story: Story, who: Cast) -> None:
    """Prove everything, take the copy back, close by somebody who turned nothing."""
    given = (
        ("built as designed", who.inspector, "walked with the isometric"),
        ("procedures in place", who.operations, "isolating procedure issued"),
        ("people told and trained", who.operations, "shift talk of 18 March"),
        ("travel stops counted by operations", who.operations, "walked, none in"),
        ("travel stops counted by maintenance", who.technician, "none in, board is full"),
        ("walk while shut down", who.inspector, "pointers on their marks"),
        ("walk in operation", who.inspector, "pointers on their hot marks"),
        ("drawings marked up", who.coordinator, "isometric and line list"),
        ("calculation stamped as built", who.engineer, "revision B, as built"),
        ("spares updated", who.coordinator, "gasket set and stem packing"),
    )
    for proof, person, note in given:
        typed = {"What is proved": proof, "What was seen, or where it is": note}
        _act(story, person, "prove", typed, "Prove")
    story.do(who.coordinator, f"{THE_ORDER}/do/take-a-copy-back", {}, "Take a copy back")
    story.shot("before-closing", story.look(who.coordinator, THE_CHANGE))
    _act(story, who.coordinator, "close", {}, "Close")
    story.shot("history", story.look(who.coordinator, f"{THE_CHANGE}/history"))
