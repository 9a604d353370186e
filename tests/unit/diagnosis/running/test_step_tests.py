"""A command changed on purpose: an answer where one was due, silence where one was due, and neither."""

import pytest

from fifthwire.diagnosis.running.step_tests import step_test_fact


@pytest.mark.parametrize(
    ("opening", "superheat", "minutes", "code"),
    [
        ((0.44, 0.39), (5.1, 11.0), 8.0, "step-test.responds"),  # computed: steady circuit, 5 % closed gives about 6 K
        ((0.44, 0.49), (7.0, 1.5), 8.0, "step-test.responds"),
        ((0.44, 0.34), (5.1, 5.2), 8.0, "step-test.none"),
        ((0.44, 0.34), (5.1, 5.2), None, "step-test.none"),
        ((0.44, 0.34), (8.0, 2.0), 8.0, "step-test.wrong-way"),
        ((0.44, 0.31), (5.0, 1.0), 8.0, "step-test.wrong-way"),  # far more than noise, though less than was due
        ((0.44, 0.34), (5.1, 5.2), 1.0, "step-test.too-soon"),
        ((0.44, 0.34), (5.1, 14.0), 1.0, "step-test.responds"),  # it answered soon
        ((0.44, 0.43), (5.1, 5.2), 8.0, "step-test.not-due"),
        ((0.44, 0.60), (0.2, 0.1), 8.0, "step-test.not-due"),  # flooded already
        ((0.44, 0.40), (0.2, 0.1), 8.0, "step-test.not-due"),  # flooded, and closed a little
        ((0.60, 0.30), (0.2, 0.1), 8.0, "step-test.none"),  # flooded, and closed by half
        ((0.44, 0.30), (19.0, 19.2), 8.0, "step-test.not-due"),  # as high as the room lets it
    ],
)
def test_a_step_is_judged_by_what_was_due(
    opening: tuple[float, float], superheat: tuple[float, float], minutes: float | None, code: str
) -> None:
    fact = step_test_fact(opening, superheat, minutes)

    assert fact is not None
    assert fact.code == code


def test_a_command_that_was_not_changed_is_no_test() -> None:
    assert step_test_fact((0.4, 0.4), (5.0, 9.0), 8.0) is None
