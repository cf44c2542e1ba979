"""Every message that the papers ask the catalogue for, found by reading the code."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from app.papers import TITLES
from app.plan_words import CAUTIONS as OF_PLANS
from app.web.acts.order_acts import ORDER_ACTS
from app.web.acts.plan_acts import CHOOSE
from app.web.acts.stop_acts import MAKE_SAFE, STOP_IN, STOP_OUT
from app.web.acts.unit_acts import UNIT_ACTS
from app.web.changes import ROAD
from app.web.navigation import PLACES
from app.web.pages import TEMPLATES
from app.web.record_words import KINDS
from app.web.routes.changes import ACTS as CHANGE_PAGES_ACTS
from app.web.routes.findings import SHOWN
from importers.walkdown_form import FIELDS, LINE_FIELDS
from reports.catalogue import PAPERS
from reports.contents import (
    change_assessment,
    field_words,
    judged_units,
    ordered_sheets,
    pack_of_order,
    planned_rounds,
    planned_sheets,
    stop_pages,
    variable_sheets,
    walkdown_package,
)
from reports.contents.blocks import Mark
from reports.contents.common import Direction, TravelStopState
from reports.contents.pack_of_order import FLANGE_READINGS, HOLDS, SIGNS, JobFacts
from reports.contents.resetting_pack import TurnedPart
from reports.contents.turning import locked_words
from reports.contents.walkdown_package import CAUTIONS, DEFERENCE
from reports.drawings import columns, schedule_chart
from reports.html.document import foot
from reports.languages.sentences import patterns, standing_words
from reports.pdf.head import head_data
from reports.pdf.resetting_pack import pack_data
from supports.calc.line.aims import Aim
from supports.calc.line.comparison import Look
from supports.calc.line.parts import Theory
from supports.calc.line.results import Standing as LineStanding
from supports.calc.reset_plan.alternatives import LEAST_UNITS
from supports.calc.reset_plan.effort import Goal
from supports.calc.reset_plan.sequence import StepKind
from supports.findings import Answer
from supports.operations.accounts import SCOPES
from supports.operations.changes import SafeAct
from supports.operations.changes.deciding import THREE_PEOPLE
from supports.operations.plans import storing as plan_storing
from supports.plant_time import TIME_ZONE
from supports.rules.acceptances import Standing
from supports.rules.catalogue import RULES
from supports.rules.frame import frame
from supports.rules.line import words as screening_words
from supports.rules.reset_planning.wish import PlanAim, PlanKind
from supports.rules.rule import Group, Limits, ask
from supports.rules.site_settings import limits, proposed_settings
from supports.rules.turnaround.scope import Action, Source
from supports.rules.turnaround.tasks import Trade
from supports.rules.variable_rules import Position
from supports.rules.walkdown.flow import (
    CAMPAIGN_STEPS,
    FINDING_STEPS,
    CampaignState,
    FindingState,
)
from supports.rules.walkdown.words import (
    Fault,
    Grade,
    Half,
    HowSoon,
    PhotoSubject,
    StopSeen,
    ZeroEnd,
    box_words,
)
from supports.rules.wording import columns_of
from supports.rules.workflow import ChangeState, LineState, OrderKind, OrderState
from supports.rules.workflow.proofs import Proof
from supports.rules.workflow.record import FIVE_ITEMS
from supports.rules.workflow.start_up import MayStart
from supports.sentences import has_words, without_commands
from supports.snapshots import NameplateView
from supports.units import Kind
from supports.vocabulary import (
    Arrangement,
    CalculationMethod,
    CalculationStatus,
    Duration,
    InService,
    Known,
    Occasion,
    PieceKind,
    PlantState,
    PlateSource,
    Role,
    RoutePiece,
    SettingMethod,
    SupportKind,
    Verdict,
)
from tests.reports import examples
from tests.reports.blocking import blocking_words
from tests.reports.raised import messages_of_errors, raised
from tests.shape.sources import ROOT

SPOKEN = ("app", "app/making", "reports/contents", "reports/drawings", "reports/pdf", "reports/svg")
"""Folders of Python whose words are there in every language, but for those of UNSPOKEN."""
MADE_IN = ("supports", "reports", "app", "importers")
"""Folders of Python in which sentences are made."""
UNSPOKEN = {"verification_manual.py"}
"""The manual quotes titles and values of publications as these print them."""
LISTED = {"top", "bottom", "pointer", "load", "read only", "re-set", "EXPECT AS-LEFT", "not known"}
"""Words that reach such a paper from data: ends of a scale, quantities drawn, actions."""
CLOSED = (
    Action, Aim, Arrangement, CalculationMethod, CalculationStatus, ChangeState, Goal, InService,
    Known, LineState, Look, MayStart, Occasion, PieceKind, PlanKind, PlantState, PlateSource, Role,
    RoutePiece, SettingMethod, Source, LineStanding, StepKind, SupportKind, Theory, Trade, Verdict,
)  # fmt: skip
"""Closed lists whose every word may stand on such a paper."""
OWN, PLACE, FEWEST = re.compile(r"[^\W\d_]"), re.compile(r"\{\w+\}"), 7
"""A letter; a place of a pattern; letters by which a pattern is known again."""
ASKED = re.compile(r'\bw\("((?:[^"\\]|\\.)*)"[,)]')


def wanted_messages() -> set[str]:
    """Return the messages that a language must have to be complete."""
    found = {str(word) for words in CLOSED for word in words}
    found |= set(pack_words()) | set(plan_words())
    found |= set(patterns()) | set(standing_words()) | set(rule_words()) | set(sentences_made())
    found |= LISTED | {str(mark) for mark in Mark if mark}
    found |= {name for name, _ in head_data(examples.full_head(), examples.PAGE)["below"]}
    found |= {name for name, _ in foot(examples.full_head())}
    for path in (path for folder in SPOKEN for path in sorted((ROOT / folder).glob("*.py"))):
        found |= set(python_messages(path)) if path.name not in UNSPOKEN else set()
    for path in sorted((ROOT / "reports/pdf/templates").glob("*.typ")):
        text = path.read_text(encoding="utf-8")
        found |= {one.replace('\\"', '"') for one in ASKED.findall(text)}
    found |= set(messages_of_errors())
    found |= set(desk_words()) | set(paper_words()) | set(blocking_words())
    for path in (ROOT / "reports/html/templates").glob("*.jinja"):
        found |= set(ASKED.findall(path.read_text(encoding="utf-8")))
    return found


def rule_words() -> Iterator[str]:
    """Give what rules say besides their sentence: conditions, remedies, sources, steps, limits."""
    settings = Limits(proposed_settings())
    for rule in RULES:
        yield from (rule.condition, rule.remedy)
        yield from filter(_more_than_names, (rule.source,))
        asked = ask(rule, frame(rule.subject, (), {}), settings)
        figures = asked.judged.figures.values()
        yield from (figure.label for figure in figures)
        yield from (one.formula for one in figures if has_words(one.formula))
        yield from (name.replace("_", " ") for name in (*columns_of(asked), *rule.limits))
        yield from asked.judged.unknown
    for limit in limits().values():
        yield limit.meaning
        yield from filter(_more_than_names, (limit.source, limit.trust))


def _more_than_names(source: str) -> bool:
    """Return whether a source says more than names of standards, which are alike everywhere."""
    return re.search("[a-z]{4}", source) is not None or " para " in source


def sentences_made() -> Iterator[str]:
    """Give the patterns of sentences made where they are found, and the words of findings."""
    yield from (one for folder in MADE_IN for one in _patterns_in(folder))


def sheet_sentences() -> set[str]:
    """Return the patterns of sentences of importers that have words of their own to be known by."""
    raised_there = (one.text for one in raised() if one.place.startswith("importers/"))
    known = {without_commands(one) for one in raised_there} | set(_patterns_in("importers"))
    with_places = {one for one in known if "{" in one}
    return {one for one in with_places if len(OWN.findall(PLACE.sub("", one))) >= FEWEST}


def _patterns_in(folder: str) -> Iterator[str]:
    for path in sorted((ROOT / folder).rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        if "Sentence(" not in text:
            continue
        tree = ast.parse(text)
        constants = _constants(tree)
        for node in ast.walk(tree):
            match node:
                case ast.Call(func=ast.Name(id="Sentence"), args=[said, *_]):
                    patterns = map(without_commands, _literal(said, constants))
                    yield from filter(has_words, patterns)


def _literal(said: ast.expr, constants: dict[str, str]) -> Iterator[str]:
    match said:
        case ast.Constant(value=str(words)):
            yield words
        case ast.Name(id=name) if name in constants:
            yield constants[name]
        case ast.IfExp(body=one, orelse=other):
            yield from (*_literal(one, constants), *_literal(other, constants))


def _constants(tree: ast.Module) -> dict[str, str]:
    """Return the words that a file gives a name, by it."""
    return {
        target.id: node.value.value
        for node in tree.body
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant)
        for target in node.targets
        if isinstance(target, ast.Name) and isinstance(node.value.value, str)
    }


def paper_words() -> Iterator[str]:
    """Give the words that papers of lines, changes, walks and turnarounds take from elsewhere."""
    yield from (
        *screening_words.STATES,
        *columns.ROWS,
        screening_words.CAUTION,
        walkdown_package.HOW_TO_WRITE,
    )
    yield from (*change_assessment._USUAL.values(), *(words for _, words in schedule_chart._KINDS))
    yield from ("prepared", "checked", "approved", "agreed", "objected", "released")
    yield from ("have", "ordered", "late", "screening", "as expected", "Load-change summary")
    yield from acts_on_record()
    yield from (plan_storing.ACTION, "store a screening calculation", "record as-found")
    yield from ("record as-left", "travel stop in", "travel stop out", "prop in", "prop out")
    yield from ("attach photos", "attach photos, their places kept")
    yield from ("agree to a change", "object to a change")
    yield from (f"{act} a change" for act in ("check", "approve", "send back", "refuse"))


def acts_on_record() -> Iterator[str]:
    """Give what an audit record calls each deed, as the operations name it."""
    for path in sorted((ROOT / "supports/operations").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            match node:
                case ast.keyword(arg="action", value=ast.Constant(value=words)):
                    yield str(words)


def desk_words() -> Iterator[str]:
    """Give the words of the desk's screens."""
    yield from (place.words for place in PLACES)
    yield from walk_words()
    yield from SCOPES
    yield from KINDS
    yield from words_of_acts()
    yield " ".join(OF_PLANS)
    yield from (*ROAD, *FIVE_ITEMS.values(), THREE_PEOPLE, TIME_ZONE)
    for words in (
        OrderState, OrderKind, Proof, PlanAim, SafeAct, Duration, Group, Standing, Answer, Kind,
    ):  # fmt: skip
        yield from map(str, words)
    for path in sorted(TEMPLATES.glob("**/*.jinja")):
        yield from (one.replace('\\"', '"') for one in ASKED.findall(path.read_text("utf-8")))
    for path in sorted((ROOT / "app/web").glob("**/*.py")):
        yield from python_messages(path)


def words_of_acts() -> Iterator[str]:
    """Give the words of forms: labels, hints, notes, and why somebody may not."""
    for path in sorted((ROOT / "app/web/acts").glob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        named: dict[str, set[str]] = {}
        for node in ast.walk(tree):
            match node:
                case ast.Assign(targets=[ast.Name(id=name)], value=ast.Constant(value=str(words))):
                    named.setdefault(name, set()).add(words)
        for node in ast.walk(tree):
            match node:
                case ast.Call(func=ast.Name(id="Ask")):
                    yield from _spoken(node, (1, 3), named)
                case ast.Call(func=ast.Name(id="_note")):
                    yield from _spoken(node, (0,), named)
    for act in (*CHANGE_PAGES_ACTS, *ORDER_ACTS, *UNIT_ACTS, CHOOSE, STOP_IN, STOP_OUT, MAKE_SAFE):
        yield from (words for words in (act.words, act.note) if words)
    for node in ast.walk(ast.parse((ROOT / "app/possible.py").read_text(encoding="utf-8"))):
        match node:
            case ast.Assign(targets=[ast.Name(id="why")], value=ast.Constant(value=str(words))):
                yield words


def _spoken(call: ast.Call, places: tuple[int, ...], named: dict[str, set[str]]) -> Iterator[str]:
    """Give the words at some places of a call, and its hint: literals, or names of literals."""
    said = [call.args[place] for place in places if place < len(call.args)]
    said += [one.value for one in call.keywords if one.arg == "hint"]
    for one in said:
        match one:
            case ast.Constant(value=str(words)) if words:
                yield words
            case ast.Name(id=name):
                yield from named.get(name, ())


def walk_words() -> Iterator[str]:
    """Give the register's words of walkdowns, and the cautions of their papers."""
    closed = (CampaignState, FindingState, Half, Grade, StopSeen, ZeroEnd, HowSoon, Fault,
              PhotoSubject, TurnedPart, Direction)  # fmt: skip
    yield from (str(word) for words in closed for word in words)
    yield from (step.act for step in (*CAMPAIGN_STEPS, *FINDING_STEPS))
    yield from (*CAUTIONS, DEFERENCE, *SHOWN)
    yield from map(box_words, (*FIELDS.values(), *LINE_FIELDS.values()))


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


def plan_words() -> Iterator[str]:
    """Give the standing words of a pack that follows a plan, and of one that takes work back."""
    yield from (planned_rounds.SCREENING, planned_rounds.NOT_SOUND, planned_sheets.LEFT_ALONE)
    yield from (ordered_sheets.READ_ONLY, "Rod as told above, nothing more.", "no limit given")
    yield from ("put in", "take out", "nothing propped", "Last step. Read every scale")
    yield from ("No limit is passed on the way.", "No limit is passed from the first turn on.")
    yield from (LEAST_UNITS, "least nozzle use", *PlanAim, *Position, *variable_sheets.WORDS)
    yield from (*FLANGE_READINGS, "the site's own procedure", *judged_units._SUPPLIERS.values())
    yield from (one.what for one in stop_pages.NOT_SAID)
    yield from (one.who_supplies for one in stop_pages.NOT_SAID)
    yield from (one.role for one in pack_of_order._signatures())
    yield from ("stress engineer", "responsible engineer", planned_sheets._READS_PLATE, "engineer")
    yield "Loads, settings and ratings are those of the register on the day of the assessment."
    yield (
        "Prop the line or put in travel stops before the weight is released; no limit is passed "
        "from the first turn on."
    )


def python_messages(path: Path) -> Iterator[str]:
    """Give the messages that a file asks for, by literal or by a constant of the file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    constants = _constants(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _asks(node.func) and node.args:
            yield from _literal(node.args[0], constants)


def _asks(function: ast.expr) -> bool:
    """Return whether something is asked of the catalogue: say(...) or wanted.say(...)."""
    match function:
        case ast.Name(id="say") | ast.Attribute(attr="say"):
            return True
    return False


def spoken_papers() -> list[str]:
    """Return the papers that are told to be complete in a language besides English."""
    return [one.name for one in PAPERS if len(one.languages) > 1]
