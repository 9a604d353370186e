"""Numbers as people read them."""

from datetime import date

import pytest

from fifthwire.assessment import figures


@pytest.mark.parametrize(
    ("value", "u", "shown"),
    [
        (62.13, 0.412, "62.1 ± 0.4\u202fΩ"),
        (62.13, 0.163, "62.13 ± 0.16\u202fΩ"),
        (1234.4, 12.3, "1234 ± 12\u202fΩ"),
        (880.6, 6.2, "881 ± 6\u202fΩ"),
        (62.13, 0.0962, "62.13 ± 0.10\u202fΩ"),
        (62.13, 0.97, "62.1 ± 1.0\u202fΩ"),
    ],
)
def test_a_resistance_carries_as_many_digits_as_its_uncertainty_bears(value, u, shown):
    assert figures.ohms(value, u) == shown


def test_an_uncertainty_of_nothing_does_not_ask_for_endless_digits():
    assert figures.decimals_borne(0.0) == figures.decimals_borne(None) == 1
    assert figures.decimals_borne(1e-12) <= 4


def test_minus_nothing_is_nothing():
    assert figures.number(-0.01, 1) == "0.0"


def test_points_and_differences_of_temperature_are_turned_into_fahrenheit_each_in_its_own_way():
    assert figures.temperature(31.0, "us") == "88\u202f°F"
    assert figures.difference(3.0, "us", 1) == "5.4\u202f°F"


@pytest.mark.parametrize(
    ("said", "in_us"),
    [
        ("anything from -15 to 75 °C is reckoned with", "anything from 5 to 167 °F is reckoned with"),
        ("62.0 Ω at 20 °C, where", "62.0 Ω at 68 °F, where"),
        ("reads 31.4 °C", "reads 88.5 °F"),
        ("off by 3.0 K", "off by 5.4 °F"),
        ("9 mm out", "9 mm out"),
    ],
)
def test_temperatures_in_a_sentence_follow_the_units(said, in_us):
    assert figures.in_units(said, "us") == in_us
    assert figures.in_units(said, "si") == said


def test_dates_in_a_sentence_are_told_without_room_for_doubt():
    assert figures.in_units("last calibrated on 2025-01-10, over a year ago", "si") == (
        "last calibrated on 10 January 2025, over a year ago"
    )
    assert figures.in_units("part 2025-13-40", "si") == "part 2025-13-40"


def test_every_month_has_its_name():
    names = [figures.day(date(2026, month, 1)).split()[1] for month in range(1, 13)]

    assert names == [date(2026, month, 1).strftime("%B") for month in range(1, 13)]


def test_numbers_stand_on_their_decimal_point_and_words_stay():
    shown = figures.on_the_point(["9.85", "64.9", "130", "open"])

    assert len({len(text) for text in shown[:3]}) == 1
    points = {text.find(".") for text in shown[:2]}
    assert points == {3}
    assert shown[3] == "open"


def test_a_long_list_is_counted():
    assert figures.listed(["A", "B", "C", "D", "E", "F"]) == "A, B, C, D and 2 more"
    assert figures.listed([]) == ""
