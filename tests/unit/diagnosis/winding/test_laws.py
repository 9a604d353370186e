"""The laws of the meter's error and of the scale, against integrals, sampling and independent linear algebra."""

from math import exp
from random import Random

import numpy
import pytest
from pytest import approx
from scipy.integrate import quad
from tests.winding_cases import LAWS, spec

from fifthwire.diagnosis.winding import HeadTemperature, RangeLaw
from fifthwire.diagnosis.winding.base_fit import Scatter, fit, inverse, prior_of
from fifthwire.diagnosis.winding.column import integrate, log_uniform, uniform
from fifthwire.diagnosis.winding.error_law import noise_table
from fifthwire.diagnosis.winding.meter_noise import noise_law
from fifthwire.diagnosis.winding.scale import SpecScale

RANGES = [RangeLaw(digits=d, resolution_ohm=r) for d, r in ((2, 0.1), (5, 0.01), (0, 0.1), (2.5, 1.0))]


@pytest.mark.parametrize("law", RANGES, ids=str)
def test_a_readings_error_has_the_density_mean_and_variance_of_its_sum(law):
    noise = noise_law(law, 0.08)
    low, high = noise.limits()

    mass = quad(noise.density, low, high, limit=200)[0]
    mean = quad(lambda e: e * noise.density(e), low, high, limit=200)[0]
    variance = quad(lambda e: (e - mean) ** 2 * noise.density(e), low, high, limit=200)[0]

    assert mass == approx(1.0, abs=2e-5)
    assert mean == approx(noise.mean_ohm, abs=1e-4)
    assert variance == approx(noise.variance, rel=1e-3)


@pytest.mark.parametrize("law", RANGES, ids=str)
def test_the_table_of_an_error_is_its_density(law):
    noise = noise_law(law, 0.08)
    table = noise_table(noise)

    for index, value in enumerate(table.logs):
        error = table.low + index / table.per_step
        assert exp(value) == approx(max(noise.density(error), 1e-12), abs=1e-9)


@pytest.mark.parametrize(
    "head", [HeadTemperature(centre_c=45.0, sd_k=1.5), HeadTemperature(centre_c=5.0, sd_k=7.5), HeadTemperature()]
)
def test_the_scales_law_is_batch_times_copper_times_gain(head):
    rng = Random(20260512)
    scale = SpecScale(spec(), head, 0.009, LAWS)
    law = scale.of_this_head()
    drawn = sorted(a_scale(rng, head) for _ in range(60_000))

    def density(kappa):
        stand_in = exp(-0.5 * (kappa / law.sd) ** 2) / (law.sd * (2 * numpy.pi) ** 0.5)
        return stand_in * exp(law.log_ratio(kappa))

    def share(low, high):  # the law is straight between the points of a table: a plain sum serves it best
        at = numpy.linspace(low, high, 2001)
        return numpy.trapezoid([density(float(kappa)) for kappa in at], at)

    for low, high in ((0.1, 0.3), (0.3, 0.5), (0.5, 0.7), (0.7, 0.9), (0.9, 0.98)):
        a, b = (drawn[int(part * len(drawn))] / law.centre_ohm - 1.0 for part in (low, high))
        assert share(a, b) == approx(high - low, abs=0.008)
    assert share(-6 * law.sd, 6 * law.sd) == approx(1.0, abs=2e-3)


def a_scale(rng, head):
    batch = 1.0
    while abs(batch) > 0.10:
        batch = rng.gauss(0.0, 0.10 / 3)
    at_c = rng.uniform(-15.0, 75.0) if head.centre_c is None else rng.gauss(head.centre_c, head.sd_k)
    copper = (234.5 + at_c) / 254.5
    return 62.0 * (1.0 + batch) * copper * (1.0 + rng.uniform(-0.009, 0.009))


@pytest.mark.parametrize("n", [1, 2, 4])
def test_the_inverse_by_blocks_is_the_inverse(n):
    root = numpy.random.default_rng(7).normal(size=(n, n + 3))
    matrix = root @ root.T

    found, log_det = inverse(matrix.tolist())

    assert numpy.allclose(found, numpy.linalg.inv(matrix))
    assert log_det == approx(numpy.linalg.slogdet(matrix)[1])


@pytest.mark.parametrize(("n", "is_shared"), [(4, True), (2, False), (1, False)])
def test_the_prior_is_scatter_bobbin_and_scale_in_one_covariance(n, is_shared):
    prior = prior_of(n, Scatter(0.004, 0.007, is_shared), 60.0, 2.0, 62.0)
    same = [[float(i // 2 == j // 2 if is_shared else i == j) for j in range(n)] for i in range(n)]
    covariance = (0.004 * 60) ** 2 * numpy.eye(n) + (0.007 * 60) ** 2 * numpy.array(same) + 2.0**2

    assert numpy.allclose(prior.precision, numpy.linalg.inv(covariance))
    assert prior.log_det_precision == approx(-numpy.linalg.slogdet(covariance)[1])


def test_a_fit_is_the_normal_posterior_of_the_windings():
    rng = numpy.random.default_rng(3)
    prior = prior_of(4, Scatter(0.004, 0.007, True), 62.0, 2.0, 62.0)
    columns, residual = rng.integers(0, 2, size=(10, 4)).astype(float), rng.normal(size=10)
    found = fit(
        prior, 62.0, (columns.T @ columns).tolist(), (columns.T @ residual).tolist(), float(residual @ residual)
    )

    total = numpy.eye(10) + columns @ numpy.linalg.inv(prior.precision) @ columns.T
    log_density = -0.5 * residual @ numpy.linalg.solve(total, residual) - 0.5 * numpy.linalg.slogdet(total)[1]
    assert found.log_evidence == approx(log_density)
    to_mean = numpy.linalg.inv(numpy.array(prior.precision) + columns.T @ columns) @ columns.T
    assert numpy.allclose(found.deviation, to_mean @ residual)


@pytest.mark.parametrize("law", [log_uniform(2.0, 200.0), log_uniform(0.5, 200.0, 20e3, 0.02), uniform(1.0, 30.0)])
@pytest.mark.parametrize(("best", "sd"), [(8.0, 0.3), (60.0, 2.0), (2.1, 0.4), (20.0, 15.0), (1.0, 0.5)])
def test_a_size_is_integrated_over_its_law(law, best, sd):
    beta = 1.0 / sd**2
    gamma = best * beta

    found = integrate(gamma, beta, law)

    low, high = max(law.low, best - 12 * sd), min(law.high, best + 12 * sd)
    exact = quad(lambda x: exp(-0.5 * ((x - best) / sd) ** 2) * law.density(x), low, high, limit=300)[0]
    assert exp(found.log_mean - 0.5 * beta * best**2) == approx(exact, rel=0.03)
