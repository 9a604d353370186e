"""Lags of pipes and sensors."""

import numpy as np
from pytest import approx

from fifthwire.circuit.logs.lags import held_over, lagged


def test_a_step_is_followed_as_an_exponential():
    time_s = np.arange(0.0, 600.0, 10.0)
    step = np.where(time_s > 0.0, 5.0, 0.0)

    found = lagged(step, 45.0, 10.0)

    assert found == approx(5.0 * (1.0 - np.exp(-time_s / 45.0)), abs=1e-12)


def test_what_stands_still_stays_and_every_column_is_its_own():
    values = np.column_stack([np.full(50, 7.0), np.linspace(0.0, 1.0, 50)])

    found = lagged(values, 120.0)

    assert found[:, 0] == approx(7.0)
    assert np.all(np.diff(found[:, 1]) > 0.0)
    assert np.all(found[1:, 1] < values[1:, 1])


def test_a_row_that_is_not_known_takes_the_last_known_one():
    values = np.array([1.0, 2.0, 3.0, 4.0, 5.0])

    assert held_over(values, np.array([False, False, True, False, True])).tolist() == [3.0, 3.0, 3.0, 3.0, 5.0]
