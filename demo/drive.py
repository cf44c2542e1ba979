"""Drive the invented plant as its users would: every step is a command that anybody could type."""

from __future__ import annotations

from pathlib import Path

from demo.driver import Driver, begin_in, play, record_words
from demo.plant.change import CHANGE_NUMBER, CHANGE_TITLE, write_change
from demo.plant.demo_line import DEMO_NUMBER
from demo.plant.people import holders, people
from demo.plant.plant import write_plant
from supports.vocabulary import Role

FOLDER = "demo-plant"
PLANT = "Marrowfield Works"
AIM = "pipe back to its level, loads of the revised calculation"
CONDITIONS = (
    "Re-set by a plan that keeps every limit. The overloaded rod and the unreadable plate are "
    "dealt with under a new assessment before the line is heated up."
)
PLAN = "PL-2026-002"
PROP_AT = "36.95 m"
PROP_WHY = "before the weight of the valve is let go, as the plan asks"
LEVEL_AIM, LIMITS_AIM = "pipe back to its level", "every limit kept, nothing more"
WHY = (
    "the level aim needs another unit at PS-1020; this one keeps nozzle, rod and ranges at both "
    "ends of every friction band, with one prop, on the fewest scaffolds"
)


STRETCH = "from the riser to the heater, all of the long run"
RECORD = {
    "technical-basis": "valve isolates the heater; loads by the revised full analysis",
    "safety-and-health": "stored energy while re-setting; nozzle loads of pump and heater checked",
    "operating-procedures": "the procedure for isolating the heater names the new valve",
    "time-period": "permanent, built in the stop of spring",
    "authorization": "responsible engineer, after stress and civil engineers",
}
"""The five items of the change record, by option."""


def main() -> None:
    """Write the plant, import it, take one change through, leave the papers on disk."""
    play("supports-demo", FOLDER, drive)


def drive(folder: Path, register: str = "") -> None:
    """Take the invented plant from spreadsheets to a re-setting pack.

    Parameters
    ----------
    register
        Address of an empty PostgreSQL database; without one the register is a file in the folder.
    """
    begin_in(folder, register)
    sheets = write_plant(folder / "sheets")
    change_file = write_change(folder / "sheets")
    driver = Driver(folder)
    _set_up(driver)
    _import(driver, sheets)
    _change(driver, change_file)
    _plan(driver)
    _approval(driver)
    _papers(driver)
    _closing_words(folder)


def _keeper() -> str:
    return holders(Role.REGISTER_KEEPER)[0]


def _set_up(driver: Driver) -> None:
    driver.type("register", "create", "--plant", PLANT)
    keeper = _keeper()
    everybody = sorted(people(), key=lambda person: person.name != keeper)
    for person in everybody:
        roles = [word for role in person.roles for word in ("--role", str(role))]
        initials = ["--initials", person.initials]
        driver.type("people", "add", person.name, *roles, *initials, person=keeper)


def _import(driver: Driver, sheets: list[Path]) -> None:
    for path in sheets:
        driver.type(
            "sheets", "import", str(path), "--accept-the-good", "--reason", "first filling",
            person=_keeper(),
        )  # fmt: skip


def _change(driver: Driver, change_file: Path) -> None:
    asks, coordinator = holders(Role.STRESS_ENGINEER)[0], holders(Role.COORDINATOR)[0]
    reason = "the valve isolates the heater for cleaning without draining the whole line"
    driver.type(
        "change", "new", CHANGE_TITLE, "--line", DEMO_NUMBER, "--number", CHANGE_NUMBER,
        "--reason", reason, person=coordinator,
    )  # fmt: skip
    driver.type(
        "change", "sift", CHANGE_NUMBER, "--depth", "full analysis", "--stretch", STRETCH,
        "--needs", "civil engineer", person=coordinator,
    )  # fmt: skip
    driver.type("change", "describe", CHANGE_NUMBER, *record_words(RECORD), person=coordinator)
    driver.type("change", "weights", CHANGE_NUMBER, str(change_file), person=asks)
    driver.type("sheets", "import", str(change_file), person=asks)
    driver.type(
        "change", "assess", CHANGE_NUMBER, "--calculation", "CALC-1203", "--revision", "B",
        "--aim", AIM, person=asks,
    )  # fmt: skip


def _plan(driver: Driver) -> None:
    """Plan twice: the first aim cannot be reached with the units there are, the second can."""
    asks = holders(Role.STRESS_ENGINEER)[0]
    words = ("plan", "make", CHANGE_NUMBER, "--line", DEMO_NUMBER, "--aim")
    driver.type(*words, LEVEL_AIM, "--alone", person=asks)
    driver.type(*words, LIMITS_AIM, person=asks)


def _approval(driver: Driver) -> None:
    checks, approver = holders(Role.STRESS_ENGINEER)[1], holders(Role.RESPONSIBLE_ENGINEER)[0]
    driver.type("change", "sign", CHANGE_NUMBER, "check", person=checks, on="2026-02-18")
    driver.type(
        "change", "agree", CHANGE_NUMBER, "--reason", "steel at PS-1023 to be looked at again",
        person=holders(Role.CIVIL_ENGINEER)[0],
    )  # fmt: skip
    driver.type(
        "change", "sign", CHANGE_NUMBER, "approve", "--reason", CONDITIONS,
        person=approver, on="2026-02-19",
    )  # fmt: skip
    driver.type("plan", "choose", PLAN, "1", "--why", WHY, person=approver)


def _papers(driver: Driver) -> None:
    planner = holders(Role.PLANNER)[0]
    papers = str(driver.folder / "papers")
    driver.type("change", "summary", CHANGE_NUMBER, "--into", papers, person=planner)
    driver.type("plan", "paper", PLAN, "--into", papers, person=planner)
    driver.type("work-order", "write", CHANGE_NUMBER, person=planner, on="2026-02-20")
    driver.type("work-order", "check", "WO-2026-001", person=holders(Role.STRESS_ENGINEER)[1])
    driver.type(
        "work-order", "give-out", "WO-2026-001", "--to", "crew at the line", "--to", "control room",
        person=planner,
    )  # fmt: skip
    driver.type("work-order", "show", "WO-2026-001", person=planner)
    driver.type("work-order", "pack", "WO-2026-001", "--into", papers, person=planner)
    driver.type(
        "props", "in", DEMO_NUMBER, "P-01", "--at", PROP_AT, "--reason", PROP_WHY,
        person=holders(Role.FOREMAN)[0], on="2026-03-02",
    )  # fmt: skip
    driver.type("stops", "start-up", "--line", DEMO_NUMBER)
    driver.type("audit", "verify")


def _closing_words(folder: Path) -> None:
    technician = holders(Role.TECHNICIAN)[0]
    print(
        f"\nThe register is {folder / 'register.db'}; the sheets it came from, the load-change "
        f"summary, the re-set plan and the re-setting pack are beside it in {folder}.\n"
        "Loads come from the calculation named; limits are proposals until the site confirms "
        "them. Local codes and licensed practice decide.\n"
        "Try next, as the technician who reads the scale before touching anything:\n\n"
        f"  supports work-order as-found WO-2026-001 PS-1024 --load '20.0 kN' --pointer '41 mm' "
        f"--plant-state 'shut down, full' --register {folder / 'register.db'} "
        f"--as '{technician}'\n"
    )


if __name__ == "__main__":
    main()
