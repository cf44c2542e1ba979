"""Units at the edge: SI floats inside, allow-listed spellings outside.

Every spelling that is taken stands in a table here with its factor; a spelling that could mean two
things (kg as a load, t, ton, lb, kg/mm) is a question, not a guess.

Factors are those that pint made of its definitions, to the last bit: registers hold values that
were converted by them, and what is read again has to come out the same for ever. They are held
against NIST SP 811 (2008), appendix B, and against pint itself in `supports.verification`. Reading
pint's definitions at its start would cost a command more than all its work.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from math import isfinite, isnan
from typing import TYPE_CHECKING, TypeVar

from supports.errors import QuantityUnreadable
from supports.sentences import Sentence, joined

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    FloatArray = npt.NDArray[np.float64]

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of gravity [m/s²], exact; NIST SP 811 (2008), appendix B.8."""

FloatOrArray = TypeVar("FloatOrArray", float, "FloatArray")


class Kind(StrEnum):
    """What sort of quantity a value is; the SI unit it is kept in stands behind it."""

    LOAD = "load"  # N
    LENGTH = "length"  # m
    MASS = "mass"  # kg
    RATE = "spring rate"  # N/m
    LOAD_PER_TURN = "load per turn"  # N per full turn
    MOMENT = "moment"  # N·m
    ROTATIONAL_STIFFNESS = "rotational stiffness"  # N·m/rad
    MASS_PER_LENGTH = "mass per length"  # kg/m
    DENSITY = "density"  # kg/m³
    STRESS = "stress or pressure"  # Pa
    TEMPERATURE = "temperature"  # K
    TEMPERATURE_DIFFERENCE = "temperature difference"  # K
    EXPANSION = "expansion coefficient"  # 1/K
    ANGLE = "angle"  # rad
    FRACTION = "fraction"  # 1
    AREA = "area"  # m²
    SECTION_MODULUS = "section modulus"  # m³
    SECOND_MOMENT = "second moment of area"  # m⁴
    COUNT = "count"  # 1


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one kind of quantity: SI value = `factor` × value + `offset`."""

    symbol: str
    kind: Kind
    factor: float
    offset: float = 0.0

    def to_si(self, value: FloatOrArray) -> FloatOrArray:
        """Convert a value or a whole column in this unit to SI."""
        return value * self.factor + self.offset

    def from_si(self, value: FloatOrArray) -> FloatOrArray:
        """Convert an SI value or a whole column to this unit."""
        return (value - self.offset) / self.factor


# symbol: (factor to SI, other spellings). Spellings are compared as they are.
_ALLOWED: dict[Kind, dict[str, tuple[float, tuple[str, ...]]]] = {
    Kind.LOAD: {
        "N": (1.0, ("newton", "newtons")),
        "kN": (1000.0, ("KN", "kn", "kilonewton")),
        "MN": (1000000.0, ()),
        "daN": (10.0, ("DaN", "dan", "DAN")),
        "kgf": (9.80665, ("kg-f", "kg f", "kp", "kilopond")),
        "lbf": (4.4482216152605005, ("lb-f", "lbsf", "lbs-f", "lb f")),
        "kip": (4448.221615260501, ("kips", "kipf", "klbf")),
        "tonne-force": (9806.65, ("tf (metric)", "metric tonf")),
        "short ton-force": (8896.443230521003, ("tonf (US)", "short tonf")),
        "long ton-force": (9964.01641818352, ("tonf (UK)", "long tonf")),
    },
    Kind.LENGTH: {
        "m": (1.0, ("metre", "meter", "metres", "meters")),
        "mm": (0.001, ("MM", "millimetre", "millimeter")),
        "cm": (0.01, ("CM",)),
        "in": (0.0254, ("inch", "inches", '"', "″", "in.")),
        "ft": (0.30479999999999996, ("foot", "feet", "'", "′", "ft.")),
    },
    Kind.MASS: {
        "kg": (1.0, ("KG", "kilogram", "kilograms", "kgs")),
        "g": (0.001, ()),
        "lb": (0.4535923700000001, ("lbm", "lbs", "LB", "LBS", "pound", "pounds")),
        "tonne": (1000.0, ("tonnes", "metric ton")),
    },
    Kind.RATE: {
        "N/m": (1.0, ()),
        "N/mm": (1000.0, ("n/mm", "N/MM")),
        "kN/m": (1000.0, ("kn/m",)),
        "kN/mm": (1000000.0, ()),
        "daN/mm": (10000.0, ()),
        "daN/cm": (1000.0, ()),
        "kgf/mm": (9806.65, ("kp/mm",)),
        "kgf/cm": (980.665, ("kp/cm",)),
        "lbf/in": (175.12683524647645, ("lbf/inch", "lbf per in", "lbf/in.")),
    },
    Kind.LOAD_PER_TURN: {
        "N/turn": (1.0, ("N per turn", "N/rev")),
        "kN/turn": (1000.0, ("kN per turn", "kn/turn", "kN/rev")),
        "daN/turn": (10.0, ("daN per turn",)),
        "kgf/turn": (9.80665, ("kgf per turn",)),
        "lbf/turn": (4.4482216152605005, ("lbf per turn", "lbf/rev")),
    },
    Kind.MOMENT: {
        "N·m": (1.0, ("Nm", "N.m", "N*m", "N m", "N-m")),
        "kN·m": (1000.0, ("kNm", "kN.m", "kN*m", "kN m", "kN-m")),
        "lbf·ft": (
            1.3558179483314006,
            ("ft·lbf", "ft-lbf", "ft lbf", "lbf-ft", "lbf.ft", "lbf ft"),
        ),
        "lbf·in": (0.11298482902761671, ("in·lbf", "in-lbf", "in lbf", "lbf-in", "lbf.in")),
        "kgf·m": (9.80665, ("kgfm", "kgf.m", "kgf m")),
    },
    Kind.ROTATIONAL_STIFFNESS: {
        "N·m/rad": (1.0, ("Nm/rad", "N.m/rad")),
        "kN·m/rad": (1000.0, ("kNm/rad", "kN.m/rad")),
        "N·m/deg": (57.29577951308232, ("Nm/deg", "N·m/°")),
        "lbf·in/deg": (6.473553852289632, ("in-lbf/deg", "in·lbf/deg")),
    },
    Kind.MASS_PER_LENGTH: {
        "kg/m": (1.0, ("kg/metre", "kg per m", "KG/M")),
        "lb/ft": (1.488163943569554, ("lbm/ft", "lbs/ft", "lb per ft")),
    },
    Kind.DENSITY: {
        "kg/m³": (1.0, ("kg/m3", "kg/m^3", "KG/M3")),
        "lb/ft³": (16.01846337396015, ("lb/ft3", "lb/cu ft", "lbm/ft3", "pcf")),
        "g/cm³": (999.9999999999999, ("g/cm3", "kg/dm3", "kg/dm³")),
    },
    Kind.STRESS: {
        "Pa": (1.0, ()),
        "kPa": (1000.0, ("kpa",)),
        "MPa": (1000000.0, ("N/mm²", "N/mm2", "MPA")),
        "GPa": (1000000000.0, ()),
        "bar": (100000.0, ("BAR",)),
        "psi": (6894.7572931683635, ("PSI", "lbf/in²", "lbf/in2")),
        "ksi": (6894757.293168363, ("KSI",)),
    },
    Kind.TEMPERATURE: {
        "K": (1.0, ()),
        "°C": (1.0, ("C", "degC", "deg C", "℃", "° C", "DEG C")),
        "°F": (0.5555555555555556, ("F", "degF", "deg F", "℉", "° F", "DEG F")),
    },
    Kind.TEMPERATURE_DIFFERENCE: {
        "K": (1.0, ("°C", "C", "degC", "deg C")),
        "°F": (0.5555555555555556, ("F", "degF", "deg F")),
    },
    Kind.EXPANSION: {
        "1/K": (1.0, ("1/°C",)),
        "1e-6/K": (1e-06, ("10⁻⁶/K", "µm/(m·K)", "um/m/K")),
        "1e-6/°F": (1.7999999999999997e-06, ("10⁻⁶/°F",)),
    },
    Kind.ANGLE: {
        "rad": (1.0, ()),
        "°": (0.017453292519943295, ("deg", "degrees", "degree")),
    },
    Kind.FRACTION: {
        "1": (1.0, ("", "-", "–")),
        "%": (0.01, ("percent", "pct")),
    },
    Kind.AREA: {
        "m²": (1.0, ("m2",)),
        "mm²": (1e-06, ("mm2",)),
        "cm²": (0.0001, ("cm2",)),
        "in²": (0.00064516, ("in2", "sq in")),
    },
    Kind.SECTION_MODULUS: {
        "m³": (1.0, ("m3",)),
        "cm³": (1.0000000000000002e-06, ("cm3",)),
        "in³": (1.6387063999999996e-05, ("in3",)),
    },
    Kind.SECOND_MOMENT: {
        "m⁴": (1.0, ("m4",)),
        "cm⁴": (1e-08, ("cm4",)),
        "in⁴": (4.1623142559999997e-07, ("in4",)),
    },
    Kind.COUNT: {"1": (1.0, ("", "-", "off", "pcs", "no."))},
}

_ZERO = {"°C": 273.15, "°F": 459.67 / 1.8}
"""The zero of a scale of temperature [K], exact; NIST SP 811 (2008), appendix B.8."""

_TON = "tonne-force (9.80665 kN), short ton-force (8.8964 kN) or long ton-force (9.9640 kN)"
_ASK: dict[Kind, dict[str, str]] = {
    Kind.LOAD: {
        "kg": "kgf (× 9.80665 N) or a mass in kg",
        "kgs": "kgf (× 9.80665 N) or a mass in kg",
        "lb": "lbf or a mass in lb",
        "lbs": "lbf or a mass in lb",
        "#": "lbf or a count",
        "t": _TON,
        "te": _TON,
        "to": _TON,
        "ton": _TON,
        "tons": _TON,
        "tonne": _TON,
        "tf": _TON,
        "tonf": _TON,
        "k": "kN or kip",
    },
    Kind.MASS: {
        "t": "tonne (1000 kg), short ton (907 kg) or long ton (1016 kg)",
        "ton": "tonne (1000 kg), short ton (907 kg) or long ton (1016 kg)",
        "tons": "tonne (1000 kg), short ton (907 kg) or long ton (1016 kg)",
        "#": "lb or a count",
    },
    Kind.RATE: {
        "kg/mm": "kgf/mm (9.80665 N/mm) or something else",
        "kg/cm": "kgf/cm (0.980665 N/mm) or something else",
        "lb/in": "lbf/in (0.175127 N/mm) or a mass per length",
        "lbs/in": "lbf/in (0.175127 N/mm) or a mass per length",
        "#/in": "lbf/in (0.175127 N/mm) or something else",
    },
    Kind.LOAD_PER_TURN: {
        "kg/turn": "kgf/turn or something else",
        "lb/turn": "lbf/turn or something else",
        "lbs/turn": "lbf/turn or something else",
    },
    Kind.MOMENT: {"kg·m": "kgf·m or something else", "kgm": "kgf·m or something else"},
}


def spellings(kind: Kind) -> dict[str, str]:
    """Return every spelling taken for `kind` with the symbol that it stands for."""
    table = _ALLOWED[kind]
    return {text: symbol for symbol, (_, others) in table.items() for text in (symbol, *others)}


def question(text: str, kind: Kind) -> str:
    """Return what an ambiguous spelling could mean, or '' if it is not one."""
    asked = _ASK.get(kind, {})
    return asked.get(text.strip(), asked.get(text.strip().lower(), ""))


@cache
def unit(text: str, kind: Kind) -> Unit:
    """Return the unit that a spelling stands for.

    Raises
    ------
    QuantityUnreadable
        The spelling is unknown, or could mean more than one thing.
    """
    bare = re.sub(r"^[\[(](.*)[\])]$", r"\1", text.strip())
    spelled = re.sub(r"\s+", " ", bare.strip())
    table = spellings(kind)
    symbol = table.get(spelled) or table.get(re.sub(r"(?<=\S) (?=[/·*])|(?<=[/·*]) ", "", spelled))
    if symbol is not None:
        return _unit(symbol, kind)
    if doubt := question(spelled, kind):
        raise QuantityUnreadable(
            Sentence(
                "unit '{spelled}' of a {kind} could mean {doubt}",
                spelled=spelled,
                kind=kind,
                doubt=doubt,
            ),
            remedy="Write the unit out so that it can mean one thing only",
        )
    raise QuantityUnreadable(
        Sentence("unit of a {kind} is not known", kind=kind)
        if spelled
        else Sentence("a {kind} has no unit", kind=kind),
        found=f"'{spelled}'" if spelled else "",
        expected=Sentence("one of {names}", names=joined(_ALLOWED[kind], ", ")),
    )


@cache
def _unit(symbol: str, kind: Kind) -> Unit:
    zero = _ZERO.get(symbol, 0.0) if kind is Kind.TEMPERATURE else 0.0
    return Unit(symbol, kind, _ALLOWED[kind][symbol][0], zero)


def to_si(value: FloatOrArray, unit_text: str, kind: Kind) -> FloatOrArray:
    """Convert a value or a whole column, in the unit spelled, to SI.

    >>> to_si(4500.0, "lbf", Kind.LOAD)
    20016.997268672254
    """
    return unit(unit_text, kind).to_si(value)


def from_si(value: FloatOrArray, unit_text: str, kind: Kind) -> FloatOrArray:
    """Convert an SI value or a whole column to the unit spelled."""
    return unit(unit_text, kind).from_si(value)


_NUMBER = re.compile(r"[-+−]?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?")
_SEPARATED = re.compile(r"[-+−]?[\d.]+([,'’\s][\d.]+)+")


def number(text: str) -> float:
    """Read one plain number; whatever could be read in two ways is refused.

    >>> number("22.1")
    22.1

    Raises
    ------
    QuantityUnreadable
        Not a finite number, or one with separators (decimals or thousands?).
    """
    plain = text.strip()
    if _NUMBER.fullmatch(plain) and isfinite(value := float(plain.replace("−", "-"))):
        return value
    if _SEPARATED.fullmatch(plain):
        raise QuantityUnreadable(
            Sentence("'{text}' can be read in two ways", text=text),
            remedy="Write it without thousands separators and with a point for the decimals",
        )
    raise QuantityUnreadable("not a number", found=f"'{text}'", expected="a plain number")


_DECIMALS = {
    "N": 0, "kN": 2, "daN": 0, "kgf": 0, "lbf": 0, "kip": 2, "m": 3, "mm": 0, "in": 2, "ft": 2,
    "kg": 1, "lb": 1, "N/mm": 1, "lbf/in": 0, "kgf/mm": 2, "kgf/cm": 1, "kN·m": 2, "N·m": 0,
    "lbf·ft": 0, "kN/turn": 3, "N/turn": 0, "lbf/turn": 1, "kgf/turn": 1, "daN/turn": 1,
    "°C": 0, "°F": 0, "°": 2, "%": 1, "MPa": 1, "kg/m": 1, "lb/ft": 1,
}  # fmt: skip


def shown(si: float | None, unit_text: str, kind: Kind, decimals: int | None = None) -> str:
    """Write an SI value in the unit wanted, with that unit; unknown (None, NaN) is 'not known'.

    >>> shown(22083.3, "kN", Kind.LOAD)
    '22.08 kN'
    >>> shown(None, "kN", Kind.LOAD)
    'not known'
    """
    if si is None or isnan(si):
        return "not known"
    wanted = unit(unit_text, kind)
    places = _DECIMALS.get(wanted.symbol, 3) if decimals is None else decimals
    value = round(wanted.from_si(si), places) + 0.0
    return f"{value:,.{places}f} {wanted.symbol}".replace(",", "\u202f")
