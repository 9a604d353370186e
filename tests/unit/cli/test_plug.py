"""The plug in text."""

import pytest

from fifthwire.cli.plug import plug_lines


def test_the_two_pins_to_touch_are_filled_and_joined():
    assert plug_lines("1234", ("2", "4"), is_plain=False) == ["  1  2  3  4", "  ○  ●  ○  ●", "     └─────┘"]


def test_the_order_in_which_the_pins_are_named_does_not_matter():
    assert plug_lines("12345", ("5", "1"), is_plain=True) == plug_lines("12345", ("1", "5"), is_plain=True)


def test_without_pins_to_touch_none_is_filled():
    assert plug_lines("12", None, is_plain=True) == ["  1  2", "  o  o"]


@pytest.mark.parametrize("pins", [("red", "blue", "white", "yellow", "black"), tuple("123456"), ("1", "2")])
def test_the_line_ends_under_the_pins_whatever_their_names(pins):
    names, dots, line = plug_lines(pins, (pins[0], pins[-1]), is_plain=True)

    assert [dots.index("#"), dots.rindex("#")] == [line.index("+"), line.rindex("+")]
    assert names.split() == list(pins)
