"""A walk of the changed line in operation: out on a form, back with pictures, judged, closed.

Run it after the first run, on its folder: ``.venv/bin/python -m demo.drive_walkdown``.
"""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

from app.settings import REGISTER, open_register
from demo.drive import FOLDER
from demo.driver import Driver, play
from demo.plant.change import CHANGE_NUMBER
from demo.plant.people import holders
from demo.walker import Walk, fill, take_pictures
from supports.errors import BadInput
from supports.queries.walkdowns.findings import finding_views
from supports.queries.walkdowns.lookups import campaign_of, content_of_form, form_of
from supports.rules.walkdown.findings import FindingView
from supports.rules.walkdown.form import FormContent
from supports.vocabulary import Role

HOT, COLD = "WD-2026-HO-1", "WD-2026-HO-2"
"""Numbers of the walk in operation and of its other half."""
WALKED_ON = date(2026, 10, 6)
OPERATING = "operating, steady"
JAMMED, CONTRADICTED, MARKED, PAINTED_OVER = "PS-1021", "PS-1024", "PS-1023", "PS-1019"
"""A unit that does not move, one that two walkers read apart, one with a hand mark on its scale,
one whose plate nobody can read."""


def main() -> None:
    """Walk the plant that the first run left in its folder."""
    play("demo.drive_walkdown", FOLDER, walk_the_line)


def walk_the_line(folder: Path, register: str = "") -> None:
    """Take a campaign from its plan to its sign-off, and issue the form of its other half.

    Parameters
    ----------
    register
        Address of the register; without one it is the file in the folder.

    Raises
    ------
    BadInput
        The first run was not made in this folder.
    """
    where = register or str(folder / "register.db")
    if not register and not Path(where).is_file():
        raise BadInput(
            "there is no invented plant here", where=where,
            remedy="Make one with: python3 demo/first_run.py",
        )  # fmt: skip
    os.environ[REGISTER] = where
    driver = Driver(folder)
    form = _out(driver)
    _back(driver, form)
    _judged(driver)
    _findings(driver)
    _closed(driver)
    _other_half(driver)


def _out(driver: Driver) -> FormContent:
    planner, walker = holders(Role.PLANNER)[0], holders(Role.INSPECTOR)[0]
    driver.type(
        "walkdown", "plan", "Hot oil to the heater, in operation", "--on", f"{WALKED_ON}",
        "--state", OPERATING, "--after-change", CHANGE_NUMBER, "--number", HOT,
        "--reason", "first autumn with the new valve", person=planner, on="2026-10-01",
    )  # fmt: skip
    driver.type("walkdown", "package", HOT, "--into", _papers(driver), person=planner)
    driver.type("walkdown", "out", HOT, "--walker", walker, person=walker, on=f"{WALKED_ON}")
    with open_register(None).reading() as session:
        return content_of_form(form_of(session, campaign_of(session, HOT)))


def _papers(driver: Driver) -> str:
    return str(driver.folder / "papers")


def _kept(driver: Driver) -> str:
    return str(driver.folder / "photos")


def _walk() -> Walk:
    """Return what the walker sees: all as expected, but for what such a line has to show."""
    return Walk(
        walker=holders(Role.INSPECTOR)[0],
        day=WALKED_ON,
        state=OPERATING,
        pipe_temperature=288.0,
        pointers={JAMMED: 66.0},
        pictured=(CONTRADICTED, MARKED, PAINTED_OVER, JAMMED),
        cells={
            "PS-1014": {"Seen?": "no", "Not seen, because": "scaffold missing", "Condition": None},
            "PS-1018": {
                "Condition": "worn", "What is wrong": "fastener loose or missing",
                "How soon": "next outage", "Remarks": "lock nut backed off by two threads",
            },
            JAMMED: {"Condition": "worn", "Rod angle [°]": 3.5},
            MARKED: {"Found load": 21.5, "Remarks": "white paint mark at 21.5"},
            PAINTED_OVER: {
                "Found load": None, "Serial on the plate": None,
                "What is wrong": "plate not readable", "Remarks": "painted over",
            },
        },
    )  # fmt: skip


def _back(driver: Driver, form: FormContent) -> None:
    second = holders(Role.TECHNICIAN)[0]
    keeper, walk = holders(Role.REGISTER_KEEPER)[0], _walk()
    blank = Path(_papers(driver)) / f"{HOT}-walkdown-rev1.xlsx"
    filled, camera = driver.folder / "walked.xlsx", driver.folder / "camera"
    fill(blank, form, walk, filled)
    take_pictures(form, walk, camera)
    driver.type("walkdown", "return", HOT, str(filled), person=keeper, on="2026-10-08")
    driver.type(
        "walkdown", "key", HOT, CONTRADICTED, "--walker", second, "--on", f"{WALKED_ON}",
        "--state", OPERATING, "--pointer", "152", person=keeper,
    )  # fmt: skip
    driver.type(
        "walkdown", "choose", HOT, CONTRADICTED, "--walker", walk.walker,
        "--reason", "the picture of the pointer shows it", person=holders(Role.INSPECTOR)[1],
    )  # fmt: skip
    driver.type("walkdown", "photos", HOT, str(camera), "--store", _kept(driver), person=keeper)
    driver.type("walkdown", "read-in", HOT, person=keeper)


def _judged(driver: Driver) -> None:
    reviewer = holders(Role.INSPECTOR)[1]
    driver.type("walkdown", "review", HOT, person=reviewer, on="2026-10-09")
    driver.type("walkdown", "judge", HOT, person=reviewer)


def _raised() -> dict[tuple[str, str], FindingView]:
    """Return the findings by tag and code."""
    with open_register(None).reading() as session:
        held = finding_views(session, campaign_of(session, HOT))
    return {(one.tag, one.code): one for one in held}


def _findings(driver: Driver) -> None:
    coordinator, engineer = holders(Role.COORDINATOR)[0], holders(Role.STRESS_ENGINEER)[0]
    technician, reviewer = holders(Role.TECHNICIAN)[1], holders(Role.INSPECTOR)[1]
    raised = _raised()
    for one in raised.values():
        driver.type(
            "walkdown", "owner", one.number, engineer, "--due", "2026-12-18", person=coordinator,
            on="2026-10-12",
        )  # fmt: skip
    loose = raised["PS-1018", "fault-seen"].number
    driver.type("walkdown", "answer", loose, "tighten and lock the nut", person=engineer)
    driver.type(
        "walkdown", "done", loose, "nut tightened, new lock nut", person=technician,
        on="2026-10-20",
    )  # fmt: skip
    driver.type(
        "walkdown", "verify", loose, "nut tight, full thread", person=reviewer, on="2026-10-21"
    )
    driver.type("walkdown", "settle", loose, person=coordinator)
    marked = raised[MARKED, "set-without-record"].number
    driver.type(
        "walkdown", "accept", marked, "--until", "2027-03-31",
        "--reason", "the unit is replaced in the stop of spring", person=engineer,
    )  # fmt: skip


def _closed(driver: Driver) -> None:
    engineer, responsible = holders(Role.STRESS_ENGINEER)[1], holders(Role.RESPONSIBLE_ENGINEER)[0]
    driver.type(
        "walkdown", "owners-named", HOT, person=holders(Role.COORDINATOR)[0], on="2026-10-22"
    )
    verdict = f"{JAMMED} stands still: to be freed before the next start; the others as expected"
    driver.type("walkdown", "verdict", HOT, verdict, person=engineer)
    driver.type("walkdown", "close", HOT, person=responsible)
    driver.type("walkdown", "report", HOT, "--into", _papers(driver), person=responsible)


def _other_half(driver: Driver) -> None:
    planner = holders(Role.PLANNER)[0]
    driver.type(
        "walkdown", "plan", "Hot oil to the heater, shut down", "--on", "2026-11-03",
        "--state", "shut down, full", "--after-change", CHANGE_NUMBER, "--pair", HOT,
        "--number", COLD, "--reason", "other half of the pair", person=planner, on="2026-10-26",
    )  # fmt: skip
    driver.type(
        "walkdown", "package", COLD, "--into", _papers(driver), "--store", _kept(driver),
        person=planner,
    )  # fmt: skip
    driver.type("audit", "verify")


if __name__ == "__main__":
    main()
