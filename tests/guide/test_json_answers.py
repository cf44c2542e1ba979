"""Every command answers programs too: one envelope, a documented shape, SI units in the keys."""

from __future__ import annotations

import json
import re
import shlex

import pytest
from jsonschema import Draft202012Validator

from app.cli.main import main
from app.json_shapes import SHAPES, classes_of, envelope_of, numbers_of
from app.plainly import UNIT_BESIDE, UNITS, key_of
from supports.errors import NotFound
from tests.app.test_commands import commands

ALL = {" ".join(words): command for words, command in commands()}
SAY_ONLY = {"desk open", "register create", "register upgrade"}
"""They act without a person, and there is nothing to answer but what they say."""

ASKED = (
    "", "where", "begin --name JH", "ask --line 1-HO-1203",
    "audit as-of 2026-02-18 --change CH-2026-014",
    "audit as-of 2026-02-18 --line 1-HO-1203",
    "audit between 2026-02-01 2026-10-01 --support PS-1024",
    "audit refused", "audit show", "audit verify", "change history CH-2026-014", "change list",
    "change show CH-2026-014", "desk account list", "change steps", "change summary CH-2026-014",
    "line check 1-HO-1203", "line compare 1-HO-1203", "line influence 1-HO-1203",
    "line screen 1-HO-1203", "line screen-all", "line states 1-HO-1203",
    "line what-if 1-HO-1203 PS-1024=+1.0kN", "paper list",
    "paper make line-summary 1-HO-1203 --form html", "people list", "plan list",
    "plan paper PL-2026-002", "plan show PL-2026-002", "register backup --into kept.db",
    "register export --into out", "register restore kept.db --register back.db",
    "rules explain PS-1024", "rules handbook", "rules runs", "rules show", "rules since 1",
    "settings history tolerance", "settings list", "settings periods", "settings profile",
    "sheets blank blank.xlsx", "sheets check sheets/change-CH-2026-014.xlsx",
    "sheets decisions", "sheets doubts", "sheets join sheets/change-CH-2026-014.xlsx",
    "sheets profiles", "sheets propose sheets/change-CH-2026-014.xlsx", "stops count",
    "props count",
    "stops start-up", "support list", "support show PS-1024 --sources", "turnaround list",
    "turnaround norms", "turnaround paper TA-1", "turnaround scope TA-1",
    "unit history PS-1024", "verification run", "walkdown coverage", "walkdown findings",
    "walkdown list", "walkdown report WD-2026-HO-1", "walkdown sample 100",
    "walkdown show WD-2026-HO-1", "walkdown trend PS-1024", "work-order pack WO-2026-001",
    "work-order show WO-2026-001",
)  # fmt: skip
"""At least once each command that reads or writes files."""


def command_of(line: str) -> str:
    words = shlex.split(line)
    return next((name for n in (3, 2, 1) if (name := " ".join(words[:n])) in ALL), "")


def answer(capsys, line: str) -> dict:
    """Ask as a program would, and hold the answer against its schema."""
    words = ["supports", *shlex.split(line), "--json"]
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("sys.argv", words)
        with pytest.raises(SystemExit) as ended:
            main()
    told = capsys.readouterr()
    assert ended.value.code in {None, 0}, told.err
    envelope = json.loads(told.out)
    Draft202012Validator(envelope_of(command_of(line))).validate(envelope)
    return envelope


@pytest.mark.parametrize("words", ALL)
def test_every_command_takes_json_and_has_a_shape_unless_it_acts_for_a_person(words):
    options = {spelling for one in ALL[words].params for spelling in one.opts}
    assert "--json" in options
    assert words in SHAPES or "--as" in options or words in SAY_ONLY


def test_every_shape_belongs_to_a_command_and_is_asked_for_here():
    assert set(SHAPES) == {command_of(line) for line in ASKED}
    assert set(SHAPES) - {""} <= set(ALL)


def test_every_answer_is_of_its_documented_shape(at_the_plant, driven, capsys):
    (at_the_plant / "sheets").symlink_to(driven / "sheets")
    for line in (
        "rules run --as JH",
        "turnaround open Stop --from 2026-11-02 --to 2026-11-20 --number TA-1 --as LB",
        "turnaround collect TA-1 --as LB",
        "turnaround plan TA-1 --effort 0.05 --as LB",
    ):
        answer(capsys, line)
    answers = {line: answer(capsys, line)["answer"] for line in ASKED}
    assert all(answers[line] is not None for line in ASKED)
    shown = answers["support show PS-1024 --sources"]["support"]["units"][0]
    assert shown["setting"]["load_N"] == pytest.approx(20_000.0)
    assert answers["stops start-up"]["answer"] == "no"


def test_what_a_writing_command_says_is_handed_on(at_the_plant, capsys):
    told = answer(capsys, "stops in PS-1024 7 --reason cleaning --as 'Geoffrey Byrne'")
    assert told["answer"] is None
    assert told["said"] == ["Travel stop 7 of PS-1024 is in. Count: supports stops count"]


def test_a_refusal_is_json_on_the_error_channel_with_its_exit_code(
    at_the_plant, capsys, monkeypatch
):
    for words, code in ((["support", "show", "PS-1O24"], 3), (["support", "shwo"], 2)):
        monkeypatch.setattr("sys.argv", ["supports", *words, "--json"])
        with pytest.raises(SystemExit) as ended:
            main()
        told = capsys.readouterr()
        assert (told.out, ended.value.code) == ("", code)
        error = json.loads(told.err)["error"]
        assert error["exit_code"] == code
        assert "Did you mean" in error["sentence"]
    assert NotFound.exit_code == 3


def test_every_number_with_a_fraction_names_its_unit_or_stands_beside_it():
    ends = "|".join({unit for units in UNITS.values() for unit in units})
    named = re.compile(rf"_({ends}|Nm|months|N_per_N|m_per_N|N_and_Nm|N_and_Nm_per_N)$")
    silent = {
        f"{view}.{name}"
        for kind in SHAPES.values()
        for view, name in numbers_of(kind)
        if not named.search(key_of(view, name)) and name not in UNIT_BESIDE.get(view, ())
    }
    assert silent == set()


def test_views_are_known_by_their_names_alone():
    kinds = {one for kind in SHAPES.values() for one in classes_of(kind)}
    assert len({one.__name__ for one in kinds}) == len(kinds)
    assert set(UNITS) | set(UNIT_BESIDE) <= {one.__name__ for one in kinds}


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("supports chan", {"change"}),
        ("supports support show PS-102", {"PS-1020", "PS-1024"}),
        ("supports line check 1-HO-12", {"1-HO-1203"}),
        ("supports change show CH", {"CH-2026-014"}),
        ("supports change close CH-2026-014 --as LB", {"LB"}),
    ],
)
def test_the_tab_key_completes_words_out_of_the_register(
    at_the_plant, capsys, monkeypatch, typed, offered
):
    monkeypatch.setenv("_SUPPORTS_COMPLETE", "complete_bash")
    monkeypatch.setenv("COMP_WORDS", typed)
    monkeypatch.setenv("COMP_CWORD", str(len(typed.split()) - 1))
    monkeypatch.setattr("sys.argv", ["supports"])
    with pytest.raises(SystemExit):
        main()
    assert offered <= set(capsys.readouterr().out.split())
