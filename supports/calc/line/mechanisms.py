"""Naming a motion of a line that nothing resists, in words, from its null vector."""

from __future__ import annotations

import numpy as np

from supports.calc.line.frame import Frame
from supports.calc.line.vectors import FloatArray, transfers
from supports.errors import Mechanism

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
    size = np.abs(moved[:, :3]).max(axis=1)
    most = np.argsort(-size, kind="stable")[:_NAMED]
    names = ", ".join(frame.line.nodes[i].name for i in most)
    line = f"line {frame.line.name}" + (f", {state}" if state else "")
    return Mechanism(
        "nothing resists a motion of the line: " + in_words(frame, moved),
        where=line,
        found=f"the largest movement at {names}",
        expected="a support, guide or anchor that holds it",
        remedy="Add the support that holds this motion, or correct the one that should",
    )


def node_motion(frame: Frame, unknowns: FloatArray) -> FloatArray:
    """Return movement and rotation of every node, nodes × 6, from the unknowns of the bodies."""
    body = frame.bodies.of_node
    arm = transfers(frame.xyz - frame.bodies.origin[body])
    out: FloatArray = np.einsum("nab,nb->na", arm, unknowns.reshape(-1, 6)[body])
    return out


def in_words(frame: Frame, moved: FloatArray) -> str:
    """Return how the line moves: the rigid motion nearest to it, or that it is a part of it."""
    middle = frame.xyz.mean(axis=0)
    rigid = transfers(frame.xyz - middle)[:, :3, :]
    flat = rigid.reshape(-1, 6)
    reach = max(float(np.abs(frame.xyz - middle).max()), 1e-9)
    scale = np.array([1.0, 1.0, 1.0, 1 / reach, 1 / reach, 1 / reach])
    fit, *_ = np.linalg.lstsq(flat * scale, moved[:, :3].ravel(), rcond=None)
    left = np.linalg.norm(flat * scale @ fit - moved[:, :3].ravel())
    share = np.abs(fit) / max(np.abs(fit).max(), 1e-300)
    words = [w for w, s in zip(_SHIFTS + _TURNS, share, strict=True) if s > 0.2]
    whole = left < 1e-3 * np.linalg.norm(moved[:, :3])
    subject = "the line as a whole " if whole else "a stretch of the line "
    return subject + " and ".join(words) if np.abs(moved[:, :3]).max() > 0 else "a pipe twists"
