"""Supports as they really act: constants, springs, one-way supports and stops, on the small system.

With ground spring G and S the compliance of the line seen at the components, movement q and the sum
r of support force and ground spring obey

    q = q₀ + S r
    free      r − (G − k) q = p
    touching  φ r + (1 − φ (G − k)) q = bound + φ p

so that each choice of who touches is one linear system (a + b S) r = h − b q₀. Who touches is found
by an active set; when that does not settle, by single changes, largest index first, which must end
(Murty's principal pivoting on a positive definite complementarity problem).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from supports.calc.line.vectors import FloatArray
from supports.errors import Mechanism, NoConvergence

StatusArray = npt.NDArray[np.int8]

LOW, FREE, HIGH = -1, 0, 1
SINGULAR_LIMIT = 1e-10
"""Smallest singular value of the scaled small system below which a motion is free [1]."""

_TOGETHER = 12
_SINGLY = 400


@dataclass(frozen=True, slots=True)
class Laws:
    """Laws of the support components in one state, see `supports.calc.line.restraints`.

    Parameters
    ----------
    preload, rate, compliance, low, high
        [N], [N/m], [m/N], [m], [m], one number a component; low = high holds both ways.
    """

    preload: FloatArray
    rate: FloatArray
    compliance: FloatArray
    low: FloatArray
    high: FloatArray


@dataclass(frozen=True, slots=True)
class Settled:
    """Where the supports of a line settled in one state.

    Parameters
    ----------
    laws
        The laws they obey.
    movement, force, contact
        Movement along each component [m], [rad]; whole force on the pipe and the part of it that
        comes from touching [N], [N·m].
    pull
        Force with ground spring, which acts on the factored system [N], [N·m].
    status
        LOW or HIGH where a component touches its end, FREE elsewhere.
    inverse
        Inverse of the scaled small system; `scale` its scale (root of the ground springs).
    rounds
        Rounds needed; `singly` tells that single changes were.
    residual
        Largest breach of the one-way conditions, as a share of largest movement and load [1].
    """

    laws: Laws
    movement: FloatArray
    force: FloatArray
    contact: FloatArray
    pull: FloatArray
    status: StatusArray
    inverse: FloatArray
    scale: FloatArray
    rounds: int
    singly: bool
    residual: float


class LooseSupports(Mechanism):
    """The small system is singular; `pull` is its null vector, from which the motion is named."""

    def __init__(self, pull: FloatArray) -> None:
        self.pull = pull
        super().__init__("nothing resists a motion of the line")


def settle(compliance: FloatArray, ground: FloatArray, start: FloatArray, laws: Laws) -> Settled:
    """Find which supports touch, and all movements and forces.

    Parameters
    ----------
    compliance
        S [m/N], components × components, with the ground springs in.
    ground
        Ground springs G [N/m].
    start
        Movements q₀ [m] under the loads alone.

    Raises
    ------
    LooseSupports
        A motion is free.
    NoConvergence
        Neither way of choosing who touches came to an end.

    Source: K. G. Murty, 'Note on a Bard-type scheme for solving the complementarity problem', 1974.
    """
    scale = np.sqrt(ground)
    scaled = compliance * scale[:, None] * scale
    status = _first_guess(laws)
    for turn in range(1, _TOGETHER + _SINGLY + 1):
        singly = turn > _TOGETHER
        now = _solved(scaled, scale, start, laws, status)
        wanted = _wanted(laws, now, status)
        changes = np.nonzero(wanted != status)[0]
        if not len(changes):
            return _settled(now, laws, status, (turn, singly))
        if singly:
            changes = changes[-1:]
        status = status.copy()
        status[changes] = wanted[changes]
    raise NoConvergence(
        "the one-way supports did not settle",
        found=f"{len(changes)} supports still change after {turn} rounds",
        remedy="Look for supports that hold nothing, or hold against each other",
    )


@dataclass(frozen=True, slots=True)
class _Trial:
    movement: FloatArray
    force: FloatArray
    contact: FloatArray
    pull: FloatArray
    inverse: FloatArray
    scale: FloatArray


def _first_guess(laws: Laws) -> StatusArray:
    closed = (laws.low == laws.high) | (laws.low == 0.0)
    return np.where(closed, LOW, FREE).astype(np.int8)


def _solved(
    scaled: FloatArray, scale: FloatArray, start: FloatArray, laws: Laws, status: StatusArray
) -> _Trial:
    ground = scale * scale
    touching = status != FREE
    soft = 1.0 - laws.compliance * (ground - laws.rate)
    a = np.where(touching, laws.compliance * ground, 1.0)
    b = np.where(touching, soft, laws.rate / ground - 1.0)
    bound = np.where(status == HIGH, laws.high, np.where(touching, laws.low, 0.0))
    h = np.where(touching, (bound + laws.compliance * laws.preload) * scale, laws.preload / scale)
    even = 1.0 / np.maximum(np.maximum(np.abs(a), np.abs(b)), 1.0)
    matrix = (even * b)[:, None] * scaled
    matrix.flat[:: len(scale) + 1] += even * a
    inverse = _inverted(matrix, scale)
    pull = scale * (inverse @ (even * (h - b * start * scale)))
    movement = start + scaled @ (pull / scale) / scale
    movement = np.where(touching & (laws.compliance == 0.0), bound, movement)
    contact = np.where(touching, pull - laws.preload - (ground - laws.rate) * movement, 0.0)
    force = laws.preload - laws.rate * movement + contact
    return _Trial(movement, force, contact, pull, inverse * even, scale)


def _inverted(matrix: FloatArray, scale: FloatArray) -> FloatArray:
    inverse: FloatArray
    try:
        inverse = np.linalg.inv(matrix).astype(np.float64, copy=False)
    except np.linalg.LinAlgError:
        inverse = np.full_like(matrix, np.inf)
    size = float(np.sqrt(np.vdot(inverse, inverse)))
    if not size * SINGULAR_LIMIT < 1.0:
        raise LooseSupports(scale * np.linalg.svd(matrix)[2][-1])
    return inverse


def _wanted(laws: Laws, now: _Trial, status: StatusArray) -> StatusArray:
    """Return the status each component asks for: part when pulled, touch when passed."""
    reach = 1e-12 + 1e-10 * _largest(now.movement)
    grip = 1e-9 * _largest(now.force)
    two_way = laws.low == laws.high
    parts = ((status == LOW) & (now.contact < -grip)) | ((status == HIGH) & (now.contact > grip))
    free = status == FREE
    wanted = np.where(parts & ~two_way, FREE, status)
    wanted = np.where(free & (now.movement < laws.low - reach), LOW, wanted)
    return np.where(free & (now.movement > laws.high + reach), HIGH, wanted).astype(np.int8)


def _settled(now: _Trial, laws: Laws, status: StatusArray, rounds: tuple[int, bool]) -> Settled:
    return Settled(
        laws,
        now.movement,
        now.force,
        now.contact,
        now.pull,
        status,
        now.inverse,
        now.scale,
        *rounds,
        residual=_breach(now, laws, status),
    )


def _breach(now: _Trial, laws: Laws, status: StatusArray) -> float:
    """Return the largest breach of the one-way conditions, relative to movement and load."""
    seen = now.movement + laws.compliance * now.contact
    past = np.maximum(laws.low - seen, seen - laws.high).max(initial=0.0)
    one_way = laws.low != laws.high
    pulled = np.where(one_way & (status == LOW), -now.contact, 0.0).max(initial=0.0)
    pushed = np.where(one_way & (status == HIGH), now.contact, 0.0).max(initial=0.0)
    by_length = past / max(_largest(now.movement), 1e-12)
    return float(max(by_length, max(pulled, pushed) / max(_largest(now.force), 1e-12)))


def _largest(values: FloatArray) -> float:
    return float(np.abs(values).max(initial=0.0))
