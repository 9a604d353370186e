"""The next reading: what is asked for, and what is not."""

from math import log2

import pytest
from pytest import approx
from tests.winding_cases import judged, star, two_stars


@pytest.mark.parametrize("arrangement", ["unipolar-5", "unipolar-6", "bipolar-4"])
@pytest.mark.parametrize("ohm", [62.0, 124.0])
def test_after_a_first_good_reading_another_pair_is_asked_for(arrangement, ohm):
    finding = judged([("1", "2", ohm)], arrangement=arrangement, sound_prior=0.97)

    assert finding.next_reading.wires != ("1", "2")


def test_the_order_asked_for_finds_the_common_of_a_good_five_wire_head_in_at_most_five_readings():
    known = {frozenset((a, b)): ohm for a, b, ohm in star(common="5")}
    readings = [("1", "2", known[frozenset("12")])]
    while (finding := judged(readings, sound_prior=0.97)).next_reading is not None:
        readings.append((*finding.next_reading.wires, known[frozenset(finding.next_reading.wires)]))
        assert len(readings) <= 5

    assert (finding.verdict, finding.common[0].wires) == ("sound", ("5",))


def test_the_order_asked_for_settles_a_good_six_wire_head_in_well_under_its_fifteen_readings():
    known = {frozenset((a, b)): ohm for a, b, ohm in two_stars()}
    readings = [("1", "2", known[frozenset("12")])]
    while (finding := judged(readings, arrangement="unipolar-6", sound_prior=0.97)).next_reading is not None:
        readings.append((*finding.next_reading.wires, known[frozenset(finding.next_reading.wires)]))
        assert len(readings) <= 9

    assert (finding.verdict, finding.common[0].wires) == ("sound", ("2", "5"))


def test_the_gain_of_one_open_read_again_is_the_information_of_a_missed_probe():
    finding = judged([("1", "2", 62.0), ("3", "4", "open")], arrangement="bipolar-4")
    missed = 1 / 6  # 0.10 x 0.4/2 against 0.20/2

    assert finding.next_reading.wires == ("3", "4")
    assert finding.next_reading.gain_bits == approx(-missed * log2(missed) - (1 - missed) * log2(1 - missed), abs=0.005)


def test_nothing_is_asked_for_once_a_fault_is_proved():
    assert judged(star((62.0, 62.0, 62.0, 40.0))).next_reading is None
