"""Readings of one pair taken again."""

from fifthwire.assessment.repeats import slipped, without_slipped
from fifthwire.model.valve import PairReading


def of_pair(*ohms):
    return tuple(PairReading("5", "1", ohm) for ohm in ohms)


def test_one_open_against_two_that_agree_was_a_missed_probe_in_whatever_order():
    for readings in (of_pair(None, 62.3, 62.2), of_pair(62.3, None, 62.2), of_pair(62.3, 62.2, None)):
        assert [one.ohm for one in slipped(readings)] == [None]
        assert [one.ohm for one in without_slipped(readings)] == [62.3, 62.2]


def test_one_high_reading_against_two_that_agree_was_a_slipped_probe():
    assert [one.ohm for one in slipped(of_pair(70.1, 62.3, 62.2))] == [70.1]


def test_one_against_one_is_left_to_the_verdict():
    assert slipped(of_pair(None, 62.3)) == ()
    assert slipped(of_pair(70.1, 62.3)) == ()


def test_two_opens_or_readings_that_do_not_agree_are_left_to_the_verdict():
    assert slipped(of_pair(None, None, 62.3, 62.2)) == ()
    assert slipped(of_pair(None, 62.3, 80.0)) == ()
    assert slipped(of_pair(50.0, 62.3, 62.2)) == ()


def test_the_pair_may_be_written_either_way_round():
    readings = (PairReading("5", "1", None), PairReading("1", "5", 62.3), PairReading("5", "1", 62.2))

    assert slipped(readings) == (readings[0],)
