"""The invented site: what is really wrong with its valves, and what is said of them."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from fifthwire.assessment.marks import mark_of
from fifthwire.cli.main import main
from fifthwire.demo.site import VISIT_NAME, assess_demo, demo_text, demo_truth, demo_visit

ROOT = Path(__file__).parents[3]


@pytest.fixture(scope="module")
def assessed():
    return assess_demo()


def test_the_visit_reads_without_a_warning_and_says_that_it_is_invented():
    assert demo_visit().warnings == ()
    assert b"INVENTED" in demo_text(VISIT_NAME)
    assert "(invented)" in demo_visit().visit.header.site


def test_the_site_is_as_large_as_it_is_said_to_be():
    by_unit = {}
    for valve in demo_visit().visit.valves:
        by_unit.setdefault(valve.unit, []).append(valve)

    assert [len(by_unit[unit]) for unit in ("OU1", "OU2")] == [5, 5]
    assert sum(unit.startswith("IU") for unit in by_unit) == 24
    assert sum(unit.startswith("BU") for unit in by_unit) == 3


def test_every_valve_has_its_truth_and_no_other_has():
    assert list(demo_truth()) == [valve.id for valve in demo_visit().visit.valves]


def test_the_action_of_every_valve_is_one_that_its_evidence_is_enough_for(assessed):
    truth = demo_truth()

    wrong = {
        valve.id: (valve.action, truth[valve.id].actions)
        for valve in assessed.assessment.valves
        if valve.action not in truth[valve.id].actions
    }
    assert wrong == {}


def test_every_valve_that_is_called_bad_has_what_it_is_called_for(assessed):
    truth = demo_truth()

    for valve in assessed.assessment.valves:
        if mark_of(valve).key == "bad":
            bodies = {"body-stuck-open", "body-stuck-closed"}
            leading, really = valve.causes[0].cause, truth[valve.id].cause
            assert leading == really or {leading, really} <= bodies, valve.id


def test_every_valve_that_is_called_good_is_good(assessed):
    truth = demo_truth()
    good = [valve.id for valve in assessed.assessment.valves if mark_of(valve).key == "good"]

    assert len(good) >= 25
    assert {truth[label].cause for label in good} == {"sound"}


@pytest.mark.parametrize(
    ("label", "verdict", "cause", "wires"),
    [
        ("OU1-subcooler", "faulty", "open-winding", {"3"}),
        ("OU2-subcooler", "sound", "sound", set()),
        ("OU2-injection", "faulty", "bad-contact", {"2"}),
        ("OU2-hotgas", "not-measured", None, None),
        ("IU05-valve", "sound", "sound", set()),
        ("IU14-valve", "faulty", "shorted-turns", {"2"}),
        ("IU17-valve", "undecided", "sound", set()),
        ("IU18-valve", "sound", "sound", set()),
        ("IU20-valve", "faulty", "wrong-head", set()),
        ("IU22-valve", "undecided", None, None),
        ("BU1-hotgas", "faulty", "open-winding", {"1", "2"}),
        ("BU2-suction", "sound", "sound", set()),
    ],
)
def test_the_windings_are_judged_as_they_are(assessed, label, verdict, cause, wires):
    winding = next(valve for valve in assessed.assessment.valves if valve.id == label).winding

    assert winding.verdict == verdict
    if cause is not None:
        assert (winding.causes[0].cause, set(winding.causes[0].wires)) == (cause, wires)


def test_the_running_part_shows_the_faults_that_run(assessed):
    made = assessed.assessment
    units = {one["id"]: one["superheat_k"] for one in made.units}
    sensors = {one["id"]: one["verdict"] for one in made.sensors}

    assert {one["id"]: one["floodback"] for one in made.compressors} == {"OU1/C1": "likely", "OU2/C1": "unlikely"}
    assert made.system_causes[0].cause == "fine"
    assert units["IU08"] > 15.0 > units["IU03"] > 12.0
    assert units["IU09"] < 1.0
    assert units["IU06"] is None
    assert [name for name, verdict in sensors.items() if verdict == "off"] == ["IU24-liquid", "IU24/liquid_pipe"]


def test_the_valve_that_floods_a_compressor_is_for_now(assessed):
    bypass = next(valve for valve in assessed.assessment.valves if valve.id == "OU1-subcooler")

    assert (bypass.urgency, bypass.meanwhile) == ("now", "system-off")


@pytest.mark.parametrize(("label", "commons"), [("IU05-valve", {"5"}), ("BU2-suction", {"2", "5"})])
def test_a_common_that_nobody_knew_is_found(assessed, label, commons):
    winding = next(valve for valve in assessed.assessment.valves if valve.id == label).winding

    assert set(winding.common[0].wires) == commons
    assert winding.common[0].probability > 0.95


def test_the_files_are_those_of_their_generator():
    ran = subprocess.run(
        [sys.executable, str(ROOT / "tools" / "demo_site.py"), "--check"], capture_output=True, text=True, check=False
    )

    assert (ran.returncode, ran.stderr) == (0, "")


def test_the_command_prints_a_line_a_valve_the_customers_lines_and_where_the_report_is(capsys, tmp_path, monkeypatch):
    monkeypatch.delenv("COLUMNS", raising=False)
    out_dir = tmp_path / "made" / "here"

    code = main(["demo", "--out", str(out_dir)])

    out = capsys.readouterr().out
    assert code == 0
    assert (
        sum(line.split("  ")[1:2] == [valve.id] for valve in demo_visit().visit.valves for line in out.splitlines())
        == 46
    )
    for label in ("What is wrong: ", "If it is left: ", "What we need you to decide: "):
        assert f"\n{label}" in out
    for name in ("invented-site.pdf", "invented-site.html", VISIT_NAME):
        assert str(out_dir / name) in out
    assert (out_dir / "invented-site.pdf").read_bytes().startswith(b"%PDF-")
    assert (out_dir / VISIT_NAME).read_bytes() == demo_text(VISIT_NAME)


def test_a_second_demo_leaves_a_visit_that_was_changed_alone(capsys, tmp_path):
    (tmp_path / VISIT_NAME).write_text("mine")

    assert main(["demo", "--out", str(tmp_path)]) == 0
    assert main(["demo", "--out", str(tmp_path)]) == 0

    assert (tmp_path / VISIT_NAME).read_text() == "mine"


def test_a_place_that_cannot_be_written_is_refused(capsys, tmp_path):
    (tmp_path / "file").write_text("x")

    for place in (tmp_path / "file", tmp_path / "file" / "deeper", "a\0b", "x" * 300):
        assert main(["demo", "--out", os.fspath(place)]) == 2
    assert capsys.readouterr().out.count("■") == 0
