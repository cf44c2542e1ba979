"""The hardware stack of a unit: drawn with the use of each piece, and as a table."""

from __future__ import annotations

from collections.abc import Iterator

from reports.contents.blocks import Block, Cell, Column, Heading, Mark, Paragraph, Picture, Table
from reports.contents.written import NOT_KNOWN, amount, bare, cut, load, percent
from reports.drawings.primitives import Drawing
from reports.drawings.stack import StackPiece, StackWords, stack_drawing
from reports.languages import Texts
from supports.calc.hardware import PieceUse, StackUse
from supports.rules.judgement import UnitJudgement
from supports.snapshots import PieceView, SupportView, UnitView
from supports.units import Kind


def stack_blocks(
    support: SupportView, unit: UnitView | None, judged: UnitJudgement, say: Texts
) -> Iterator[Block]:
    """Give the stack from steel to pipe; without pieces or load it says what is missing."""
    pieces = [p for p in support.hardware if unit is None or p.branch == unit.position]
    yield Heading(say("Hardware from steel to pipe"), 3)
    if not pieces:
        yield Paragraph(say("No piece is listed: the hardware cannot be judged."), strong=True)
        return
    uses: tuple[PieceUse | None, ...] = judged.stack.pieces if judged.stack else ()
    held = uses if len(uses) == len(pieces) else (None,) * len(pieces)
    rows = list(zip(pieces, held, strict=True))
    yield Picture(_drawing(rows, judged.stack, say))
    yield Table(_columns(say), tuple(_row(piece, use, say) for piece, use in rows), small=True)


def _name(piece: PieceView, say: Texts) -> str:
    return f"{say.word(piece.kind)} {piece.size}".strip()


def _drawing(
    rows: list[tuple[PieceView, PieceUse | None]], stack: StackUse | None, say: Texts
) -> Drawing:
    weakest = stack.weakest if stack else None
    drawn = [
        StackPiece(
            kind=piece.kind,
            name=cut(_name(piece, say), 26),
            words=_words(use, piece, say),
            use=use.utilisation if use else None,
            written=_use(use, say),
            weakest=use is not None and use is weakest,
        )
        for piece, use in rows
    ]
    told = "; ".join(f"{one.name}: {one.words}, {one.written}" for one in drawn)
    words = StackWords(
        steel=say("structural steel"),
        pipe=say("pipe"),
        use=say("load over rating"),
        told=say("Stack from steel to pipe: {pieces}.", pieces=told),
    )
    return stack_drawing(drawn, words)


def _use(use: PieceUse | None, say: Texts) -> str:
    if use is None or use.utilisation is None:
        return say("cannot judge")
    return percent(use.utilisation)


def _words(use: PieceUse | None, piece: PieceView, say: Texts) -> str:
    carried = load(use.load if use else None, "kN")
    rating = load(use.capacity if use else piece.rated_load, "kN")
    return say("carries {load}, rated {rating}", load=_known(carried, say),
               rating=_known(rating, say))  # fmt: skip


def _known(text: str, say: Texts) -> str:
    return say(NOT_KNOWN) if text == NOT_KNOWN else text


def _columns(say: Texts) -> tuple[Column, ...]:
    return (
        Column(say("No."), 0.0, right=True),
        Column(say("Piece"), 1.4),
        Column(say("Carries kN"), 0.0, right=True),
        Column(say("Rated kN"), 0.0, right=True),
        Column(say("Use"), 0.9),
        Column(say("Source of the rating"), 1.8),
        Column(say("Length"), 0.0, right=True),
        Column(say("Thread left"), 0.0, right=True),
        Column(say("Mass"), 0.0, right=True),
    )


def _row(piece: PieceView, use: PieceUse | None, say: Texts) -> tuple[str | Cell, ...]:
    unknown = use is None or use.utilisation is None
    over = use is not None and (use.utilisation or 0.0) > 1.0
    mark = Mark.CANNOT_JUDGE if unknown else Mark.HARDWARE_FAILS if over else Mark.NONE
    return (
        str(piece.position),
        Cell(_name(piece, say), strong=True),
        _known(bare(use.load if use else None, "kN", Kind.LOAD), say),
        _known(bare(use.capacity if use else piece.rated_load, "kN", Kind.LOAD), say),
        Cell(_use(use, say), strong=over, mark=mark),
        piece.rating_source or say(NOT_KNOWN),
        _dash(amount(piece.length, "mm", Kind.LENGTH)),
        _dash(amount(piece.adjustment_left, "mm", Kind.LENGTH)),
        _dash(amount(piece.mass, "kg", Kind.MASS)),
    )


def _dash(text: str) -> str:
    return "–" if text == NOT_KNOWN else text
