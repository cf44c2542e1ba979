"""Fields that follow from others: a range given in per cent of the nameplate load."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from importers.columns import Body, Converted
from importers.faults import Fault, Ledger
from importers.headings import Layout
from supports.proposals import Value

_SAME = 0.005
"""Two statements of one range limit may differ by rounding, as a part of the nameplate load."""

_LIMITS = (("range_minus", "range_low", -1.0), ("range_plus", "range_high", 1.0))


def add_derived(layout: Layout, body: Body, columns: dict[str, Converted], ledger: Ledger) -> None:
    """Turn range parts into limits, and refuse ranges that cannot be."""
    plates = columns.get("nameplate_load")
    for part, limit, sign in _LIMITS:
        parts = columns.pop(part, None)
        if parts is not None:
            limits = columns.setdefault(limit, Converted([None] * len(body.rows)))
            for i, fraction in enumerate(parts.values):
                if isinstance(fraction, float):
                    plate = plates.values[i] if plates else None
                    fault = _put(limits, i, plate, sign * abs(fraction))
                    if fault:
                        _refuse(layout, body, ledger, fault, i, part)
    if plates is not None:
        _refuse_upside_down(layout, body, columns, ledger)


def _put(limits: Converted, i: int, plate: Value, fraction: float) -> Fault | None:
    """Set one limit from its part of the nameplate load; '-15 %' and '15 %' below are one."""
    if not isinstance(plate, float):
        return Fault(
            "range-without-load",
            "the range is given as a part of the nameplate load, which is blank",
            remedy="Give the nameplate load",
        )
    counted, stated = plate * (1.0 + fraction), limits.values[i]
    if isinstance(stated, float) and abs(counted - stated) > _SAME * plate:
        limits.values[i] = None
        limits.bad.add(i)
        return Fault(
            "range-said-twice",
            "the range as a load and as a part of the nameplate load disagree; neither was taken",
            remedy="Keep the one that stands on the plate",
        )
    limits.values[i] = counted if stated is None and i not in limits.bad else stated
    return None


def _refuse_upside_down(
    layout: Layout, body: Body, columns: dict[str, Converted], ledger: Ledger
) -> None:
    """Refuse a range whose nameplate load lies outside it."""
    empty = Converted([None] * len(body.rows))
    low, high = columns.get("range_low", empty), columns.get("range_high", empty)
    below, plate, above = (_numbers(c) for c in (low, columns["nameplate_load"], high))
    with np.errstate(invalid="ignore"):
        wrong = (below > plate) | (plate > above) | (below > above)
    for i in np.flatnonzero(wrong).tolist():
        low.values[i] = high.values[i] = None
        low.bad.add(i)
        high.bad.add(i)
        which = "range_low" if below[i] > plate[i] else "range_high"
        _refuse(layout, body, ledger, _upside_down(), i, which)


def _numbers(column: Converted) -> npt.NDArray[np.float64]:
    """Return the values of a column; what is no number compares with nothing."""
    return np.array([v if isinstance(v, float) else np.nan for v in column.values])


def _upside_down() -> Fault:
    return Fault(
        "range-upside-down",
        "the nameplate load does not lie between the limits of the range; no range was taken",
        "low ≤ nameplate load ≤ high",
        "Check the plate; perhaps low and high have changed places",
    )


def _refuse(layout: Layout, body: Body, ledger: Ledger, fault: Fault, i: int, name: str) -> None:
    part = next((p for p, limit, _ in _LIMITS if limit == name), name)
    taken = layout.of(name) or layout.of(part)
    if taken is not None:
        ledger.add(fault, body.numbers[i], taken.index, body.rows[i][taken.index])
