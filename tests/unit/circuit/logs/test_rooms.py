"""Rooms, thermostats and what is around them."""

import numpy as np
from pytest import approx

from fifthwire.circuit.logs.clock import STEP_S
from fifthwire.circuit.logs.events import OIL_S, events
from fifthwire.circuit.logs.rooms import HALF_BAND_K, LEAST_OFF_S, LEAST_ON_S, run_rooms
from fifthwire.circuit.logs.surroundings import surroundings

DAY = np.arange(1440) * STEP_S


def run(*, need=0.5, strength=1.0, wanted=1.0, is_heating=False, ambient=35.0, set_point=24.0):
    shape = (1440, 1)
    return run_rooms(
        np.full(shape, need),
        np.full(shape, wanted),
        np.full(1440, ambient),
        set_point_c=np.array([set_point]),
        coil_c=44.0 if is_heating else 7.0,
        strength_frac=np.full(shape, strength),
        is_heating=is_heating,
    )


def test_a_thermostat_keeps_its_room_near_the_set_point():
    rooms = run()

    later = rooms.room_c[120:, 0]
    assert later.min() > 24.0 - HALF_BAND_K - 0.3
    assert later.max() < 24.0 + HALF_BAND_K + 0.3


def test_a_unit_runs_about_as_long_as_its_room_needs():
    on = run(need=0.5).on.mean()

    # besides the need, 1/(12 h) of the 11 K to the air outside: 0.18 of the capacity
    assert on == approx(0.68, abs=0.08)


def test_a_starved_unit_runs_all_the_time_and_its_room_gets_warm():
    rooms = run(need=0.6, strength=0.2)

    assert rooms.on[60:].mean() > 0.99
    assert rooms.room_c[-1, 0] > 26.0


def test_a_thermostat_does_not_switch_faster_than_it_may():
    on = run().on[:, 0]

    edges = np.flatnonzero(np.diff(on.astype(int)))
    lengths = np.diff(edges) * STEP_S
    assert lengths.size > 5
    assert lengths.min() >= min(LEAST_ON_S, LEAST_OFF_S)


def test_a_unit_that_nobody_wants_stands():
    assert not run(wanted=0.0).on.any()


def test_heating_holds_a_room_too():
    rooms = run(is_heating=True, ambient=0.0, set_point=20.0)

    assert rooms.room_c[120:, 0] == approx(20.0, abs=HALF_BAND_K + 0.3)


def test_the_air_outside_comes_near_the_plants_own_in_the_afternoon():
    around = surroundings(DAY, 4, design_ambient_c=35.0, is_heating=False, rng=np.random.default_rng(3))

    assert around.ambient_c.argmax() * STEP_S / 3600.0 == approx(15.5, abs=3.0)
    assert around.ambient_c.max() == approx(35.0, abs=4.0)
    assert around.ambient_c.min() < 29.0
    assert np.all((around.need_frac >= 0.0) & (around.need_frac <= 1.0))


def test_oil_returns_every_so_often_and_only_while_the_compressors_run():
    runs = np.ones(1440, dtype=bool)
    runs[600:700] = False

    found = events(DAY, runs, np.full(1440, 30.0), is_heating=False, rng=np.random.default_rng(1))

    assert found.oil_return.sum() * STEP_S == approx(3 * OIL_S, abs=OIL_S)
    assert not (found.oil_return & ~runs).any()
    assert not found.defrost.any()


def test_defrost_comes_in_frost_only():
    runs = np.ones(1440, dtype=bool)

    cold = events(DAY, runs, np.full(1440, -2.0), is_heating=True, rng=np.random.default_rng(1))
    mild = events(DAY, runs, np.full(1440, 9.0), is_heating=True, rng=np.random.default_rng(1))

    assert 12 <= np.diff(cold.defrost.astype(int)).clip(0).sum() <= 20
    assert not mild.defrost.any()
