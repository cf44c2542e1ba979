"""Values that are not clear: quarantined, 'cannot judge', declared by a person, judged."""

from __future__ import annotations

import pytest

from app.settings import open_register
from supports.errors import BadInput, InputHasFaults, NotFound
from supports.model import QuarantineAnswer, QuarantinedValue, SettingEvent, SourceRow
from supports.queries.intake import doubts
from supports.queries.support_views import support_views
from supports.rules.judgement import judge_support
from supports.rules.site_settings import proposed_settings
from tests.acceptance.sheets import SETTINGS, one_constant
from tests.acceptance.site import Site

LATER = ["scale", "shut down, drained", "N. N."]


def setting(tag: str, load: float | str, day: str = "2030-05-05") -> list[object]:
    return [tag, "A", day, load, *LATER]


@pytest.fixture
def plant(site) -> Site:
    """Give a site with three hangers of 20 kN, set by the book in 2021."""
    sheets = {name: list(rows) for name, rows in one_constant("PS-1", 20.0, 20.1, rod=60.0).items()}
    for tag in ("PS-2", "PS-3"):
        for name, rows in one_constant(tag, 20.0, 20.1, rod=60.0).items():
            if name not in {"Lines", "Calculations"}:
                sheets[name].extend(rows[1:])
    for order, row in enumerate(sheets["Supports"][1:], start=1):
        row[2] = order
    site.bring("plant.xlsx", sheets)
    return site


def verdicts(site: Site) -> dict[str, tuple[str, tuple[str, ...]]]:
    from supports.model import Calculation

    with open_register(site.url).reading() as session:
        calculation = session.query(Calculation).one().id
        views = support_views(session, None, {"L-1": calculation})
    judged = [judge_support(view, proposed_settings()) for view in views]
    return {one.tag: (str(one.verdict), one.missing) for one in judged}


def test_a_load_in_three_units_is_asked_declared_and_judged(plant):
    """Scenario: 20.0, 4500 and 2041 under 'kN' at three units of one design of 20 kN."""
    rows = [setting("PS-1", 20.0), setting("PS-2", 4500), setting("PS-3", 2041)]
    path = str(plant.write("loads.xlsx", {"Settings": [SETTINGS, *rows]}))
    with pytest.raises(InputHasFaults):
        plant.type("sheets", "import", path, person="KK")
    assert {verdict for verdict, _ in verdicts(plant).values()} == {"leave"}

    said = plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    assert "looks like lbf, not kN" in said
    assert "daN or kgf (cannot be told apart by size)" in said
    assert "2 values wait for an answer" in said
    judged = verdicts(plant)
    assert judged["PS-1"] == ("leave", ())
    assert judged["PS-2"][0] == judged["PS-3"][0] == "cannot judge"
    assert judged["PS-2"][1] == (
        "load of a setting: '4500' in loads.xlsx Settings D3 waits for an answer",
    )

    again = plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    assert "Nothing to store" in again
    assert "wait for an answer" not in again
    assert len(waiting(plant)) == 2

    for cell, unit in (("Settings!D3", "lbf"), ("Settings!D4", "kgf")):
        plant.type("sheets", "declare", path, cell, unit, "--reason", "their plates", person="KK")
    done = plant.type("sheets", "import", path, person="KK")
    assert "2 values that waited were taken" in done
    assert waiting(plant) == []
    assert {verdict for verdict, _ in verdicts(plant).values()} == {"leave"}
    assert newest_loads(plant) == pytest.approx([20_000.0, 20_017.0, 20_015.4], abs=0.5)
    with open_register(plant.url).reading() as session:
        found = [row.cells["load"] for row in session.query(SourceRow) if "load" in row.cells]
    assert ["D", "4500", "lbf"] in found
    assert ["D", "2041", "kgf"] in found


def waiting(site: Site):
    with open_register(site.url).reading() as session:
        return doubts(session)


def newest_loads(site: Site) -> list[float]:
    with open_register(site.url).reading() as session:
        events = session.query(SettingEvent).order_by(SettingEvent.happened_on, SettingEvent.id)
        newest = {event.unit_id: event.load for event in events}
    return [load for _, load in sorted(newest.items())]


def test_a_whole_column_without_unit_is_one_question_and_one_word(plant):
    """A heading without unit: every value waits, shown once with its count and first cell."""
    heading = [*SETTINGS[:3], "Set load [kg]", *SETTINGS[4:]]
    rows = [setting(f"PS-{n}", 2041, f"2030-05-0{day}") for n in (1, 2, 3) for day in (1, 2)]
    path = str(plant.write("kg.xlsx", {"Settings": [heading, *rows]}))
    plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    listed = plant.type("sheets", "doubts")
    assert "kg.xlsx Settings: 6 rows, first D2: load of a setting" in listed
    assert "could mean kgf" in listed or "kgf" in listed
    assert "and 3 more" in listed
    assert {verdict for verdict, _ in verdicts(plant).values()} == {"cannot judge"}
    said = plant.type(
        "sheets", "declare", path, "Settings!D", "kgf", "--reason", "the scales read kgf",
        person="KK",
    )  # fmt: skip
    assert "6 values are in kgf, first Settings D2 '2041'" in said
    plant.type("sheets", "import", path, person="KK")
    assert plant.type("sheets", "doubts") == "No value waits for an answer.\n"
    assert newest_loads(plant) == pytest.approx([20_015.4] * 3, abs=0.5)


def test_a_declaration_needs_a_reason_a_doubt_and_a_unit_that_settles_it(plant):
    rows = [setting("PS-1", 4500), setting("PS-2", 20.0)]
    path = str(plant.write("loads.xlsx", {"Settings": [SETTINGS, *rows]}))
    with pytest.raises(BadInput, match="with a reason only"):
        plant.type("sheets", "declare", path, "Settings!D2", "lbf", person="KK")
    for cell, unit, error, words in (
        ("Settings!D3", "lbf", NotFound, "no value at Settings!D3 is in doubt"),
        ("Supports!D2", "lbf", NotFound, "doubts in Settings!D"),
        ("D2", "mm", BadInput, "stay unclear"),
        ("D2", "kg", BadInput, "stay unclear"),
        ("here!", "lbf", BadInput, "address cannot be read"),
    ):
        with pytest.raises(error, match=words):
            plant.type("sheets", "declare", path, cell, unit, "--reason", "so", person="KK")


def test_a_doubt_that_nobody_can_answer_is_settled_with_a_reason(plant):
    path = str(plant.write("old.xlsx", {"Settings": [SETTINGS, setting("PS-1", "20?")]}))
    plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    (doubt,) = waiting(plant)
    with pytest.raises(BadInput, match="with a reason only"):
        plant.type("sheets", "settle", str(doubt.number), person="KK")
    plant.type("sheets", "settle", str(doubt.number), "--reason", "writer retired", person="KK")
    assert waiting(plant) == []
    assert verdicts(plant)["PS-1"][0] == "leave"
    with pytest.raises(NotFound, match="no value waits"):
        plant.type("sheets", "settle", "999", "--reason", "x", person="KK")


def test_a_mended_file_answers_its_doubts_though_rows_have_moved(plant):
    rows = [setting("PS-1", "~20"), setting("PS-2", 4500)]
    path = str(plant.write("ours.xlsx", {"Settings": [SETTINGS, *rows]}))
    plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    assert len(waiting(plant)) == 2
    mended = [setting("PS-3", 20.0), setting("PS-2", "4500 lbf"), setting("PS-1", "~20")]
    plant.write("ours.xlsx", {"Settings": [SETTINGS, *mended]})
    said = plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    assert "1 value that waited was taken" in said
    assert [doubt.tag for doubt in waiting(plant)] == ["PS-1"]


def test_what_waits_at_a_tag_written_otherwise_waits_at_its_support(plant):
    """Scenario: 'ps 2' for PS-2, and a dash that does not break; mended, both are answered."""
    tags = ("ps 2", "PS\u20113")
    path = str(
        plant.write("ours.xlsx", {"Settings": [SETTINGS, *(setting(t, "~20") for t in tags)]})
    )
    plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    assert [doubt.tag for doubt in waiting(plant)] == ["PS-2", "PS-3"]
    judged = verdicts(plant)
    assert judged["PS-2"][0] == judged["PS-3"][0] == "cannot judge"
    plant.write("ours.xlsx", {"Settings": [SETTINGS, *(setting(t, 20.0) for t in tags)]})
    said = plant.type("sheets", "import", path, person="KK")
    assert "2 values that waited were taken" in said
    assert waiting(plant) == []


def test_a_tag_written_otherwise_is_held_against_what_is_known_of_its_support(plant):
    """Scenario: 'ps 2' goes to PS-2, so its 4500 'kN' and its missing unit position are asked."""
    rows = [["ps 2", "B", "constant hanger"]]
    plant.bring("more.xlsx", {"Units": [["Support tag", "Unit position", "Unit type"], *rows]})
    rows = [setting("ps 3", 4500), ["ps 2", None, "2030-05-05", 20.1, *LATER]]
    path = plant.write("loads.xlsx", {"Settings": [SETTINGS, *rows]})
    said = plant.type("sheets", "check", str(path))
    assert "unit-size-suspicious: loads.xlsx Settings D2" in said
    assert "position-not-stated: loads.xlsx Settings row 3" in said


def test_two_writings_of_one_tag_with_other_loads_wait_both(plant):
    rows = [
        setting("ps 2", 20.1),
        setting("PS-2", 21.1),
        setting("ps 3", 20.1),
        setting("PS-3", 20.1),
    ]
    path = plant.write("twice.xlsx", {"Settings": [SETTINGS, *rows]})
    said = plant.type("sheets", "import", str(path), "--accept-the-good", person="KK")
    assert "STOP same-key-twice: twice.xlsx Settings row 3: PS-2 A 2030-05-05" in said
    assert "NOTE row-repeated: twice.xlsx Settings row 5: PS-3 A 2030-05-05" in said
    assert [(d.cell, d.tag) for d in waiting(plant)] == [("row 3", "PS-2"), ("row 2", "PS-2")]
    assert newest_loads(plant) == pytest.approx([20_000.0, 20_000.0, 20_100.0])


def test_rows_held_back_wait_too(plant):
    rows = [setting("PS-1", 20.0), setting("PS-1", 21.0)]
    path = str(plant.write("twice.xlsx", {"Settings": [SETTINGS, *rows]}))
    plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    assert [(d.cell, d.code) for d in waiting(plant)] == [
        ("row 2", "same-key-twice"),
        ("row 3", "same-key-twice"),
    ]
    assert verdicts(plant)["PS-1"][0] == "cannot judge"


def test_a_mended_copy_asks_no_unit_again_but_a_changed_heading_or_number_does(plant):
    """Scenario: one of two loads is declared; the copy has another row, then another heading."""
    rows = [setting("PS-2", 4500), setting("PS-3", 2041)]
    first = str(plant.write("loads.xlsx", {"Settings": [SETTINGS, *rows]}))
    where = ("--source", "fitters")
    plant.type(
        *("sheets", "declare", first, "Settings!D2", "lbf", *where, "--reason", "their plates"),
        person="KK",
    )
    mended = plant.write(
        "mended.xlsx", {"Settings": [SETTINGS, setting("PS-1", 20.0), setting("PS-2", 4500)]}
    )
    said = plant.type("sheets", "check", str(mended), *where)
    assert "unit-size-suspicious" not in said
    assert "NOTE unit-declared-before" in said
    assert "unit-size-suspicious" in plant.type("sheets", "check", str(mended))
    daN = [heading.replace("kN", "daN") for heading in SETTINGS]
    for name, heads, load in (("other.xlsx", daN, 4500), ("number.xlsx", SETTINGS, 4501)):
        other = plant.write(name, {"Settings": [heads, setting("PS-2", load)]})
        assert "earlier copy" not in plant.type("sheets", "check", str(other), *where)


def test_the_same_doubt_from_a_copy_under_another_name_waits_once(plant):
    rows = [setting("PS-1", 20.0), setting("PS-2", 4500)]
    for name in ("loads.xlsx", "copy of loads.xlsx"):
        path = str(plant.write(name, {"Settings": [SETTINGS, *rows]}))
        plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    assert len(waiting(plant)) == 1


def test_a_mended_copy_under_another_name_answers_the_doubts_of_its_rows(plant):
    """A load, a day and a key are mended and rows have moved; another day's row is another row."""
    rows = [
        setting("PS-1", "~20"),
        setting("PS-2", 20.0, "03/04/2030"),
        setting("PS-3", 20.0),
        setting("PS-3", 21.0),
    ]
    path = str(plant.write("ours.xlsx", {"Settings": [SETTINGS, *rows]}))
    plant.type("sheets", "import", path, "--accept-the-good", person="KK")
    assert {doubt.cell for doubt in waiting(plant)} == {"C3", "D2", "row 4", "row 5"}

    later = [setting(tag, 20.5, "2031-04-03") for tag in ("PS-1", "PS-2", "PS-3")]
    said = plant.bring("next year.xlsx", {"Settings": [SETTINGS, *later]})
    assert len(waiting(plant)) == 4
    assert "waited" not in said

    mended = [setting("PS-2", 20.0, "2030-04-03"), setting("PS-3", 21.0), setting("PS-1", 20.0)]
    copy = {"Settings": [SETTINGS, mended[1], mended[0], mended[2]]}
    said = plant.bring("ours, mended.xlsx", copy)
    assert "4 values that waited were taken" in said
    assert waiting(plant) == []
    with open_register(plant.url).reading() as session:
        answers = session.query(QuarantineAnswer).all()
        assert {(one.how, one.person) for one in answers} == {("taken", "Person KK")}
        assert session.query(QuarantinedValue).count() == 4
