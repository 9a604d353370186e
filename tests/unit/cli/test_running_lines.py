"""The terminal says in a few lines how the system ran."""

import pytest
from tests.running_visits import running_visit

from fifthwire.cli.main import main

FLOODED = {"held": 0.1, "cmd": 40 / 480, "air": 12.5}


@pytest.fixture
def visit(tmp_path):
    path = tmp_path / "made.visit.toml"
    outdoor = {"OU1": {"ssh": 0.2, "dsh": 12.0}, "OU2": {}}
    units = {"IU3": FLOODED, "IU6": {"liquid_pipe": 2.0, "gas_pipe": 7.5}}
    path.write_text(running_visit(units, outdoor=outdoor), "utf-8")
    return str(path)


def test_compressors_units_and_sensors_have_a_line_each(visit, capsys):
    assert main(["assess", visit]) == 0
    out = capsys.readouterr().out

    assert "Compressor OU1/C1: liquid likely, suction superheat 0.2\u202fK, discharge superheat 12.0\u202fK (dry" in out
    assert "Compressor OU2/C1: liquid unlikely" in out
    assert "8 units cooling: superheat 0.1\u202fK to 5.5\u202fK" in out
    assert "IU3 0.1\u202fK stands apart." in out
    assert "Sensors that cannot be right: IU6/liquid_pipe at 2.0\u202f°C." in out


def test_they_are_told_in_fahrenheit_where_that_is_asked_for(visit, capsys):
    assert main(["assess", visit, "--units", "us"]) == 0

    assert "suction superheat 0.4\u202f°F" in capsys.readouterr().out


def test_an_explained_valve_says_what_ran_around_it(visit, capsys):
    assert main(["assess", visit, "--explain", "IU3-v"]) == 0
    indoor = capsys.readouterr().out
    assert main(["assess", visit, "--explain", "OU1-bypass"]) == 0
    outdoor = capsys.readouterr().out

    assert "IU3: superheat 0.1\u202fK ± 0.5\u202fK by two temperatures, target 5.0\u202fK; least of 8" in indoor
    assert "By pressure 0.9\u202fK ± 1.5\u202fK: another measurement." in indoor
    assert "OU1/C1: liquid likely reaches this compressor." in outdoor
    assert "OU2/C1" not in outdoor.partition("While it ran")[2].partition("Of the windings")[0]


def test_a_visit_without_a_snapshot_says_nothing_of_it(tmp_path, capsys):
    path = tmp_path / "made.visit.toml"
    path.write_text(running_visit().partition("[snapshot]")[0], "utf-8")
    assert main(["assess", str(path)]) == 0

    out = capsys.readouterr().out
    assert "Compressor" not in out
    assert "While it ran" not in out
