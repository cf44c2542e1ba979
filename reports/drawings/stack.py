"""The hardware stack of a unit from steel to pipe: each piece with its load and its use."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reports.drawings.primitives import (
    HAIR,
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
    rectangle,
)
from supports.vocabulary import PieceKind

ROW = 12.0
"""Height of one piece [mm]."""
_AXIS, _NAMES, _BARS, _FULL, _WIDTH = 16.0, 34.0, 92.0, 60.0, 172.0
"""Where the stack hangs, names and bars begin; length of a bar at full use; width [mm]."""
_MOST = 1.25
"""Use at which a bar is cut off."""
_TOP = 12.0


@dataclass(frozen=True, slots=True)
class StackPiece:
    """One piece: its kind for the sign, its words, and its use of the rating [1].

    Parameters
    ----------
    use
        None where it cannot be judged.
    """

    kind: str
    name: str
    words: str
    use: float | None
    written: str
    weakest: bool = False


@dataclass(frozen=True, slots=True)
class StackWords:
    """The words on the drawing, in the paper's language."""

    steel: str
    pipe: str
    use: str
    told: str


def stack_drawing(pieces: Sequence[StackPiece], words: StackWords) -> Drawing:
    """Draw a stack from the steel down to the pipe."""
    bottom = _TOP + ROW * len(pieces)
    items: list[Item] = [*_steel(words.steel), Stroke(((_AXIS, 6.0), (_AXIS, bottom + 2.0)), PLAIN)]
    items += _scale(bottom, words.use)
    for place, piece in enumerate(pieces):
        middle = _TOP + ROW * (place + 0.5)
        items += [*piece_sign(piece.kind, (_AXIS, middle)), *_row(piece, middle)]
    items += _pipe(bottom + 6.0, words.pipe)
    return Drawing(_WIDTH, bottom + 12.0, tuple(items), words.told)


def _steel(words: str) -> Iterator[Item]:
    yield Shape(rectangle(_AXIS - 11.0, 3.0, _AXIS + 11.0, 6.0), Fill.HATCH, THIN)
    yield Words((_NAMES, 4.5), words, 2.6, Anchor.START)


def _pipe(middle: float, words: str) -> Iterator[Item]:
    yield Circle((_AXIS, middle), 4.6, Fill.WHITE, STRONG)
    yield Circle((_AXIS, middle), 3.6, Fill.WHITE, HAIR)
    yield Words((_NAMES, middle), words, 2.6, Anchor.START)


def _scale(bottom: float, words: str) -> Iterator[Item]:
    """Give the scale of the bars: nothing, half, all of the rating."""
    for share in (0.0, 0.5, 1.0):
        x = _BARS + share * _FULL
        yield Stroke(((x, _TOP - 2.0), (x, bottom)), STRONG if share == 1.0 else HAIR)
        yield Words((x, _TOP - 4.0), f"{100.0 * share:.0f}\u00a0%", 2.3)
    yield Words((_BARS + _FULL / 2.0, _TOP - 7.6), words, 2.3)


def _row(piece: StackPiece, middle: float) -> Iterator[Item]:
    yield Words((_NAMES, middle - 1.9), piece.name, 3.0, Anchor.START, bold=True)
    yield Words((_NAMES, middle + 2.1), piece.words, 2.3, Anchor.START)
    if piece.use is None:
        yield Stroke(((_BARS, middle), (_BARS + _FULL, middle)), THIN, dashed=True)
        yield Words((_BARS + _FULL + 3.0, middle), f"?  {piece.written}", 2.6, Anchor.START)
        return
    length = min(piece.use, _MOST) * _FULL
    over = piece.use > 1.0
    corners = rectangle(_BARS, middle - 1.9, _BARS + length, middle + 1.9)
    yield Shape(corners, Fill.BLACK if over else Fill.HATCH if piece.weakest else Fill.DOTS, PLAIN)
    at = max(_BARS + length, _BARS + _FULL) + 3.0
    yield Words((at, middle), piece.written, 3.0, Anchor.START, bold=over or piece.weakest)


def piece_sign(kind: str, at: Point) -> Iterator[Item]:
    """Give the sign of a piece on the axis of the stack."""
    x, y = at
    match kind:
        case PieceKind.UNIT:
            yield Shape(rectangle(x - 5.0, y - 4.6, x + 5.0, y + 4.6), Fill.WHITE, STRONG)
            coil = [(x + (2.6 if n % 2 else -2.6), y - 3.2 + 1.07 * n) for n in range(7)]
            yield Stroke(tuple(coil), PLAIN)
        case PieceKind.ROD:
            yield Shape(rectangle(x - 0.8, y - 5.2, x + 0.8, y + 5.2), Fill.WHITE, PLAIN)
        case PieceKind.TURNBUCKLE | PieceKind.COUPLING | PieceKind.NUT:
            yield Shape(rectangle(x - 2.0, y - 3.8, x + 2.0, y + 3.8), Fill.WHITE, PLAIN)
            yield Stroke(((x, y - 3.8), (x, y + 3.8)), HAIR)
        case PieceKind.CLAMP | PieceKind.RISER_CLAMP | PieceKind.YOKE:
            corners = ((x, y - 4.0), (x + 5.4, y + 3.0), (x - 5.4, y + 3.0))
            yield Shape(corners, Fill.WHITE, PLAIN)
        case PieceKind.BEAM | PieceKind.TRAPEZE_BEAM | PieceKind.SHOE | PieceKind.PAD:
            yield Shape(rectangle(x - 8.0, y - 1.6, x + 8.0, y + 1.6), Fill.WHITE, PLAIN)
        case PieceKind.WELD:
            yield Shape(((x - 3.0, y), (x + 3.0, y), (x, y + 3.0)), Fill.BLACK, THIN)
        case _:
            corners = ((x - 3.4, y - 3.4), (x + 3.4, y - 3.4), (x, y + 4.2))
            yield Shape(corners, Fill.WHITE, PLAIN)
            yield Circle((x, y + 0.6), 0.9, Fill.WHITE, THIN)
