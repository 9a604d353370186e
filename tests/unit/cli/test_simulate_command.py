"""`fifthwire simulate`, `atlas` and `make-log` from the outside."""

import io
import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pytest import approx

from fifthwire.cli.main import main

ROOT = Path(__file__).parents[3]
REFERENCE = ROOT / "tests" / "reference"
PLANT = """\
format = "fifthwire/plant/1"
refrigerant = "R410A"

[[units]]
id = "IU01"
capacity = "3.6 kW"

[[units]]
id = "IU02"
capacity = "5.6 kW"

[[units]]
id = "IU03"
capacity = "7.1 kW"
"""
STUCK = PLANT + '\n[[faults]]\nvalve = "IU02"\nstuck = 1.0\n'
SHUT = '\n[[faults]]\nvalve = "IU01"\nstuck = 0.0\n'
OFF = PLANT.replace('kW"\n', 'kW"\non = false\n')
PUMPED_DOWN = OFF.replace("on = false", "on = true", 1) + SHUT


@pytest.fixture
def run(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    def ran(*words: object) -> tuple[int, str, str]:
        code = main([str(word) for word in words])
        return (code, *capsys.readouterr())

    return ran


@pytest.fixture
def plant(tmp_path):
    def written(text: str = STUCK, name: str = "p.plant.toml") -> str:
        (tmp_path / name).write_text(text, "utf-8")
        return name

    return written


def test_a_plant_is_simulated_in_both_states(run, plant):
    code, out, err = run("simulate", plant())

    assert (code, err) == (0, "")
    assert "Minutes after" in out and "Settled" in out
    assert "IU02 stuck at 100" in out
    assert "Liquid to the compressor" in out
    assert "nothing here was validated on a machine in the field" in out


def test_the_json_is_the_state_of_the_format(run, plant):
    code, out, err = run("simulate", plant(), "--json")

    written = json.loads(out)
    assert (code, err) == (0, "")
    assert written["format"] == "fifthwire/state/1"
    assert list(written["closures"]) == ["minutes-after", "settled"]
    state = written["closures"]["minutes-after"]
    assert state["converged"] is True and state["why_not"] is None
    assert abs(state["energy_residual"]) < 1e-6 and abs(state["mass_residual"]) < 1e-9
    assert {one["id"]: one["opening_frac"] for one in state["units"]}["IU02"] == 1.0
    assert state["liquid_to_compressor_g_s"] > 0.0


def test_a_plant_comes_from_standard_input_too(run, plant, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(STUCK.encode())))
    from_file = run("simulate", plant(), "--json")

    assert run("simulate", "-", "--json")[:2] == from_file[:2]


def test_without_a_state_there_is_no_drawing_and_no_file(run, plant, tmp_path):
    code, _, err = run("simulate", plant(PUMPED_DOWN), "--report", "s.svg")

    assert code == 3
    assert "no steady state to draw" in err
    assert not (tmp_path / "s.svg").exists()


def test_one_state_may_be_asked_for(run, plant):
    _, out, _ = run("simulate", plant(), "--closure", "settled", "--json")

    assert list(json.loads(out)["closures"]) == ["settled"]


def test_without_a_steady_state_the_reason_is_said_and_nothing_is_made_up(run, plant):
    code, out, err = run("simulate", plant(PUMPED_DOWN), "--json")

    assert code == 3
    assert "no steady state. minutes after: " in err and "settled: " in err
    for state in json.loads(out)["closures"].values():
        assert set(state) == {"converged", "why_not"}


def test_pages_are_written_and_never_over_others(run, plant, tmp_path):
    name = plant()
    endings = ("html", "pdf", "png", "svg")
    code, _, err = run("simulate", name, *(word for one in endings for word in ("--report", f"s.{one}")))

    assert code == 0
    assert err.count("Page written") == 4
    drawn = ElementTree.fromstring((tmp_path / "s.svg").read_text("utf-8"))
    assert "Pressure and enthalpy of OU1" in "".join(drawn.itertext())
    assert (tmp_path / "s.html").read_text("utf-8").count("<svg") == 4
    assert (tmp_path / "s.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "s.png").read_bytes().startswith(b"\x89PNG")
    before = (tmp_path / "s.html").read_bytes()
    code, out, err = run("simulate", name, "--report", "s.html")
    assert (code, out) == (2, "")
    assert "is there already" in err
    assert (tmp_path / "s.html").read_bytes() == before


@pytest.mark.parametrize("command", ["simulate", "atlas"])
def test_a_page_of_another_kind_is_refused_before_anything_is_solved(run, command):
    code, _, err = run(command, "there-is-none.toml", "--report", "x.docx")

    assert code == 2
    assert ".pdf, .html or .png, its drawings as .svg" in err


@pytest.mark.parametrize("command", [["simulate"], ["atlas"], ["make-log", "--days", "1", "--seed", "1"]])
def test_every_problem_of_a_plant_file_is_told_with_its_line(run, plant, command):
    name = plant(PLANT.replace("refrigerant", "refrigerent").replace('"3.6 kW"', '"3.6 K"'))

    code, out, err = run(command[0], name, *command[1:])

    assert (code, out) == (2, "")
    assert f"{name}:2: refrigerent" in err
    assert f"{name}:6: units[0].capacity" in err


def test_a_compressor_map_beside_the_plant_is_used(run, plant, tmp_path):
    loop = (REFERENCE / "variable_speed_loop.json").read_text("utf-8")
    (tmp_path / "loop.json").write_text(loop, "utf-8")
    more = '[outdoor]\ncapacity = "41.3 kW"\n\n[compressor]\nmap = "loop.json"\n\n[[units]]'
    with_map = PLANT.replace("[[units]]", more, 1)
    large = with_map.replace('"3.6 kW"', '"14 kW"').replace('"5.6 kW"', '"14 kW"').replace('"7.1 kW"', '"13.3 kW"')

    plain = json.loads(run("simulate", plant(large.replace('map = "loop.json"', "")), "--json")[1])
    mapped = json.loads(run("simulate", plant(large), "--json")[1])

    one, other = (of["closures"]["minutes-after"] for of in (plain, mapped))
    assert one["capacity_kw"] == approx(other["capacity_kw"], rel=0.03)
    assert one["power_kw"] != approx(other["power_kw"], rel=0.01)


def test_a_map_that_gives_nothing_is_refused_with_the_point(run, plant, tmp_path):
    table = (REFERENCE / "compressor_maps.csv").read_text("utf-8")
    (tmp_path / "maps.csv").write_text(table, "utf-8")
    more = '[compressor]\nmap = "maps.csv#C0474"\n\n[[units]]'
    name = plant(PLANT.replace("R410A", "R22").replace("[[units]]", more, 1))

    code, _, err = run("simulate", name)

    assert code == 2
    assert "compressor map C0474: its capacity is" in err
    assert "inside its own limits" in err


def test_an_atlas_has_a_row_a_valve(run, plant):
    code, out, err = run("atlas", plant())

    assert (code, err) == (0, "")
    for name in ("IU01", "IU02", "IU03", "OU1 subcooler"):
        assert any(line.startswith(name) for line in out.splitlines())
    assert "Liquid from, linear" in out


def test_an_atlas_as_json_and_as_a_page(run, plant, tmp_path):
    code, out, _ = run("atlas", plant(), "--json", "--report", "a.html")

    written = json.loads(out)
    assert code == 0
    assert written["format"] == "fifthwire/atlas/1"
    assert [one["id"] for one in written["valves"]] == ["IU01", "IU02", "IU03", "OU1/subcooler-bypass"]
    assert (tmp_path / "a.html").read_text("utf-8").count("<figure>") == 4


def test_one_valve_of_an_atlas(run, plant):
    name = plant()
    code, out, _ = run("atlas", name, "--valve", "subcooler-bypass")

    assert code == 0
    assert out.startswith("What OU1 subcooler does where it is stuck")
    assert run("atlas", name, "--valve", "IU9")[0] == 2


def test_a_log_is_written_with_its_map_and_its_truth(run, plant, tmp_path):
    name = plant()
    code, out, err = run("make-log", name, "--days", "0.5", "--seed", "1", "--period", "5 min")

    assert (code, out) == (0, "")
    assert "An invented log" in err
    rows = (tmp_path / "p.log.csv").read_text("utf-8").splitlines()
    assert 130 < len(rows) < 150
    truth = json.loads((tmp_path / "p.truth.json").read_text("utf-8"))
    assert truth["faults"][0]["words"].startswith("IU02 stuck at 100")
    assert 'format = "fifthwire/log-map/1"' in (tmp_path / "p.log-map.toml").read_text("utf-8")
    again = run("make-log", name, "--days", "0.5", "--seed", "1")
    assert again[0] == 2
    assert "is there already" in again[2]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--days", "ten", "--seed", "1"), "--days ten is no number"),
        (("--days", "nan", "--seed", "1"), "--days nan is no number"),
        (("--days", "1", "--seed", "-1"), "--seed -1 is no whole number"),
        (("--days", "1", "--seed", "1.5"), "--seed 1.5 is no whole number"),
        (("--days", "1", "--seed", "1", "--period", "60"), "60 has no unit"),
        (("--days", "1", "--seed", "1", "--begin", "2"), "2 days into a log of 1"),
    ],
)
def test_what_cannot_be_a_log_is_refused(run, plant, words, said):
    code, _, err = run("make-log", plant(), *words)

    assert code == 2
    assert said in err


@pytest.mark.parametrize("columns", ["48", "200"])
def test_tables_fit_the_screen(run, plant, monkeypatch, columns):
    monkeypatch.setenv("COLUMNS", columns)

    code, out, _ = run("simulate", plant())

    assert code == 0
    if columns == "48":
        assert max(map(len, out.splitlines())) <= 60
    assert "Supply air" in out
