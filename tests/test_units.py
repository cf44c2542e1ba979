"""Units at the edge: what is taken, what is asked about, what is refused.

The factors themselves are checked in `reference/test_nist_sp811.py`.
"""

from __future__ import annotations

import doctest

import numpy as np
import pytest

from supports import units
from supports.errors import QuantityUnreadable
from supports.units import Kind, from_si, number, question, shown, spellings, to_si, unit


def test_the_examples_in_the_text() -> None:
    result = doctest.testmod(units)
    assert (result.failed, result.attempted) == (0, 4)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("kg", Kind.LOAD),
        ("KG", Kind.LOAD),
        ("lb", Kind.LOAD),
        ("lbs", Kind.LOAD),
        ("#", Kind.LOAD),
        ("t", Kind.LOAD),
        ("T", Kind.LOAD),
        ("ton", Kind.LOAD),
        ("Tons", Kind.LOAD),
        ("tonf", Kind.LOAD),
        ("tonne", Kind.LOAD),
        ("k", Kind.LOAD),
        ("ton", Kind.MASS),
        ("t", Kind.MASS),
        ("kg/mm", Kind.RATE),
        ("kg/cm", Kind.RATE),
        ("lb/in", Kind.RATE),
        ("LB/IN", Kind.RATE),
        ("kg/turn", Kind.LOAD_PER_TURN),
        ("lb/turn", Kind.LOAD_PER_TURN),
        ("kgm", Kind.MOMENT),
    ],
)
def test_ambiguous_spellings_are_asked_about(text: str, kind: Kind) -> None:
    assert question(text, kind)
    with pytest.raises(QuantityUnreadable, match="could mean") as caught:
        unit(text, kind)
    assert "one thing only" in str(caught.value)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("mm", Kind.LOAD),
        ("N", Kind.LENGTH),
        ("knot", Kind.LOAD),
        ("kN/m", Kind.LOAD),
        ("°C", Kind.LOAD),
        ("furlong", Kind.LENGTH),
        ("psig", Kind.STRESS),
        ("mN", Kind.LOAD),
    ],
)
def test_units_of_another_kind_are_refused_with_those_known(text: str, kind: Kind) -> None:
    with pytest.raises(QuantityUnreadable, match="is not known") as caught:
        unit(text, kind)
    assert "expected one of" in str(caught.value)


@pytest.mark.parametrize("text", ["", "  ", "()"])
def test_a_load_without_a_unit_is_no_load(text: str) -> None:
    with pytest.raises(QuantityUnreadable, match="a load has no unit"):
        unit(text, Kind.LOAD)


@pytest.mark.parametrize(
    ("text", "kind", "symbol"),
    [
        ("kn", Kind.LOAD, "kN"),  # a library would read a knot
        (" kN ", Kind.LOAD, "kN"),
        ("[kN]", Kind.LOAD, "kN"),
        ("( kN )", Kind.LOAD, "kN"),
        ("lb  f", Kind.LOAD, "lbf"),
        ("C", Kind.TEMPERATURE, "°C"),  # a library would read a coulomb
        ("deg F", Kind.TEMPERATURE, "°F"),
        ("N / mm", Kind.RATE, "N/mm"),
        ("ft-lbf", Kind.MOMENT, "lbf·ft"),
        ('"', Kind.LENGTH, "in"),
        ("N/mm2", Kind.STRESS, "MPa"),
        ("", Kind.FRACTION, "1"),
    ],
)
def test_common_spellings_are_taken(text: str, kind: Kind, symbol: str) -> None:
    assert unit(text, kind).symbol == symbol


@pytest.mark.parametrize("kind", list(Kind))
def test_every_spelling_leads_to_a_working_unit(kind: Kind) -> None:
    for text, symbol in spellings(kind).items():
        found = unit(text, kind)
        assert (found.symbol, found.kind) == (symbol, kind)
        assert found.factor > 0.0


@pytest.mark.parametrize("kind", list(Kind))
def test_no_spelling_is_both_taken_and_asked_about(kind: Kind) -> None:
    assert not [text for text in spellings(kind) if question(text, kind)]


def test_a_column_converts_as_its_cells_do() -> None:
    column = np.array([0.0, 1.0, 4500.0])
    assert to_si(column, "lbf", Kind.LOAD).tolist() == [
        to_si(float(cell), "lbf", Kind.LOAD) for cell in column
    ]
    assert from_si(to_si(column, "degF", Kind.TEMPERATURE), "degF", Kind.TEMPERATURE) == (
        pytest.approx(column, abs=1e-9)
    )


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("22.1", 22.1),
        (" 4500 ", 4500.0),
        ("-3", -3.0),
        ("−3.5", -3.5),
        ("+.5", 0.5),
        ("7.", 7.0),
        ("1E5", 1e5),
        ("0", 0.0),
    ],
)
def test_plain_numbers(text: str, value: float) -> None:
    assert number(text) == value


@pytest.mark.parametrize(
    "text",
    ["1,250", "1,5", "1 000", "12,345.6", "1250,5", "1.250,5", "1\u202f000", "1'250", "-1,250"],
)
def test_numbers_with_separators_are_asked_about(text: str) -> None:
    with pytest.raises(QuantityUnreadable, match="can be read in two ways"):
        number(text)


@pytest.mark.parametrize(
    "text", ["", "n/a", "nan", "inf", "1 1/2", "22.1 kN", "--3", "1e", "12.10.2020", "1e999", ","]
)
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(QuantityUnreadable, match="not a number"):
        number(text)


@pytest.mark.parametrize(
    ("si", "unit_text", "kind", "text"),
    [
        (22083.333, "kN", Kind.LOAD, "22.08 kN"),
        (-0.4, "N", Kind.LOAD, "0 N"),
        (1234567.0, "N", Kind.LOAD, "1\u202f234\u202f567 N"),
        (0.01875, "mm", Kind.LENGTH, "19 mm"),
        (673.15, "degC", Kind.TEMPERATURE, "400 °C"),
        (0.7, "%", Kind.FRACTION, "70.0 %"),
        (None, "kN", Kind.LOAD, "not known"),
        (float("nan"), "kN", Kind.LOAD, "not known"),
    ],
)
def test_values_are_shown_with_their_unit(
    si: float | None, unit_text: str, kind: Kind, text: str
) -> None:
    assert shown(si, unit_text, kind) == text


def test_decimals_may_be_asked_for() -> None:
    assert shown(0.01875, "mm", Kind.LENGTH, decimals=2) == "18.75 mm"
