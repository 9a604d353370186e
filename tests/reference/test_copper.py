"""Copper windings against numbers from outside (W1 to W9)."""

import tomllib
from pathlib import Path

import pytest
from pytest import approx

from fifthwire.model.estimate import Estimate
from fifthwire.physics import copper

NUMBERS = tomllib.loads(Path(__file__).with_name("copper.toml").read_text(encoding="utf-8"))


def test_the_constants_are_those_of_the_copper_standard():
    w1 = NUMBERS["w1"]

    assert w1["intercept_k"] == copper.COPPER_INTERCEPT_K
    assert w1["intercept_60034_k"] == copper.COPPER_INTERCEPT_60034_K
    assert w1["alpha_20c_per_k"] == copper.COPPER_ALPHA_20C_PER_K
    assert w1["resistivity_20c_ohm_mm2_m"] == copper.COPPER_RESISTIVITY_20C_OHM_MM2_M
    assert copper.alpha_per_k(20.0) == approx(w1["alpha_20c_per_k"], abs=5e-6)


def test_the_rise_by_resistance_is_that_of_the_worked_problem():
    w2 = NUMBERS["w2"]

    rise_k = copper.rise_by_resistance_k(w2["cold_ohm"], w2["cold_c"], w2["hot_ohm"], w2["cold_c"])

    assert rise_k == approx(w2["rise_k"], abs=w2["tolerance_k"] + 1e-9)
    assert rise_k == approx(w2["exact_rise_k"], abs=1e-9)


def test_the_rise_with_the_constant_of_rotating_machines_is_a_little_higher():
    w2 = NUMBERS["w2"]

    rise_k = copper.rise_by_resistance_k(
        w2["cold_ohm"], w2["cold_c"], w2["hot_ohm"], w2["cold_c"], copper.COPPER_INTERCEPT_60034_K
    )

    assert rise_k == approx(w2["rise_with_235_k"], abs=1e-9)


def test_a_hot_winding_reads_what_the_worked_example_prints_in_both_forms():
    w3 = NUMBERS["w3"]
    given = (w3["cold_ohm"], w3["cold_c"], w3["hot_c"])

    assert copper.at_temperature_by_alpha(*given) == approx(w3["hot_ohm"], abs=w3["tolerance_ohm"])
    assert copper.at_temperature(*given) == approx(w3["hot_ohm"], abs=w3["tolerance_ohm"])


@pytest.mark.parametrize(("hot_c", "factor"), NUMBERS["w4"]["factors"])
def test_the_factor_over_20_c_is_that_of_the_table(hot_c, factor):
    assert copper.resistance_factor(20.0, hot_c) == approx(factor, abs=NUMBERS["w4"]["tolerance"])


@pytest.mark.parametrize(("at_c", "resistivity", "within"), NUMBERS["w5"]["resistivity"])
def test_the_straight_line_keeps_near_the_measured_resistivity_of_copper(at_c, resistivity, within):
    measured = resistivity / NUMBERS["w5"]["resistivity_20c"]

    assert copper.resistance_factor(20.0, at_c) == approx(measured, rel=within)


@pytest.mark.parametrize("case", NUMBERS["w7"]["cases"])
def test_the_coefficient_of_20_c_is_not_used_at_another_base(case):
    by_intercept = copper.at_temperature(case["base_ohm"], case["base_c"], case["hot_c"])
    by_alpha = copper.at_temperature_by_alpha(case["base_ohm"], case["base_c"], case["hot_c"])
    trap = case["base_ohm"] * (1 + copper.COPPER_ALPHA_20C_PER_K * (case["hot_c"] - case["base_c"]))

    assert trap == approx(case["wrong_ohm"], abs=NUMBERS["w7"]["tolerance_ohm"])
    for right in (by_intercept, by_alpha):
        assert right == approx(case["right_ohm"], abs=NUMBERS["w7"]["tolerance_ohm"])
        assert abs(right - case["wrong_ohm"]) > 0.003 * case["wrong_ohm"]


def test_each_base_has_its_own_coefficient():
    assert copper.alpha_per_k(25.0) == approx(NUMBERS["w7"]["alpha_25c_per_k"], abs=5e-8)
    assert copper.alpha_per_k(0.0) == approx(NUMBERS["w7"]["alpha_0c_per_k"], abs=5e-8)


@pytest.mark.parametrize("alpha_per_k", NUMBERS["w8"]["wrong_alpha_per_k"])
def test_coefficients_in_circulation_that_are_not_coppers_are_not_ours(alpha_per_k):
    assert abs(alpha_per_k / copper.COPPER_ALPHA_20C_PER_K - 1.0) > 0.015
    ours = copper.at_temperature(46.0, 20.0, 60.0)
    assert abs(copper.at_temperature_by_alpha(46.0, 20.0, 60.0, alpha_per_k) - ours) > 0.1


@pytest.mark.parametrize(("base_c", "per_k"), NUMBERS["w9"]["per_k"])
def test_a_kelvin_of_doubt_is_worth_four_tenths_of_a_percent(base_c, per_k):
    estimate = copper.estimate_at_temperature(Estimate(100.0, 0.0), Estimate(base_c, 1.0), to_c=base_c)

    assert estimate.u / estimate.value == approx(per_k, abs=NUMBERS["w9"]["tolerance_per_k"])
