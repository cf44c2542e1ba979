"""One change from request to closing, by seven people, with what goes wrong on the way.

The wrong person approves and is refused; a unit is left out of its window and two roles accept it
with a nozzle check; a travel stop is found late and blocks the heat-up. At the end the record is
printed as an auditor would ask for it. Everything is invented.
"""

from __future__ import annotations

from pathlib import Path

from demo.closing_line import CALCULATION, LINE, TAGS, Cast, cast, write_line, write_revision
from demo.driver import Driver, begin_in, play, record_words
from supports.errors import NotAllowed, NotReady, SupportsError

FOLDER = "demo-closing"
PLANT = "Marrowfield Works"
CHANGE, ORDER = "CH-2026-031", "WO-2026-001"
RECORD = {
    "technical-basis": "gate valve for isolating the exchanger; loads by revision B",
    "safety-and-health": "stored energy while re-setting; nozzle of the exchanger checked",
    "operating-procedures": "isolating procedure names the new valve",
    "time-period": "permanent",
    "authorization": "responsible engineer",
}
DRAINED = ("--plant-state", "shut down, drained")
PIN = "TP-114"
"""Number of the travel stop that is forgotten."""


def main() -> None:
    """Play the change in a folder of its own."""
    play("supports-demo-closing", FOLDER, close_a_change)


def close_a_change(folder: Path, register: str = "") -> None:
    """Play the change from request to closing and print its history.

    Parameters
    ----------
    register
        Address of an empty PostgreSQL database; without one the register is a file in the folder.
    """
    begin_in(folder, register)
    driver, who = Driver(folder, "2026-03-02T08:00:00"), cast()
    _set_up(driver, who)
    _request(driver, who)
    _signed(driver, who)
    _given_out(driver, who)
    _turned(driver, who)
    _out_of_window(driver, who)
    _stop_found_late(driver, who)
    _proved_and_closed(driver, who)
    _audited(driver)


def _set_up(driver: Driver, who: Cast) -> None:
    _say("The register, the seven people, and the line as it stands")
    driver.type("register", "create", "--plant", PLANT)
    for name, roles in who.roles.items():
        words = [word for role in roles for word in ("--role", str(role))]
        driver.type("people", "add", name, *words, person=who.checker)
    book = write_line(driver.folder / "sheets")
    driver.type("sheets", "import", str(book), "--reason", "first filling", person=who.checker)


def _request(driver: Driver, who: Cast) -> None:
    _say("1 - somebody wishes for something; it is sifted, described, weighed and assessed")
    driver.type(
        "change", "new", "Gate valve before the exchanger", "--line", LINE, "--number", CHANGE,
        "--reason", "the exchanger cannot be isolated", person=who.operations, on="2026-03-03",
    )  # fmt: skip
    driver.type(
        "change", "sift", CHANGE, "--depth", "full analysis", "--stretch", "all three supports",
        person=who.coordinator,
    )  # fmt: skip
    driver.type("change", "describe", CHANGE, *record_words(RECORD), person=who.coordinator)
    book = str(write_revision(driver.folder / "sheets"))
    driver.type("sheets", "import", book, person=who.checker)
    driver.type("change", "weights", CHANGE, book, person=who.engineer)
    driver.type(
        "change", "assess", CHANGE, "--calculation", CALCULATION, "--revision", "B", "--aim",
        "pipe back to its level", person=who.engineer, on="2026-03-04",
    )  # fmt: skip


def _signed(driver: Driver, who: Cast) -> None:
    _say("2 - checked by another engineer; who checked stands in for the approver, and is refused")
    driver.type("change", "sign", CHANGE, "check", person=who.checker, on="2026-03-05")
    driver.type(
        "people", "deputy", who.checker, "--instead-of", who.approver, "--role",
        "responsible engineer", "--since", "2026-03-05", "--until", "2026-03-31",
        person=who.checker,
    )  # fmt: skip
    approve = ("change", "sign", CHANGE, "approve", "--reason", "as assessed")
    _refused(driver, *approve, person=who.checker)
    driver.type(*approve, person=who.approver, on="2026-03-06")


def _given_out(driver: Driver, who: Cast) -> None:
    _say("3 - the work order, checked against what was approved, given out by numbered copies")
    driver.type("work-order", "write", CHANGE, person=who.coordinator, on="2026-03-09")
    driver.type(
        "work-order", "plan", ORDER, "--crew", "2", "--hours", "6", "--scaffold", "SC-1",
        person=who.coordinator,
    )  # fmt: skip
    driver.type("work-order", "check", ORDER, person=who.engineer)
    driver.type("work-order", "give-out", ORDER, "--to", "crew at the line", person=who.coordinator)
    driver.type("work-order", "show", ORDER, person=who.technician)


def _turned(driver: Driver, who: Cast) -> None:
    _say("4 - read before anything is touched, a travel stop in, turned, read by a second person")
    first, second, third = TAGS
    driver.type(
        "stops", "in", second, PIN, "--reason", "weight comes off the line at the cut",
        "--witness", who.inspector, person=who.technician, on="2026-03-16",
    )  # fmt: skip
    for tag in TAGS:
        _as_found(driver, who, tag, "20.0 kN")
    _as_left(driver, who, second, "21.3 kN", turns="5.2")
    driver.type("work-order", "accept", ORDER, second, person=who.engineer)
    _as_left(driver, who, first, "21.4 kN", turns="5.6", note="bolt went hard after 5 turns")
    driver.type("work-order", "show", ORDER, person=who.technician)
    print(f"\n({third} is read and left as it is.)")


def _as_found(driver: Driver, who: Cast, tag: str, load: str) -> None:
    read = ("--load", load, "--pointer", "40 mm", *DRAINED)
    driver.type("work-order", "as-found", ORDER, tag, *read, person=who.technician)


def _as_left(driver: Driver, who: Cast, tag: str, load: str, *, turns: str, note: str = "") -> None:
    more = ("--note", note) if note else ()
    driver.type(
        "work-order", "as-left", ORDER, tag, "--load", load, "--pointer", "40 mm", *DRAINED,
        "--turns", turns, "--second-reader", who.inspector, *more, person=who.technician,
    )  # fmt: skip


def _out_of_window(driver: Driver, who: Cast) -> None:
    _say("5 - 21.4 for 22.1 kN is out of its window: two roles, two people, a nozzle check")
    accept = ("work-order", "accept", ORDER, TAGS[0])
    reason = ("--reason", "bolt is seized; 0.7 kN go to the next support, which has room for it")
    _refused(driver, *accept, person=who.inspector)
    nozzle = ("--nozzle-check", "exchanger nozzle at 78 % with 21.4 kN, by revision B")
    driver.type(*accept, *reason, *nozzle, person=who.engineer, on="2026-03-17")
    driver.type(*accept, "--reason", "as the engineer says", person=who.approver)


def _stop_found_late(driver: Driver, who: Cast) -> None:
    _say("6 - may we heat up? A travel stop is still in, and operations cannot count it out")
    driver.type("stops", "start-up", "--line", LINE, person=who.operations, on="2026-03-18")
    count = ("change", "prove", CHANGE, "travel stops counted by operations", "--note", "walked")
    _refused(driver, *count, person=who.operations)
    driver.type(
        "stops", "out", TAGS[1], PIN, "--found", "hanging beside the unit, pushed half out",
        "--freed-by", who.inspector, "--witness", who.operations, "--reason", "found on the count",
        person=who.technician,
    )  # fmt: skip
    driver.type(*count, person=who.operations)
    driver.type("stops", "start-up", "--line", LINE, person=who.operations)


def _proved_and_closed(driver: Driver, who: Cast) -> None:
    _say("7 - proved before start-up and after it, and closed by somebody who turned nothing")
    for proof, person, note in (
        ("built as designed", who.inspector, "walked with the isometric"),
        ("procedures in place", who.operations, "isolating procedure issued"),
        ("people told and trained", who.operations, "shift talk of 18 March"),
        ("travel stops counted by maintenance", who.technician, "none in, board is full"),
        ("walk while shut down", who.inspector, "pointers on their marks"),
    ):
        driver.type("change", "prove", CHANGE, proof, "--note", note, person=person)
    _refused(driver, "change", "close", CHANGE, person=who.coordinator)
    for proof, person, note in (
        ("walk in operation", who.inspector, "pointers between 178 and 181 mm"),
        ("drawings marked up", who.coordinator, "isometric sheet 4, red"),
        ("calculation stamped as built", who.engineer, "with 21.4 kN at the first support"),
        ("spares updated", who.coordinator, "no change of spares"),
    ):
        driver.type(
            "change", "prove", CHANGE, proof, "--note", note, person=person, on="2026-03-30"
        )
    driver.type("work-order", "copy", ORDER, "1", "back", person=who.coordinator)
    driver.type("change", "close", CHANGE, person=who.coordinator)


def _audited(driver: Driver) -> None:
    _say("8 - the auditor asks: who asked, worked out, checked, approved, turned, read, proved?")
    driver.type("change", "history", CHANGE, on="2026-06-01")
    driver.type("audit", "refused")
    driver.type("audit", "as-of", "2026-03-17", "--change", CHANGE)
    driver.type("audit", "verify")
    print(
        f"\nThe register is {driver.folder / 'register.db'}. Everything in it is invented; whether "
        "and how a unit is touched is decided by local codes and licensed engineers."
    )


def _say(words: str) -> None:
    print(f"\n--- {words}")


def _refused(driver: Driver, *words: str, person: str) -> None:
    """Type a command that the register refuses, and print its answer as the terminal would."""
    try:
        driver.type(*words, person=person)
    except (NotAllowed, NotReady) as error:
        print(f"supports: {error}  (exit code {error.exit_code})")
    else:
        raise SupportsError("what was to be refused was taken", found=" ".join(words))


if __name__ == "__main__":
    main()
