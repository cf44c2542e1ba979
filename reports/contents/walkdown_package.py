"""What a walkdown package says: the paper that is carried up ladders, in wind and rain."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from reports.contents.common import PaperHead
from reports.contents.written import NOT_KNOWN, amount, bare, load
from reports.languages import IN_ENGLISH, Texts
from supports.rules.walkdown.form import FormContent, FormRow
from supports.rules.walkdown.words import Half, half_of
from supports.snapshots import ReadingView
from supports.units import Kind
from supports.vocabulary import PlantState

CAUTIONS = (
    "Look, read, write, photograph. Touch no bolt, no nut and no travel stop.",
    "Surfaces may be hot enough to burn through gloves; leaks may not be seen.",
    "Never beneath a unit or the pipe; never lean on a rod, a lever or a counterweight.",
    "Three points of contact on ladders; no reading is worth a climb without a safe way up.",
    "Unsafe now? Leave, keep others away, tell the shift at once. Then write.",
)
"""Usual cautions of the trade; common practice, no source."""

DEFERENCE = (
    "The site's own procedures, permits and access rules, local codes and law, and the judgement "
    "of the licensed engineer in charge come before this paper. Where they differ, stop and ask."
)

HOW_TO_WRITE = (
    "A blank is not a nought. Write the number that you see, in the unit on the scale, and tick "
    "the end that you counted from. Marks without a unit: write how many the whole scale has. Not "
    "seen is an answer: say why."
)


@dataclass(frozen=True, slots=True)
class Sketch:
    """A line drawn in space, as SVG, and told in words."""

    svg: str
    told: str


@dataclass(frozen=True, slots=True)
class WalkdownPackage:
    """The package: the frozen form, its head, and who takes it out.

    Parameters
    ----------
    pictures
        Small copies of the photos printed, as JPEG by hash; one that is not there is named.
    sketches
        Lines drawn in space, by number, where their route is on record.
    """

    head: PaperHead
    form: FormContent
    walkers: tuple[str, ...] = ()
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    sketches: Mapping[str, Sketch] = field(default_factory=dict)

    @property
    def by_kind(self) -> list[tuple[str, int]]:
        """Return the rows counted by kind, most frequent first."""
        return Counter(str(row.kind) for row in self.form.rows).most_common()

    @property
    def cards(self) -> tuple[FormRow, ...]:
        """Return the rows that get a card of their own."""
        return tuple(row for row in self.form.rows if row.wants_card)

    def rows_on(self, line: str) -> tuple[FormRow, ...]:
        """Return a line's rows in walking order."""
        return tuple(row for row in self.form.rows if row.line == line)


def half_words(half: Half, say: Texts = IN_ENGLISH) -> str:
    """Return a half as it stands in titles: good for hot and for cold lines."""
    return {
        Half.OPERATING: say("operating (hot) walk"),
        Half.SHUT_DOWN: say("shut-down (cold) walk"),
    }[half]


def length_unit(row: FormRow) -> str:
    """Return the unit in which lengths are printed for a row."""
    return row.pointer_unit if row.pointer_unit in {"mm", "in", "cm"} else "mm"


def scale_unit(row: FormRow) -> str:
    """Return the unit in which loads are printed for a row."""
    return row.load_unit or "kN"


def place_of(row: FormRow, say: Texts = IN_ENGLISH) -> str:
    """Return where a support is, for somebody who has to find it."""
    parts = [row.floor, row.grid]
    if row.height is not None:
        parts.append(say("{height} m above floor", height=f"{row.height:.1f}"))
    return ", ".join(part for part in parts if part) or say("place not known")


def expected_pointer(row: FormRow, say: Texts = IN_ENGLISH) -> str:
    """Return the pointer expected with its window, or what is missing."""
    wanted = row.expected
    if wanted is None:
        return ""
    if wanted.pointer is None:
        return say("no marks known") if row.kind.is_constant else ""
    unit = length_unit(row)
    slack = amount(wanted.pointer_slack, unit, Kind.LENGTH)
    return f"{bare(wanted.pointer, unit, Kind.LENGTH)} ± {slack}"


def expected_load(row: FormRow, say: Texts = IN_ENGLISH) -> str:
    """Return the load expected with its window, or what is missing."""
    wanted = row.expected
    if wanted is None or not row.kind.is_spring:
        return ""
    if wanted.load is None:
        missing = ", ".join(map(say.sentence, wanted.missing)) or say("setting")
        return say("cannot tell (missing: {missing})", missing=missing)
    unit = scale_unit(row)
    return f"{bare(wanted.load, unit, Kind.LOAD)} ± {load(wanted.load_slack, unit)}"


def last_in(row: FormRow, half: Half) -> ReadingView | None:
    """Return the newest reading of a half."""
    held = (one for one in row.last if half_of(PlantState(one.plant_state)) is half)
    return next(held, None)


def last_words(row: FormRow, half: Half, say: Texts = IN_ENGLISH) -> str:
    """Return the newest reading of a half in one line: pointer, load, month."""
    last = last_in(row, half)
    if last is None:
        return say("never")
    parts = []
    if last.pointer is not None:
        parts.append(amount(last.pointer, length_unit(row), Kind.LENGTH))
    if last.scale_load is not None:
        parts.append(load(last.scale_load, scale_unit(row)))
    day = say.day(last.read_on, "%b\u00a0%Y")
    return f"{', '.join(parts) or NOT_KNOWN} {day}"


def arrow(row: FormRow, say: Texts = IN_ENGLISH) -> str:
    """Return where the pipe goes when it warms up, in words."""
    if row.movement is None:
        return NOT_KNOWN if row.kind.is_spring else ""
    way = say("up") if row.movement > 0 else say("down")
    moved = amount(abs(row.movement), length_unit(row), Kind.LENGTH)
    return (
        say("{way} {moved} when hot", way=way, moved=moved) if row.movement else say("no movement")
    )
