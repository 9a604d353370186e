"""Compressor maps against worked points (A1, A2), the order of their terms (A4) and an open table of hundreds."""

import csv
import json
import tomllib
from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from fifthwire.circuit.ahri540 import TenTerms, checked_map, lowest_values
from fifthwire.circuit.map_file import FLOWS, read_map, read_map_table
from fifthwire.model.errors import InputError

HERE = Path(__file__).parent
NUMBERS = tomllib.loads((HERE / "compressor_maps.toml").read_text(encoding="utf-8"))
A1, A2 = NUMBERS["a1"], NUMBERS["a2"]
TABLE = (HERE / NUMBERS["table"]["file"]).read_text("utf-8")


@pytest.mark.parametrize(("suction_c", "discharge_c", "watt", "g_s"), A1["points"])
def test_a_map_in_celsius_gives_its_worked_points(suction_c, discharge_c, watt, g_s):
    flow = TenTerms(tuple(A1["flow_g_s"]), FLOWS["g/s"])

    assert TenTerms(tuple(A1["power_watt"])).at(suction_c, discharge_c) == approx(watt, abs=A1["tolerance"])
    assert flow.at(suction_c, discharge_c) * 1e3 == approx(g_s, abs=A1["tolerance"])


@pytest.mark.parametrize(("suction_f", "discharge_f", "watt", "lb_h"), A2["points"])
def test_a_map_in_fahrenheit_gives_its_worked_points(suction_f, discharge_f, watt, lb_h):
    at = ((suction_f - 32.0) / 1.8, (discharge_f - 32.0) / 1.8)

    power = TenTerms(tuple(A2["power_watt"]), 1.0, is_fahrenheit=True)
    flow = TenTerms(tuple(A2["flow_lb_h"]), FLOWS["lb/h"], is_fahrenheit=True)

    assert power.at(*at) == approx(watt, abs=A2["tolerance"])
    assert flow.at(*at) / FLOWS["lb/h"] == approx(lb_h, abs=A2["tolerance"])


def test_a_flow_in_pounds_an_hour_is_that_in_kilograms_a_second():
    suction_f, discharge_f, _, _ = A2["points"][0]
    flow = TenTerms(tuple(A2["flow_lb_h"]), FLOWS["lb/h"], is_fahrenheit=True)

    # the source's own factor is 1.25998e-4, rounded in its last digit
    assert flow.at((suction_f - 32.0) / 1.8, (discharge_f - 32.0) / 1.8) == approx(A2["flow_kg_s"], abs=1e-6)


def test_the_eighth_and_ninth_term_exchanged_do_not_give_the_worked_point():
    suction_c, discharge_c, watt, _ = A1["points"][1]
    terms = A1["power_watt"]
    exchanged = TenTerms((*terms[:7], terms[8], terms[7], terms[9]))

    assert abs(exchanged.at(suction_c, discharge_c) - watt) > 1.0


def test_the_open_maps_that_give_nothing_inside_their_limits_are_refused_and_no_others():
    marked = {row["id"] for row in csv.DictReader(TABLE.splitlines()) if row["positive_in_envelope"] == "0"}
    maps = read_map_table(TABLE, name="maps.csv")

    refused = {one.name for one in maps if _is_refused(one)}

    assert len(maps) == NUMBERS["table"]["rows"]
    assert len(marked) == NUMBERS["table"]["refused"]
    assert refused == marked


def _is_refused(one) -> bool:
    try:
        checked_map(one)
    except InputError as err:
        assert "inside its own limits" in err.message
        return True
    return False


def test_a_refusal_names_a_point_at_which_the_map_gives_nothing():
    bad = next(one for one in read_map_table(TABLE, name="maps.csv") if one.name == "C0006")

    least = min(lowest_values(bad), key=lambda one: one.value)

    # the row's own terms, in its own order, at the point that the refusal names
    row = next(of for of in csv.DictReader(TABLE.splitlines()) if of["id"] == "C0006")
    q, x, y = [float(row[f"q{at}"]) for at in range(1, 11)], least.evaporating_c, least.condensing_c
    terms = [1, x, x * x, y, y * y, x * y, x**3, y**3, x * x * y, x * y * y]
    assert least.of == "capacity"
    assert least.value == approx(np.dot(q, terms), rel=1e-9)
    assert least.value < 0.0
    with pytest.raises(InputError, match=rf"evaporates at {x:.1f} °C and condenses at {y:.1f} °C"):
        checked_map(bad)


def test_the_variable_speed_map_is_that_of_the_open_file_at_each_of_its_speeds():
    written = json.loads((HERE / NUMBERS["loop"]["file"]).read_text("utf-8"))

    read = read_map(json.dumps(written), name="loop.json")

    assert [one.speed_frac for one in read.speeds] == approx([0.25, 0.6, 1.0])
    rated = written["rated_evaporative_capacity_W"]
    for one, name in zip(read.speeds, ("MinSpd", "Spd1", "Spd2"), strict=True):
        for terms, kind, per in ((one.capacity_watt, "Cooling", 1.0), (one.power_watt, "Power", 0.344)):
            c, x, y = written["curves"][f"{name}{kind}"]["coeff"], 45.0, 7.0
            by_hand = c[0] + c[1] * x + c[2] * x * x + c[3] * y + c[4] * y * y + c[5] * x * y
            assert terms.at(y, x) == approx(rated * per * by_hand, rel=1e-12)
