"""The state of a valve as a mark."""

from dataclasses import replace

import pytest
from tests import report_visits as visits

from fifthwire.assessment.drawing_marks import mark_strokes
from fifthwire.assessment.marks import BAD, GOOD, MARKS, NOT_CHECKED, NOT_PROVEN, PROBABLE, mark_of
from fifthwire.model.assessment import Reason, WindingFinding


def test_a_sure_fault_is_a_filled_square():
    assert mark_of(visits.an_open_winding("V")) is BAD


def test_a_probable_fault_is_a_half_filled_square():
    assert mark_of(visits.a_jammed_motor("V")) is PROBABLE


def test_two_causes_that_one_part_cures_make_a_sure_fault_together():
    valve = replace(
        visits.an_open_winding("V"),
        causes=visits.causes(("body-stuck-open", 0.49), ("body-stuck-closed", 0.49), ("sound", 0.02)),
        action="replace-body",
    )

    assert mark_of(valve) is BAD


def test_good_windings_alone_are_not_good():
    assert mark_of(visits.an_unproven_one("V")) is NOT_PROVEN


def test_a_valve_that_is_left_as_it_is_is_good():
    assert mark_of(visits.a_good_one("V")) is GOOD


def test_a_valve_that_nobody_touched_is_not_checked():
    assert mark_of(visits.an_untouched_one("V")) is NOT_CHECKED


def test_a_valve_that_was_only_looked_at_is_not_proven():
    looked_at = replace(visits.an_untouched_one("V"), reasons=(Reason(code="rust.none"),))

    assert mark_of(looked_at) is NOT_PROVEN


@pytest.mark.parametrize("cause", ["wrong-head", "refrigerant-side"])
def test_what_is_not_of_the_valve_does_not_call_it_bad(cause):
    valve = replace(visits.an_untouched_one("V"), causes=visits.causes((cause, 0.99), ("sound", 0.01)))

    assert mark_of(valve) is NOT_PROVEN


def test_a_valve_without_causes_has_a_mark():
    empty = replace(visits.an_untouched_one("V"), causes=(), winding=WindingFinding(verdict="not-measured"))

    assert mark_of(empty) is NOT_CHECKED


def test_marks_differ_in_shape_word_and_sign():
    assert len({mark_strokes(mark.key) for mark in MARKS}) == len(MARKS)
    assert len({mark.word for mark in MARKS}) == len(MARKS)
    assert len({mark.sign for mark in MARKS}) == len(MARKS)
    assert all(len(mark.sign) == 1 for mark in MARKS)
