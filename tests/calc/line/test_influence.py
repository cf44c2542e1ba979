"""Influence table by hand. Figures: a pinned beam of two springs, statics by hand."""

import numpy as np
import pytest

from supports.calc.line.influence import (
    InfluenceTable,
    band_of_uncertainty,
    table_from_parts,
    what_if,
)
from supports.errors import BadInput, NotFound


@pytest.fixture
def table() -> InfluenceTable:
    return table_from_parts(
        state="by hand",
        units=("C1", "C2"),
        loads={
            "C1": (10e3, np.array([1.0, 0.0])),
            "C2": (12e3, np.array([0.0, 1.0])),
            "R1": (1e3, np.array([-0.25, -0.5])),
        },
        pointers={
            "C1": (0.0, np.array([1e-6, 2e-6])),
            "C2": (-0.01, np.array([2e-6, 3e-6])),
        },
        nozzles={"N1": (np.array([0.0, 0, 5e3, 0, -2e4, 0]), np.full((6, 2), -0.5))},
        load_limits={"R1": (0.0, np.inf)},
        pointer_limits={"C1": (-0.05, 0.004)},
    )


def test_superposition_by_hand(table: InfluenceTable) -> None:
    after = what_if(table, table.changes({"C1": 1000.0, "C2": 500.0}))
    assert after.loads == pytest.approx([11e3, 12.5e3, 500.0])
    assert after.pointers == pytest.approx([0.002, -0.0065])
    assert after.nozzles[0] == pytest.approx([-750, -750, 4250, -750, -20750, -750])
    assert after.status_changes == ()


def test_lift_off_and_stop_are_told(table: InfluenceTable) -> None:
    after = what_if(table, np.array([4500.0, 0.0]))
    assert after.status_changes == ("R1", "C1")


def test_many_answers_in_one_product(table: InfluenceTable) -> None:
    many = what_if(table, np.array([[0.0, 0.0], [1000.0, 500.0], [4500.0, 0.0]]))
    assert many.loads.shape == (3, 3)
    assert many.nozzles.shape == (3, 1, 6)
    assert many.loads[1] == pytest.approx([11e3, 12.5e3, 500.0])
    assert many.status_changes == ("R1", "C1")


def test_friction_bands_add_up(table: InfluenceTable) -> None:
    half = band_of_uncertainty(table, np.array([500.0, 600.0]))
    assert half[2] == pytest.approx(0.25 * 500 + 0.5 * 600)
    assert half[3] == pytest.approx(500e-6 + 1200e-6)


def test_unknown_unit_and_ragged_row_are_refused(table: InfluenceTable) -> None:
    with pytest.raises(NotFound, match="C9"):
        table.changes({"C9": 1.0})
    with pytest.raises(BadInput, match="R1"):
        table_from_parts(
            state="x",
            units=("C1", "C2"),
            loads={"R1": (0.0, np.array([1.0]))},
            pointers={},
            nozzles={},
        )
