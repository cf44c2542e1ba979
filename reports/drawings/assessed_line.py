"""A line drawn straight as an assessment sees it: each support with present, required, and room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reports.drawings.boxes import text_width
from reports.drawings.primitives import (
    HAIR,
    PIPE,
    PLAIN,
    STRONG,
    THIN,
    Anchor,
    Circle,
    Drawing,
    Fill,
    Item,
    Point,
    Shape,
    Stroke,
    Words,
    below_each_other,
    rectangle,
    shifted,
)
from reports.drawings.symbols import DOWN, Axes, sign_along, support_sign
from reports.languages import IN_ENGLISH, Texts
from supports.vocabulary import SupportKind, Verdict

ABREAST = 16
"""Supports side by side."""
_BAR, _GAP = 4.2, 1.2
"""Width of a bar, and between bar and room [mm]."""
_TAG, _SMALL = 2.4, 2.05
_HEAD, _FEET = 7.0, 33.0
_ACROSS = {SupportKind.GUIDE, SupportKind.LINE_STOP, SupportKind.ANCHOR}


@dataclass(frozen=True, slots=True)
class AssessedSupport:
    """One support: loads [N] with the words for them; None is not known.

    Parameters
    ----------
    stop
        Words of a label over the bars; '' where nothing forbids anything.
    """

    tag: str
    kind: SupportKind
    verdict: Verdict
    present: float | None
    required: float | None
    low: float | None
    high: float | None
    written: tuple[str, str, str, str]
    """Place, present, required, room."""
    stop: str = ""


def assessed_strips(
    supports: Sequence[AssessedSupport],
    width: float = 264.0,
    tallest: float = 34.0,
    say: Texts = IN_ENGLISH,
) -> tuple[Drawing, ...]:
    """Draw a line in as many strips as it needs, all to one scale of load, evenly filled."""
    top = max((abs(value) for one in supports for value in _values(one)), default=0.0)
    scale = tallest / top if top else 0.0
    strips = math.ceil(len(supports) / ABREAST)
    each = math.ceil(len(supports) / strips) if strips else 0
    groups = [supports[n * each : (n + 1) * each] for n in range(strips)]
    return tuple(_drawing(group, width, tallest, scale, say) for group in groups)


def _drawing(
    group: Sequence[AssessedSupport], width: float, tallest: float, scale: float, say: Texts
) -> Drawing:
    parts = [_strip(group, width, tallest, scale, say), _key(width, say)]
    height, items = below_each_other(parts, 4.0)
    return Drawing(width, height, tuple(items), " ".join(_told(one, say) for one in group))


def _values(one: AssessedSupport) -> Iterator[float]:
    yield from (v for v in (one.present, one.required, one.low, one.high) if v is not None)


def _strip(
    group: Sequence[AssessedSupport], width: float, tallest: float, scale: float, say: Texts
) -> tuple[float, list[Item]]:
    base = _HEAD + tallest
    sunk = max((-v * scale for one in group for v in (one.present, one.required) if v), default=0.0)
    sunk = max(sunk, 0.0)
    step = min((width - 24.0) / len(group), 34.0)
    start = 24.0 + step / 2.0
    items: list[Item] = [Stroke(((18.0, base), (24.0 + step * len(group), base)), PIPE)]
    for place, one in enumerate(group):
        items += _column(one, start + step * place, base, scale)
        items += _below(one, start + step * place, base + sunk, step)
    items += _captions(base + sunk, say)
    return base + sunk + _FEET, items


def _column(one: AssessedSupport, x: float, base: float, scale: float) -> Iterator[Item]:
    left = x - _BAR - _GAP
    yield from _bar(one.present, Fill.WHITE, left, base, scale)
    yield from _bar(one.required, Fill.BLACK, left + _BAR, base, scale)
    room = left + 2.0 * _BAR + 2.4
    ends = [base - value * scale for value in (one.low, one.high) if value is not None]
    yield from (Stroke(((room - 1.3, y), (room + 1.3, y)), PLAIN) for y in ends)
    if len(ends) == 2:
        yield Stroke(((room, ends[0]), (room, ends[1])), THIN)
    if one.stop:
        half = text_width(one.stop, _SMALL, bold=True) / 2.0 + 1.0
        yield Shape(rectangle(x - half, 1.0, x + half, 5.0), Fill.WHITE, STRONG)
        yield Words((x, 3.0), one.stop, _SMALL, bold=True)


def _bar(value: float | None, fill: Fill, left: float, base: float, scale: float) -> Iterator[Item]:
    if value is None:
        corners = rectangle(left, base - 6.0, left + _BAR, base)
        yield Stroke((*corners, corners[0]), HAIR, dashed=True)
        yield Words((left + _BAR / 2.0, base - 3.0), "?", _TAG, bold=True)
        return
    y = base - value * scale
    yield Shape(rectangle(left, min(y, base), left + _BAR, max(y, base)), fill, PLAIN)


def _below(one: AssessedSupport, x: float, base: float, step: float) -> Iterator[Item]:
    yield from _kind_sign(one.kind, x, base)
    top = base + 15.2
    size = min(_TAG, _TAG * (step - 1.0) / max(text_width(one.tag, _TAG, bold=True), 0.1))
    yield from verdict_sign(one.verdict, (x, base + 11.6))
    yield Words((x, top), one.tag, size, bold=True)
    for row, words in enumerate(one.written):
        narrow = min(_SMALL, _SMALL * (step - 0.8) / max(text_width(words, _SMALL), 0.1))
        yield Words((x, top + 4.2 + 3.5 * row), words, narrow, bold=row == 2)


def _kind_sign(kind: SupportKind, x: float, base: float) -> list[Item]:
    if kind in _ACROSS:
        pipe = Stroke(((x - 3.0, base + 4.5), (x + 3.0, base + 4.5)), STRONG)
        return [pipe, *support_sign(kind, (x, base + 4.5), (1.0, 0.0))]
    return sign_along(kind, Axes((x, base + 1.4), DOWN))


def verdict_sign(verdict: Verdict, at: Point, half: float = 1.3) -> Iterator[Item]:
    """Give the sign of a verdict, by shape: the same as before the words of the tables."""
    x, y = at
    match verdict:
        case Verdict.LEAVE:
            yield Circle(at, half, Fill.WHITE, PLAIN)
        case Verdict.RE_SET:
            yield Shape(
                ((x - half, y + half), (x, y - half), (x + half, y + half)), Fill.BLACK, THIN
            )
        case Verdict.ENGINEER_DECIDES:
            corners = ((x, y - half), (x + half, y), (x, y + half), (x - half, y))
            yield Shape(corners, Fill.WHITE, PLAIN)
        case Verdict.CANNOT_BE_SET:
            yield Stroke(((x - half, y - half), (x + half, y + half)), STRONG)
            yield Stroke(((x + half, y - half), (x - half, y + half)), STRONG)
        case Verdict.HARDWARE_FAILS:
            yield Shape(rectangle(x - half, y - half, x + half, y + half), Fill.BLACK, THIN)
        case Verdict.CANNOT_JUDGE:
            yield Shape(rectangle(x - half, y - half, x + half, y + half), Fill.WHITE, PLAIN)
            yield Words(at, "?", 2.2, bold=True)


def _captions(base: float, say: Texts) -> Iterator[Item]:
    names = (say("along"), say("present"), say("required"), say("room"))
    for row, name in enumerate(names):
        yield Words((0.0, base + 19.4 + 3.5 * row), name, _SMALL, Anchor.START)


def _key(width: float, say: Texts) -> tuple[float, list[Item]]:
    """Return the height of the key and its items; verdicts go beneath where words are long."""
    bars, signs = list(_key_of_bars(say)), list(_key_of_verdicts(say))
    ends = [max(i.at[0] + text_width(i.text, _SMALL) for i in part if isinstance(i, Words))
            for part in (bars, signs)]  # fmt: skip
    if ends[0] + 5.0 + ends[1] <= width:
        return 7.0, [*bars, *shifted(signs, ends[0] + 5.0, 0.0)]
    return 12.5, [*bars, *shifted(signs, 18.0, 5.5)]


def _key_of_bars(say: Texts) -> Iterator[Item]:
    left = 18.0
    for fill, words in ((Fill.WHITE, say("present load")), (Fill.BLACK, say("required load"))):
        yield Shape(rectangle(left, 2.0, left + 4.0, 5.0), fill, PLAIN)
        yield Words((left + 5.4, 3.5), words, _SMALL, Anchor.START)
        left += 9.0 + text_width(words, _SMALL)
    yield from shifted([Stroke(((0.0, 1.4), (0.0, 5.6)), THIN)], left + 2.0, 0.0)
    yield from (Stroke(((left + 0.7, y), (left + 3.3, y)), PLAIN) for y in (1.4, 5.6))
    yield Words(
        (left + 5.4, 3.5), say("room of the setting, from the nameplate"), _SMALL, Anchor.START
    )


def _key_of_verdicts(say: Texts) -> Iterator[Item]:
    left = 0.0
    for verdict in Verdict:
        yield from verdict_sign(verdict, (left + 1.3, 3.5))
        words = say.word(str(verdict))
        yield Words((left + 3.8, 3.5), words, _SMALL, Anchor.START)
        left += 7.0 + text_width(words, _SMALL)


def _told(one: AssessedSupport, say: Texts) -> str:
    place, present, required, room = one.written
    return say(
        "{tag}, {place}: present {present}, required {required}, room {room}, {verdict}.",
        tag=one.tag,
        place=place,
        present=present,
        required=required,
        room=room,
        verdict=say.word(str(one.verdict)),
    )
