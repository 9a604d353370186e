"""What a person types at the terminal."""

import pytest

from fifthwire.cli.answers import Answer, manual_says, understand
from fifthwire.model.errors import InputError
from fifthwire.model.valve import PairReading
from fifthwire.model.visit import Tolerance

PINS = ("1", "2", "3", "4", "5")
LAST = PairReading("5", "2", 64.8)


def meant(line: str, last: PairReading | None = LAST) -> Answer:
    return understand(line, asked=("5", "1"), pins=PINS, last=last)


@pytest.mark.parametrize(
    ("line", "ohm"),
    [("64.9", 64.9), (" 64.9 \n", 64.9), ("0.0649 kohm", 64.9), ("64.9 Ω", 64.9), ("62", 62.0), ("5", 5.0), ("0", 0.0)],
)
def test_a_number_is_the_reading_of_the_pair_that_was_asked_for(line, ohm):
    answer = meant(line)

    assert answer.word == "reading"
    assert answer.reading == PairReading("5", "1", pytest.approx(ohm))


@pytest.mark.parametrize("line", ["open", "OPEN", "OL", "o.l", "0L", "inf"])
def test_what_meters_show_over_range_is_open(line):
    assert meant(line).reading == PairReading("5", "1", None)


@pytest.mark.parametrize("line", ["same again", "Same", "="])
def test_same_again_is_the_value_of_the_last_reading_on_the_pair_asked_for(line):
    assert meant(line).reading == PairReading("5", "1", 64.8)


def test_same_again_repeats_an_open_too():
    assert meant("same again", PairReading("5", "3", None)).reading == PairReading("5", "1", None)


def test_same_again_before_any_reading_is_refused():
    with pytest.raises(InputError, match="nothing was read before"):
        meant("same again", None)


@pytest.mark.parametrize(("line", "ohm"), [("1 3 open", None), ("1 3 129.7", 129.7), ("1 3 0.13 kohm", 130.0)])
def test_two_pins_before_the_reading_name_another_pair(line, ohm):
    assert meant(line).reading == PairReading("1", "3", ohm)


@pytest.mark.parametrize("word", ["undo", "done", "help"])
def test_a_word_is_that_word(word):
    assert meant(word) == Answer(word)


@pytest.mark.parametrize("line", ["", "sixty", "62.1 psi", "62,1", "62.1 62.2", "-3", "nan", "9" * 60, "1e999", "\0\0"])
def test_what_is_no_reading_is_refused_with_what_to_type(line):
    with pytest.raises(InputError) as refused:
        meant(line)

    assert refused.value.hint


@pytest.mark.parametrize(
    ("line", "ohm", "tolerance", "at_c"),
    [
        ("62 ohm 10 % 20 degC", 62.0, Tolerance(frac=0.1), 20.0),
        ("62 ±10% at 68 degF", 62.0, Tolerance(frac=0.1), 20.0),
        ("62", 62.0, None, None),
        ("0.88 kohm 8 %", 880.0, Tolerance(frac=0.08), None),
        ("", None, None, None),
    ],
)
def test_a_line_of_the_manual_gives_a_spec(line, ohm, tolerance, at_c):
    spec = manual_says(line, "unipolar-5")

    assert spec.resistance_ohm == pytest.approx(ohm)
    assert spec.at_c == pytest.approx(at_c)
    assert spec.tolerance == tolerance


@pytest.mark.parametrize("line", ["about sixty", "62 psig", "62 ohm 64 ohm", "62 ohm 10 K", "nan ohm"])
def test_a_line_that_no_manual_says_is_refused(line):
    with pytest.raises(InputError):
        manual_says(line, "unipolar-5")
