"""From the unknowns of solved states to movements, end forces and the proof of balance."""

from __future__ import annotations

import numpy as np

from supports.calc.line.contact import Settled
from supports.calc.line.frame import Frame
from supports.calc.line.loads import Loads, end_growth, node_growth
from supports.calc.line.mechanisms import node_motion
from supports.calc.line.vectors import FloatArray


def end_forces(frame: Frame, loads: Loads, unknowns: FloatArray) -> FloatArray:
    """Return force and moment on the end of each flexible part, states × parts × 6.

    s = K (movement of the end seen from the start − free movement under weight and heat).

    Parameters
    ----------
    unknowns
        States × unknowns [m], [rad].

    Returns
    -------
    FloatArray
        [N], [N·m].

    Source: definition of the end compliances of `supports.calc.line.pieces`.
    """
    pieces = frame.pieces
    strain = np.einsum("nab,snb->sna", frame.strain_at_end, unknowns[:, frame.unknowns])
    strain -= loads.weight[:, :, None] * pieces.sag
    strain[:, :, :3] -= loads.strain[:, :, None] * pieces.reach
    if loads.body_strain.any():
        strain[:, :, :3] += end_growth(frame, loads.body_strain)
    out: FloatArray = np.einsum("nab,snb->sna", pieces.stiffness, strain)
    return out


def node_movements(frame: Frame, loads: Loads, unknowns: FloatArray) -> FloatArray:
    """Return movement [m] and rotation [rad] of every node, states × nodes × 6."""
    out = node_motion(frame, unknowns)
    if loads.body_strain.any():
        out[:, :, :3] += node_growth(frame, loads.body_strain)
    return out


def unbalance(frame: Frame, loads: Loads, ends: FloatArray, settled: Settled) -> FloatArray:
    """Return the largest unbalanced force or moment of each state, as a share of the largest [1].

    Every body is balanced from the parts' end forces, which do not come from the band.
    """
    pushed = settled.trial.force[:, :, None] * frame.rows
    inner = -np.einsum("nab,sna->snb", frame.strain_at_end, ends)
    inner[:, :, :6] += loads.weight[:, :, None] * frame.start_weight
    total = loads.on_bodies.T.copy()
    for row in range(len(total)):
        total[row] += np.bincount(frame.unknowns.ravel(), inner[row].ravel(), frame.size)
        total[row] += np.bincount(frame.row_unknowns.ravel(), pushed[row].ravel(), frame.size)
    acting = np.maximum(_largest(ends), _largest(pushed))
    out: FloatArray = _largest(total) / np.maximum(acting, 1e-300)
    return out


def _largest(values: FloatArray) -> FloatArray:
    out: FloatArray = np.abs(values).reshape(len(values), -1).max(axis=1, initial=0.0)
    return out
