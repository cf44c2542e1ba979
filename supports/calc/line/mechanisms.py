"""Naming a motion of a line that nothing resists, in words, from its null vector."""

from __future__ import annotations

import numpy as np

from supports.calc.line.frame import Frame
from supports.calc.line.vectors import FloatArray, crossed, transfers
from supports.errors import Mechanism
from supports.sentences import Sentence

_SHIFTS = ("moves along x", "moves along y", "moves up and down")
_TURNS = ("turns about x", "turns about y", "turns about the vertical")
_NAMED = 3


def loose_motion(frame: Frame, motion: FloatArray, state: str = "") -> Mechanism:
    """Return the exception that names a free motion and the nodes that move most.

    Parameters
    ----------
    motion
        Null vector: one number for each unknown of the line, any scale.
    state
        Name of the state, if only that state is loose.
    """
    moved = node_motion(frame, motion)
    spins = _spins(frame, moved)
    size = np.abs(moved[:, 3:] if spins else moved[:, :3]).max(axis=1)
    most = np.argsort(-size, kind="stable")[:_NAMED]
    names = ", ".join(frame.line.nodes[i].name for i in most)
    line = Sentence("line {line}", line=frame.line.name)
    return Mechanism(
        Sentence("nothing resists a motion of the line: {motion}", motion=in_words(frame, moved)),
        where=Sentence("{line}, {state}", line=line, state=state) if state else line,
        found=Sentence("the largest movement at {names}", names=names),
        expected="a support, guide or anchor that holds it",
        remedy="Add the support that holds this motion, or correct the one that should",
    )


def node_motion(frame: Frame, unknowns: FloatArray) -> FloatArray:
    """Return movement and rotation of every node from the unknowns of the bodies.

    A node of a body moves by u + θ × arm. Leading axes (states) are kept: … × nodes × 6.
    """
    body = frame.bodies.of_node
    out: FloatArray = unknowns.reshape(*unknowns.shape[:-1], -1, 6)[..., body, :]
    out[..., :3] += crossed(out[..., 3:], frame.xyz - frame.bodies.origin[body])
    return out


def in_words(frame: Frame, moved: FloatArray) -> str:
    """Return how the line moves: the rigid motion nearest to it, or that it is a part of it."""
    if _spins(frame, moved):
        return "the pipe " + _named(np.abs(moved[:, 3:]).max(axis=0), _TURNS) + ", on its own axis"
    middle, shift = frame.xyz.mean(axis=0), moved[:, :3].ravel()
    rigid = transfers(frame.xyz - middle)[:, :3, :].reshape(-1, 6)
    rigid[:, 3:] /= _reach(frame)
    fit, *_ = np.linalg.lstsq(rigid, shift, rcond=None)
    whole = np.linalg.norm(rigid @ fit - shift) < 1e-3 * np.linalg.norm(shift)
    subject = "the line as a whole " if whole else "a stretch of the line "
    return subject + _named(np.abs(fit), _SHIFTS + _TURNS)


def _reach(frame: Frame) -> float:
    return max(float(np.abs(frame.xyz - frame.xyz.mean(axis=0)).max()), 1e-9)


def _spins(frame: Frame, moved: FloatArray) -> bool:
    """Return whether the nodes turn and do not shift: a straight pipe about its own axis."""
    turned = float(np.abs(moved[:, 3:]).max()) * _reach(frame)
    return bool(np.abs(moved[:, :3]).max() < 1e-6 * turned)


def _named(share: FloatArray, words: tuple[str, ...]) -> str:
    strong = share > 0.2 * share.max()
    return " and ".join(word for word, much in zip(words, strong, strict=True) if much)
