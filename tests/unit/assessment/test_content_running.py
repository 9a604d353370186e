"""The running part of the report says what the readings say, draws it, and leaves out what nobody read."""

import re

import pytest
from tests.judged_visits import priors
from tests.running_visits import running_visit

from fifthwire.assessment import assess, report_content, report_page
from fifthwire.assessment.blocks import Items, Picture, Section, Sheet, Table
from fifthwire.reports import pdf_report
from fifthwire.visitfile import read_visit

CHECKED = (
    '[curves.c]\nr25 = "10 kohm"\nbeta = "3950 K"\n[[sensors]]\nid = "IU3-gas"\nunit = "IU3"\ncurve = "c"\n'
    'reading = "10 kohm"\ntrue_temperature = 19.0\ntrue_within = "0.5 K"\n'
)
FLOODED = {"held": 0.1, "cmd": 40 / 480, "air": 12.5}


def visit_of(text: str):
    read = read_visit(text, name="made.visit.toml", syntax="toml")
    return read.visit, assess(read.visit, priors(), warnings=read.warnings)


def section(text: str, units: str = "si") -> Section | None:
    visit, assessment = visit_of(text)
    found = [one for one in report_content(visit, assessment, units=units).sections if one.anchor == "running"]
    return found[0] if found else None


def sheets(of: Section) -> dict[str, Sheet]:
    return {one.heading: one for one in of.blocks if isinstance(one, Sheet)}


def tables(of: Section) -> dict[str, Table]:
    inside = [one for sheet in sheets(of).values() for one in sheet.pictures]
    return {one.caption: one for one in (*of.blocks, *inside) if isinstance(one, Table)}


def pictures(of: Section) -> list[Picture]:
    return [one for sheet in sheets(of).values() for one in sheet.pictures if isinstance(one, Picture)]


def test_without_running_readings_there_is_no_such_part():
    assert section(running_visit().partition("[snapshot]")[0]) is None


def test_liquid_is_told_in_words_under_the_mark_of_the_worst_compressor():
    of = section(running_visit(outdoor={"OU1": {"ssh": 0.2, "dsh": 9.0}, "OU2": {}}))
    assert of is not None
    wet, dry = sheets(of)["OU1"], sheets(of)["OU2"]

    assert (wet.mark, wet.mark_word) == ("bad", "liquid likely reaches a compressor")
    assert (dry.mark, dry.mark_word) == ("good", "liquid is unlikely")
    said = next(one for one in wet.words if isinstance(one, Items))
    assert said.label == "OU1/C1: liquid likely reaches this compressor."
    assert said.texts[0].startswith("Its discharge superheat is 9.0 K; dry suction gives from ")
    assert any("its energy balance" in one for one in said.texts)


def test_the_cycle_stands_in_a_diagram_with_its_table():
    of = section(running_visit())
    assert of is not None
    picture = next(one for one in pictures(of) if "Pressure-enthalpy" in one.title)
    table = next(one for caption, one in tables(of).items() if "corners" in caption)

    assert (
        picture.description
        == "The refrigerant boils at 7.0\u202f°C and condenses at 44.0\u202f°C. All four corners are from readings."
    )
    assert picture.svg.count("d-cycle") == 4
    assert "d-broken" not in picture.svg
    assert [row.cells[0] for row in table.rows] == ["1 suction", "2 discharge", "3 liquid", "4 after the valves"]
    # R410A at 7 °C dew with 5 K, CoolProp 8.0.0: 428.8 kJ/kg; liquid of 34.9 °C 257.0 kJ/kg (IIR).
    assert table.rows[0].cells[1:4] == ("992", "12.0\u202f°C", "429")
    assert [row.cells[4] for row in table.rows] == ["read"] * 4


def test_what_was_not_read_is_dashed_and_named():
    text = re.sub("(suction|liquid|discharge)_temperature = .*", "", running_visit())
    of = section(text)
    assert of is not None
    picture = next(one for one in pictures(of) if "Pressure-enthalpy" in one.title)
    table = next(one for caption, one in tables(of).items() if "corners" in caption)

    assert picture.svg.count("d-broken") == 4
    assert "Dashed, not from readings of their own: 1, 2, 3, 4." in picture.description
    assert "read" not in [row.cells[4] for row in table.rows]


def test_wet_suction_stands_inside_the_dome_with_its_doubt():
    of = section(running_visit(outdoor={"OU1": {"ssh": 0.0, "dsh": 9.0}}))
    assert of is not None
    table = next(one for caption, one in tables(of).items() if "corners" in caption)

    assert table.rows[0].cells[2] == "wet"
    assert table.rows[0].cells[4] == "the energy balance"
    assert float(table.rows[0].cells[3]) < 415.0  # dry saturated vapour at 7 °C: 423 kJ/kg


def test_pressures_that_contradict_draw_no_cycle():
    of = section(running_visit(ambient=55.0))
    assert of is not None

    assert not [one for one in pictures(of) if "Pressure-enthalpy" in one.title]


def test_each_unit_has_a_bar_and_a_row_as_it_hangs():
    of = section(running_visit({"IU3": FLOODED, "IU5": {"on": False}}))
    assert of is not None
    table = tables(of)["Superheat of each unit, as the units hang"]
    chart = next(one for one in pictures(of) if one.title == "Superheat of the indoor units")

    assert [row.cells[0] for row in table.rows] == [f"IU{n}" for n in range(1, 9)]
    assert table.rows[2].cells[1:] == ("0.1 ± 0.5\u202fK", "0.9\u202fK", "5.0\u202fK", "least of 7", "8\u202f%")
    assert table.rows[4].cells[1] == "off"
    assert sheets(of)["Indoor units that cool"].mark_word == "IU3 stands apart"
    assert "IU3: 0.1 K, target 5.0; " in chart.description
    assert chart.svg.count("d-here") == 7  # a target a unit that runs
    assert chart.svg.count('class="d-soft"') == 1


def test_units_that_heat_are_told_by_subcooling():
    of = section(running_visit(mode="heating", ambient=7.0))
    assert of is not None

    assert "Indoor units that heat" in sheets(of)
    assert "Subcooling of each unit, as the units hang" in tables(of)


def test_a_mixed_system_has_a_chart_for_each():
    of = section(running_visit({"IU2": {"mode": "heating"}, "IU3": {"mode": "cooling"}}, mode="mixed", ambient=15.0))
    assert of is not None

    assert {"Indoor units that cool", "Indoor units that heat"} <= set(sheets(of))


def test_sensors_that_were_checked_or_cannot_be_right_are_told_with_why():
    of = section(running_visit({"IU6": {"liquid_pipe": 2.0, "gas_pipe": 7.5}}, after=CHECKED))
    assert of is not None
    rows = {row.cells[1]: row for row in tables(of)[SENSORS].rows}

    assert (rows["IU3-gas"].mark, rows["IU3-gas"].cells[3]) == ("bad", "+6.0 ± 0.3\u202fK")
    assert rows["IU6/liquid_pipe"].cells[4].startswith("Colder than the 6.9 °C at which refrigerant boils")


SENSORS = "Temperature sensors that were checked, and those that cannot be right"


def test_sensors_at_rest_that_agree_are_counted_only():
    of = section(running_visit(mode="off", defaults={"liquid_pipe": 25.1, "gas_pipe": 24.8, "air": 0.0}))
    assert of is not None

    assert SENSORS not in tables(of)
    assert any("sensors at rest agree with the air around" in getattr(one, "text", "") for one in of.blocks)


def test_figures_are_turned_for_who_reads_fahrenheit():
    of = section(running_visit({"IU3": FLOODED}), "us")
    assert of is not None
    table = tables(of)["Superheat of each unit, as the units hang"]
    corners = next(one for caption, one in tables(of).items() if "corners" in caption)

    assert table.rows[2].cells[1] == "0.2 ± 0.9\u202f°F"
    assert corners.columns[1].label == "psia"
    assert corners.rows[0].cells[1:3] == ("144", "53.6\u202f°F")
    assert not re.search(r"\d\s(K|°C)\b", " ".join(_texts(of)))


def _texts(of: Section) -> list[str]:
    found: list[str] = []

    def walk(value: object) -> None:
        if isinstance(value, str):
            found.append(value)
        elif isinstance(value, tuple):
            for one in value:
                walk(one)
        elif hasattr(value, "kind") or hasattr(value, "cells") or hasattr(value, "label"):
            for name in (
                "text",
                "texts",
                "label",
                "cells",
                "rows",
                "words",
                "pictures",
                "facts",
                "caption",
                "description",
            ):
                walk(getattr(value, name, ()))

    walk(of.blocks)
    return found


def test_many_units_are_charted_in_parts_of_one_scale():
    of = section(running_visit({"IU60": {"held": 18.0, "cmd": 1.0}}, n=64))
    assert of is not None
    charts = [one for one in pictures(of) if one.title.startswith("Superheat")]

    assert [one.title for one in charts] == [
        "Superheat of the indoor units, IU1 to IU32",
        "Superheat of the indoor units, IU33 to IU64",
    ]
    assert all(">20</text>" in one.svg for one in charts)


VISITS = {
    "flooded": running_visit({"IU3": FLOODED}, outdoor={"OU1": {"ssh": 0.1, "dsh": 9.0}, "OU2": {}}, after=CHECKED),
    "heating": running_visit(mode="heating", ambient=7.0, fluid="R32"),
    "off": running_visit(mode="off", defaults={"liquid_pipe": 25.1, "gas_pipe": 31.0}),
    "blend": running_visit(fluid="R454B"),
    "hostile": running_visit({"IU3": FLOODED}).replace("IU3", "<b>&IU\\u202e3"),
}


@pytest.mark.parametrize("name", VISITS)
@pytest.mark.parametrize("units", ["si", "us"])
def test_page_and_print_are_laid_out_of_it(name, units):
    text = VISITS[name].replace("[snapshot.units.<b>&IU\\u202e3]", '[snapshot.units."<b>&IU\\u202e3"]')
    visit, assessment = visit_of(text)
    page = report_page(visit, assessment, units=units)

    assert 'id="running"' in page
    assert "<b>&IU" not in page
    assert pdf_report(visit, assessment, units=units).startswith(b"%PDF")
