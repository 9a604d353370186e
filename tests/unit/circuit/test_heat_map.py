"""Heat maps: shades, dots, crosses and the key."""

import re
from math import nan
from xml.etree import ElementTree

import pytest

from fifthwire.circuit.heat_map import SHADES, HeatMap, heat_map_picture, shade_of

LIMITS = (0.0, 5.0, 10.0, 15.0)


def a_map(**other) -> HeatMap:
    plain = {
        "rows": ("IU01", "IU02"),
        "columns": ("0", "50", "100"),
        "values": ((-2.0, 3.0, 20.0), (nan, 12.0, 7.0)),
        "limits": LIMITS,
        "unit": "K",
    }
    return HeatMap(**(plain | other))


def drawn(of: HeatMap) -> str:
    picture = heat_map_picture(of, caption="Superheat", title="Superheat")
    ElementTree.fromstring(f"<svg>{picture.svg}</svg>")
    return picture.svg


def test_every_field_is_drawn_once_as_dark_as_its_value():
    svg = drawn(a_map())

    shades = [round(float(one) * (SHADES - 1)) for one in re.findall(r'fill-opacity="([\d.]+)"', svg)]
    fields, key = shades[:6], shades[6:]
    assert fields == [0, 1, 4, 0, 3, 2]
    assert key == list(range(SHADES))


def test_where_less_is_worse_less_is_darker():
    assert [shade_of(value, LIMITS, is_dark_low=True) for value in (-1.0, 3.0, 99.0)] == [4, 3, 0]


def test_a_field_without_an_answer_is_crossed_and_counted():
    picture = heat_map_picture(a_map(), caption="", title="")

    assert picture.description == "2 rows, 3 columns: from -2 to 20 K. 1 without an answer."


def test_a_dot_marks_liquid_and_the_key_says_so():
    marks = ((True, False, False), (False, True, False))

    svg = drawn(a_map(marks=marks))

    assert svg.count("<circle") == 2 * 2 + 1
    assert "liquid reaches the compressor" in svg
    assert "liquid reaches the compressor" not in drawn(a_map())


def test_the_key_says_where_each_shade_begins():
    assert re.findall(r">([<≥&lt; ]+ \d+)<", drawn(a_map())) == ["&lt; 0", "≥ 0", "≥ 5", "≥ 10", "≥ 15"]
    dark_low = drawn(a_map(is_dark_low=True))
    assert re.findall(r">([<≥&lt; ]+ \d+)<", dark_low) == ["≥ 15", "≥ 10", "≥ 5", "≥ 0", "&lt; 0"]


def test_words_stand_over_groups_and_after_rows():
    svg = drawn(a_map(groups=(("full", 2), ("part", 1)), ends=("never", "55 %"), end_head="liquid from"))

    for word in ("full", "part", "never", "55 %", "liquid from"):
        assert f">{word}<" in svg


@pytest.mark.parametrize("count", [1, 12, 25, 64])
def test_a_map_is_as_high_as_its_rows(count):
    of = a_map(rows=tuple(f"IU{at:02d}" for at in range(count)), values=((1.0, 2.0, 3.0),) * count)

    picture = heat_map_picture(of, caption="", title="")

    lowest = max(float(one) for one in re.findall(r' y="([\d.]+)"', picture.svg))
    assert lowest < picture.height
    assert picture.height < 100 + 15 * count


def test_a_map_without_any_answer_says_so():
    of = a_map(values=((nan,) * 3,) * 2)

    assert heat_map_picture(of, caption="", title="").description == "No field has an answer."
