"""The way in: a stranger's own list of hangers, asked for step by step; nothing is guessed."""

from __future__ import annotations

import json
from dataclasses import dataclass, field

import openpyxl
import pytest

from app.beginning import Said, readings_of
from app.cli.main import run
from app.settings import REGISTER
from supports.errors import BadInput, InputHasFaults

LIST = [
    ["Hangers of the third boiler"],
    [],
    ["Pos.", "Pipe line", "Hanger no.", "Type", "Works no", "Range min", "Range max", "Remarks"],
    [1, "HS-301", "H-3001", "constant hanger", "A-5501", 8, 16, "ok"],
    [2, "HS-301", "H-3002", "constant hanger", "A-5502", 7, 15, "rusty plate"],
]
WORDS = (
    "--plant", "Lane Works", "--name", "Ida Newcome", "--initials", "IN", "--source", "boiler",
    "--as-sheet", "Lines", "--as-sheet", "Supports", "--as-sheet", "Units",
)  # fmt: skip


@dataclass
class Somebody:
    """Answers by what a question begins with, and keeps what was said."""

    answers: dict[str, str]
    told: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)
    somebody_answers: bool = True

    def __call__(self, question, _option, *, may_be_blank=False):
        assert may_be_blank or question
        self.asked.append(question)
        return next((a for begin, a in self.answers.items() if question.startswith(begin)), "")

    def tell(self, line):
        self.told.append(line)


@pytest.fixture
def listed(tmp_path, monkeypatch):
    book = openpyxl.Workbook()
    book.active.title = "List 3"
    for row in LIST:
        book.active.append(row)
    path = tmp_path / "hangers.xlsx"
    book.save(path)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv(REGISTER, str(tmp_path / "own.db"))
    monkeypatch.delenv("SUPPORTS_PERSON", raising=False)
    return path


def test_a_flat_list_is_read_as_several_sheets_and_each_doubt_is_asked(listed):
    somebody = Somebody(
        {
            "Where such files": "boiler",
            "Read it as": "1, 2, 5",
            "In which unit": "kN",
            "No column for 'Unit of": "kN",
            "Is one of these": "",
        }
    )
    readings = readings_of(listed, Said(), somebody)
    assert [one.as_sheet.name for one in readings] == ["Lines", "Supports", "Nameplates"]
    assert [one.source for one in readings] == [f"boiler, {one.as_sheet.name}" for one in readings]
    assert readings[0].confirmation.read == {"Pipe line": "Line number"}
    assert "Remarks" in readings[0].confirmation.left
    assert readings[1].confirmation.read["Hanger no."] == "Support tag"
    assert readings[2].confirmation.constants == {"Unit of load": "kN", "Unit of travel": "kN"}
    assert any("left aside: Pos." in line for line in somebody.told)


def test_what_is_left_aside_may_be_named_and_nonsense_is_asked_again(listed):
    answers = iter(["Works no=Colour", "Works no=Serial number", ""])
    somebody = Somebody({"Where such files": "boiler", "Read it as": "4"})
    usual = somebody.__call__

    def call(question, option, *, may_be_blank=False):
        if question.startswith("Is one of these"):
            return next(answers)
        return usual(question, option, may_be_blank=may_be_blank)

    class Patient(Somebody):
        __call__ = staticmethod(call)

    (reading,) = readings_of(listed, Said(), Patient({}))
    assert reading.as_sheet.name == "Units"
    assert reading.confirmation.read["Works no"] == "Serial number"


def test_without_questions_the_missing_option_is_named_and_nothing_is_made(listed, tmp_path):
    for count, option in ((0, "--plant"), (2, "--name"), (6, "--source"), (8, "--as-sheet")):
        with pytest.raises(BadInput, match=f"Say it with {option}"):
            run(["begin", str(listed), *WORDS[:count]])
        assert not (tmp_path / "own.db").exists()


def test_without_questions_all_said_the_list_is_in_and_the_next_step_is_told(listed, capsys):
    run(["begin", str(listed), *WORDS])
    told = capsys.readouterr().out
    assert "Lane Works" in told
    assert "1 line, 2 supports, 2 units; 1 person" in told
    assert "supports rules run --as 'Ida Newcome'" in told
    run(["begin", str(listed), "--name", "IN", *WORDS[6:]])
    assert capsys.readouterr().out.count("Nothing to store") == 3


def test_faults_store_nothing_unless_the_good_rows_are_wanted(listed, capsys):
    book = openpyxl.load_workbook(listed)
    book.active["D4"] = "CH"
    book.save(listed)
    with pytest.raises(InputHasFaults, match="--accept-the-good"):
        run(["begin", str(listed), *WORDS])
    run(["begin", str(listed), "--name", "IN", *WORDS[6:], "--accept-the-good"])
    assert "1 line, 2 supports, 1 unit" in capsys.readouterr().out


def test_a_workbook_with_declared_headings_is_asked_nothing(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv(REGISTER, str(tmp_path / "own.db"))
    book = openpyxl.Workbook()
    book.active.title = "Lines"
    for row in (["Line number", "Service"], ["L-1", "steam"]):
        book.active.append(row)
    book.save(tmp_path / "ours.xlsx")
    run(["begin", str(tmp_path / "ours.xlsx"), *WORDS[:4]])
    assert "1 line, 0 supports" in capsys.readouterr().out


def test_a_row_of_units_and_a_unit_said_once_hold_for_the_plates(listed, capsys):
    """What the sheet states goes before what is said of all rows; cells left aside may be units."""
    book = openpyxl.load_workbook(listed)
    book.active["H3"] = "Range in summer"
    book.active.insert_rows(4)
    book.active["F4"], book.active["H4"] = "kgf", "kgf"
    book["List 3"]["H5"] = book["List 3"]["H6"] = 12
    book.save(listed)
    plates = ("--as-sheet", "Nameplates", "--constant", "Unit of load=kN")
    run(["begin", str(listed), *WORDS, *plates, "--constant", "Unit of travel=mm"])
    assert "waits for an answer" not in capsys.readouterr().out
    run(["support", "show", "H-3001", "--json"])
    plate = json.loads(capsys.readouterr().out)["answer"]["support"]["units"][0]["nameplate"]
    assert plate["range_low_N"] == pytest.approx(8 * 9.80665)
    assert plate["range_high_N"] == pytest.approx(16_000.0)


def test_a_heading_left_aside_is_not_read_although_it_names_a_column(listed, capsys):
    run(["begin", str(listed), *WORDS, "--leave", "Remarks"])
    capsys.readouterr()
    run(["audit", "between", "2000-01-01", "2999-01-01", "--support", "H-3002"])
    assert "rusty" not in capsys.readouterr().out
