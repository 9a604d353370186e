"""Sensors measured with the meter: what they read, how far they are off, and what is told of that."""

from math import inf

import pytest
from pytest import approx

from fifthwire.diagnosis.running.sensor_checks import checked, within
from fifthwire.model.running import Curve

# The points of a published 10 kohm table (component maker, B25/50 = 3950): kohm at 0, 10, 20, 25, 30 °C.
TABLE = Curve(table=((0.0, 32580.7), (10.0, 20000.3), (20.0, 12526.6), (25.0, 10000.0), (30.0, 8033.8)))
BETA = Curve(r25_ohm=10000.0, beta_k=3950.0)
STEINHART = Curve(steinhart=(1.129148e-3, 2.34125e-4, 8.76741e-8))


@pytest.mark.parametrize("curve", [TABLE, BETA, STEINHART])
def test_a_sensor_reads_its_curve_and_is_held_against_the_thermometer(curve):
    one = checked("IU1-gas", curve, 10000.0, 25.3, 0.5)

    assert one.reads_c == approx(25.0, abs=0.02)
    assert one.off_by_k == approx(-0.3, abs=0.02)
    assert one.verdict == "good"


@pytest.mark.parametrize(("true_c", "verdict"), [(25.0, "good"), (21.0, "off"), (28.0, "off"), (23.6, "undecided")])
def test_it_is_off_only_beyond_the_doubt(true_c, verdict):
    assert checked("S", TABLE, 10000.0, true_c, 0.5).verdict == verdict


def test_open_and_shorted_need_no_thermometer():
    assert checked("S", TABLE, inf, 20.0, None).verdict == "open"
    assert checked("S", None, inf, None, None).verdict == "open"
    assert checked("S", TABLE, 0.0, 20.0, None).verdict == "shorted"
    assert checked("S", BETA, 30.0, 20.0, None).verdict == "shorted"
    assert checked("S", TABLE, 40.0, None, None).verdict == "shorted"
    assert checked("S", BETA, 5e6, None, None).verdict == "open"


def test_without_a_curve_or_a_thermometer_nothing_is_decided():
    assert checked("S", None, 10000.0, 25.0, 0.5).verdict == "undecided"
    assert checked("S", TABLE, None, 25.0, 0.5).verdict == "undecided"
    without = checked("S", TABLE, 10000.0, None, None)
    assert (without.verdict, without.off_by_k) == ("undecided", None)
    assert without.reads_c == approx(25.0)


def test_a_reading_a_little_beyond_its_table_is_not_decided():
    assert checked("S", TABLE, 7000.0, 33.0, 0.5).verdict == "undecided"


def test_the_ends_of_a_table_are_inside():
    low, high = checked("S", TABLE, 32580.7, 0.0, 0.5), checked("S", TABLE, 8033.8, 30.0, 0.5)

    assert (low.verdict, high.verdict) == ("good", "good")
    assert low.u_k is not None and low.u_k > 0.25


def test_the_doubt_is_that_of_the_meter_and_of_the_thermometer():
    # dT = dR/R * T^2 / B: 1 % at 25 °C with B = 3950 is 0.225 K; half of 1 K beside it.
    one = checked("S", BETA, 10000.0, 25.0, 1.0, 0.01)

    assert one.u_k == approx((0.225**2 + 0.5**2) ** 0.5, abs=0.005)


def test_the_guard_band_is_one_sided_95_per_cent():
    assert within(1.5 - 1.645 * 0.2 - 1e-6, 0.2) == "good"
    assert within(1.5, 0.2) == "undecided"
    assert within(-1.5 - 1.645 * 0.2 - 1e-6, 0.2) == "off"
