"""The legend of a sheet: every sign that stands on it, and no other."""

from __future__ import annotations

from collections.abc import Iterator

from reports.drawings.boxes import text_width
from reports.drawings.primitives import (
    HAIR,
    PIPE,
    Anchor,
    Fill,
    Item,
    Point,
    Stroke,
    Words,
    shifted,
)
from reports.drawings.route import DrawnRoute
from reports.drawings.symbols import (
    Axes,
    away_of,
    break_sign,
    nozzle_sign,
    piece_sign,
    support_sign,
    weight_sign,
)
from reports.languages import IN_ENGLISH, Texts
from supports.vocabulary import RoutePiece, SupportKind

_SIGN, _GAP, _ROW, _SIZE = 9.0, 5.0, 11.0, 2.3
_TOP = 2.5


def legend_of(route: DrawnRoute, width: float, say: Texts = IN_ENGLISH) -> tuple[float, list[Item]]:
    """Return the height of the legend [mm] and its items, rows filled from the left."""
    items: list[Item] = [Stroke(((0.0, 0.0), (width, 0.0)), HAIR)]
    left, row = 0.0, 0
    for sign, words in _entries(route, say):
        takes = _SIGN + text_width(words, _SIZE) + _GAP
        if left and left + takes > width:
            left, row = 0.0, row + 1
        middle = _TOP + _ROW * (row + 0.5)
        items += shifted(sign, left + _SIGN / 2.0, middle)
        items.append(Words((left + _SIGN + 0.8, middle), words, _SIZE, Anchor.START))
        left += takes
    return _TOP + _ROW * (row + 1), items


def _entries(route: DrawnRoute, say: Texts) -> Iterator[tuple[list[Item], str]]:
    kinds = {support.kind for support in route.supports}
    kinds |= {SupportKind.ANCHOR for end in route.ends if not end.nozzle}
    for kind in SupportKind:
        if kind in kinds:
            yield _support(kind), say.word(str(kind))
    if any(end.nozzle for end in route.ends):
        yield (
            [_pipe((-4.0, 0.0), (-1.5, 0.0)), *nozzle_sign((-1.5, 0.0), (1.0, 0.0))],
            say("nozzle"),
        )
    pieces = {piece.piece for piece in route.pieces}
    for piece in (RoutePiece.VALVE, RoutePiece.FLANGE_PAIR, RoutePiece.REDUCER, RoutePiece.RIGID):
        if piece in pieces:
            yield [_pipe(), *piece_sign(piece, (-2.0, 0.0), (2.0, 0.0))], say.word(str(piece))
    for put_on, words in ((True, say("weight put on")), (False, say("weight taken off"))):
        if any(weight.put_on is put_on for weight in route.weights):
            yield [_pipe((-3.5, 3.0), (3.5, 3.0)), *weight_sign((0.0, 3.0), on=put_on)], words
    yield [_pipe(), *break_sign((-2.0, 0.0), (2.0, 0.0))], say("drawn shorter than it is")
    yield _arrow(), say.sentence(route.flow)


def _support(kind: SupportKind) -> list[Item]:
    away = away_of(kind, (1.0, 0.0))
    across = kind in {SupportKind.GUIDE, SupportKind.LINE_STOP, SupportKind.ANCHOR}
    level = 0.0 if across else -3.6 * away[1]
    return [_pipe((-3.5, level), (3.5, level)), *support_sign(kind, (0.0, level), (1.0, 0.0))]


def _pipe(start: Point = (-3.5, 0.0), end: Point = (3.5, 0.0)) -> Stroke:
    return Stroke((start, end), PIPE)


def _arrow() -> list[Item]:
    a = Axes((0.0, 0.0), (1.0, 0.0))
    return [
        a.line((-2.6, 0.0), (1.0, 0.0)),
        a.shape((2.6, 0.0), (0.4, -1.0), (0.4, 1.0), fill=Fill.BLACK),
    ]
