"""How numbers and words are written on papers: one manner for PDF and workbook alike."""

from __future__ import annotations

import re

from reports.contents.common import Amount
from supports.calc.reset_plan.judge import in_tenths
from supports.units import STANDARD_GRAVITY, Kind, shown
from supports.vocabulary import SupportKind

NOT_KNOWN = "not known"
HELD = "\u00a0"


def plain(text: str) -> str:
    """Return text with every run of breaking white space, line ends too, as one space."""
    return re.sub(r"[^\S\u00a0\u202f]+", " ", text).strip()


def cut(text: str, longest: int = 30) -> str:
    """Return text of at most so many signs; an ellipsis tells that there was more."""
    whole = plain(text)
    return whole if len(whole) <= longest else f"{whole[: longest - 1].rstrip()}…"


def amount(si: float | None, symbol: str, kind: Kind, decimals: int | None = None) -> str:
    r"""Write an SI value with its unit and a true minus sign; unknown is 'not known'.

    Number and unit are held together by a space that does not break.

    >>> amount(-6242.0, "kN", Kind.LOAD)
    '−6.24\xa0kN'
    """
    if si is None:
        return NOT_KNOWN
    return shown(si, symbol, kind, decimals).replace("-", "−", 1).replace(" ", HELD)


def bare(si: float | None, symbol: str, kind: Kind) -> str:
    """Write an SI value without its unit, for columns whose heading holds it; unknown is told."""
    return NOT_KNOWN if si is None else amount(si, symbol, kind).split(HELD, 1)[0]


def load(si: float | None, symbol: str) -> str:
    r"""Write a load [N] in the unit named.

    >>> load(22083.3, "kN")
    '22.08\xa0kN'
    """
    return amount(si, symbol, Kind.LOAD)


def has_setting(kind: str) -> bool:
    """Return whether a load is set at supports of a kind, or the kind is not known.

    >>> has_setting("variable hanger"), has_setting("rigid rod"), has_setting("of some kind")
    (True, False, True)
    """
    known = SupportKind(kind) if kind in set(SupportKind) else SupportKind.UNKNOWN
    return known.is_spring or known is SupportKind.UNKNOWN


def set_load(si: float | None, symbol: str, kind: str) -> str:
    """Write the load [N] that a support is set to; a dash where nothing is set at its kind.

    >>> set_load(None, "kN", "constant hanger"), set_load(None, "kN", "rigid rod")
    ('not known', '–')
    """
    return "–" if si is None and not has_setting(kind) else load(si, symbol)


def small_load(si: float | None, symbol: str) -> str:
    r"""Write a small step of load [N], finer than a scale reading.

    >>> small_load(125.0, "kN")
    '0.125\xa0kN'
    """
    return amount(si, symbol, Kind.LOAD, 3 if symbol in {"kN", "kip"} else 1)


def load_pair(si: float | None, symbol: str, other: str) -> str:
    r"""Write a load [N] in the scale's own unit, the other one in brackets.

    >>> load_pair(21484.9, "lbf", "kN")
    '4\u202f830\xa0lbf (21.48\xa0kN)'
    """
    if si is None:
        return NOT_KNOWN
    return f"{load(si, symbol)} ({load(si, other)})" if other != symbol else load(si, symbol)


def span(low: float | None, high: float | None, symbol: str) -> str:
    """Write a window of loads [N]: '21.66 – 22.54 kN'; an unknown end is 'not known'."""
    if low is None or high is None:
        return NOT_KNOWN
    return f"{bare(low, symbol, Kind.LOAD)} – {load(high, symbol)}"


def signed_load(si: float | None, symbol: str) -> str:
    """Write a change of load [N] with its sign, plus too."""
    return f"{'+' if si is not None and si > 0 else ''}{load(si, symbol)}"


def signed_millimetres(si: float) -> str:
    """Write a movement [m] in mm with its sign; what rounds to nothing has none.

    >>> signed_millimetres(-0.0034), signed_millimetres(-1e-9)
    ('−3.4', '0.0')
    """
    moved = round(1e3 * si, 1)
    return f"{moved:+.1f}".replace("-", "−") if moved else "0.0"


def percent(share: float | None, *, signed: bool = False, decimals: int = 0) -> str:
    r"""Write a share as percent; unknown is 'not known'.

    >>> percent(0.105, signed=True, decimals=1)
    '+10.5\xa0%'
    """
    if share is None:
        return NOT_KNOWN
    digits = f"{round(100.0 * share, decimals) + 0.0:{'+' if signed else ''}.{decimals}f}"
    return f"{digits.replace('-', '−')}{HELD}%"


def used(share: float | None) -> str:
    r"""Write the use of a limit as percent; what is within it never shows as beyond, nor back.

    >>> used(0.9996), used(1.0004), used(0.43)
    ('99.9\xa0%', '100.1\xa0%', '43\xa0%')
    """
    if share is None or not 0.945 <= share < 1.055:
        return percent(share)
    return percent(in_tenths(share), decimals=1)


def quantity(value: Amount) -> str:
    """Write an `Amount`."""
    return amount(value.si, value.unit, value.kind, value.decimals)


def energy(joules: float | None) -> str:
    r"""Write stored energy [J] with what it is like: so many kilograms falling one metre.

    >>> energy(22100 * 0.140)
    '3.1\xa0kJ – like 315\xa0kg falling 1\xa0m'
    """
    if joules is None:
        return "not known – treat as dangerous"
    mass = joules / STANDARD_GRAVITY
    like = 5 * round(mass / 5.0) if mass >= 100.0 else round(mass)
    return f"{joules / 1000.0:.1f}{HELD}kJ – like {like}{HELD}kg falling 1{HELD}m"
