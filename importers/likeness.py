"""The names that resemble another one, out of very many: the same that difflib would find.

Letters in common, counted for all names at once, bound how alike two names can be. Only those that
may still be among the nearest are compared letter by letter.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from heapq import heappush, heappushpop

import numpy as np
import numpy.typing as npt

CUTOFF = 0.7
"""Names less alike than this are another name. Our own choice."""

Letters = npt.NDArray[np.uint32]


@dataclass(slots=True)
class Likeness:
    """Names by length, ready to be searched for those that resemble another."""

    names: Iterable[str]
    _by_length: dict[int, list[str]] = field(default_factory=lambda: defaultdict(list))
    _letters: dict[int, Letters] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for name in self.names:
            self._by_length[len(name)].append(name)

    def closest(self, wanted: str, most: int) -> list[str]:
        """Return the names that resemble one, nearest first."""
        matcher = SequenceMatcher()
        matcher.set_seq2(wanted)
        best: list[tuple[float, str]] = []
        for bound, name in self._promising(wanted):
            if len(best) == most and bound < best[0][0]:
                break
            matcher.set_seq1(name)
            ratio = matcher.ratio()
            if ratio >= CUTOFF:
                (heappushpop if len(best) == most else heappush)(best, (ratio, name))
        return [name for _, name in sorted(best, reverse=True)]

    def _promising(self, wanted: str) -> Iterator[tuple[float, str]]:
        """Yield the names that may be alike with how much so at most, likeliest first."""
        found: list[tuple[npt.NDArray[np.float64], list[str]]] = []
        for length, names in self._by_length.items():
            if wanted and 2.0 * min(length, len(wanted)) / (length + len(wanted)) >= CUTOFF:
                bounds = 2.0 * self._common(length, wanted) / (length + len(wanted))
                chosen = np.flatnonzero(bounds >= CUTOFF)
                found.append((bounds[chosen], [names[i] for i in chosen.tolist()]))
        if not found:
            return
        bounds = np.concatenate([one for one, _ in found])
        names = [name for _, some in found for name in some]
        for i in np.argsort(-bounds).tolist():
            yield float(bounds[i]), names[i]

    def _common(self, length: int, wanted: str) -> npt.NDArray[np.int64]:
        """Return for each name of a length how many letters it has in common with one."""
        if length not in self._letters:
            packed = np.array(self._by_length[length], dtype=f"<U{length}")
            self._letters[length] = packed.view(np.uint32).reshape(-1, length)
        letters = self._letters[length]
        common = np.zeros(len(letters), dtype=np.int64)
        for letter, times in Counter(wanted).items():
            common += np.minimum((letters == ord(letter)).sum(axis=1), times)
        return common
