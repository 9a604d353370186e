import re
import tomllib
from pathlib import Path

import jsonschema
import pytest

from fifthwire.model.errors import VisitFileError
from fifthwire.visitfile import plant_schema, plant_template, read_plant

ROOT = Path(__file__).parents[3]

HEAD = 'format = "fifthwire/plant/1"\nrefrigerant = "R410A"\n'
UNITS = '[[units]]\nid = "IU01"\ncapacity = "3.6 kW"\n[[units]]\nid = "IU02"\ncapacity = 2.8\non = false\n'


def plant_of(more: str = "", head: str = HEAD):
    return read_plant(head + UNITS + more, name="a.plant.toml", syntax="toml")


def problem_of(more: str = "", head: str = HEAD) -> str:
    with pytest.raises(VisitFileError) as caught:
        plant_of(more, head)
    (problem,) = caught.value.problems
    return f"{problem.place}: {problem.message} ({problem.hint})"


def fault(*lines: str) -> str:
    return "[[faults]]\n" + "\n".join(lines) + "\n"


def test_a_plant_with_nothing_but_units_has_the_usual_values():
    plant = plant_of()

    assert (plant.mode, plant.evaporating_c, plant.target_superheat_k, plant.valve_curve) == (
        "cooling",
        7.0,
        5.0,
        "concave",
    )
    assert [unit.capacity_kw for unit in plant.units] == [3.6, 2.8]
    assert [unit.is_on for unit in plant.units] == [True, False]
    assert plant.outdoor == ()


def test_one_outdoor_unit_is_a_table_and_several_are_an_array():
    one = plant_of('[outdoor]\ncapacity = "82 kW"\n')
    several = plant_of('[[outdoor]]\nid = "OU1"\n[[outdoor]]\nid = "OU2"\nsubcooler = false\n')

    assert [(unit.id, unit.capacity_kw) for unit in one.outdoor] == [("OU1", 82.0)]
    assert [(unit.id, unit.has_subcooler) for unit in several.outdoor] == [("OU1", True), ("OU2", False)]


def test_a_valve_curve_may_be_a_table():
    plant = plant_of(head=HEAD + "valve_curve = [[0, 0.0], [0.5, 0.7], [1, 1.0]]\n")

    assert plant.valve_curve == ((0.0, 0.0), (0.5, 0.7), (1.0, 1.0))


def test_faults_are_read_in_their_units():
    plant = plant_of(
        fault('valve = "IU01"', 'stuck = "25 %"')
        + fault("charge = 0.8")
        + fault('sensor = "IU02/gas_pipe"', 'offset = "5.4 delta_degF"')
        + fault('unit = "IU01"', "airflow = 0.5")
        + fault("outdoor_airflow = 0.6")
        + fault('valve = "subcooler-bypass"', "leaks = 0.1")
    )

    said = [
        (of.stuck_frac, of.charge_frac, of.airflow_frac, of.outdoor_airflow_frac, of.leaks_frac) for of in plant.faults
    ]
    assert said == [
        (0.25, None, None, None, None), (None, 0.8, None, None, None), (None, None, None, None, None),
        (None, None, 0.5, None, None), (None, None, None, 0.6, None), (None, None, None, None, 0.1),
    ]  # fmt: skip
    assert plant.faults[2].offset_k == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (fault('valve = "IU1"', "stuck = 1.0"), 'faults[0].valve: "IU1" is not in this plant (did you mean "IU01"?)'),
        (fault('valve = "OU1/injection"', "stuck = 1"), "vapour injection is not simulated"),
        (fault('valve = "BU1/branch-suction"', "stuck = 1"), "heat-recovery operation is not simulated"),
        (fault("charge = 0.8", "outdoor_airflow = 0.5"), "faults[0]: this fault says more than one thing"),
        (fault('valve = "IU01"'), "this fault says nothing that is wrong"),
        (fault("stuck = 0.5"), "faults[0].valve: valve is missing"),
        (fault("charge = 0.8", 'unit = "IU01"'), "unit has nothing to do with this fault"),
        (fault('valve = "IU01"', "stuck = 1.5"), "1.5 is above 1, which cannot be"),
        (fault('sensor = "IU01/gas"', 'offset = "1 K"'), "is not in this plant"),
        (fault('sensor = "IU01/gas_pipe"', 'offset = "3 degC"'), "faults[0].offset"),
        ('[[units]]\nid = "IU01"\ncapacity = 1\n', 'units[2].id: "IU01" stands here twice'),
        ("[compressor]\nspeed = [1.2, 0.2]\n", "compressor.speed: 1.2 to 0.2 is no range of speeds"),
        ('[[outdoor]]\nid = "OU1"\n[[outdoor]]\nid = "OU2"\n' + fault('valve = "main"', "stuck = 0"),
         "there are 2 outdoor units"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_with_its_place(more, says):
    assert says in problem_of(more)


@pytest.mark.parametrize(
    ("head", "says"),
    [
        (HEAD + 'mode = "mixed"\n', "mode: heat-recovery operation is not simulated"),
        (HEAD + "valve_curve = [[0, 0], [0.5, 0.7]]\n", "does not go from opening 0 to opening 1"),
        (HEAD + "valve_curve = [[0, 0.5], [0.5, 0.4], [1, 1]]\n", "the flows do not rise"),
        (HEAD + 'valve_curve = "convex"\n', 'known are concave, linear'),
        (HEAD.replace("plant/1", "visit/1"), "is a visit, no plant"),
        (HEAD.replace("plant/1", "plant/2"), "version 2; this program reads version 1"),
        ('format = "fifthwire/plant/1"\n', "refrigerant is missing"),
    ],
)  # fmt: skip
def test_a_head_that_cannot_be_is_refused(head, says):
    assert says in problem_of(head=head)


def test_a_plant_without_units_or_with_none_on_is_refused():
    with pytest.raises(VisitFileError) as none:
        read_plant(HEAD, name="a", syntax="toml")
    with pytest.raises(VisitFileError) as off:
        read_plant(HEAD + '[[units]]\nid = "A"\ncapacity = 1\non = false\n', name="a", syntax="toml")

    assert "no indoor unit" in none.value.problems[0].message
    assert "no indoor unit is on" in off.value.problems[0].message


def test_a_plant_of_a_later_minor_version_keeps_its_unknown_keys_and_one_of_this_version_refuses_them():
    later = plant_of(head=HEAD.replace("plant/1", "plant/1.3") + 'colour = "white"\n')

    assert (later.format_minor, later.extra) == (3, {"colour": "white"})
    assert "colour is no key known here" in problem_of(head=HEAD + 'colour = "white"\n')


def test_the_example_of_the_documentation_reads_and_fits_the_schema():
    text = (ROOT / "docs" / "formats" / "example.plant.toml").read_text("utf-8")

    plant = read_plant(text, name="example.plant.toml", syntax="toml")
    jsonschema.validate(tomllib.loads(text), plant_schema())

    assert len(plant.faults) == 2
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(tomllib.loads(text) | {"colour": "white"}, plant_schema())


def test_a_template_reads_once_what_it_needs_is_filled_in():
    text = plant_template()
    filled = text.replace('refrigerant = ""', 'refrigerant = "R32"').replace('id = ""', 'id = "A"', 1)

    plant = read_plant(filled.replace('capacity = ""', 'capacity = "3.6 kW"'), name="new", syntax="toml")

    assert (plant.refrigerant, plant.units[0].id, plant.faults) == ("R32", "A", ())
    assert max(map(len, text.split("\n"))) <= 120


def test_every_key_of_a_template_reads_once_its_sign_is_taken_away():
    text = plant_template().replace('refrigerant = ""', 'refrigerant = "R32"').replace('id = ""', 'id = "A"', 1)
    text = re.sub(r"^#(?=[a-z\[])", "", text.replace('capacity = ""', "capacity = 3.6"), flags=re.MULTILINE)

    with pytest.raises(VisitFileError) as caught:  # a fault says one thing: all of its keys at once are too many
        read_plant(text, name="new", syntax="toml")

    assert [problem.place for problem in caught.value.problems] == ["faults[0]"]
