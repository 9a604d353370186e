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
from fifthwire.diagnosis.winding.column import log_uniform
from fifthwire.diagnosis.winding.cross_bridge import CrossColumns, one_order, reordered
from fifthwire.diagnosis.winding.error_law import error_law
from fifthwire.diagnosis.winding.gram import FiniteReading, Gram
from fifthwire.diagnosis.winding.hypothesis import Bridge
from fifthwire.diagnosis.winding.meter_noise import noise_law
from fifthwire.diagnosis.winding.noise_nodes import N_NODES, gauss_rule, noise_nodes
from fifthwire.diagnosis.winding.scale import SpecScale
from fifthwire.diagnosis.winding.scatter_pull import scatter_pull
from fifthwire.diagnosis.winding.sites import blurred
from fifthwire.diagnosis.winding.smeared import KEPT, FarLaw

METERS = [RangeLaw(digits=d, resolution_ohm=r) for d, r in ((1, 0.1), (5, 0.1), (3, 0.01), (0, 0.1), (2.5, 1.0))]


METER = noise_law(METERS[0], 0.08)


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


@pytest.mark.parametrize(("sd", "width"), [(0.0167, 0.004), (0.0167, 0.01), (0.0333, 0.004), (0.0333, 0.028)])
@pytest.mark.parametrize("even", [0.002, 0.012])
def test_a_scale_far_from_the_cut_has_the_density_of_its_factors(sd, width, even):
    b = numpy.linspace(-3.0 * sd, 3.0 * sd, 1201)[:, None]
    nodes, weights = numpy.polynomial.legendre.leggauss(12)
    g = (nodes * even)[None, :]
    compared = 0

    for blur, z in product((1e-9, 0.006), (-2.0, -1.0, 0.0, 0.7, 1.6)):
        x = z * sqrt(sd**2 + width**2 + blur**2)
        found = FarLaw(sd, width, blur, even).log_density(x)
        if found is None:
            continue
        compared += 1
        variance = (width * (1.0 + b) * (1.0 + g)) ** 2 + blur**2
        of_b = numpy.exp(-0.5 * (b / sd) ** 2) / (KEPT * sd * sqrt(2.0 * pi))
        of_x = numpy.exp(-0.5 * (x - b - g - b * g) ** 2 / variance) / numpy.sqrt(2.0 * pi * variance)
        exact = numpy.trapezoid((of_b * of_x * weights[None, :] / 2.0).sum(axis=1), b[:, 0])
        assert found == approx(log(exact), abs=0.0015)
    assert compared >= 2


@pytest.mark.parametrize(
    "head", [HeadTemperature(centre_c=45.0, sd_k=1.5), HeadTemperature(centre_c=5.0, sd_k=7.5), HeadTemperature()]
)
@pytest.mark.parametrize("sd", [0.003, 0.008])
def test_the_expected_ratio_of_the_scale_is_its_mean_over_the_normal(head, sd):
    law = SpecScale(spec(), head, 0.009, LAWS).of_this_head()
    z = numpy.linspace(-6.0, 6.0, 601)
    weight = numpy.exp(-0.5 * z * z) / sqrt(2.0 * pi)

    for mean in (-0.08, -0.03, 0.0, 0.02, 0.06):
        ratios = numpy.exp([law.log_ratio(float(mean + step * sd)) for step in z])
        exact = log(numpy.trapezoid(weight * ratios, z))
        assert law.expected_ratio_within(sd)(mean) == approx(exact, abs=0.02)


def test_a_bridge_is_fitted_the_same_whatever_its_windings_are_called():
    readings = (FiniteReading(0, 3, 63.1, 63.04, METER), FiniteReading(1, 2, 63.4, 63.34, METER))
    gram = Gram(readings, 4, 0.03)
    prior = prior_of(2, Scatter(0.004, 0.007, False), 60.0, 2.0, 60.0)
    law = log_uniform(0.5, 200.0)
    one, other = [[1, 0], [0, 1]], [[0, 1], [1, 0]]

    found = CrossColumns(gram, one, [1, 1], 60.0).fit_at(prior, law)
    wanted = CrossColumns(gram, other, [1, 1], 60.0).fit_at(prior, law)
    moved = reordered(found, one_order(one, False), one_order(other, False))

    assert moved.log_evidence == approx(wanted.log_evidence)
    assert moved.fit.deviation == approx(wanted.fit.deviation)
    assert numpy.allclose(moved.fit.covariance, wanted.fit.covariance)
    assert moved.lean == approx(wanted.lean)


def test_windings_are_put_in_order_bobbin_by_bobbin():
    rows = [[0, 1, 1, 0], [1, 0, 0, 1]]
    like = [[1, 0, 0, 1], [0, 1, 1, 0]]

    def ordered(of):
        return [tuple(row[i] for row in of) for i in one_order(of, True)]

    assert ordered(rows) == ordered(like)
    assert {frozenset(one_order(rows, True)[:2]), frozenset(one_order(rows, True)[2:])} == {
        frozenset((0, 1)),
        frozenset((2, 3)),
    }
