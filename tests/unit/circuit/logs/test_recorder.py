"""What a recorder does to what is there."""

from datetime import UTC, datetime

import numpy as np
import pytest
from pytest import approx

from fifthwire.circuit.logs.clock import LogPlan
from fifthwire.circuit.logs.recorder import COMMAND, FLAG, TEMPERATURE, recorded
from fifthwire.model.errors import InputError


def a_log(days=3.0, period_s=60.0, seed=5, **columns):
    plan = LogPlan(days=days, seed=seed, period_s=period_s)
    steps = plan.steps_s().size
    true = {name: (np.broadcast_to(values, steps).astype(float), kind) for name, (values, kind) in columns.items()}
    return recorded(true, plan, rng=np.random.default_rng(seed))


def test_a_reading_has_the_step_of_its_recorder_and_one_bias():
    log = a_log(days=3.0, t=(20.0, TEMPERATURE))

    read = log.columns["t"][~np.isnan(log.columns["t"])]

    assert read * 10.0 == approx(np.round(read * 10.0), abs=1e-6)
    assert read.mean() - 20.0 == approx(log.biases["t"], abs=0.01)
    assert read.std() == approx(np.hypot(TEMPERATURE.noise, TEMPERATURE.quantum / np.sqrt(12.0)), rel=0.1)


def test_commands_and_flags_are_written_as_they_are():
    log = a_log(days=1.0, c=(197.0, COMMAND), f=(1.0, FLAG))

    assert set(log.columns["c"][~np.isnan(log.columns["c"])]) == {197.0}
    assert set(log.columns["f"]) == {1.0}


def test_some_readings_are_missing_some_rows_come_twice_and_some_time_is_silent():
    log = a_log(days=30.0, t=(20.0, TEMPERATURE))

    steps = np.diff(log.time_s)
    assert 0.0005 < np.isnan(log.columns["t"]).mean() < 0.005
    assert (steps == 0.0).sum() > 3
    assert len(log.gaps_s) > 3
    for start, end in log.gaps_s:
        assert not ((log.time_s >= start) & (log.time_s < end)).any()
    assert steps.max() > 60.0


def test_a_row_that_comes_twice_says_the_same_twice():
    log = a_log(days=30.0, t=(20.0, TEMPERATURE))

    for again in np.flatnonzero(np.diff(log.time_s) == 0.0) + 1:
        assert np.array_equal(log.columns["t"][again], log.columns["t"][again - 1], equal_nan=True)


@pytest.mark.parametrize("period_s", [5.0, 60.0, 300.0, 900.0])
def test_the_period_is_the_recorders(period_s):
    log = a_log(days=0.5, period_s=period_s, t=(20.0, TEMPERATURE))

    assert np.median(np.diff(log.time_s)) == period_s


def test_between_two_steps_a_temperature_moves_and_a_flag_jumps():
    plan = LogPlan(days=0.05, seed=1, period_s=15.0)
    ramp = plan.steps_s() / 60.0
    kind = TEMPERATURE.__class__(bias=0.0, noise=0.0, quantum=0.001, decimals=3, lost_share=0.0)

    log = recorded({"t": (ramp, kind), "f": (ramp % 2.0, FLAG)}, plan, rng=np.random.default_rng(1))

    assert log.columns["t"][:5] == approx([0.0, 0.25, 0.5, 0.75, 1.0])
    assert log.columns["f"][:5].tolist() == [0.0, 0.0, 0.0, 0.0, 1.0]


@pytest.mark.parametrize(
    ("other", "said"),
    [
        ({"days": 0.0}, "a log of 0 days"),
        ({"days": float("nan")}, "a log of nan days"),
        ({"period_s": 0.5}, "every 0.5 s"),
        ({"period_s": 1200.0}, "every 1200 s"),
        ({"begins_days": 4.0}, "4 days into a log of 3"),
    ],
)
def test_a_plan_that_cannot_be_is_refused(other, said):
    with pytest.raises(InputError, match=said):
        LogPlan(**({"days": 3.0, "seed": 1} | other))


def test_the_moments_of_a_log_are_times():
    plan = LogPlan(days=1.0, seed=1, start_utc=datetime(2026, 7, 6, tzinfo=UTC))

    assert plan.moment_utc(3600.0) == datetime(2026, 7, 6, 1, tzinfo=UTC)
