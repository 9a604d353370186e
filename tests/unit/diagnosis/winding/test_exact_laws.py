"""The exact laws of the refinement, against integrals, sampling and independent linear algebra."""

from itertools import product
from math import exp, log, pi, sqrt

import numpy
import pytest
from pytest import approx
from tests.winding_cases import LAWS, judged, probability, spec, star

from fifthwire.diagnosis.winding import HeadTemperature, RangeLaw
from fifthwire.diagnosis.winding.another_head import ANY_FACTOR_SHARE, WRONG_HEAD_TAIL_SHARE
from fifthwire.diagnosis.winding.base_fit import Scatter, fit, prior_of
from fifthwire.diagnosis.winding.error_law import error_law
from fifthwire.diagnosis.winding.hypothesis import Bridge
from fifthwire.diagnosis.winding.meter_noise import noise_law
from fifthwire.diagnosis.winding.noise_nodes import N_NODES, gauss_rule, noise_nodes
from fifthwire.diagnosis.winding.scale import SpecScale
from fifthwire.diagnosis.winding.scatter_pull import scatter_pull
from fifthwire.diagnosis.winding.sites import blurred

METERS = [RangeLaw(digits=d, resolution_ohm=r) for d, r in ((1, 0.1), (5, 0.1), (3, 0.01), (0, 0.1), (2.5, 1.0))]


def test_the_rule_of_an_even_law_is_that_of_legendre():
    moments = [0.0 if k % 2 else 1.0 / (k + 1.0) for k in range(10)]

    found = gauss_rule(moments)

    at, weights = numpy.polynomial.legendre.leggauss(5)
    assert [x for x, _ in found] == approx(at)
    assert [w for _, w in found] == approx(weights / 2.0)


def _density_on_a_fine_grid(noise):
    low, high = noise.limits()
    errors = numpy.linspace(low, high + 0.3, 30_001)
    return errors, numpy.array([noise.density(float(error)) for error in errors])


@pytest.mark.parametrize("meter", METERS, ids=str)
def test_the_nodes_of_an_error_have_the_moments_of_its_law(meter):
    noise = noise_law(meter, 0.08)
    errors, density = _density_on_a_fine_grid(noise)
    z = (errors - noise.mean_ohm) / sqrt(noise.variance)

    for power in range(2 * N_NODES - 4):
        exact = numpy.trapezoid(density * z**power, errors)
        found = sum(w * ((e - noise.mean_ohm) / sqrt(noise.variance)) ** power for e, w in noise_nodes(noise))
        assert found == approx(exact, rel=2e-3, abs=2e-3)


@pytest.mark.parametrize("meter", METERS, ids=str)
def test_an_error_is_blurred_by_what_is_not_known_of_the_reading(meter):
    noise = noise_law(meter, 0.08)
    errors, density = _density_on_a_fine_grid(noise)
    sd = sqrt(noise.variance)

    for wide, off in product((0.4, 1.2, 2.0, 5.0), (0.0, 1.5, 2.5)):
        variance = wide * wide * noise.variance
        centre = noise.mean_ohm + off * sqrt(variance + noise.variance)
        mass, mean, spread = blurred(centre, variance, error_law(noise))

        weight = density * numpy.exp(-0.5 * (errors - centre) ** 2 / variance)
        exact = [numpy.trapezoid(weight * (errors - centre) ** power, errors) for power in range(3)]
        within = 0.004 if wide > 1.0 else 0.03
        assert mass == approx(exact[0], rel=within)
        assert mean == approx(exact[1] / exact[0], abs=within * sd)
        assert spread == approx(exact[2] / exact[0] - (exact[1] / exact[0]) ** 2, rel=10 * within)


@pytest.mark.parametrize(
    ("head", "tolerance_frac", "gain_frac"),
    [
        (HeadTemperature(centre_c=45.0, sd_k=1.0), 0.10, 0.012),
        (HeadTemperature(centre_c=5.0, sd_k=7.5), 0.05, 0.002),
        (HeadTemperature(), 0.07, 0.009),
    ],
)
def test_another_heads_scale_is_a_factor_times_the_own_scale(head, tolerance_frac, gain_frac):
    rng = numpy.random.default_rng(20260512)
    n = 1_000_000
    scale = SpecScale(spec(tolerance_frac=tolerance_frac), head, gain_frac, LAWS)
    batch = rng.normal(0.0, tolerance_frac / 3.0, 2 * n)
    batch = batch[abs(batch) < tolerance_frac][:n]
    at_c = rng.uniform(-15.0, 75.0, n) if head.centre_c is None else rng.normal(head.centre_c, head.sd_k, n)
    own = 62.0 * (1.0 + batch) * (234.5 + at_c) / 254.5 * (1.0 + rng.uniform(-gain_frac, gain_frac, n))
    drawn = own * _factors(rng, n)

    for low, high in (
        (20.0, 25.0),
        (28.0, 38.0),
        (41.0, 48.0),
        (48.0, 55.0),
        (74.0, 84.0),
        (84.0, 92.0),
        (100.0, 130.0),
    ):
        law = scale.of_another_head(0.5 * (low + high))
        ohms = numpy.linspace(low, high, 401)
        kappas = ohms / law.centre_ohm - 1.0
        densities = [
            exp(law.log_ratio(float(k)) - 0.5 * (k / law.sd) ** 2) / (law.sd * sqrt(2.0 * pi) * law.centre_ohm)
            for k in kappas
        ]
        counted = float(((drawn > low) & (drawn < high)).mean())
        found = numpy.trapezoid(densities, ohms)
        assert found == approx(
            counted, abs=4.5 * sqrt((counted + 1e-6) / n) + 2.0 * ANY_FACTOR_SHARE * (high - low) / 62
        )


def _factors(rng, n):
    whole = []
    for share, ranges in (
        (1.0 - WRONG_HEAD_TAIL_SHARE, LAWS.wrong_head_factor),
        (WRONG_HEAD_TAIL_SHARE, LAWS.wrong_head_tail_factor),
    ):
        width = sum(high - low for low, high in ranges)
        whole += [(share * (high - low) / width, low, high) for low, high in ranges]
    which = rng.choice(len(whole), n, p=[share for share, _, _ in whole])
    low, high = (numpy.array([piece[k] for piece in whole])[which] for k in (1, 2))
    return rng.uniform(low, high)


def test_a_balanced_head_that_no_heat_and_no_factor_explains_is_not_good():
    finding = judged(star([72.25] * 4))

    assert finding.verdict == "faulty"
    assert probability(finding, "wrong-head") > 0.95


@pytest.mark.parametrize(("n", "is_shared"), [(4, True), (2, False), (1, False)])
@pytest.mark.parametrize("scale_ohm", [59.0, 61.0, 66.0])
def test_the_scatter_follows_the_scale(n, is_shared, scale_ohm):
    rng = numpy.random.default_rng(3)
    columns, residual = rng.integers(0, 2, size=(2 * n, n)).astype(float), rng.normal(scale=1.3, size=2 * n)
    gram, g, squared = (columns.T @ columns).tolist(), (columns.T @ residual).tolist(), float(residual @ residual)

    def fitted(scatter_ohm):
        return fit(prior_of(n, Scatter(0.02, 0.03, is_shared), scatter_ohm, 4.0, 62.0), 62.0, gram, g, squared)

    usual = fitted(62.0)
    pull = scatter_pull(usual.prior, usual.deviation, usual.covariance, [0.0] * n)

    moved = fitted(scale_ohm).log_evidence - usual.log_evidence
    assert pull.log_factor(0.0, scale_ohm) == approx(moved, abs=2.0 * log(scale_ohm / 62.0) ** 2 + 1e-9)


def test_the_pull_of_the_scatter_is_a_parabola_in_the_size():
    prior = prior_of(4, Scatter(0.004, 0.007, True), 62.0, 2.0, 62.0)
    deviation, slope, covariance = [0.3, -0.2, 0.5, 0.1], [0.1, 0.0, -0.4, 0.2], [[0.0] * 4 for _ in range(4)]
    pull = scatter_pull(prior, deviation, covariance, slope)

    for size in (-2.0, 0.5, 3.0):
        there = [d + size * v for d, v in zip(deviation, slope, strict=True)]
        at_it = scatter_pull(prior, there, covariance, [0.0] * 4)
        assert pull.log_factor(size, 64.0) == approx(at_it.log_factor(0.0, 64.0))


@pytest.mark.parametrize("bridge_ohm", [0.5, 12.0, 150.0, 5000.0])
@pytest.mark.parametrize("rise", [-0.5, 0.0, 0.8])
def test_the_size_of_a_bridge_is_found_where_the_scale_goes_with_it(bridge_ohm, rise):
    bridge = Bridge(62.0, 20.0)

    def scale_ohm(size):
        return 62.0 + rise * (size - 20.0)

    size = bridge.size_of(bridge_ohm, scale_ohm, 20.0)

    k = scale_ohm(size)
    assert bridge.loss_at(size, k) == approx(k * k / (2.0 * k + bridge_ohm), abs=1e-6)
