"""Fields that follow from others: a range given in per cent of the nameplate load."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from importers.columns import Body, Converted
from importers.faults import Fault, Ledger
from importers.headings import Layout

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
            for i, fault in _put(limits, parts, plates or Converted([None] * len(body.rows)), sign):
                _refuse(layout, body, ledger, fault, i, part)
    if plates is not None:
        _refuse_upside_down(layout, body, columns, ledger)


def _put(
    limits: Converted, parts: Converted, plates: Converted, sign: float
) -> Iterator[tuple[int, Fault]]:
    """Set limits from their part of the nameplate load; '-15 %' and '15 %' below are one."""
    part, plate, stated = parts.numbers(), plates.numbers(), limits.numbers()
    with np.errstate(over="ignore", invalid="ignore"):
        counted = plate * (1.0 + sign * np.abs(part))
        twice = np.abs(counted - stated) > _SAME * plate
    lacking = ~np.isnan(part) & np.isnan(plate)
    for i in np.flatnonzero(~np.isnan(counted) & np.isnan(stated)).tolist():
        if i not in limits.bad:
            limits.values[i] = float(counted[i])
    for i in np.flatnonzero(lacking | twice).tolist():
        if twice[i]:
            limits.values[i] = None
            limits.bad.add(i)
        yield i, _said_twice() if twice[i] else _without_load()


def _without_load() -> Fault:
    return Fault(
        "range-without-load",
        "the range is given as a part of the nameplate load, which is blank",
        remedy="Give the nameplate load",
    )


def _said_twice() -> Fault:
    return Fault(
        "range-said-twice",
        "the range as a load and as a part of the nameplate load disagree; neither was taken",
        remedy="Keep the one that stands on the plate",
    )


def _refuse_upside_down(
    layout: Layout, body: Body, columns: dict[str, Converted], ledger: Ledger
) -> None:
    """Refuse a range whose nameplate load lies outside it."""
    empty = Converted([None] * len(body.rows))
    low, high = columns.get("range_low", empty), columns.get("range_high", empty)
    below, plate, above = (c.numbers() for c in (low, columns["nameplate_load"], high))
    with np.errstate(invalid="ignore"):
        wrong = (below > plate) | (plate > above) | (below > above)
    for i in np.flatnonzero(wrong).tolist():
        low.values[i] = high.values[i] = None
        low.bad.add(i)
        high.bad.add(i)
        which = "range_low" if below[i] > plate[i] else "range_high"
        _refuse(layout, body, ledger, _upside_down(), i, which)


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
