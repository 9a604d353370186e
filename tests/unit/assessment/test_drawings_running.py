"""The drawings of the running system stay inside their frames and stand where their figures say."""

import re
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pytest import approx

from fifthwire.assessment.drawing_cycle import cycle_picture
from fifthwire.assessment.drawing_superheat import UnitBar, held_picture, held_scale
from fifthwire.diagnosis.running.cycle import Cycle, cycle_of
from fifthwire.diagnosis.running.states import compressor_seen
from fifthwire.model.running import OutdoorReadings
from fifthwire.physics.refrigerants import refrigerant

sys.path.insert(0, str(Path(__file__).parent))
from test_drawings import SVG, drawn, is_inside

FLUIDS = ("R410A", "R32", "R22", "R407C", "R134a", "R404A", "R290", "R454B")


def a_cycle(name: str = "R410A", boils_c: float = 7.0, condenses_c: float = 44.0, **readings: float | None) -> Cycle:
    of = refrigerant(name)
    outdoor = OutdoorReadings(
        suction_kpa_abs=of.dew_kpa_abs(boils_c),
        discharge_kpa_abs=of.dew_kpa_abs(condenses_c),
        **{
            "suction_temperature_c": boils_c + 5.0,
            "discharge_temperature_c": condenses_c + 45.0,
            "liquid_temperature_c": condenses_c - 15.0,
            **readings,
        },
    )
    seen = compressor_seen(of, "OU1/C1", outdoor, outdoor, has_outdoor_condenser=True).seen
    cycle = cycle_of(of, seen, outdoor.liquid_temperature_c)
    assert cycle is not None
    return cycle


@pytest.mark.parametrize("name", FLUIDS)
@pytest.mark.parametrize(("boils_c", "condenses_c"), [(7.0, 35.0), (-20.0, 55.0), (10.0, 50.0)])
@pytest.mark.parametrize("readings", [{}, {"discharge_temperature_c": None}, {"suction_temperature_c": None}])
@pytest.mark.parametrize("units", ["si", "us"])
def test_the_diagram_stays_inside_its_frame(name, boils_c, condenses_c, readings, units):
    cycle = a_cycle(name, boils_c, condenses_c, **readings)
    picture = cycle_picture(cycle, boils_c, condenses_c, caption="C", title="T", units=units)

    assert is_inside(picture)


def test_the_corners_are_those_of_the_refrigerant():
    # CoolProp 8.0.0, IIR: R410A dry saturated at 10 °C 424.05, saturated liquid at 30 °C 248.38 kJ/kg.
    suction, discharge, liquid, inlet = a_cycle(
        boils_c=10.0, suction_temperature_c=10.0 + 1e-6, liquid_temperature_c=30.0
    ).points

    assert suction.enthalpy_kj_kg == approx(424.05, abs=0.2)
    assert liquid.enthalpy_kj_kg == inlet.enthalpy_kj_kg == approx(248.38, abs=0.2)
    assert (discharge.kpa_abs, inlet.kpa_abs) == (liquid.kpa_abs, suction.kpa_abs)


def test_liquid_that_is_not_subcooled_is_not_drawn_as_read():
    liquid = a_cycle(liquid_temperature_c=46.0).points[2]

    assert not liquid.is_read


def test_the_sides_between_readings_are_ink_and_the_others_dashed():
    whole = cycle_picture(a_cycle(), 7.0, 44.0, caption="C", title="T")
    without = cycle_picture(a_cycle(suction_temperature_c=None), 7.0, 44.0, caption="C", title="T")

    assert (whole.svg.count("d-cycle"), whole.svg.count("d-broken")) == (4, 0)
    assert (without.svg.count("d-cycle"), without.svg.count("d-broken")) == (2, 2)


def a_bar(name: str, held: float | None, target: float | None = 5.0, *, apart: bool = False) -> UnitBar:
    return UnitBar(
        name=name, held=held, u=None if held is None else 0.5, target=target, stands_apart=apart, instead="off"
    )


@pytest.mark.parametrize(
    "held", [[5.0], [0.0, 5.0, 21.0], [-6.0, 5.0], [None, 5.0], [90.0, 0.1], [5.0] * 48, [0.001, 0.002]]
)
def test_the_bars_stay_inside_their_frame(held):
    bars = [a_bar(f"A-long-name-{n}", one) for n, one in enumerate(held)]
    scale = held_scale(bars, "K", (4.0, 6.0))

    assert is_inside(held_picture(bars, scale, caption="C", title="T"))


def test_a_bar_begins_at_nought_and_ends_where_it_was_measured():
    bars = [a_bar("A", 8.0), a_bar("B", 4.0), a_bar("C", -2.0, apart=True)]
    root = drawn(held_picture(bars, held_scale(bars, "K", None), caption="C", title="T"))
    rings = [one.attrib for one in root.iter(f"{SVG}rect") if one.attrib["class"] == "d-ring"]
    apart = [one.attrib for one in root.iter(f"{SVG}rect") if one.attrib["class"] == "d-full"]

    assert float(rings[0]["x"]) == float(rings[1]["x"])
    assert float(rings[0]["width"]) == approx(2.0 * float(rings[1]["width"]), abs=0.2)
    assert float(apart[0]["x"]) + float(apart[0]["width"]) == approx(float(rings[0]["x"]), abs=0.1)


def test_the_scale_counts_from_nought_unless_something_reads_less():
    assert held_scale([a_bar("A", 0.1)], "K", None).low == 0.0
    assert held_scale([a_bar("A", -3.0)], "K", None).low < -2.9
    assert held_scale([a_bar("A", None, None)], "K", None).high > 0.0


def test_a_bar_is_told_in_words():
    picture = held_picture([a_bar("IU1", 4.9), a_bar("IU2", None)], held_scale([], "K", None), caption="C", title="T")

    assert picture.description == "IU1: 4.9 K, target 5.0; IU2: off."
    assert ElementTree.fromstring(f'<svg xmlns="http://www.w3.org/2000/svg">{picture.svg}</svg>') is not None
    assert not re.search("nan|inf", picture.svg)
