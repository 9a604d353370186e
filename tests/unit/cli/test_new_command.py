"""`fifthwire new` from the outside."""

from datetime import date
from pathlib import Path

import pytest

from fifthwire.cli.main import main
from fifthwire.workflow.visits import open_visit

VISIT = Path(__file__).parent / "quayside.visit.toml"
LIST = "id,unit,role,head,spec,winding,resistance\na,OU1,main,bolt-on,m,unipolar-6,150\nb,IU01,indoor,clip-on,,,\n"


@pytest.fixture
def run(capsys):
    def ran(*words: object) -> tuple[int, str, str]:
        code = main(["new", *(str(word) for word in words)])
        return (code, *capsys.readouterr())

    return ran


def test_a_new_visit_can_be_assessed_once_its_site_and_system_are_filled_in(run, tmp_path, capsys):
    path = tmp_path / "n.visit.toml"

    code, out, err = run(path)

    assert (code, out) == (0, "")
    assert "Fill in site and system first." in err
    text = path.read_text("utf-8").replace('site = ""', 'site = "S"').replace('system = ""', 'system = "s"')
    path.write_text(text, "utf-8")
    assert main(["assess", str(path)]) == 0
    assert open_visit(str(path)).visit.header.date == date.today()


def test_a_new_visit_from_an_earlier_one_has_its_valves_and_none_of_its_readings(run, tmp_path):
    path = tmp_path / "n.visit.toml"

    code, _, err = run(path, "--from", VISIT)

    visit = open_visit(str(path)).visit
    assert (code, "with 3 valves" in err) == (0, True)
    assert [valve.id for valve in visit.valves] == ["OU1-subcooler", "IU01-valve", "IU02-valve"]
    assert all(valve.readings == () and valve.inspection is None for valve in visit.valves)
    assert visit.specs["clip"].resistance_ohm == 62.0
    assert visit.valves[0].last_removed == date(2026, 5, 12)


def test_a_new_visit_from_a_list_has_its_valves_and_specs(run, tmp_path):
    (tmp_path / "valves.csv").write_text(LIST)
    path = tmp_path / "n.visit.toml"

    assert run(path, "--from", tmp_path / "valves.csv")[0] == 0

    path.write_text(path.read_text("utf-8").replace('site = ""', 'site = "S"').replace('system = ""', 'system = "s"'))
    visit = open_visit(str(path)).visit
    assert [(valve.id, valve.spec) for valve in visit.valves] == [("a", "m"), ("b", None)]
    assert (visit.specs["m"].winding, visit.specs["m"].resistance_ohm) == ("unipolar-6", 150.0)


def test_a_file_that_is_there_is_left_alone_until_told(run, tmp_path):
    path = tmp_path / "n.visit.toml"
    path.write_text("mine")

    assert run(path)[0] == 2
    assert path.read_text() == "mine"
    assert run(path, "--overwrite")[0] == 0
    assert path.read_text("utf-8") != "mine"


@pytest.mark.parametrize(
    ("source", "content", "said"),
    [
        ("missing.csv", None, "no such file"),
        ("empty.csv", b"", "is empty"),
        ("binary.csv", b"\xff\xfe\x00", "not UTF-8"),
        ("wrong.csv", b"label,unit\n", "column label is not known"),
        ("nameless.csv", b"id,unit,role,head,spec\na,u,main,bolt-on,m\n", "has no winding in any row"),
        ("bad.csv", b"id,unit,role,head,spec,winding\na,u,main,bolt-on,m,uni-5\n", "bad.csv:2: winding"),
        ("list.xlsx", b"PK", "neither a list nor a visit"),
        ("bad.visit.toml", b"format = 1", "bad.visit.toml:1"),
        ("bad.visit.json", b"{", "bad.visit.json"),
    ],
)
def test_a_source_that_cannot_be_used_is_refused_and_nothing_is_written(run, tmp_path, source, content, said):
    if content is not None:
        (tmp_path / source).write_bytes(content)

    code, out, err = run(tmp_path / "n.visit.toml", "--from", tmp_path / source)

    assert (code, out, (tmp_path / "n.visit.toml").exists()) == (2, "", False)
    assert said in err


@pytest.mark.parametrize("name", ["n.json", "n", "nowhere/n.visit.toml", "."])
def test_a_place_that_is_no_place_for_a_visit_is_refused(run, tmp_path, name):
    code, _, err = run(tmp_path / name)

    assert (code, bool(err)) == (2, True)


def test_a_new_plant_can_be_simulated_once_its_refrigerant_and_units_are_filled_in(run, tmp_path, capsys):
    path = tmp_path / "n.plant.toml"

    code, _, err = run(path)

    assert (code, "Fill in the refrigerant" in err) == (0, True)
    text = (
        path.read_text("utf-8").replace('refrigerant = ""', 'refrigerant = "R410A"').replace('id = ""', 'id = "A"', 1)
    )
    path.write_text(text.replace('capacity = ""', 'capacity = "3.6 kW"'), "utf-8")
    assert main(["simulate", str(path), "--json"]) == 0
    assert run(path)[0] == 2  # it is there already


def test_a_plant_takes_nothing_over(run, tmp_path):
    code, _, err = run(tmp_path / "n.plant.toml", "--from", VISIT)

    assert (code, "takes nothing over" in err) == (2, True)
