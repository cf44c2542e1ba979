"""Three workbooks of one invented plant as plants keep them: no silent guess, then in by the steps.

The workbooks come from `tests.ugly`, which knows nothing of the importers. Expected values are
worked out by hand beside each check; lbf, kgf and in are the exact ones of NIST SP 811, appendix B.
"""

from __future__ import annotations

import pytest
from sqlalchemy import func, select

from app.settings import open_register
from importers.reading import read
from supports.audit import first_break
from supports.model import Reading, RequiredLoad, SourceRow, SupportTag
from tests.ugly.workbooks import LINE, design_office, inspection, stress_group

LBF, KGF, INCH = 4.4482216152605, 9.80665, 0.0254


def taken(path):
    """Return what a workbook gave: values by subject and key, findings by code and cell."""
    result = read(path)
    values = {(r.subject, *r.key): dict(r.values) for r in result.records}
    return values, {(f.code, f.place.cell) for f in result.findings}


def test_the_design_office_is_read_without_a_silent_guess(tmp_path):
    values, found = taken(design_office(tmp_path / "design.xlsx"))
    line = values["line", LINE]
    assert line["pipe_mass_per_length"] == 79.7
    assert line["insulation_mass_per_length"] == 24.0
    assert line["operating_temperature"] == pytest.approx(538 + 273.15)
    assert "line" not in values["support", "PS-2102"]
    assert values["support", "PS-2102"]["rod_length"] == pytest.approx((7 * 12 + 10.5) * INCH)
    assert values["support", "PS-2103"]["rod_length"] == pytest.approx(2.65)
    assert not {"steel_elevation", "rod_length"} & set(values["support", "PS-2101"])
    assert not {"rod_length", "kind"} & set(values["support", "PS-2104"])
    assert "elevation" not in values["support", "PS-2105"]
    assert values["hardware", "PS-2101", "all", "3"]["rated_load"] == pytest.approx(60e3)
    assert values["hardware", "PS-2103", "all", "2"]["rated_load"] == pytest.approx(13_500 * LBF)
    assert values["unit", "PS-2101", "A"]["serial"] == "0042"
    assert {
        ("heading-from-above", "B5"), ("totals-row", "row 9"), ("ditto", "B6"),
        ("struck-through", "E5"), ("struck-through", "F5"), ("type-ambiguous", "C8"),
        ("number-ambiguous", "F8"), ("number-ambiguous", "D9"), ("tag-lookalike", "A12"),
        ("former-tag-in-comment", "A7"), ("hidden-rows", ""), ("totals-row", "row 13"),
        ("merged-name", "A3"), ("headings-repeated", "row 6"), ("number-ambiguous", "F7"),
        ("area-in-title", ""),
    } <= found  # fmt: skip


def test_the_walk_of_a_1904_workbook_is_read_without_a_silent_guess(tmp_path):
    values, found = taken(inspection(tmp_path / "walk.xlsx"))
    first = values["reading", "PS-2101", "A", "2011-04-12", "N. N.", ""]
    assert (first["scale_load"], first["pointer"]) == (22e3, pytest.approx(0.055))
    third = values["reading", "PS-2103", "A", "2011-04-12", "N. N.", ""]
    assert third["scale_load"] == pytest.approx(1223 * KGF)
    assert not {"pointer", "plant_state"} & set(third)
    assert not any(key[:2] == ("reading", "PS-2102") for key in values)
    plate = values["nameplate", "PS-2102", "A"]
    assert plate["nameplate_load"] == pytest.approx(4721 * LBF)
    assert plate["total_travel"] == pytest.approx(6 * INCH)
    assert ("nameplate", "PS-2103", "A") not in values
    assert {
        ("days-from-1904", ""), ("unit-ambiguous", "B5"), ("ditto", "F6"), ("word-not-known", "C7"),
        ("value-uncertain", "E7"), ("zero-or-nines", "D8"), ("tag-lookalike", "A8"),
        ("hidden-rows", ""), ("totals-row", "row 9"), ("unit-differs-from-heading", "D6"),
    } <= found  # fmt: skip


CONFIRMED = (
    "--sheet 'Restraint summary' --as-sheet 'Calculation loads' --read 'Support=Support tag' "
    "--read 'Condition=Case kind' --constant Calculation=S-7031 --constant Revision=C "
    f"--constant 'Line number={LINE}' --constant Case=operating --up +y --east +x --north=-z "
    "--forces-on support --force x=FX --force y=FY --force z=FZ --force-unit lbf "
    "--movement 'y=DY (in)' --movement-unit in"
)


def test_all_three_come_in_by_the_steps_and_are_joined_by_a_person(site):
    office = design_office(site.folder / "design.xlsx")
    stress = stress_group(site.folder / "stress.xlsx")
    walk = inspection(site.folder / "walk.xlsx")
    brought = site.say(f"sheets import '{office}' --source office --accept-the-good", person="KK")
    assert "values wait for an answer" in brought

    assert "sign and axes are to be declared" in site.say(f"sheets propose '{stress}'")
    site.say(f"sheets confirm '{stress}' --source stress {CONFIRMED}", person="KK")
    lists = site.say(f"sheets join '{stress}' --source stress")
    assert "matched: 2" in lists
    assert "PS 2102 (Restraint summary row 6) = PS-2102: tag after cleaning" in lists
    assert "differs in O/0 or I/1 only" in lists
    assert "to be decided: 2" in lists
    same = "sheets decide PS-2I04 --source stress --same-as PS-2104 --reason 'on the isometric'"
    site.say(same, person="KK")
    site.say(f"sheets import '{stress}' --source stress --accept-the-good", person="KK")

    site.say("sheets decide PS-21O1 --source walk --same-as PS-2101 --reason plate", person="KK")
    site.say(f"sheets import '{walk}' --source walk --accept-the-good", person="KK")
    again = site.say(f"sheets import '{walk}' --source walk --accept-the-good", person="KK")
    assert "Nothing to store" in again

    register = open_register(site.url)
    with register.reading() as session:
        loads = session.execute(
            select(SupportTag.tag, RequiredLoad.load, RequiredLoad.movement_up)
            .join(SupportTag, SupportTag.point_id == RequiredLoad.point_id)
            .where(SupportTag.valid_to.is_(None))
        ).all()
        wanted = {
            "PS-2101": (4946 * LBF, 2.25 * INCH), "PS-2102": (4721 * LBF, 1.5 * INCH),
            "PS-2103": (2697 * LBF, 0.75 * INCH), "PS-2104": (1124 * LBF, 0.0),
        }  # fmt: skip
        assert {tag: (load, up) for tag, load, up in loads} == {
            tag: (pytest.approx(load), pytest.approx(up)) for tag, (load, up) in wanted.items()
        }
        assert session.scalar(select(func.count(Reading.id))) == 3
        texts = [row.cells.get("scale_load") for row in session.scalars(select(SourceRow))]
        assert ["D", "1223 kgf", "kN"] in texts
        assert first_break(session) is None
    register.close()
