"""A kept assessment is shown in today's words."""

from tests import report_visits as visits

from fifthwire.assessment.as_json import assessment_to_json
from fifthwire.assessment.from_json import assessment_of
from fifthwire.assessment.marks import mark_of
from fifthwire.assessment.valve_words import cause_words


def test_what_the_json_tells_comes_back():
    _, assessment = visits.every_mark()
    kept = assessment_to_json(assessment)
    kept["warnings"] = []  # sentences only: no code comes back from them
    checks = [valve.pop("next_check") for valve in kept["valves"]]
    for valve in kept["valves"]:
        valve["next_check"] = None  # its values are in its sentence

    assert any(checks)
    assert assessment_to_json(assessment_of(kept)) == kept


def test_marks_and_causes_are_those_of_the_report():
    _, assessment = visits.every_mark()

    back = assessment_of(assessment_to_json(assessment))

    assert [mark_of(one) for one in back.valves] == [mark_of(one) for one in assessment.valves]
    assert [cause_words(one) for one in back.valves] == [cause_words(one) for one in assessment.valves]


def test_a_caution_of_another_program_is_left_out():
    kept = assessment_to_json(visits.every_mark()[1])
    kept["valves"][0]["cautions"] = ["Mind the step."]

    assert assessment_of(kept).valves[0].cautions == ()
