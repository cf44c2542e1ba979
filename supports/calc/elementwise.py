"""Comparisons and quotients that read the same for one support and for a whole column.

Limits are often worked out from per cent or from another unit and then miss their round value by a
last digit: 4,500 lbf + 10 % is not to the bit 4,950 lbf. A value exactly at its limit passes, so
comparisons give `LAST_DIGITS` away, which is far below anything that can be read off a scale.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, overload

import numpy as np

from supports.units import FloatOrArray

if TYPE_CHECKING:
    import numpy.typing as npt

    from supports.units import FloatArray

    BoolArray = npt.NDArray[np.bool_]

LAST_DIGITS = 1e-9
"""Relative slack of a comparison [1]."""


def plain(value: Any) -> Any:
    """Return numpy's scalar as a Python float; leave columns as they are.

    Parameters
    ----------
    value
        A number or a column [any unit].

    Returns
    -------
    float or column
        The same [the same unit].

    Notes
    -----
    Source: arithmetic; single results are printed and stored, where numpy's own scalars surprise.
    """
    return float(value) if np.ndim(value) == 0 else value


def larger(first: FloatOrArray, second: FloatOrArray | float) -> FloatOrArray:
    """Return the larger of two values, element by element; not-a-number stays so.

    Parameters
    ----------
    first, second
        Values of one kind [any one unit].

    Returns
    -------
    FloatOrArray
        max(first, second) [the same unit].

    Notes
    -----
    Source: arithmetic.
    """
    result: FloatOrArray = plain(np.maximum(first, second))
    return result


def smaller(first: FloatOrArray, second: FloatOrArray | float) -> FloatOrArray:
    """Return the smaller of two values, element by element; not-a-number stays so.

    Parameters
    ----------
    first, second
        Values of one kind [any one unit].

    Returns
    -------
    FloatOrArray
        min(first, second) [the same unit].

    Notes
    -----
    Source: arithmetic.
    """
    result: FloatOrArray = plain(np.minimum(first, second))
    return result


def ratio(part: FloatOrArray, whole: FloatOrArray | float) -> FloatOrArray:
    """Return part / whole; nothing of nothing is 0, something of nothing is infinite.

    Parameters
    ----------
    part, whole
        Values of one kind [any one unit].

    Returns
    -------
    FloatOrArray
        part / whole [1].

    Notes
    -----
    Source: arithmetic. A side of a range with no room is used to 0 % by no change and beyond all
    bounds by any change; a division error would hide both.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        quotient = np.divide(part, whole)
    result: FloatOrArray = plain(np.where(np.equal(part, 0.0) & ~np.isnan(whole), 0.0, quotient))
    return result


def chosen(
    condition: bool | BoolArray, yes: FloatOrArray, no: FloatOrArray | float
) -> FloatOrArray:
    """Return `yes` where the condition holds and `no` elsewhere.

    Parameters
    ----------
    condition
        True or false, one or a column.
    yes, no
        Values of one kind [any one unit].

    Returns
    -------
    FloatOrArray
        The value chosen [the same unit].

    Notes
    -----
    Source: arithmetic.
    """
    result: FloatOrArray = plain(np.where(condition, yes, no))
    return result


@overload
def at_most(value: float, limit: float) -> bool: ...
@overload
def at_most(value: FloatArray, limit: FloatArray | float) -> BoolArray: ...
def at_most(value: Any, limit: Any) -> Any:
    """Return whether a value is at or below its limit; not-a-number never is.

    Parameters
    ----------
    value, limit
        Values of one kind [any one unit].

    Returns
    -------
    bool or column of bool
        value ≤ limit + |limit| · 1e-9.

    Notes
    -----
    Source: arithmetic; see the module's text for the slack.
    """
    answer = np.less_equal(value, limit + np.abs(limit) * LAST_DIGITS)
    return bool(answer) if np.ndim(answer) == 0 else answer


@overload
def at_least(value: float, limit: float) -> bool: ...
@overload
def at_least(value: FloatArray, limit: FloatArray | float) -> BoolArray: ...
def at_least(value: Any, limit: Any) -> Any:
    """Return whether a value is at or above its limit; not-a-number never is.

    Parameters
    ----------
    value, limit
        Values of one kind [any one unit].

    Returns
    -------
    bool or column of bool
        value ≥ limit − |limit| · 1e-9.

    Notes
    -----
    Source: arithmetic; see the module's text for the slack.
    """
    answer = np.greater_equal(value, limit - np.abs(limit) * LAST_DIGITS)
    return bool(answer) if np.ndim(answer) == 0 else answer
