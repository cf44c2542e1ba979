"""Units at the edge: SI floats inside, allow-listed spellings outside.

This is the only module that imports pint. Every spelling that is taken stands in a table here; a
spelling that could mean two things (kg as a load, t, ton, lb, kg/mm) is a question, not a guess.

Factors come from pint's definitions; they are held against NIST SP 811 (2008), appendix B, in
``tests/reference/test_nist_sp811.py``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from math import isfinite, isnan
from typing import TYPE_CHECKING, TypeVar

from supports.errors import QuantityUnreadable

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


# symbol: (pint's name, other spellings). Spellings are compared as they are, and in lower case only
# where that is harmless (see `_spelled`).
_ALLOWED: dict[Kind, dict[str, tuple[str, tuple[str, ...]]]] = {
    Kind.LOAD: {
        "N": ("newton", ("newton", "newtons")),
        "kN": ("kilonewton", ("KN", "kn", "kilonewton")),
        "MN": ("meganewton", ()),
        "daN": ("decanewton", ("DaN", "dan", "DAN")),
        "kgf": ("kilogram_force", ("kg-f", "kg f", "kp", "kilopond")),
        "lbf": ("pound_force", ("lb-f", "lbsf", "lbs-f", "lb f")),
        "kip": ("kip", ("kips", "kipf", "klbf")),
        "tonne-force": ("metric_ton * standard_gravity", ("tf (metric)", "metric tonf")),
        "short ton-force": ("force_ton", ("tonf (US)", "short tonf")),
        "long ton-force": ("long_ton * standard_gravity", ("tonf (UK)", "long tonf")),
    },
    Kind.LENGTH: {
        "m": ("meter", ("metre", "meter", "metres", "meters")),
        "mm": ("millimeter", ("MM", "millimetre", "millimeter")),
        "cm": ("centimeter", ("CM",)),
        "in": ("inch", ("inch", "inches", '"', "″", "in.")),
        "ft": ("foot", ("foot", "feet", "'", "′", "ft.")),
    },
    Kind.MASS: {
        "kg": ("kilogram", ("KG", "kilogram", "kilograms", "kgs")),
        "g": ("gram", ()),
        "lb": ("pound", ("lbm", "lbs", "LB", "LBS", "pound", "pounds")),
        "tonne": ("metric_ton", ("tonnes", "metric ton")),
    },
    Kind.RATE: {
        "N/m": ("newton / meter", ()),
        "N/mm": ("newton / millimeter", ("n/mm", "N/MM")),
        "kN/m": ("kilonewton / meter", ("kn/m",)),
        "kN/mm": ("kilonewton / millimeter", ()),
        "daN/mm": ("decanewton / millimeter", ()),
        "daN/cm": ("decanewton / centimeter", ()),
        "kgf/mm": ("kilogram_force / millimeter", ("kp/mm",)),
        "kgf/cm": ("kilogram_force / centimeter", ("kp/cm",)),
        "lbf/in": ("pound_force / inch", ("lbf/inch", "lbf per in", "lbf/in.")),
    },
    Kind.LOAD_PER_TURN: {
        "N/turn": ("newton", ("N per turn", "N/rev")),
        "kN/turn": ("kilonewton", ("kN per turn", "kn/turn", "kN/rev")),
        "daN/turn": ("decanewton", ("daN per turn",)),
        "kgf/turn": ("kilogram_force", ("kgf per turn",)),
        "lbf/turn": ("pound_force", ("lbf per turn", "lbf/rev")),
    },
    Kind.MOMENT: {
        "N·m": ("newton * meter", ("Nm", "N.m", "N*m", "N m", "N-m")),
        "kN·m": ("kilonewton * meter", ("kNm", "kN.m", "kN*m", "kN m", "kN-m")),
        "lbf·ft": (
            "pound_force * foot",
            ("ft·lbf", "ft-lbf", "ft lbf", "lbf-ft", "lbf.ft", "lbf ft"),
        ),
        "lbf·in": ("pound_force * inch", ("in·lbf", "in-lbf", "in lbf", "lbf-in", "lbf.in")),
        "kgf·m": ("kilogram_force * meter", ("kgfm", "kgf.m", "kgf m")),
    },
    Kind.ROTATIONAL_STIFFNESS: {
        "N·m/rad": ("newton * meter / radian", ("Nm/rad", "N.m/rad")),
        "kN·m/rad": ("kilonewton * meter / radian", ("kNm/rad", "kN.m/rad")),
        "N·m/deg": ("newton * meter / degree", ("Nm/deg", "N·m/°")),
        "lbf·in/deg": ("pound_force * inch / degree", ("in-lbf/deg", "in·lbf/deg")),
    },
    Kind.MASS_PER_LENGTH: {
        "kg/m": ("kilogram / meter", ("kg/metre", "kg per m", "KG/M")),
        "lb/ft": ("pound / foot", ("lbm/ft", "lbs/ft", "lb per ft")),
    },
    Kind.DENSITY: {
        "kg/m³": ("kilogram / meter ** 3", ("kg/m3", "kg/m^3", "KG/M3")),
        "lb/ft³": ("pound / foot ** 3", ("lb/ft3", "lb/cu ft", "lbm/ft3", "pcf")),
        "g/cm³": ("gram / centimeter ** 3", ("g/cm3", "kg/dm3", "kg/dm³")),
    },
    Kind.STRESS: {
        "Pa": ("pascal", ()),
        "kPa": ("kilopascal", ("kpa",)),
        "MPa": ("megapascal", ("N/mm²", "N/mm2", "MPA")),
        "GPa": ("gigapascal", ()),
        "bar": ("bar", ("BAR",)),
        "psi": ("psi", ("PSI", "lbf/in²", "lbf/in2")),
        "ksi": ("ksi", ("KSI",)),
    },
    Kind.TEMPERATURE: {
        "K": ("kelvin", ()),
        "°C": ("degree_Celsius", ("C", "degC", "deg C", "℃", "° C", "DEG C")),
        "°F": ("degree_Fahrenheit", ("F", "degF", "deg F", "℉", "° F", "DEG F")),
    },
    Kind.TEMPERATURE_DIFFERENCE: {
        "K": ("kelvin", ("°C", "C", "degC", "deg C")),
        "°F": ("delta_degree_Fahrenheit", ("F", "degF", "deg F")),
    },
    Kind.EXPANSION: {
        "1/K": ("1 / kelvin", ("1/°C",)),
        "1e-6/K": ("1e-6 / kelvin", ("10⁻⁶/K", "µm/(m·K)", "um/m/K")),
        "1e-6/°F": ("1e-6 / delta_degree_Fahrenheit", ("10⁻⁶/°F",)),
    },
    Kind.ANGLE: {
        "rad": ("radian", ()),
        "°": ("degree", ("deg", "degrees", "degree")),
    },
    Kind.FRACTION: {
        "1": ("dimensionless", ("", "-", "–")),
        "%": ("0.01 * dimensionless", ("percent", "pct")),
    },
    Kind.AREA: {
        "m²": ("meter ** 2", ("m2",)),
        "mm²": ("millimeter ** 2", ("mm2",)),
        "cm²": ("centimeter ** 2", ("cm2",)),
        "in²": ("inch ** 2", ("in2", "sq in")),
    },
    Kind.SECTION_MODULUS: {
        "m³": ("meter ** 3", ("m3",)),
        "cm³": ("centimeter ** 3", ("cm3",)),
        "in³": ("inch ** 3", ("in3",)),
    },
    Kind.SECOND_MOMENT: {
        "m⁴": ("meter ** 4", ("m4",)),
        "cm⁴": ("centimeter ** 4", ("cm4",)),
        "in⁴": ("inch ** 4", ("in4",)),
    },
    Kind.COUNT: {"1": ("dimensionless", ("", "-", "off", "pcs", "no."))},
}

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
            f"unit '{spelled}' of a {kind} could mean {doubt}",
            remedy="Write the unit out so that it can mean one thing only",
        )
    raise QuantityUnreadable(
        f"unit of a {kind} is not known" if spelled else f"a {kind} has no unit",
        found=f"'{spelled}'" if spelled else "",
        expected="one of " + ", ".join(_ALLOWED[kind]),
    )


@cache
def _unit(symbol: str, kind: Kind) -> Unit:
    expression = _ALLOWED[kind][symbol][0]
    if kind is Kind.TEMPERATURE:
        freezing = {"K": 0.0, "°C": 273.15, "°F": 459.67 / 1.8}
        expression = expression.replace("degree_", "delta_degree_")
        return Unit(symbol, kind, _factor(expression), freezing[symbol])
    return Unit(symbol, kind, _factor(expression))


@cache
def _factor(expression: str) -> float:
    import pint

    return float(_registry(pint.UnitRegistry).parse_expression(expression).to_base_units().m)


_registry = cache(lambda factory: factory())


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
            f"'{text}' can be read in two ways",
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
