"""Every message that the papers ask the catalogue for, found by reading the code."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from app.papers import TITLES
from app.web.navigation import PLACES
from app.web.pages import TEMPLATES
from reports.catalogue import PAPERS
from reports.contents import field_words, stop_pages
from reports.contents.blocks import Mark
from reports.contents.common import Direction, TravelStopState
from reports.contents.pack_of_order import HOLDS, SIGNS, JobFacts
from reports.contents.turning import locked_words
from reports.html.document import foot
from reports.pdf.head import head_data
from reports.pdf.resetting_pack import pack_data
from supports.operations.accounts import SCOPES
from supports.rules.workflow import ChangeState, LineState
from supports.rules.workflow.start_up import MayStart
from supports.snapshots import NameplateView
from supports.vocabulary import (
    Arrangement,
    CalculationMethod,
    InService,
    Known,
    Occasion,
    PieceKind,
    PlantState,
    PlateSource,
    Role,
    SettingMethod,
    SupportKind,
    Verdict,
)
from tests.reports import examples
from tests.shape.sources import ROOT

SPOKEN_PY = (
    "reports/contents/hanging_tags.py",
    "reports/contents/judged_units.py",
    "reports/contents/field_words.py",
    "reports/contents/plant_status.py",
    "reports/contents/steps.py",
    "reports/contents/plate_facts.py",
    "reports/contents/stack_of_unit.py",
    "reports/contents/support_sheet.py",
    "reports/pdf/pack_words.py",
    "reports/pdf/resetting_pack.py",
    "reports/pdf/scales.py",
    "reports/svg/trend_plot.py",
    "app/making/wanted.py",
    "app/making/plant.py",
    "app/making/supports_.py",
)
"""Python whose words are there in every language."""
LISTED = {"top", "bottom", "pointer", "load", "read only", "re-set", "EXPECT AS-LEFT", "not known"}
"""Words that reach such a paper from data: ends of a scale, quantities drawn, actions."""
SPOKEN_TYP = ("base.typ", "document.typ", "hanging_tags.typ", "resetting_pack.typ")
CLOSED = (
    Arrangement, CalculationMethod, ChangeState, InService, Known, LineState, MayStart, Occasion,
    PieceKind, PlantState, PlateSource, Role, SettingMethod, SupportKind, Verdict,
)  # fmt: skip
"""Closed lists whose every word may stand on such a paper."""
ASKED = re.compile(r'\bw\("((?:[^"\\]|\\.)*)"[,)]')


def wanted_messages() -> set[str]:
    """Return the messages that a language must have to be complete."""
    found = {str(word) for words in CLOSED for word in words}
    found |= set(pack_words())
    found |= LISTED | {str(mark) for mark in Mark if mark}
    found |= {name for name, _ in head_data(examples.full_head(), examples.PAGE)["below"]}
    found |= {name for name, _ in foot(examples.full_head())}
    for name in SPOKEN_PY:
        found |= set(python_messages(ROOT / name))
    for name in SPOKEN_TYP:
        text = (ROOT / "reports/pdf/templates" / name).read_text(encoding="utf-8")
        found |= {one.replace('\\"', '"') for one in ASKED.findall(text)}
    found |= set(desk_words())
    for path in (ROOT / "reports/html/templates").glob("*.jinja"):
        found |= set(ASKED.findall(path.read_text(encoding="utf-8")))
    return found


def desk_words() -> Iterator[str]:
    """Give the words of the desk's screens."""
    yield from (place.words for place in PLACES)
    yield from SCOPES
    for path in sorted(TEMPLATES.glob("**/*.jinja")):
        yield from (one.replace('\\"', '"') for one in ASKED.findall(path.read_text("utf-8")))
    for path in sorted((ROOT / "app/web").glob("**/*.py")):
        yield from python_messages(path)


def pack_words() -> Iterator[str]:
    """Give the standing words of a re-setting pack: names of facts, cautions, holds, stops."""
    yield from (name for name, _ in pack_data(examples.pack(), examples.PAGE)["cover"]["facts"])
    yield from (*field_words.CAUTIONS, *field_words.READINESS, *field_words.STOP_RULES)
    yield from (field_words.STOP_STRIP, field_words.HOW_TO_COUNT, field_words.DEFERENCE)
    yield from (field_words.WAY_BACK, SIGNS, JobFacts().crew, JobFacts().start_authority)
    yield from JobFacts().permits
    for hold in HOLDS:
        yield from (hold.what, hold.who)
    for page in (stop_pages._NO_LOAD, stop_pages._TOO_WEAK, stop_pages._NOT_KNOWN):
        yield from (words for words in (page.lead, page.title, page.by) if words)
    yield from (locked_words(NameplateView(may_turn_locked=known), variable=False)
                for known in (Known.YES, Known.NO))  # fmt: skip
    yield from map(str, Direction)
    yield from map(str, TravelStopState)
    yield from (*TITLES.values(), "a newer revision is issued")
    yield from ("shorten the rod", "lengthen the rod", "the turnbuckle of the rod",
                "the nut of the rod")  # fmt: skip
    yield from ("second reader", "READ ONLY", "STOP, READ ONLY", "beneath its lock nut")


def python_messages(path: Path) -> Iterator[str]:
    """Give the messages that a file asks for, by literal or by a constant of the file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    constants = {
        target.id: node.value.value
        for node in tree.body
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _asks(node.func) and node.args:
            match node.args[0]:
                case ast.Constant(value=str(message)):
                    yield message
                case ast.Name(id=name) if isinstance(constants.get(name), str):
                    yield constants[name]
                case ast.IfExp(body=ast.Constant(value=str(a)), orelse=ast.Constant(value=str(b))):
                    yield from (a, b)


def _asks(function: ast.expr) -> bool:
    """Return whether something is asked of the catalogue: say(...) or wanted.say(...)."""
    match function:
        case ast.Name(id="say") | ast.Attribute(attr="say"):
            return True
    return False


def spoken_papers() -> list[str]:
    """Return the papers that are told to be complete in a language besides English."""
    return [one.name for one in PAPERS if len(one.languages) > 1]
