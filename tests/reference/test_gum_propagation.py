"""Propagation of uncertainty against the GUM's own example (U5) and against the library GTC."""

import random
import tomllib
from math import cos, sin
from pathlib import Path

import GTC
import pytest
from pytest import approx

from fifthwire.model.estimate import Estimate
from fifthwire.physics.copper import estimate_at_temperature
from fifthwire.physics.meter import MeterRange, reading_u_ohm
from fifthwire.physics.propagation import combined_u, correlation_of_means, effective_dof, mean_of

U5 = tomllib.loads(Path(__file__).with_name("conformity.toml").read_text(encoding="utf-8"))["u5"]
OBSERVED = (U5["volt"], U5["milliamp"], U5["radian"])


def test_means_and_their_uncertainties_are_those_of_example_h2():
    means = [mean_of(values) for values in OBSERVED]

    for mean, value, u, tolerance in zip(means, U5["means"], U5["us"], U5["u_tolerances"], strict=True):
        assert mean.value == approx(value, rel=1e-6)
        assert mean.u == approx(u, abs=tolerance)


def test_correlations_of_the_means_are_those_of_example_h2():
    expected = U5["correlations"]

    assert correlation_of_means(OBSERVED[0], OBSERVED[1]) == approx(expected["volt_amp"], abs=0.005)
    assert correlation_of_means(OBSERVED[0], OBSERVED[2]) == approx(expected["volt_radian"], abs=0.005)
    assert correlation_of_means(OBSERVED[1], OBSERVED[2]) == approx(expected["amp_radian"], abs=0.005)


def _impedance():
    """Value, sensitivities to (volt, amp, radian) of resistance, reactance and impedance, in ohms."""
    volt, milliamp, radian = (mean_of(values).value for values in OBSERVED)
    z = volt / milliamp * 1000.0
    resistance, reactance = z * cos(radian), z * sin(radian)
    return {
        "resistance": (resistance, [resistance / volt, -resistance / milliamp, -reactance]),
        "reactance": (reactance, [reactance / volt, -reactance / milliamp, resistance]),
        "impedance": (z, [z / volt, -z / milliamp, 0.0]),
    }


def _correlations():
    pairs = ((0, 1), (0, 2), (1, 2))
    return {(i, j): correlation_of_means(OBSERVED[i], OBSERVED[j]) for i, j in pairs}


@pytest.mark.parametrize("result", ["resistance", "reactance", "impedance"])
def test_correlated_inputs_give_the_result_and_the_uncertainty_of_example_h2(result):
    value, sensitivities = _impedance()[result]

    u = combined_u(sensitivities, [mean_of(values).u for values in OBSERVED], _correlations())

    assert value == approx(U5[result][0], abs=5e-4)
    assert u == approx(U5[result][1], abs=1e-3)


def test_correlations_of_the_results_are_those_of_example_h2():
    us = [mean_of(values).u for values in OBSERVED]

    def u_of(sensitivities):
        return combined_u(sensitivities, us, _correlations())

    for pair, expected in U5["results_correlations"].items():
        first, second = (_impedance()[name][1] for name in pair.split("_"))
        u_sum = u_of([a + b for a, b in zip(first, second, strict=True)])
        r = (u_sum**2 - u_of(first) ** 2 - u_of(second) ** 2) / (2 * u_of(first) * u_of(second))
        assert r == approx(expected, abs=1e-3)


@pytest.mark.parametrize("seed", range(20))
def test_a_winding_corrected_for_temperature_has_the_uncertainty_that_gtc_gives(seed):
    rng = random.Random(seed)
    winding = Estimate(rng.uniform(20, 200), rng.uniform(0.01, 2.0), rng.choice([4, 9, float("inf")]))
    head = Estimate(rng.uniform(-15, 75), rng.uniform(0.1, 8.0), rng.choice([3, 30, float("inf")]))
    R, t = GTC.ureal(winding.value, winding.u, winding.dof), GTC.ureal(head.value, head.u, head.dof)

    ours, theirs = estimate_at_temperature(winding, head), R * (234.5 + 20.0) / (234.5 + t)

    assert ours.value == approx(theirs.x, rel=1e-12)
    assert ours.u == approx(theirs.u, rel=1e-12)
    assert ours.dof == approx(theirs.df, rel=1e-9)


@pytest.mark.parametrize("seed", range(10))
def test_correlated_sums_have_the_uncertainty_that_gtc_gives(seed):
    rng = random.Random(seed)
    us, sensitivities = [rng.uniform(0.1, 3) for _ in range(3)], [rng.uniform(-5, 5) for _ in range(3)]
    r = rng.uniform(-0.9, 0.9)
    inputs = [GTC.ureal(0, u, independent=False) for u in us]
    GTC.set_correlation(r, inputs[0], inputs[2])

    ours = combined_u(sensitivities, us, {(0, 2): r})

    assert ours == approx(sum(c * x for c, x in zip(sensitivities, inputs, strict=True)).u, rel=1e-12)


def test_a_mean_with_a_type_b_part_has_the_degrees_of_freedom_that_gtc_gives():
    read = [62.1, 62.3, 62.2, 62.2]
    mean, limit_u = mean_of(read), reading_u_ohm(62.2, [MeterRange(of_reading_frac=0.0, digits=2, resolution_ohm=0.1)])

    theirs = GTC.type_a.estimate(read) + GTC.ureal(0.0, GTC.type_b.uniform(0.2))

    assert combined_u([1.0, 1.0], [mean.u, limit_u]) == approx(theirs.u, rel=1e-12)
    assert effective_dof([mean.u, limit_u], [mean.dof, float("inf")]) == approx(theirs.df, rel=1e-9)
