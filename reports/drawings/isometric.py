"""A line in three axes from its coordinates, with everything that holds it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

from reports.drawings.boxes import Box, box_around
from reports.drawings.labels import Label, Sheet, leader_items
from reports.drawings.legend import legend_of
from reports.drawings.primitives import (
    PIPE,
    PLAIN,
    Drawing,
    Fill,
    Item,
    Point,
    Stroke,
    Words,
    shifted,
)
from reports.drawings.projection import View, best_view
from reports.drawings.route import DrawnPiece, DrawnRoute
from reports.drawings.symbols import (
    UP,
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

_SIDE, _HEAD = 34.0, 16.0
"""Room left for labels beside and above the line [mm]."""
_ARC_STEPS = 10
_LEVEL = 1e-3
_SIGN_PIECES = {RoutePiece.VALVE, RoutePiece.FLANGE_PAIR, RoutePiece.REDUCER, RoutePiece.RIGID}


@dataclass(frozen=True, slots=True)
class Room:
    """Room on a sheet, landscape [mm]."""

    name: str
    width: float
    height: float


A4, A3 = Room("a4", 264.0, 152.0), Room("a3", 387.0, 236.0)


def isometric(
    route: DrawnRoute, say: Texts = IN_ENGLISH, rooms: tuple[Room, ...] = (A4, A3)
) -> tuple[Drawing, Room]:
    """Draw a line on the smallest sheet on which every label finds room; return both."""
    for room in rooms[:-1]:
        drawing, left_over = _Picture(route, room, say).drawn()
        if not left_over:
            return drawing, room
    return _Picture(route, rooms[-1], say).drawn()[0], rooms[-1]


class _Picture:
    """One attempt on one sheet."""

    def __init__(self, route: DrawnRoute, room: Room, say: Texts) -> None:
        self.route, self.room, self.say = route, room, say
        self.legend_height, self.legend = legend_of(route, room.width, say)
        self.high = room.height - self.legend_height - 2.0
        runs = [(p.start, p.end) for p in route.pieces]
        inner = (room.width - 2.0 * _SIDE, self.high - 2.0 * _HEAD)
        self.view = _moved(best_view(route.nodes, runs, inner), _SIDE, _HEAD)
        self.at = {name: self.view.at(place) for name, place in route.nodes.items()}

    def drawn(self) -> tuple[Drawing, list[Label]]:
        """Return the drawing, and the labels that found no room."""
        signs = list(self._signs())
        sheet = Sheet(Box(0.0, 0.0, self.room.width, self.high))
        sheet.taken += [box_around(items).grown(0.3) for items in signs]
        sheet.lines += [pair for way in self._ways() for pair in pairwise(way)]
        compass = self._compass(sheet)
        placed, left_over = sheet.place(list(self._labels()))
        items: list[Item] = [Stroke(way, PIPE) for way in self._ways()]
        items += [item for p in self.route.pieces if self._cut(p) for item in self._break(p)]
        items += leader_items(placed)
        items += [item for group in (*signs, compass) for item in group]
        items += [item for one in placed for item in one.items()]
        items += self._no_room(left_over)
        items += shifted(self.legend, 0.0, self.high + 2.0)
        return Drawing(self.room.width, self.room.height, tuple(items), self._told()), left_over

    def _ways(self) -> Iterator[tuple[Point, ...]]:
        for piece in self.route.pieces:
            if piece.corner is None:
                yield (self.at[piece.start], self.at[piece.end])
            else:
                yield _arc(self.at[piece.start], self._corner(piece), self.at[piece.end])

    def _corner(self, piece: DrawnPiece) -> Point:
        return self.view.at(piece.corner or self.route.nodes[piece.start])

    def _cut(self, piece: DrawnPiece) -> bool:
        nodes = self.route.nodes
        return piece.piece is RoutePiece.PIPE and self.view.cut_between(
            nodes[piece.start], nodes[piece.end]
        )

    def _break(self, piece: DrawnPiece) -> list[Item]:
        return break_sign(self.at[piece.start], self.at[piece.end])

    def _run(self, node: str) -> Point:
        """Return the direction of the pipe at a node on the paper."""
        for piece in self.route.pieces:
            if node in (piece.start, piece.end) and piece.corner is None:
                (x, y), (u, v) = self.at[piece.start], self.at[piece.end]
                size = math.hypot(u - x, v - y) or 1.0
                return ((u - x) / size, (v - y) / size)
        return (1.0, 0.0)

    def _outward(self, node: str) -> Point:
        for piece in self.route.pieces:
            if node in (piece.start, piece.end):
                inner = piece.end if node == piece.start else piece.start
                (x, y), (u, v) = self.at[inner], self.at[node]
                size = math.hypot(u - x, v - y) or 1.0
                return ((u - x) / size, (v - y) / size)
        return UP

    def _signs(self) -> Iterator[list[Item]]:
        for piece in self.route.pieces:
            if piece.piece in _SIGN_PIECES:
                yield piece_sign(piece.piece, self.at[piece.start], self.at[piece.end])
        for support in self.route.supports:
            yield support_sign(support.kind, self.at[support.node], self._run(support.node))
        for end in self.route.ends:
            if end.nozzle:
                yield nozzle_sign(self.at[end.node], self._outward(end.node))
            else:
                yield support_sign(SupportKind.ANCHOR, self.at[end.node], self._run(end.node))
        for weight in self.route.weights:
            yield weight_sign(self.at[weight.node], on=weight.put_on)
        if self.route.pieces:
            yield self._flow()

    def _flow(self) -> list[Item]:
        """Draw an arrow beside the first pipe, the way the pieces follow, away from the signs."""
        pipes = [p for p in self.route.pieces if p.piece is RoutePiece.PIPE]
        piece = (pipes or list(self.route.pieces))[0]
        start, end = self.at[piece.start], self.at[piece.end]
        run = self._run(piece.start)
        side = 3.0 if abs(run[0]) > 0.2 else -3.0
        middle = (
            (start[0] + end[0]) / 2.0 - run[1] * side,
            (start[1] + end[1]) / 2.0 + run[0] * side,
        )
        a = Axes(middle, run)
        head = a.shape((2.6, 0.0), (0.4, -1.0), (0.4, 1.0), fill=Fill.BLACK)
        return [a.line((-2.6, 0.0), (1.0, 0.0), width=PLAIN), head]

    def _labels(self) -> Iterator[Label]:
        for support in self.route.supports:
            away = away_of(support.kind, self._run(support.node))
            tip = Axes(self.at[support.node], away).point(3.0, 0.0)
            yield Label(tip, (support.tag, *support.words), lean=away)
        for end in self.route.ends:
            outward = self._outward(end.node)
            height = f"EL {self.route.nodes[end.node][2]:+.3f} m"
            yield Label(self.at[end.node], (end.name, height, *end.words), lean=outward)
        for weight in self.route.weights:
            x, y = self.at[weight.node]
            yield Label((x, y - 5.0), weight.words, lean=UP)
        yield from self._elevations()

    def _elevations(self) -> Iterator[Label]:
        """Tell the height of every level run, at its longest piece, and of the two ends."""
        nodes = self.route.nodes
        level = [
            (p, round(nodes[p.start][2], 3))
            for p in self.route.pieces
            if abs(nodes[p.start][2] - nodes[p.end][2]) < _LEVEL
        ]
        for height, run in groupby(level, key=lambda one: one[1]):
            piece = max((p for p, _ in run), key=self._drawn_length)
            (x, y), (u, v) = self.at[piece.start], self.at[piece.end]
            yield Label(((x + u) / 2.0, (y + v) / 2.0), (f"EL {height:+.3f} m",), lean=(0.0, 1.0))

    def _drawn_length(self, piece: DrawnPiece) -> float:
        return math.dist(self.at[piece.start], self.at[piece.end])

    def _compass(self, sheet: Sheet) -> list[Item]:
        """Draw north in the corner that the line leaves most free."""
        corners = [(x, y) for x in (13.0, self.room.width - 13.0) for y in (13.0, self.high - 13.0)]
        at = max(corners, key=lambda c: min(math.dist(c, p) for p in self.at.values()))
        north = self.view.along((0.0, 1.0, 0.0))
        a = Axes(at, north)
        items: list[Item] = [
            a.shape((8.0, 0.0), (-4.0, -2.6), (-2.0, 0.0), fill=Fill.BLACK),
            a.shape((8.0, 0.0), (-4.0, 2.6), (-2.0, 0.0)),
            Words(a.point(10.5, 0.0), "N", 3.6, bold=True),
        ]
        sheet.taken.append(box_around(items).grown(1.0))
        return items

    def _no_room(self, left_over: list[Label]) -> list[Item]:
        if not left_over:
            return []
        names = ", ".join(label.lines[0] for label in left_over)
        return [
            Words(
                (self.room.width / 2.0, self.high),
                self.say("No room for: {names}", names=names),
                2.0,
            )
        ]

    def _told(self) -> str:
        say = self.say
        held = ", ".join(f"{s.tag} ({say.word(str(s.kind))})" for s in self.route.supports)
        ends = ", ".join(end.name for end in self.route.ends)
        return say(
            "Line {number} in three axes, not to scale. Ends: {ends}. Supports in order: {held}.",
            number=self.route.number,
            ends=ends or say("none known"),
            held=held or say("none"),
        )


def _moved(view: View, right: float, down: float) -> View:
    return View(view.axes, view.quarters, view.scale, (view.shift[0] + right, view.shift[1] + down))


def _arc(start: Point, corner: Point, end: Point) -> tuple[Point, ...]:
    """Return a bend on the paper: a curve that leaves and joins its two tangents."""
    points = []
    for step in range(_ARC_STEPS + 1):
        t = step / _ARC_STEPS
        a, b, c = (1.0 - t) ** 2, 2.0 * t * (1.0 - t), t * t
        points.append(
            (a * start[0] + b * corner[0] + c * end[0], a * start[1] + b * corner[1] + c * end[1])
        )
    return tuple(points)
