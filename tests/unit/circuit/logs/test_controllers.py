"""Valve and speed controllers."""

import numpy as np
from pytest import approx

from fifthwire.circuit.logs.clock import STEP_S
from fifthwire.circuit.logs.controllers import (
    DEAD_BAND_FRAC,
    FULL_STROKE,
    SLEW_FRAC_S,
    SPEED_SLEW_S,
    START_FRAC,
    START_S,
    WANDER_FRAC,
    follow_speed,
    follow_valves,
)


def followed(wanted, runs, seed=1):
    return follow_valves(np.asarray(wanted, dtype=float), np.asarray(runs), rng=np.random.default_rng(seed))


def test_a_running_valve_moves_no_faster_than_its_controller_and_gets_there():
    wanted = np.concatenate([np.full(20, 0.30), np.full(60, 0.60)])[:, np.newaxis]

    told = followed(wanted, np.ones((80, 1), dtype=bool))[:, 0]

    assert np.abs(np.diff(told[4:])).max() <= SLEW_FRAC_S * STEP_S + 1.0 / FULL_STROKE
    assert told[-20:] == approx(0.60, abs=DEAD_BAND_FRAC + 4.0 * WANDER_FRAC)


def test_inside_its_dead_band_a_valve_rests():
    told = followed(np.full((400, 1), 0.41), np.ones((400, 1), dtype=bool))[:, 0]

    assert (np.diff(told[30:]) == 0.0).mean() > 0.5


def test_while_a_unit_starts_its_valve_stands_at_the_start_opening():
    runs = np.concatenate([np.zeros(5, dtype=bool), np.ones(20, dtype=bool)])[:, np.newaxis]
    wanted = np.where(runs, 0.5, 0.0)

    told = followed(wanted, runs)[:, 0]

    assert told[:5] == approx(0.0)
    starting = told[5 : 5 + int(START_S / STEP_S)]
    assert starting == approx(START_FRAC, abs=1.0 / FULL_STROKE)
    assert told[-1] > START_FRAC + 0.1


def test_commands_are_whole_pulses_between_shut_and_open():
    wanted = np.random.default_rng(2).uniform(-0.2, 1.2, (100, 3))

    told = followed(wanted, np.ones((100, 3), dtype=bool))

    assert told * FULL_STROKE == approx(np.round(told * FULL_STROKE), abs=1e-9)
    assert told.min() >= 0.0 and told.max() <= 1.0


def test_the_speed_starts_slowly_ramps_and_stops_at_once():
    runs = np.concatenate([np.zeros(3, dtype=bool), np.ones(10, dtype=bool), np.zeros(2, dtype=bool)])

    speed = follow_speed(np.full(15, 0.9), runs, least_frac=0.2)

    assert speed[:3].tolist() == [0.0, 0.0, 0.0]
    assert speed[3] == approx(0.2)
    assert np.diff(speed[3:13]).max() <= SPEED_SLEW_S * STEP_S + 1e-12
    assert speed[12] == approx(0.9)
    assert speed[13:].tolist() == [0.0, 0.0]
