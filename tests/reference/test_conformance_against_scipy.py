"""Conformance probability and risks against SciPy."""

import random

import pytest
from pytest import approx
from scipy import integrate, stats

from fifthwire.physics.conformity import conformance_probability, global_risk, normal_cdf


@pytest.mark.parametrize("z", [-37.0, -12.0, -6.0, -1.0, 0.0, 0.3, 5.0])
def test_the_normal_law_keeps_its_digits_far_into_the_tail(z):
    assert normal_cdf(z) == approx(stats.norm.cdf(z), rel=1e-12)


@pytest.mark.parametrize("seed", range(40))
def test_the_probability_between_two_limits_is_scipys(seed):
    rng = random.Random(seed)
    value, u = rng.uniform(-20, 20), rng.uniform(0.01, 5)
    low, high = sorted(rng.uniform(-20, 20) for _ in range(2))

    expected = integrate.quad(stats.norm(value, u).pdf, low, high, points=[min(max(value, low), high)], limit=200)[0]

    assert conformance_probability(value, u, low=low, high=high) == approx(expected, rel=1e-6, abs=1e-13)


def test_limits_far_on_one_side_keep_their_digits():
    # the difference of two survival functions, which SciPy keeps accurate in the tail
    expected = stats.norm.sf(9.0) - stats.norm.sf(9.5)

    assert conformance_probability(0.0, 1.0, low=9.0, high=9.5) == approx(expected, rel=1e-10)
    assert conformance_probability(0.0, 1.0, low=-9.5, high=-9.0) == approx(expected, rel=1e-10)


@pytest.mark.parametrize("seed", range(6))
def test_risks_over_a_process_are_those_of_the_double_integral(seed):
    rng = random.Random(seed)
    mean, sd, u = rng.uniform(-0.5, 0.5), rng.uniform(0.5, 1.5), rng.uniform(0.1, 0.6)
    tolerance = (-1.5, 1.6)
    acceptance = (-1.5 + 0.5 * u, 1.6 - 0.5 * u)

    def measured(true, low, high):
        return stats.norm.cdf(high, true, u) - stats.norm.cdf(low, true, u)

    def share(integrand, low, high):
        return integrate.quad(lambda true: stats.norm.pdf(true, mean, sd) * integrand(true), low, high, limit=200)[0]

    risk = global_risk(mean, sd, u, tolerance, acceptance)

    far = 9 * sd
    accepted_bad = share(lambda true: measured(true, *acceptance), mean - far, tolerance[0])
    accepted_bad += share(lambda true: measured(true, *acceptance), tolerance[1], mean + far)
    rejected_good = share(lambda true: 1 - measured(true, *acceptance), *tolerance)
    assert risk.consumer == approx(accepted_bad, abs=1e-8)
    assert risk.producer == approx(rejected_good, abs=1e-8)
