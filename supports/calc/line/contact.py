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

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from supports.calc.line.vectors import FloatArray, IntArray
from supports.errors import Mechanism, NoConvergence
from supports.sentences import Sentence

BoolArray = npt.NDArray[np.bool_]
StatusArray = npt.NDArray[np.int8]

LOW, FREE, HIGH = -1, 0, 1
SINGULAR_LIMIT = 1e-10
"""Smallest singular value of the scaled small system below which a motion is free [1]."""

SOFT_SHARE = 1e-6
"""Share of the ground springs left in while the search passes through a loose choice [1].

A line on rests alone is loose while they are apart. The search then goes on with soft springs, and
ends without them; only what is loose at the end is a mechanism.
"""

TOGETHER = 12
"""Rounds in which all supports that ask for it change at once; after them one at a time."""

_SINGLY = 400


@dataclass(frozen=True, slots=True)
class Laws:
    """Laws of the support components, states × components; see `supports.calc.line.restraints`.

    Parameters
    ----------
    preload, rate, compliance, low, high
        [N], [N/m], [m/N], [m], [m]; low = high holds both ways.
    """

    preload: FloatArray
    rate: FloatArray
    compliance: FloatArray
    low: FloatArray
    high: FloatArray

    def of(self, states: IntArray) -> Laws:
        """Return the laws of some of the states."""
        return Laws(
            self.preload[states],
            self.rate[states],
            self.compliance[states],
            self.low[states],
            self.high[states],
        )


@dataclass(frozen=True, slots=True)
class Trial:
    """One choice of who touches, worked out; arrays are states × components.

    Parameters
    ----------
    movement, force, contact
        Movement along each component [m], [rad]; whole force on the pipe and the part of it that
        comes from touching [N], [N·m].
    pull
        Force with ground spring, which acts on the factored system [N], [N·m].
    inverse
        Inverse of the scaled small system, states × components × components.
    """

    movement: FloatArray
    force: FloatArray
    contact: FloatArray
    pull: FloatArray
    inverse: FloatArray

    def put(self, states: IntArray, other: Trial) -> None:
        """Write a new choice over that of some states."""
        self.movement[states], self.force[states] = other.movement, other.force
        self.contact[states], self.pull[states] = other.contact, other.pull
        self.inverse[states] = other.inverse


@dataclass(frozen=True, slots=True)
class Settled:
    """Where the supports of a line settled, in all its states.

    Parameters
    ----------
    laws, trial
        The laws, and the choice that obeys them.
    status
        LOW or HIGH where a component touches its end, FREE elsewhere, states × components.
    scale
        Scale of the small system (root of the ground springs).
    rounds
        Rounds needed by each state; more than `TOGETHER` tells that single changes were needed.
    residual
        Largest breach of the one-way conditions of each state, as a share of its largest movement
        and load [1].
    """

    laws: Laws
    trial: Trial
    status: StatusArray
    scale: FloatArray
    rounds: IntArray
    residual: FloatArray


class LooseSupports(Mechanism):
    """The small system of one state is singular; `pull` is its null vector."""

    def __init__(self, state: int, pull: FloatArray) -> None:
        self.state, self.pull = state, pull
        super().__init__("nothing resists a motion of the line")


def settle(compliance: FloatArray, ground: FloatArray, start: FloatArray, laws: Laws) -> Settled:
    """Find which supports touch in each state, and all movements and forces.

    Parameters
    ----------
    compliance
        S [m/N], components × components, with the ground springs in.
    ground
        Ground springs G [N/m].
    start
        Movements q₀ [m] under the loads alone, states × components.

    Raises
    ------
    LooseSupports
        A motion is free.
    NoConvergence
        Neither way of choosing who touches came to an end.

    Source: K. G. Murty, 'Note on a Bard-type scheme for solving the complementarity problem', 1974.
    """
    small = _Small.of(compliance, ground)
    try:
        return _searched(small, start, laws, _first_guess(laws))
    except LooseSupports:
        soft = replace(laws, rate=laws.rate + SOFT_SHARE * ground)
        near = _searched(small, start, soft, _first_guess(laws))
        return _searched(small, start, laws, near.status)


def _searched(small: _Small, start: FloatArray, laws: Laws, status: StatusArray) -> Settled:
    """Change who touches until nobody asks for it."""
    rounds = np.ones(len(start), dtype=np.int64)
    trial = small.tried(start, laws, status, np.arange(len(start)))
    for _ in range(TOGETHER + _SINGLY):
        wanted = _wanted(laws, trial, status)
        still = np.nonzero((wanted != status).any(axis=1))[0]
        if not len(still):
            return Settled(laws, trial, status, small.scale, rounds, _breach(laws, trial, status))
        status[still] = _changed(status[still], wanted[still], rounds[still] >= TOGETHER)
        trial.put(still, small.tried(start[still], laws.of(still), status[still], still))
        rounds[still] += 1
    raise NoConvergence(
        "the one-way supports did not settle",
        found=Sentence(
            "supports still change after {together} rounds", together=str(TOGETHER + _SINGLY)
        ),
        remedy="Look for supports that hold nothing, or hold against each other",
    )


@dataclass(frozen=True, slots=True)
class _Small:
    """The small system, made even by the roots of the ground springs."""

    scaled: FloatArray
    scale: FloatArray
    ground: FloatArray

    @classmethod
    def of(cls, compliance: FloatArray, ground: FloatArray) -> _Small:
        scale = np.sqrt(ground)
        return cls(compliance * scale[:, None] * scale, scale, ground)

    def tried(self, start: FloatArray, laws: Laws, status: StatusArray, states: IntArray) -> Trial:
        """Solve for one choice of who touches, all states at once."""
        touching = status != FREE
        a = np.where(touching, laws.compliance * self.ground, 1.0)
        loose = laws.rate / self.ground - 1.0
        b = np.where(touching, 1.0 - laws.compliance * (self.ground - laws.rate), loose)
        bound = np.where(status == HIGH, laws.high, laws.low)
        held = (bound + laws.compliance * laws.preload) * self.scale
        h = np.where(touching, held, laws.preload / self.scale)
        even = 1.0 / np.maximum(np.maximum(np.abs(a), np.abs(b)), 1.0)
        inverse = self._inverse(even * a, even * b, states) * even[:, None, :]
        uneven = np.matmul(inverse, (h - b * start * self.scale)[:, :, None])[:, :, 0]
        pull = self.scale * uneven
        movement = start + uneven @ self.scaled / self.scale
        movement = np.where(touching & (laws.compliance == 0.0), bound, movement)
        push = pull - laws.preload - (self.ground - laws.rate) * movement
        contact = np.where(touching, push, 0.0)
        force = laws.preload - laws.rate * movement + contact
        return Trial(movement, force, contact, pull, inverse)

    def _inverse(self, a: FloatArray, b: FloatArray, states: IntArray) -> FloatArray:
        count = len(self.scale)
        matrix = b[:, :, None] * self.scaled
        matrix.reshape(len(a), -1)[:, :: count + 1] += a
        try:
            inverse = np.linalg.inv(matrix).astype(np.float64, copy=False)
        except np.linalg.LinAlgError:
            inverse = np.full_like(matrix, np.inf)
        size = np.sqrt(np.einsum("sij,sij->s", inverse, inverse))
        if not (size * SINGULAR_LIMIT < 1.0).all():
            self._refuse_loose(matrix, states)
        return inverse

    def _refuse_loose(self, matrix: FloatArray, states: IntArray) -> None:
        _, size, motion = np.linalg.svd(matrix)
        worst = int(np.argmin(size[:, -1]))
        raise LooseSupports(int(states[worst]), self.scale * motion[worst, -1])


def _first_guess(laws: Laws) -> StatusArray:
    closed = (laws.low == laws.high) | (laws.low == 0.0)
    return np.where(closed, LOW, FREE).astype(np.int8)


def _changed(status: StatusArray, wanted: StatusArray, singly: BoolArray) -> StatusArray:
    """Change all that ask for it, or only the last one of a state that goes singly."""
    asks = wanted != status
    last = asks.shape[1] - 1 - np.argmax(asks[:, ::-1], axis=1)
    only = np.arange(asks.shape[1]) == last[:, None]
    return np.where(asks & (only | ~singly[:, None]), wanted, status)


def _wanted(laws: Laws, now: Trial, status: StatusArray) -> StatusArray:
    """Return the status each component asks for: part when pulled, touch when passed."""
    reach = 1e-12 + 1e-10 * _largest(now.movement)
    grip = 1e-9 * _largest(now.force)
    two_way = laws.low == laws.high
    parts = ((status == LOW) & (now.contact < -grip)) | ((status == HIGH) & (now.contact > grip))
    free = status == FREE
    wanted = np.where(parts & ~two_way, FREE, status)
    wanted = np.where(free & (now.movement < laws.low - reach), LOW, wanted)
    return np.where(free & (now.movement > laws.high + reach), HIGH, wanted).astype(np.int8)


def _breach(laws: Laws, now: Trial, status: StatusArray) -> FloatArray:
    """Return the largest breach of the one-way conditions, relative to movement and load."""
    seen = now.movement + laws.compliance * now.contact
    past = np.maximum(np.maximum(laws.low - seen, seen - laws.high), 0.0)
    one_way = laws.low != laws.high
    wrong = np.where(status == LOW, -now.contact, now.contact)
    pulled = np.where(one_way & (status != FREE), np.maximum(wrong, 0.0), 0.0)
    by_length = past / np.maximum(_largest(now.movement), 1e-12)
    by_force = pulled / np.maximum(_largest(now.force), 1e-12)
    out: FloatArray = np.maximum(by_length, by_force).max(axis=1, initial=0.0)
    return out


def _largest(values: FloatArray) -> FloatArray:
    out: FloatArray = np.abs(values).max(axis=1, initial=0.0)[:, None]
    return out
