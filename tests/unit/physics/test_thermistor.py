"""Laws of sensors far from where they belong, and there and back."""

import math

from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from fifthwire.model.errors import FifthwireError, RangeError
from fifthwire.physics import thermistor

LAB = (1.129148e-3, 2.34125e-4, 8.76741e-8)
"""Coefficients of a generic 10 kilohm sensor module, as in the reference test."""
TABLE = ((0.0, 32580.0), (10.0, 20000.0), (25.0, 10000.0), (80.0, 1242.9))
temperatures = st.floats(-50.0, 150.0)


@given(temperatures)
def test_there_and_back_is_where_one_was(c):
    assert thermistor.beta_c(1e4, 3950.0, thermistor.beta_ohm(1e4, 3950.0, c)) == approx(c, abs=1e-8)
    assert thermistor.steinhart_c(LAB, thermistor.steinhart_ohm(LAB, c)) == approx(c, abs=1e-8)
    inside = 40.0 + 0.39 * (c - 50.0)
    assert thermistor.table_c(TABLE, thermistor.table_ohm(TABLE, inside)) == approx(inside, abs=1e-8)


@given(temperatures, st.floats(0.01, 20.0))
def test_warmer_is_less_resistance(c, more):
    assert thermistor.beta_ohm(1e4, 3435.0, c + more) < thermistor.beta_ohm(1e4, 3435.0, c)
    assert thermistor.steinhart_ohm(LAB, c + more) < thermistor.steinhart_ohm(LAB, c)


@given(st.floats(1e-6, 1e9), st.floats(1.0, 1e5), st.tuples(*3 * [st.floats(-1e-2, 1e-2)]))
def test_any_curve_gives_a_temperature_or_says_that_there_is_none(ohm, beta_k, coefficients):
    for law in (lambda: thermistor.beta_c(1e4, beta_k, ohm), lambda: thermistor.steinhart_c(coefficients, ohm)):
        try:
            found = law()
        except FifthwireError:
            continue
        assert math.isfinite(found)
        assert found > -thermistor.KELVIN


@given(st.tuples(*3 * [st.floats(-1e-2, 1e-2)]), st.floats(-300.0, 2e4))
def test_any_curve_gives_a_resistance_that_leads_back_or_says_that_there_is_none(coefficients, c):
    try:
        ohm = thermistor.steinhart_ohm(coefficients, c)
    except RangeError:
        return
    assert thermistor.steinhart_c(coefficients, ohm) == approx(c, abs=1e-3, rel=1e-3)
