from math import isnan, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from fifthwire.model.errors import InputError, RangeError
from fifthwire.model.estimate import Estimate
from fifthwire.physics import copper

TEMPERATURES = st.floats(-60.0, 150.0)
RESISTANCES = st.floats(0.1, 1e5)


@given(RESISTANCES, TEMPERATURES, TEMPERATURES)
def test_there_and_back_is_the_same_winding(ohm, from_c, to_c):
    there = copper.at_temperature(ohm, from_c, to_c)

    assert copper.at_temperature(there, to_c, from_c) == approx(ohm, rel=1e-12)


@given(RESISTANCES, TEMPERATURES, TEMPERATURES)
def test_warmer_is_higher(ohm, from_c, to_c):
    there = copper.at_temperature(ohm, from_c, to_c)

    assert (there > ohm) == (to_c > from_c) or there == approx(ohm, rel=1e-12)


@given(RESISTANCES, TEMPERATURES, TEMPERATURES)
def test_both_forms_say_the_same(ohm, from_c, to_c):
    by_alpha = copper.at_temperature_by_alpha(ohm, from_c, to_c, copper.alpha_per_k(20.0))

    assert by_alpha == approx(copper.at_temperature(ohm, from_c, to_c), rel=1e-12)


@given(RESISTANCES, TEMPERATURES, TEMPERATURES)
def test_a_winding_is_a_thermometer(ohm, cold_c, hot_c):
    hot_ohm = copper.at_temperature(ohm, cold_c, hot_c)

    assert copper.winding_c_by_resistance(ohm, cold_c, hot_ohm) == approx(hot_c, abs=1e-9)
    assert copper.rise_by_resistance_k(ohm, cold_c, hot_ohm, 30.0) == approx(hot_c - 30.0, abs=1e-9)


def test_not_a_number_goes_through():
    assert isnan(copper.at_temperature(nan, 20.0, 60.0))
    assert isnan(copper.at_temperature(46.0, nan, 60.0))


@pytest.mark.parametrize("convert", [copper.at_temperature, copper.at_temperature_by_alpha])
def test_a_negative_resistance_is_refused(convert):
    with pytest.raises(InputError, match="negative"):
        convert(-0.1, 20.0)


@pytest.mark.parametrize(("from_c", "to_c"), [(-234.5, 20.0), (20.0, -234.5), (-300.0, 20.0)])
def test_a_temperature_below_the_line_of_copper_is_refused(from_c, to_c):
    with pytest.raises(RangeError, match="below the line of copper"):
        copper.resistance_factor(from_c, to_c)


def test_a_base_below_the_line_of_copper_is_refused():
    with pytest.raises(RangeError, match="below the line"):
        copper.alpha_per_k(-234.5)
    with pytest.raises(RangeError, match="below the line"):
        copper.winding_c_by_resistance(80.0, -234.5, 100.0)


def test_a_cold_winding_of_nothing_is_no_thermometer():
    with pytest.raises(InputError, match="no resistance of a winding"):
        copper.winding_c_by_resistance(0.0, 20.0, 100.0)
    with pytest.raises(InputError, match="negative"):
        copper.winding_c_by_resistance(80.0, 20.0, -1.0)


def test_exact_inputs_give_an_exact_result():
    estimate = copper.estimate_at_temperature(Estimate(46.0, 0.0), Estimate(35.0, 0.0))

    assert estimate.u == 0.0
    assert estimate.dof == float("inf")


def test_doubt_about_temperature_alone_is_four_tenths_of_a_percent_a_kelvin():
    estimate = copper.estimate_at_temperature(Estimate(100.0, 0.0), Estimate(20.0, 2.0), to_c=20.0)

    assert estimate.u == approx(2.0 * 100.0 / 254.5)


def test_the_usual_temperature_of_specs_is_20_c():
    assert copper.at_temperature(46.0, 20.0) == approx(46.0)
    assert copper.at_temperature_by_alpha(46.0, 20.0) == approx(46.0)


def test_no_resistance_stays_none_at_any_temperature():
    assert copper.at_temperature(0.0, 20.0, 60.0) == 0.0
