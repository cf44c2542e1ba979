"""Four files of one plant joined: four lists, decisions by name, renames, and back again."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from app.settings import open_register
from supports.errors import BadInput, InputHasFaults, NotAllowed, NotFound, NotReady
from supports.model import Nameplate, Reading, RequiredLoad, SupportPoint, SupportTag
from supports.queries.lookups import point_of
from tests.acceptance.sheets import CALCULATIONS, LINES, NAMEPLATES, UNITS, plate
from tests.acceptance.site import Site

SUPPORTS = ["Support tag", "Line number", "Order along line", "Support type", "Calculation node"]
READINGS = ["Support tag", "Unit position", "Read on", "Scale load [kN]", "Read by"]


def support(tag: str, order: int, node: str) -> list[object]:
    return [tag, "L-1", order, "constant hanger", node]


@pytest.fixture
def office(site) -> Site:
    """Give a site filled from the design office: four hangers with their units and nodes."""
    tags = ("PS-1024", "PS-1025", "PS-1026", "PS-1027")
    rows = [support(tag, n, str(100 * n)) for n, tag in enumerate(tags, start=1)]
    units = [[tag, "A", "constant hanger", f"S-{n}"] for n, tag in enumerate(tags, start=1)]
    site.bring(
        "office.xlsx",
        {
            "Lines": [LINES, ["L-1", "N", "12"]],
            "Supports": [SUPPORTS, *rows],
            "Units": [UNITS, *units],
            "Calculations": [CALCULATIONS, ["C-1", "A", "full analysis", "issued", "2030-05-01"]],
            "Calculation loads": [
                [*LOADS, "Support tag"], ["C-1", "A", "L-1", "W", "operating", 20.0, "PS-1027"],
            ],
        },
    )  # fmt: skip
    return site


LOADS = ["Calculation", "Revision", "Line number", "Case", "Case kind",
         "Load, carrying positive [kN]"]  # fmt: skip


def reading(tag: str, load: float = 20.0, day: str = "2031-03-01") -> list[object]:
    return [tag, "A", day, load, "N. N."]


def inspection(site: Site, *rows: list[object], name: str = "walk.xlsx") -> str:
    return str(site.write(name, {"Readings": [READINGS, *rows]}))


def tags_read(site: Site) -> list[str]:
    from supports.queries.existing import today

    with open_register(site.url).reading() as session:
        return sorted(key[0] for subject, key in today(session).values if subject == "reading")


def test_the_four_lists(office):
    path = inspection(
        office, reading("PS-1024"), reading("ps\u20131025 "), reading("PS-1O26"), reading("ZZ-9")
    )
    said = office.type("sheets", "join", path, "--source", "inspection").splitlines()
    assert "matched: 1" in said
    assert "  PS-1024 (Readings row 2) = PS-1024: present tag" in said
    assert "matched after cleaning: 1" in said
    assert any("= PS-1025: tag after cleaning" in line for line in said)
    assert "to be decided: 1" in said
    assert "      PS-1026: differs in O/0 or I/1 only" in said
    assert "in the file, not in the register: 1" in said
    assert "in the register, not in the file: 2" in said
    assert said[-1].startswith("Next: supports sheets decide 'PS-1O26' --source 'inspection'")


def test_what_is_not_certain_is_stored_by_nobody_until_a_person_decides(office):
    path = inspection(office, reading("PS-1024"), reading("PS-1O26"), reading("ZZ-9"))
    with pytest.raises(InputHasFaults):
        office.type("sheets", "import", path, "--source", "inspection", person="KK")
    assert tags_read(office) == []
    with pytest.raises(NotAllowed, match="nobody is named"):
        office.type("sheets", "decide", "PS-1O26", "--same-as", "PS-1026")
    for tag, known in (("PS-1O26", "PS-1026"), ("ZZ-9", "PS-1027")):
        office.type(
            "sheets", "decide", tag, "--source", "inspection", "--same-as", known,
            "--reason", "seen on site", person="IN",
        )  # fmt: skip
    said = office.type("sheets", "import", path, "--source", "inspection", person="KK")
    assert "join-to-decide" not in said
    assert tags_read(office) == ["PS-1024", "PS-1026", "PS-1027"]
    newer = inspection(office, reading("PS-1O26", day="2032-03-01"), name="walk 2032.xlsx")
    silent = office.type(
        "sheets", "import", newer, "--source", "inspection", person="KK", on="2032-05-01"
    )
    assert silent.splitlines()[1:] == [
        "  reading            1 create      0 change      0 same",
        "Stored.",
    ]


def test_a_decision_is_undone_by_a_new_one_and_both_stay_known(office):
    path = inspection(office, reading("PS-1O26"))
    words = ("sheets", "decide", "PS-1O26", "--source", "inspection")
    office.type(*words, "--same-as", "PS-1026", "--reason", "so it seemed", person="IN")
    assert "to be decided: 0" in office.type("sheets", "join", path, "--source", "inspection")
    office.type(*words, "--undo", "--reason", "it hangs elsewhere", person="RE")
    assert "to be decided: 1" in office.type("sheets", "join", path, "--source", "inspection")
    first, second = office.type("sheets", "decisions").splitlines()
    assert "'PS-1O26' same PS-1026, by Person IN: so it seemed" in first
    assert "undone" in second
    assert "(holds)" not in first + second
    with pytest.raises(NotFound, match="nothing is decided"):
        office.type(*words, "--undo", person="RE")
    office.type(*words, "--same-as", "PS-1025", person="RE")
    assert office.type("sheets", "decisions").splitlines()[-1].endswith("(holds)")
    with pytest.raises(BadInput, match="a decision says one thing"):
        office.type(*words, "--same-as", "PS-1025", "--its-own", person="RE")


def test_rows_of_the_stress_group_and_of_the_stores_are_joined_without_tags(office):
    """By calculation node and by serial number; a node of another calculation leads nowhere."""
    loads = [["C-1", "B", "L-1", "W", "operating", 22.1, node] for node in ("100", "999")]
    stress = office.write(
        "stress.xlsx",
        {
            "Calculations": [CALCULATIONS, ["C-1", "B", "full analysis", "issued", "2031-05-01"]],
            "Calculation loads": [[*LOADS, "Node"], *loads],
        },
    )
    said = office.type("sheets", "join", str(stress), "--source", "stress")
    assert "node 100 of C-1 (Calculation loads row 2) = PS-1024: calculation node" in said
    assert "node 999 of C-1" in said
    office.type("sheets", "import", str(stress), "--accept-the-good", person="KK")
    stores = ["Serial number", *NAMEPLATES[1:]]
    office.bring("stores.xlsx", {"Nameplates": [stores, plate("S-2", 20.0, 17.0, 23.0, 0.25)]})
    with open_register(office.url).reading() as session:
        points = set(session.scalars(select(RequiredLoad.point_id)))
        assert points == {point_of(session, "PS-1024"), point_of(session, "PS-1027")}
        assert session.scalars(select(Nameplate.nameplate_load)).all() == [20_000.0]


def renamed_list(site: Site, name: str = "office 2032.xlsx") -> str:
    """Write next year's list: PS-1024 is called HX-7 now; same place, same serial."""
    rows = [support("HX-7", 1, "100"), *(support(f"PS-102{n + 3}", n, f"{n}00") for n in (2, 3, 4))]
    units = [UNITS, ["HX-7", "A", "constant hanger", "S-1"]]
    return str(site.write(name, {"Supports": [SUPPORTS, *rows], "Units": units}))


def test_a_rename_is_proposed_decided_and_the_history_stays_one(office):
    office.type("sheets", "import", inspection(office, reading("PS-1024")), person="KK")
    path = renamed_list(office)
    said = office.type("sheets", "join", path, "--source", "office")
    assert "by serial number the row is PS-1024, which would be a rename" in said
    with pytest.raises(InputHasFaults):
        office.type("sheets", "import", path, "--source", "office", person="KK")
    words = ("sheets", "decide", "HX-7", "--source", "office", "--renamed-from", "PS-1024")
    with pytest.raises(BadInput, match="lies ahead"):
        office.type(*words, "--since", "2033-01-01", person="KK")
    office.type(*words, "--since", "2031-05-01", person="KK")
    assert "Nothing to store" in office.type(
        "sheets", "import", path, "--source", "office", person="KK"
    )
    assert "formerly PS-1024" in office.type("support", "show", "PS-1024")
    assert tags_read(office) == ["HX-7"]
    with open_register(office.url).reading() as session:
        lives = session.execute(
            select(SupportTag.tag, SupportTag.valid_from, SupportTag.valid_to).where(
                SupportTag.point_id == point_of(session, "HX-7")
            )
        ).all()
    assert [(tag, str(a), str(b)) for tag, a, b in lives] == [
        ("PS-1024", "None", "2031-04-30"),
        ("HX-7", "2031-05-01", "None"),
    ]


def test_readings_of_old_days_go_to_whoever_bore_the_tag_then(office):
    """Scenario: after a rename a new support elsewhere gets the old tag; old days stay apart."""
    office.type(
        "sheets", "decide", "HX-7", "--renamed-from", "PS-1024", "--since", "2031-05-01",
        person="KK",
    )  # fmt: skip
    path = str(office.write("new.xlsx", {"Supports": [SUPPORTS, support("PS-1024", 9, "900")]}))
    with pytest.raises(InputHasFaults):
        office.type("sheets", "import", path, person="KK")
    office.type("sheets", "decide", "PS-1024", "--its-own", person="KK")
    office.type("sheets", "import", path, person="KK")
    office.type("sheets", "decide", "PS-1024", "--undo", person="KK")
    units = [["PS-1024", "A", "constant hanger", "S-9"]]
    office.bring("units.xlsx", {"Units": [UNITS, *units]})
    old = inspection(office, reading("PS-1024", day="2030-03-01"), name="old.xlsx")
    assert "tag-former" in office.type("sheets", "import", old, person="KK")
    new = inspection(office, reading("PS-1024", 19.0, day="2031-05-05"), name="now.xlsx")
    office.type("sheets", "import", new, person="KK")
    assert tags_read(office) == ["HX-7", "PS-1024"]


def test_a_rename_is_turned_about_by_undoing_it(office):
    words = ("sheets", "decide", "HX-7", "--source", "office")
    office.type(*words, "--renamed-from", "PS-1024", "--since", "2031-05-01", person="KK")
    with pytest.raises(NotReady, match="is the present tag"):
        office.type(
            "sheets", "decide", "PS-1025", "--renamed-from", "HX-7", "--since", "2031-05-05",
            person="KK",
        )  # fmt: skip
    office.type(*words, "--undo", "--reason", "the drawing was wrong", person="KK")
    page = office.type("support", "show", "PS-1024")
    assert page.startswith("PS-1024 ")
    assert "HX-7" in page
    with open_register(office.url).reading() as session:
        assert len(session.scalars(select(SupportPoint)).all()) == 4


def test_a_line_numbered_anew_is_no_rename_but_a_moved_spring_is_asked(office):
    rows = [support("PS-1030", 1, "50"), *(support(f"PS-102{n}", n - 2, "1") for n in range(4, 8))]
    path = str(office.write("new.xlsx", {"Supports": [SUPPORTS, *rows]}))
    assert "to be decided: 0" in office.type("sheets", "join", path)
    moved = [["PS-1025", "A", "constant hanger", "S-1"]]
    path = str(office.write("moved.xlsx", {"Units": [UNITS, *moved]}))
    said = office.type("sheets", "join", path)
    assert "the present tag says one support, the rest of the row another" in said


def test_readings_are_counted_by_the_name_they_bear(office):
    rows = [reading("ps 1024", day=f"2031-03-0{n}") for n in (1, 2, 3)]
    said = office.type("sheets", "import", inspection(office, *rows), person="KK")
    assert "tag-cleaned" in said
    with open_register(office.url).reading() as session:
        assert len(session.scalars(select(Reading)).all()) == 3
