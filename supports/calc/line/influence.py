"""What +1 N at each spring does along a line, and what-if answers without solving anything again.

While no one-way support lifts or lands and no unit meets a stop, the line is linear, so

    state(changes) = base state + effect × changes

holds exactly; the equation is superposition (any text on structural mechanics). `InfluenceTable`
keeps the base state and the effect as one vector and one matrix, so an answer is one product.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from supports.errors import BadInput, NotFound
from supports.sentences import joined

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class InfluenceTable:
    """Base state of a line and the effect of a load change at each of its springs.

    Loads and nozzle components are what the support or nozzle gives to the pipe: up is positive.
    The rows of `base` and `effect` are: loads of `supports`, pointers of `pointers`, then six
    components (Fx, Fy, Fz, Mx, My, Mz) of each of `nozzles`. Build it with `table_from_parts`, or
    from a solved line with `supports.calc.line.influence_of_line.influence_table`.

    Parameters
    ----------
    state
        Name of the base state.
    units
        Springs whose set load can be changed: the columns of `effect`.
    supports
        Supports that carry: constants, variables, rods, rests.
    pointers
        Supports whose pipe movement is followed (up positive): the pointer of a spring, the gap of
        a rod or rest that lifted.
    nozzles
        Anchors and nozzles.
    base
        Base state [N], [m], [N·m], one number a row.
    effect
        Effect of +1 N [N/N], [m/N], [N·m/N], one row a result, one column a unit.
    load_floor, load_ceiling
        Loads [N] between which each support keeps its status: 0 for a one-way support, infinite
        where nothing changes.
    pointer_low, pointer_high
        Positions [m] between which each keeps its status; infinite if unknown or not concerned.
    """

    state: str
    units: tuple[str, ...]
    supports: tuple[str, ...]
    pointers: tuple[str, ...]
    nozzles: tuple[str, ...]
    base: FloatArray
    effect: FloatArray
    load_floor: FloatArray
    load_ceiling: FloatArray
    pointer_low: FloatArray
    pointer_high: FloatArray

    @property
    def loads_end(self) -> int:
        """Row behind the last load."""
        return len(self.supports)

    @property
    def pointers_end(self) -> int:
        """Row behind the last pointer."""
        return len(self.supports) + len(self.pointers)

    @property
    def load_effect(self) -> FloatArray:
        """Effect on support loads [N/N], supports × units."""
        return self.effect[: self.loads_end]

    @property
    def pointer_effect(self) -> FloatArray:
        """Effect on pointers [m/N], pointers × units."""
        return self.effect[self.loads_end : self.pointers_end]

    @property
    def nozzle_effect(self) -> FloatArray:
        """Effect on nozzles [N/N] and [N·m/N], nozzles × 6 × units."""
        return self.effect[self.pointers_end :].reshape(len(self.nozzles), 6, len(self.units))

    @property
    def nozzle_base(self) -> FloatArray:
        """Nozzle components of the base state [N], [N·m], nozzles × 6."""
        return self.base[self.pointers_end :].reshape(len(self.nozzles), 6)

    def changes(self, by_unit: Mapping[str, float]) -> FloatArray:
        """Return the vector of set-load changes [N] in the order of `units`; absent means 0."""
        unknown = [name for name in by_unit if name not in self.units]
        if unknown:
            raise NotFound(
                "no such spring in the influence table",
                found=joined(unknown, ", "),
                expected=joined(self.units, ", "),
            )
        return np.array([by_unit.get(name, 0.0) for name in self.units])


@dataclass(frozen=True, slots=True)
class Prediction:
    """What a line will show after set-load changes, as long as every support keeps its status.

    `values` may have leading axes: one row of results for each row of changes.
    """

    table: InfluenceTable
    values: FloatArray

    @property
    def loads(self) -> FloatArray:
        """Support loads [N] in the order of `table.supports`."""
        return self.values[..., : self.table.loads_end]

    @property
    def pointers(self) -> FloatArray:
        """Pointer positions [m] in the order of `table.pointers`."""
        return self.values[..., self.table.loads_end : self.table.pointers_end]

    @property
    def nozzles(self) -> FloatArray:
        """Nozzle components [N], [N·m], the last two axes being nozzles × 6."""
        tail = self.values[..., self.table.pointers_end :]
        return tail.reshape(*tail.shape[:-1], len(self.table.nozzles), 6)

    @property
    def status_changes(self) -> tuple[str, ...]:
        """Supports that would lift, land or meet a stop, so that the prediction no longer holds."""
        table = self.table
        load = (self.loads < table.load_floor) | (self.loads > table.load_ceiling)
        stop = (self.pointers < table.pointer_low) | (self.pointers > table.pointer_high)
        named = (*_where(load, table.supports), *_where(stop, table.pointers))
        return tuple(dict.fromkeys(named))


def what_if(table: InfluenceTable, changes: FloatArray) -> Prediction:
    """Predict the line after set-load changes, by superposition.

    Parameters
    ----------
    table
        Influence table of the line in one state.
    changes
        Change of set load [N] of each unit, in the order of `table.units`; leading axes give many
        answers in one product.

    Returns
    -------
    Prediction
        Loads [N], pointers [m], nozzle components [N], [N·m]; ask `status_changes` whether the
        linear answer holds.

    Source: principle of superposition.
    """
    return Prediction(table, changes @ table.effect.T + table.base)


def band_of_uncertainty(table: InfluenceTable, half_bands: FloatArray) -> FloatArray:
    """Return how far each result may stand from the base when springs hide a friction band.

    Each unit may pull anywhere within ± its half band, independently, so the worst case is
    b_i = Σ_j |effect_ij| × half_band_j.

    Parameters
    ----------
    half_bands
        Half width of the friction band [N] of each unit, in the order of `table.units`.

    Returns
    -------
    FloatArray
        Half width [N], [m], [N·m] for each row of `table.base`.

    Source: interval arithmetic on the superposition of `what_if`.
    """
    return np.abs(table.effect) @ np.abs(half_bands)


def table_from_parts(
    *,
    state: str,
    units: tuple[str, ...],
    loads: Mapping[str, tuple[float, FloatArray]],
    pointers: Mapping[str, tuple[float, FloatArray]],
    nozzles: Mapping[str, tuple[FloatArray, FloatArray]],
    load_limits: Mapping[str, tuple[float, float]] | None = None,
    pointer_limits: Mapping[str, tuple[float, float]] | None = None,
) -> InfluenceTable:
    """Put an influence table together from figures by hand or from another calculation.

    Parameters
    ----------
    loads
        For each support its base load [N] and its row of effects [N/N].
    pointers
        For each spring its pointer position [m] and its row of effects [m/N].
    nozzles
        For each nozzle six base components [N], [N·m] and a 6 × units matrix [N/N], [N·m/N].
    load_limits, pointer_limits
        Loads [N] and positions [m] between which the status is kept; absent means never changed.

    Raises
    ------
    BadInput
        A row does not have one number for each unit.

    Source: definition of the table.
    """
    columns = len(units)
    pieces = [np.atleast_1d(np.asarray(base, float)) for base, _ in _rows(loads, pointers, nozzles)]
    blocks = [np.atleast_2d(np.asarray(row, float)) for _, row in _rows(loads, pointers, nozzles)]
    _refuse_ragged(blocks, columns, (*loads, *pointers, *nozzles))
    low, high = _limits(loads, load_limits or {})
    down, up = _limits(pointers, pointer_limits or {})
    return InfluenceTable(
        state=state,
        units=units,
        supports=tuple(loads),
        pointers=tuple(pointers),
        nozzles=tuple(nozzles),
        base=np.concatenate(pieces) if pieces else np.zeros(0),
        effect=np.vstack(blocks) if blocks else np.zeros((0, columns)),
        load_floor=low,
        load_ceiling=high,
        pointer_low=down,
        pointer_high=up,
    )


def _rows(
    *groups: Mapping[str, tuple[float, FloatArray]] | Mapping[str, tuple[FloatArray, FloatArray]],
) -> list[tuple[float | FloatArray, FloatArray]]:
    return [pair for group in groups for pair in group.values()]


def _refuse_ragged(blocks: list[FloatArray], columns: int, names: tuple[str, ...]) -> None:
    for name, block in zip(names, blocks, strict=True):
        if block.shape[1] != columns:
            raise BadInput(
                "a row of influence figures must have one number for each unit",
                where=name,
                found=str(block.shape[1]),
                expected=str(columns),
            )


def _limits(
    names: Mapping[str, object], given: Mapping[str, tuple[float, float]]
) -> tuple[FloatArray, FloatArray]:
    pairs = [given.get(name, (-np.inf, np.inf)) for name in names]
    return np.array([low for low, _ in pairs]), np.array([high for _, high in pairs])


def _where(marked: npt.NDArray[np.bool_], names: tuple[str, ...]) -> tuple[str, ...]:
    columns = np.unique(np.nonzero(marked)[-1])
    return tuple(names[column] for column in columns)
