import pytest

from fifthwire.model.errors import InputError
from fifthwire.model.units import air_at_altitude_kpa_abs, at_the_door, convert, parse_quantity, unit_named


def refusal(written: object, unit: str) -> InputError:
    with pytest.raises(InputError) as caught:
        parse_quantity(written, unit)
    return caught.value


@pytest.mark.parametrize(
    ("written", "unit", "value"),
    [
        ("47.2 ohm", "ohm", 47.2),
        ("47.2ohm", "ohm", 47.2),
        ("47.2 Ohms", "ohm", 47.2),
        ("47.2 \N{GREEK CAPITAL LETTER OMEGA}", "ohm", 47.2),
        ("47.2 \N{OHM SIGN}", "ohm", 47.2),
        ("1.2 kohm", "ohm", 1200.0),
        ("1.2 k", "ohm", 1200.0),
        ("1.2 k\N{OHM SIGN}", "ohm", 1200.0),
        ("0.5 MΩ", "ohm", 500_000.0),
        ("120 Mohm", "Mohm", 120.0),
        ("500 kohm", "Mohm", 0.5),
        ("31 degC", "degC", 31.0),
        ("31 °C", "degC", 31.0),
        ("31 C", "degC", 31.0),
        ("\N{MINUS SIGN}15 degC", "degC", -15.0),
        ("40 degF", "degC", 40 / 9),
        ("40°F", "degC", 40 / 9),
        ("-40 F", "degC", -40.0),
        ("9 delta_degF", "K", 5.0),
        ("9 delta degF", "K", 5.0),
        ("5 delta_degC", "K", 5.0),
        ("5 K", "K", 5.0),
        ("915 kPa", "kPa", 915.0),
        ("9.15 bar", "kPa", 915.0),
        ("9.15 bara", "kPa", 915.0),
        ("0.915 MPa", "kPa", 915.0),
        ("1009 hPa", "kPa", 100.9),
        ("0 psig", "kPa", 101.325),
        ("8 barg", "kPa", 901.325),
        ("800 kPag", "kPa", 901.325),
        ("0.8 MPag", "kPa", 901.325),
        # NIST SP 811 (2008), B.8: 1 psi = 6.894 757 kPa, 1 inHg (0 °C) = 3.386 38 kPa, 1 ft = 0.3048 m
        ("100 psia", "kPa", 689.4757),
        ("29.92 inHg", "kPa", 101.3205),
        ("1000 ft", "m", 304.8),
        ("40 m", "m", 40.0),
        ("0.5 mm", "mm", 0.5),
        ("44 %", "frac", 0.44),
        ("480 pulses", "pulses", 480.0),
        ("62 Hz", "Hz", 62.0),
        ("12 V", "V", 12.0),
        ("3.6 kW", "kW", 3.6),
        ("10 min", "min", 10.0),
        ("0.5 h", "min", 30.0),
        ("90 s", "min", 1.5),
        (47, "ohm", 47.0),
        ("4.72e1 ohm", "ohm", 47.2),
        (".5 ohm", "ohm", 0.5),
    ],
)
def test_what_people_write_is_read(written: object, unit: str, value: float):
    # 5e-6: the last digit of the printed factors
    assert parse_quantity(written, unit) == pytest.approx(value, rel=5e-6, abs=1e-9)


@pytest.mark.parametrize(
    ("written", "unit", "message", "hint"),
    [
        ("118 psi", "kPa", "neither gauge nor absolute", "psig"),
        ("9 degF", "K", "a temperature, where a temperature difference", 'write "9 delta_degF"'),
        ("9 degC", "K", "a temperature, where a temperature difference", 'write "9 K"'),
        ("9 delta_degF", "degC", "a temperature difference, where a temperature", 'write "9 degF"'),
        ("9 K", "degC", "a temperature difference, where a temperature", "degC"),
        ("47 psig", "ohm", "a gauge pressure, where a resistance", "ohm, kohm or Mohm"),
        ("1.2 K", "ohm", "a temperature difference, where a resistance", "1.2 kohm"),
        ("3 hpaa", "kPa", "no unit known here", "did you mean hPa?"),
        ("3 ohmm", "ohm", "no unit known here", "did you mean ohm?"),
        ("3 furlongs", "m", "no unit known here", "write m, mm, ft or in"),
        ("200 mohm", "ohm", "a thousandth or a million", "Mohm"),
        ("47", "ohm", "has no unit", '"47 ohm"'),
        ("ohm", "ohm", "does not start with a number", "47.2 ohm"),
        ("", "ohm", "does not start with a number", "47.2 ohm"),
        ("47,2 ohm", "ohm", "comma", "point"),
        ("1" * 41 + " ohm", "ohm", "more than 40 characters", "fewer"),
        ("1e999 ohm", "ohm", "not a finite number", "digits"),
        (float("nan"), "ohm", "not a finite number", "digits"),
        (10**400, "ohm", "not a finite number", "digits"),
        (True, "ohm", "true is not a resistance", "47.2 ohm"),
        (None, "ohm", "is not a resistance", "47.2 ohm"),
        ([47.2], "ohm", "an array is not a resistance", "47.2 ohm"),
    ],
)
def test_what_cannot_be_read_says_what_to_write(written: object, unit: str, message: str, hint: str):
    err = refusal(written, unit)

    assert message in err.message
    assert hint in err.hint


def test_a_gauge_reading_goes_with_the_air_of_the_place():
    assert parse_quantity("118 psig", "kPa") == pytest.approx(914.906, abs=0.001)
    assert at_the_door(118.0, "psig", "kpa_abs", air_kpa_abs=84.556) == pytest.approx(898.137, abs=0.001)
    assert convert(898.137, "kPa", "psig", air_kpa_abs=84.556) == pytest.approx(118.0, abs=0.001)


@pytest.mark.parametrize(
    ("altitude_m", "kpa_abs"),
    # ISO 2533:1975 and the U.S. Standard Atmosphere (1976) print these; from memory.
    [(0.0, 101.325), (500.0, 95.461), (1000.0, 89.875), (1500.0, 84.556), (3000.0, 70.109), (5000.0, 54.020)],
)
def test_the_air_at_an_altitude_is_that_of_the_standard_atmosphere(altitude_m: float, kpa_abs: float):
    # 0.03: the tables count height above the sea geometrically, 0.02 % apart from the formula's at 5 km
    assert air_at_altitude_kpa_abs(altitude_m) == pytest.approx(kpa_abs, abs=0.03)


def test_there_and_back_is_the_same_number():
    for unit in ("degF", "degC"):
        assert convert(convert(68.5, "degC", unit), unit, "degC") == pytest.approx(68.5, abs=1e-9)
    assert convert(convert(915.0, "kPa", "psig"), "psig", "kPa") == pytest.approx(915.0, abs=1e-9)


def test_names_are_known_whatever_their_spaces_and_case():
    assert [unit_named(name).name for name in ("PSIG", "kpa", "° C", "MΩ", "Min")] == [
        "psig", "kPa", "degC", "Mohm", "min",
    ]  # fmt: skip


def test_capital_k_is_kelvin_and_small_k_a_thousand_ohm():
    assert (unit_named("K").name, unit_named("k").name) == ("K", "kohm")
    assert (unit_named("M").name, unit_named("m").name) == ("Mohm", "m")
