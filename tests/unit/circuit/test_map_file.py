"""Compressor maps in files."""

import copy
import json
from pathlib import Path

import pytest
from pytest import approx

from fifthwire.circuit.map_file import map_of_table, read_map, read_map_table
from fifthwire.model.errors import InputError

ROOT = Path(__file__).parents[3]
MAP = {
    "format": "fifthwire/compressor-map/1",
    "name": "invented scroll",
    "source": "made up for this test",
    "refrigerant": "R410A",
    "temperatures": "degF",
    "superheat_k": 11.1,
    "evaporating_c": [-20, 15],
    "condensing_c": [20, 60],
    "speeds": [
        {
            "speed_frac": 1.0,
            "flow": {"unit": "lb/h", "coefficients": [400, 5, -0.5, 0, 0, 0, 0, 0, 0, 0]},
            "power": {"unit": "kW", "coefficients": [1, 0, 0.03, 0, 0, 0, 0, 0, 0, 0]},
        },
        {
            "speed_frac": 0.5,
            "flow": {"unit": "lb/h", "coefficients": [200, 2.5, -0.25, 0, 0, 0, 0, 0, 0, 0]},
            "power": {"unit": "kW", "coefficients": [0.5, 0, 0.015, 0, 0, 0, 0, 0, 0, 0]},
        },
    ],
}
HEADS = ["id", "refrigerant", *(f"q{n}" for n in range(1, 11)), *(f"p{n}" for n in range(1, 11)),
         "q_te_min", "q_te_max", "q_tc_min", "q_tc_max", "p_te_min", "p_te_max", "p_tc_min", "p_tc_max",
         "rated_superheat_K", "rated_return_gas_C", "rated_liquid_C", "rated_subcooling_K"]  # fmt: skip


def changed(**other) -> str:
    return json.dumps(copy.deepcopy(MAP) | other)


def test_a_map_is_read_with_its_units_and_slowest_speed_first():
    read = read_map(json.dumps(MAP), name="m.json")

    assert [one.speed_frac for one in read.speeds] == [0.5, 1.0]
    # 41 °F and 104 °F
    assert read.speeds[1].flow_kg_s.at(5.0, 40.0) * 3600 / 0.45359237 == approx(400 + 5 * 41 - 0.5 * 104)
    assert read.speeds[1].power_watt.at(5.0, 40.0) == approx(1e3 * (1 + 0.03 * 104))


@pytest.mark.parametrize(
    ("other", "said"),
    [
        ({"format": "fifthwire/plant/1"}, "is no compressor map"),
        ({"temperatures": "K"}, "m.json: temperatures are 'K'"),
        ({"speeds": []}, "m.json: speeds is empty"),
        ({"speeds": [{"speed_frac": 0, "power": {}}]}, "a speed of 0 turns nothing"),
        ({"speeds": [{"power": {"unit": "W", "coefficients": [1] * 10}}]}, "either flow or capacity"),
        ({"condensing_c": [60, 20]}, "condensing_c goes from 60 to 20"),
        ({"condensing_c": ["warm", 20]}, "cannot be read"),
        ({"superheat": 11}, "superheat is no key of a compressor map"),
        ({"evaporating_c": [-100, 15]}, "its flow is .* inside its own limits"),
    ],
)
def test_what_is_wrong_with_a_map_is_said(other, said):
    with pytest.raises(InputError, match=said):
        read_map(changed(**other), name="m.json")


def test_a_missing_key_is_named():
    without = {key: value for key, value in MAP.items() if key != "refrigerant"}

    with pytest.raises(InputError, match=r"m\.json: refrigerant is missing from a compressor map"):
        read_map(json.dumps(without), name="m.json")


def test_coefficients_are_ten():
    speeds = copy.deepcopy(MAP["speeds"])
    speeds[0]["flow"]["coefficients"].pop()

    with pytest.raises(InputError, match="9 coefficients stand where 10 are needed"):
        read_map(changed(speeds=speeds), name="m.json")


def a_row(name: str, **other) -> str:
    q = [9000.0, 300.0, 3.0, -60.0, -0.1, -1.0, 0.01, 0.001, -0.01, -0.002]
    p = [500.0, 5.0, 0.0, 20.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]
    values = dict(zip(HEADS, [name, "R22", *q, *p, *[-20, 10, 20, 50] * 2, "", 18.3, "", 0.0], strict=True)) | other
    return ",".join(str(values[head]) for head in HEADS)


def test_a_row_of_a_table_is_a_map_whose_terms_stand_in_their_own_order():
    text = "\n".join([",".join(HEADS), a_row("A"), a_row("B")])

    first, second = read_map_table(text, name="t.csv")

    x, y = -5.0, 40.0
    by_hand = 9000 + 300 * x + 3 * x**2 - 60 * y - 0.1 * y**2 - x * y + 0.01 * x**3 + 0.001 * y**3
    by_hand += -0.01 * x**2 * y - 0.002 * x * y**2
    assert (first.name, second.name) == ("A", "B")
    assert first.speeds[0].capacity_watt.at(x, y) == approx(by_hand, rel=1e-12)
    assert first.rating_superheat_k(x) == approx(23.3)


def test_one_bad_row_hides_no_other_and_is_refused_where_it_is_asked_for():
    text = "\n".join([",".join(HEADS), a_row("A"), a_row("BAD", p1=-5000)])

    assert map_of_table(text, "A", name="t.csv").name == "A"
    with pytest.raises(InputError, match="compressor map BAD: its power is -4"):
        map_of_table(text, "BAD", name="t.csv")
    with pytest.raises(InputError, match=r"t\.csv has no map C"):
        map_of_table(text, "C", name="t.csv")


def test_a_number_that_is_none_is_named_with_its_line():
    with pytest.raises(InputError, match=r"t\.csv, line 2: a number of a row of maps cannot be read"):
        read_map_table("\n".join([",".join(HEADS), a_row("A", q3="x")]), name="t.csv")


def test_the_example_of_the_format_page_is_read():
    page = (ROOT / "docs" / "formats" / "compressor-map.md").read_text("utf-8")
    example = page.partition("```json\n")[2].partition("```")[0]

    read = read_map(example, name="page.json")

    assert read.name == "invented scroll"
