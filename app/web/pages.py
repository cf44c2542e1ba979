"""Pages from templates: what every page is given, and how values are written in it."""

from __future__ import annotations

from datetime import date, datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context

from app.plan_words import CAUTIONS
from app.possible import Possible
from app.web.navigation import places_for
from app.web.record_words import field_in_words, value_in_words
from reports.contents.rule_appendix import step_words
from reports.html.document import BLOCK_FILTERS
from reports.html.document import TEMPLATES as PAPER_TEMPLATES
from reports.languages import Texts, languages
from supports.errors import SupportsError
from supports.freezing import short
from supports.plant_time import at_plant, clock_words
from supports.rules.wording import scope_words
from supports.rules.workflow.record import FIVE_ITEMS
from supports.sentences import without_commands
from supports.units import Kind, shown

if TYPE_CHECKING:
    from app.web.visits import Visit

TEMPLATES = Path(__file__).parent / "templates"
STATIC = Path(__file__).parent / "static"


def filled(visit: Visit, template: str, **words: Any) -> str:
    """Return a page, or a part of one, as HTML."""
    given = {
        "visit": visit,
        "w": visit.say,
        "places": places_for(visit),
        "plant": visit.plant,
        "all_languages": languages(),
        "form_key": visit.form_key,
    }
    return _environment().get_template(template).render(given | words)


@pass_context
def load(page: Context, value: float | None, symbol: str = "kN") -> str:
    """Return a load in the unit named; 'not known' if it is not."""
    return said(shown(value, symbol, Kind.LOAD), page["w"])


@pass_context
def distance(page: Context, value: float | None, symbol: str = "mm") -> str:
    """Return a length in the unit named; 'not known' if it is not."""
    return said(shown(value, symbol, Kind.LENGTH), page["w"])


@pass_context
def day(page: Context, value: date | datetime | None) -> str:
    """Return a day as on every paper; of a moment, the day at the plant."""
    if isinstance(value, datetime):
        value = value if value.tzinfo else at_plant(value, page["visit"].register.zone)
    return "" if value is None else f"{value:%Y-%m-%d}"


@pass_context
def moment(page: Context, value: datetime | None) -> str:
    """Return a moment as the plant's clock shows it, with its zone; UTC where none is laid down."""
    if value is None:
        return ""
    return clock_words(value, None if value.tzinfo else page["visit"].register.zone)


@pass_context
def mass(page: Context, value: float | None) -> str:
    """Return a mass in kg; 'not known' if it is not."""
    return said(shown(value, "kg", Kind.MASS), page["w"])


def share(value: float | None) -> str:
    """Return a share in per cent; '' where there is none."""
    return "" if value is None else f"{100.0 * value:.0f}\u202f%"


def said(text: str, say: Texts) -> str:
    """Return what the program says in the visitor's language; a stranger's words stay."""
    return say.sentence(text)


def told(error: SupportsError, say: Texts) -> str:
    """Return all that an error says, for a page that makes its own of it."""
    return spoken(error.said, say)


def spoken(text: str, say: Texts) -> str:
    """Return a sentence in the visitor's language, without what is typed in a terminal."""
    return say.sentence(without_commands(text)).strip()


def scope(where: str, say: Texts) -> str:
    """Return what a limit holds for: one line, one class; '' is the whole site."""
    return say.sentence(scope_words(where)) if where else ""


def _address(visit: Visit, **changed: Any) -> str:
    """Return this page's address with some of its questions changed; None takes one out."""
    query = {name: value for name, value in visit.request.query_params.items() if value}
    query |= changed
    left = {name: value for name, value in query.items() if value}
    return (
        f"{visit.request.url.path}?{urlencode(left, doseq=True)}"
        if left
        else visit.request.url.path
    )


@cache
def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader([TEMPLATES, PAPER_TEMPLATES]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    written = {"load": load, "distance": distance, "day": day, "moment": moment,
               "mass": mass, "share": share,
               "stored": value_in_words, "field": field_in_words,
               "said": said, "step": step_words, "scope": scope,
               "here": without_commands, "short": short}  # fmt: skip
    made.filters |= BLOCK_FILTERS | written
    made.globals |= {"address": _address, "own_styles": False, "five": FIVE_ITEMS,
                     "cautions": CAUTIONS}  # fmt: skip
    made.tests["offered_to"] = Possible.for_whom
    return made
