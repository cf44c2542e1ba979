"""Nodes that move together: rigid parts join their nodes into one body.

No penalty stiffness is used for rigid parts; the joined nodes simply share six unknowns. Bodies are
numbered by reverse Cuthill-McKee, so that the stiffness matrix is a narrow band.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from supports.calc.line.vectors import FloatArray, IntArray

if TYPE_CHECKING:
    from scipy.sparse import csr_array

_NARROW = 1
"""A line whose neighbours are numbered one after the other needs no other order."""


@dataclass(frozen=True, slots=True)
class Bodies:
    """Which body each node belongs to, and where each body's unknowns are taken [m]."""

    of_node: IntArray
    origin: FloatArray

    @property
    def count(self) -> int:
        """Number of bodies."""
        return len(self.origin)


def bodies_of(
    xyz: FloatArray, rigid: Iterable[tuple[int, int]], flexible: tuple[IntArray, IntArray]
) -> Bodies:
    """Return the bodies of a line, numbered for a narrow band.

    Parameters
    ----------
    xyz
        Node coordinates [m].
    rigid
        Node pairs joined by rigid parts.
    flexible
        Start and end nodes of flexible parts.

    Source: E. Cuthill, J. McKee, 'Reducing the bandwidth of sparse symmetric matrices', 1969.
    """
    of_node = _joined(len(xyz), list(rigid))
    start, end = of_node[flexible[0]], of_node[flexible[1]]
    count = int(of_node.max()) + 1
    if np.abs(start - end).max(initial=0) > _NARROW:
        from scipy.sparse.csgraph import reverse_cuthill_mckee

        order = reverse_cuthill_mckee(_links(start, end, count), symmetric_mode=True)
        place = np.empty(count, dtype=np.int64)
        place[order] = np.arange(count)
        of_node = place[of_node]
    origin = np.empty((count, 3))
    origin[of_node[::-1]] = xyz[::-1]
    return Bodies(of_node, origin)


def _joined(nodes: int, pairs: list[tuple[int, int]]) -> IntArray:
    if not pairs:
        return np.arange(nodes)
    from scipy.sparse.csgraph import connected_components

    first, second = np.array(pairs, dtype=np.int64).T
    groups: IntArray = connected_components(_links(first, second, nodes))[1].astype(np.int64)
    return groups


def _links(first: IntArray, second: IntArray, count: int) -> csr_array:
    """Return the symmetric matrix of links, built row by row at once."""
    from scipy.sparse import csr_array

    row, column = np.concatenate([first, second]), np.concatenate([second, first])
    rows = np.zeros(count + 1, dtype=np.int32)
    rows[1:] = np.cumsum(np.bincount(row, minlength=count))
    columns = column[np.argsort(row, kind="stable")].astype(np.int32)
    return csr_array((np.ones(len(row)), columns, rows), shape=(count, count))
