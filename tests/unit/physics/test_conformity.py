from math import inf, isnan, nan

import pytest
from pytest import approx

from fifthwire.model.errors import InputError
from fifthwire.physics.conformity import conformance_probability, global_risk, normal_cdf, zone


def test_half_lies_below_the_middle():
    assert normal_cdf(0.0) == 0.5


def test_without_limits_everything_conforms():
    assert conformance_probability(5.0, 1.0) == 1.0
    assert zone(5.0, 1.0) == "pass"


def test_a_value_on_its_only_limit_conforms_with_even_odds():
    assert conformance_probability(10.0, 0.3, high=10.0) == approx(0.5)
    assert conformance_probability(10.0, 0.3, low=10.0) == approx(0.5)


def test_an_exact_value_conforms_or_does_not():
    assert conformance_probability(10.0, 0.0, low=10.0, high=11.0) == 1.0
    assert conformance_probability(11.5, 0.0, low=10.0, high=11.0) == 0.0
    assert conformance_probability(11.0, 0.0, low=10.0, high=11.0) == 1.0


def test_both_sides_of_the_limits_are_alike():
    assert conformance_probability(-14.0, 1.0, low=-10.0, high=10.0) == approx(
        conformance_probability(14.0, 1.0, low=-10.0, high=10.0), rel=1e-12
    )


def test_what_is_no_number_has_no_probability_and_proves_nothing():
    assert isnan(conformance_probability(nan, 1.0, high=3.0))
    assert isnan(conformance_probability(1.0, nan, high=3.0))
    assert zone(nan, 1.0, high=3.0) == "not-proven"


def test_the_guard_band_is_left_on_both_sides_of_the_limit():
    zones = [zone(value, 2.0, high=10.0, guard_in_u=1.0) for value in (8.0, 8.01, 11.99, 12.0)]

    assert zones == ["pass", "not-proven", "not-proven", "fail"]


def test_an_uncertainty_wider_than_the_limits_passes_nothing():
    assert zone(0.0, 10.0, low=-1.0, high=1.0) == "not-proven"


def test_without_a_guard_band_the_limit_itself_passes():
    assert zone(10.0, 0.0, high=10.0) == "pass"


@pytest.mark.parametrize("judge", [conformance_probability, zone])
def test_a_negative_uncertainty_or_crossed_limits_are_refused(judge):
    with pytest.raises(InputError, match="standard uncertainty of -1"):
        judge(0.0, -1.0)
    with pytest.raises(InputError, match="limits 2"):
        judge(0.0, 1.0, low=2.0, high=1.0)


def test_a_process_far_inside_its_limits_risks_nothing():
    risk = global_risk(0.0, 0.01, 0.01, (-1.0, 1.0), (-1.0, 1.0))

    assert risk.consumer == approx(0.0, abs=1e-12)
    assert risk.producer == approx(0.0, abs=1e-12)


def test_accepting_everything_accepts_all_that_is_bad():
    risk = global_risk(0.0, 1.0, 0.2, (-1.0, 2.0), (-inf, inf))

    assert risk.consumer == approx(normal_cdf(-1.0) + normal_cdf(-2.0), abs=1e-9)
    assert risk.producer == approx(0.0, abs=1e-12)


def test_rejecting_everything_rejects_all_that_is_good():
    risk = global_risk(0.0, 1.0, 0.2, (-1.0, 2.0), (50.0, 51.0))

    assert risk.consumer == approx(0.0, abs=1e-12)
    assert risk.producer == approx(1.0 - normal_cdf(-1.0) - normal_cdf(-2.0), abs=1e-9)


@pytest.mark.parametrize(("sd", "u"), [(0.0, 1.0), (1.0, 0.0), (-1.0, 1.0)])
def test_a_process_without_spread_is_refused(sd, u):
    with pytest.raises(InputError, match="have some spread"):
        global_risk(0.0, sd, u, (-1.0, 1.0), (-1.0, 1.0))


def test_an_exact_value_that_is_no_number_has_no_probability():
    assert isnan(conformance_probability(nan, 0.0, low=0.0, high=1.0))


def test_limits_may_be_one_value():
    assert conformance_probability(1.0, 0.0, low=1.0, high=1.0) == 1.0
    assert conformance_probability(1.0, 0.5, low=1.0, high=1.0) == 0.0


def test_a_value_below_the_low_limit_by_the_guard_band_fails():
    assert zone(8.0, 2.0, low=10.0, guard_in_u=1.0) == "fail"
    assert zone(8.01, 2.0, low=10.0, guard_in_u=1.0) == "not-proven"


@pytest.mark.parametrize("unit", [0.01, 1.0, 100.0])
def test_the_risk_does_not_depend_on_the_unit(unit):
    risk = global_risk(0.2 * unit, unit, 0.3 * unit, (-1.0 * unit, 2.0 * unit), (-0.8 * unit, 1.8 * unit))

    assert risk.consumer == approx(global_risk(0.2, 1.0, 0.3, (-1.0, 2.0), (-0.8, 1.8)).consumer, rel=1e-9)
    assert risk.producer == approx(global_risk(0.2, 1.0, 0.3, (-1.0, 2.0), (-0.8, 1.8)).producer, rel=1e-9)
