"""A small line of springs for walkdowns, invented, in the register at once."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from app.settings import open_register
from supports.model import (
    Area,
    Assembly,
    Attachment,
    Line,
    Nameplate,
    SettingEvent,
    SupportPoint,
    SupportTag,
    Unit,
    UnitPlacement,
)
from supports.tags import matching_key
from tests.acceptance.site import Site

NOW = datetime(2031, 5, 4, 8)  # noqa: DTZ001  the register keeps UTC without zone
LINE = "L-7"
CONSTANT = {
    "scale_unit": "kN", "pointer_unit": "mm", "nameplate_load": 20e3, "range_low": 17e3,
    "range_high": 23e3, "total_travel": 0.2, "design_travel": -0.14, "cold_mark": 0.04,
    "hot_mark": 0.18, "zero_end": "top",
}  # fmt: skip
"""200 mm of travel counted from the top, 140 mm of it used, down when hot."""
VARIABLE = {
    "scale_unit": "kN", "rate": 80e3, "working_low": 6e3, "working_high": 14e3,
    "hot_load": 9.6e3, "cold_load": 11.04e3, "movement": 0.018,
}  # fmt: skip


def inspectors(site: Site) -> None:
    """Enter a second inspector beside the one that the site has."""
    site.type("people", "add", "Person I2", "--role", "inspector", "--initials", "I2", person="KK")


def add_support(session: Any, tag: str, order: int, kind: str, **more: Any) -> int | None:
    """Add a support on the line; return its unit's id, if it has a plate."""
    plate, setting = more.pop("plate", None), more.pop("setting", None)
    point = SupportPoint(
        area_id=more.pop("area", None), kind=kind, in_service="in place", floor="level 1",
        grid=f"row H, bay {order}", criticality="A", **{"height_above_floor": 1.0, **more},
    )  # fmt: skip
    session.add(point)
    session.flush()
    session.add(SupportTag(point_id=point.id, tag=tag, matching_key=matching_key(tag)))
    assembly = Assembly(point_id=point.id, arrangement="single")
    session.add(assembly)
    session.flush()
    line = session.query(Line).filter_by(number=LINE).one_or_none()
    if line is not None:
        session.add(Attachment(point_id=point.id, line_id=line.id, order_along=order))
    if plate is None:
        return None
    unit = Unit(kind=kind, serial=f"SN-{tag}")
    session.add(unit)
    session.flush()
    session.add(UnitPlacement(unit_id=unit.id, assembly_id=assembly.id, position="A"))
    session.add(Nameplate(unit_id=unit.id, **plate))
    if setting is not None:
        session.add(
            SettingEvent(
                unit_id=unit.id, happened_on=date(2021, 5, 5), load=setting, method="scale",
                plant_state="shut down, drained", set_by="N. N.",
            )
        )  # fmt: skip
    return int(unit.id)


def fill(site: Site) -> None:
    """Put line L-7 in: six constants, one variable, one rest."""
    with open_register(site.url).writing("tests", "", NOW, action="fill") as writing:
        session = writing.session
        area = Area(code="N")
        session.add(area)
        session.flush()
        session.add(
            Line(number=LINE, area_id=area.id, service="hot oil", operating_temperature=563.15)
        )
        session.flush()
        for number in range(1, 7):
            add_support(
                session, f"C-{number}", number, "constant hanger", plate=CONSTANT, setting=20e3,
                area=area.id,
            )  # fmt: skip
        add_support(
            session, "V-7", 7, "variable hanger", plate=VARIABLE, setting=11.04e3, area=area.id
        )
        add_support(session, "R-8", 8, "rest", area=area.id)
    inspectors(site)


def planned(site: Site, state: str = "operating, steady", **more: str) -> str:
    """Plan a campaign on the line, issue it, take it out with T1; return its number."""
    words = [word for name, value in more.items() for word in (f"--{name}", value)]
    said = site.type(
        "walkdown", "plan", "yearly walk", "--on", "2031-05-06", "--state", state, "--line", LINE,
        *words, person="IN",
    )  # fmt: skip
    number = said.split()[0]
    site.type("walkdown", "package", number, "--into", str(site.folder), person="IN")
    site.type("walkdown", "out", number, "--walker", "Person T1", person="IN")
    return number


def key(site: Site, number: str, tag: str, *words: str, walker: str = "Person T1") -> str:
    """Key one row in on Friday 9 May that was walked on Tuesday 6 May."""
    said = ("--on", "2031-05-06", "--state", "operating, steady", *words)
    return site.type(
        "walkdown", "key", number, tag, "--walker", walker, *said, person="FO", on="2031-05-09"
    )


def key_rest(site: Site, number: str, done: set[str], why: str = "scaffold missing") -> None:
    """Say of all other rows why they were not seen."""
    tags = {*(f"C-{n}" for n in range(1, 7)), "V-7", "R-8"}
    for tag in sorted(tags - done):
        key(site, number, tag, "--seen", "no", "--why-not", why)


def reviewed_and_judged(site: Site, number: str, on: str = "2031-05-12") -> str:
    """Read in, review by the second inspector, judge; return what judging prints."""
    site.type("walkdown", "read-in", number, person="FO", on=on)
    site.type("walkdown", "review", number, person="I2", on=on)
    return site.type("walkdown", "judge", number, person="I2", on=on)
