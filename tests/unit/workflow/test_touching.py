"""One head, two pins at a time."""

from datetime import date
from itertools import combinations

import pytest

from fifthwire.model.errors import InputError
from fifthwire.model.valve import PairReading
from fifthwire.model.visit import Spec, Tolerance
from fifthwire.workflow.laws import load_priors
from fifthwire.workflow.touching import LOOSE_LABEL, judge, loose_head, start_session, take, undo

PRIORS = load_priors()
STARS = {"unipolar-5": {"5": "1234"}, "unipolar-6": {"2": "13", "5": "46"}, "bipolar-4": {"1": "2", "3": "4"}}


def a_session(arrangement: str, pins: tuple[str, ...] = ()):
    spec = Spec(winding=arrangement, resistance_ohm=62.0, tolerance=Tolerance(frac=0.1), at_c=20.0)
    visit = loose_head(spec=spec, today=date(2026, 5, 12), head_temperature_c=20.0)
    return start_session(visit, LOOSE_LABEL, PRIORS, arrangement=arrangement, pins=pins)


def shown(arrangement: str, pair: tuple[str, str]) -> float | None:
    """What the meter shows on a good head."""
    for common, ends in STARS[arrangement].items():
        if set(pair) <= {common, *ends}:
            return 62.0 if common in pair else 124.1
    return None


def settled(session, arrangement):
    step = judge(session)
    while step.next_pins is not None and len(session.taken) < 15:
        pair = step.next_pins
        session = take(session, PairReading(*pair, shown(arrangement, pair)))
        step = judge(session)
    return session, step


@pytest.mark.parametrize(("arrangement", "most"), [("unipolar-5", 6), ("unipolar-6", 9), ("bipolar-4", 5)])
def test_a_good_head_whose_common_nobody_knows_is_settled_in_few_readings(arrangement, most):
    session, step = settled(a_session(arrangement), arrangement)

    assert step.winding.verdict == "sound"
    assert len(session.taken) <= most
    if step.winding.common:
        assert set(step.winding.common[0].wires) == set(STARS[arrangement])


def test_every_pair_that_is_asked_for_is_two_pins_of_the_plug():
    session = a_session("unipolar-5", ("red", "blue", "white", "black", "green"))
    for pair in combinations(("red", "blue", "white"), 2):
        asked = judge(session).next_pins
        assert asked is not None
        assert set(asked) <= set(session.pins)
        assert asked[0] != asked[1]
        session = take(session, PairReading(*pair, 124.0))


def test_undo_goes_back_to_the_session_before():
    session = a_session("bipolar-4")

    assert undo(take(session, PairReading("1", "2", 62.0))) == session
    assert undo(session) == session


@pytest.mark.parametrize(("one", "other"), [("1", "9"), ("1", "1"), ("", "2")])
def test_a_pin_that_is_not_there_is_refused(one, other):
    with pytest.raises(InputError):
        take(a_session("bipolar-4"), PairReading(one, other, 62.0))


def test_a_solenoid_is_settled_by_its_one_pair():
    visit = loose_head(
        spec=Spec(winding="single-2", resistance_ohm=880.0, tolerance=Tolerance(frac=0.1), at_c=20.0),
        today=date(2026, 5, 12),
        head_temperature_c=20.0,
    )
    session = start_session(visit, LOOSE_LABEL, PRIORS, arrangement="single-2")
    assert judge(session).next_pins == ("1", "2")

    session = take(session, PairReading("1", "2", 881.0))

    assert judge(session).winding.verdict == "sound"


def answered(show, arrangement: str = "unipolar-5", most: int = 40):
    """A session in which a made-up head answers every pair that is asked for."""
    session = a_session(arrangement)
    step = judge(session)
    while step.next_pins is not None and len(session.taken) < most:
        session = take(session, PairReading(*step.next_pins, show(*step.next_pins)))
        step = judge(session)
    return session, step


def open_common(a: str, b: str) -> float | None:
    return None if "5" in (a, b) else 124.1


def dead_short_of_1_and_2(a: str, b: str) -> float | None:
    if {a, b} == {"1", "2"}:
        return 0.1
    in_parallel = 31.0 if {a, b} & {"1", "2"} else 62.0
    return in_parallel if "5" in (a, b) else in_parallel + 62.0


@pytest.mark.parametrize("show", [open_common, dead_short_of_1_and_2])
def test_a_fault_that_one_more_pair_would_prove_is_asked_for_until_it_is_proved(show):
    session, step = answered(show)

    assert step.assessed.action == "replace-head"
    assert len(session.taken) <= 8


@pytest.mark.parametrize(
    "show, arrangement, most",
    [
        (lambda _a, _b: None, "unipolar-5", 12),
        (lambda _a, _b: None, "single-2", 3),
        (lambda a, b: None if {a, b} & {"3", "4"} else open_common(a, b) or 62.0, "unipolar-5", 12),
        (lambda a, b: 62.0 if {a, b} == {"1", "2"} else None, "bipolar-4", 8),
    ],
)
def test_no_head_is_asked_about_without_end(show, arrangement, most):
    session, step = answered(show, arrangement)

    assert step.next_pins is None
    assert len(session.taken) <= most
