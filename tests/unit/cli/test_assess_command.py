"""`fifthwire assess` from the outside."""

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from fifthwire.cli.main import main
from fifthwire.cli.parser import COMMANDS

VISIT = (Path(__file__).parent / "quayside.visit.toml").read_text("utf-8")


@pytest.fixture
def visit(tmp_path):
    path = tmp_path / "a.visit.toml"
    path.write_text(VISIT, "utf-8")
    return path


@pytest.fixture
def run(capsys, monkeypatch):
    monkeypatch.delenv("COLUMNS", raising=False)

    def ran(*words: object) -> tuple[int, str, str]:
        code = main([str(word) for word in words])
        return (code, *capsys.readouterr())

    return ran


def test_every_valve_has_a_line_with_its_mark_verdict_action_cause_and_reason(run, visit):
    code, out, _ = run("assess", visit)

    assert code == 0
    title, bad, good, unseen = out.splitlines()
    assert title == "Quayside House · QH-1 · 12 May 2026"
    assert bad.startswith("■  OU1-subcooler  bad ")
    assert "replace the coil" in bad
    assert "open winding, wire 3: sure" in bad
    assert "Wire 3 is open from two wires" in bad
    assert good.startswith("○  IU01-valve     good")
    assert "leave as it is" in good
    assert unseen.startswith("◌  IU02-valve     not checked")


def test_the_columns_stand_under_one_another(run, visit):
    _, out, _ = run("assess", visit)

    rows = out.splitlines()[1:]
    assert len({row.index(word) for row, word in zip(rows, ("bad", "good", "not checked"), strict=True)}) == 1


@pytest.mark.parametrize("columns", [40, 60, 80, 100, 132, 200])
def test_no_line_is_wider_than_the_screen(run, visit, monkeypatch, columns):
    monkeypatch.setenv("COLUMNS", str(columns))

    for words in (("assess", visit), ("assess", visit, "--explain", "OU1-subcooler")):
        _, out, _ = run(*words)
        widest = max(out.splitlines(), key=len)
        if columns >= 80:
            assert len(widest) <= columns, widest


def test_json_is_the_assessment_and_nothing_else(run, visit):
    code, out, err = run("assess", visit, "--json")

    read = json.loads(out)
    assert (code, err) == (0, "")
    assert list(read) == [
        "format", "program", "visit", "valves", "compressors", "compressor", "system", "units", "sensors", "warnings",
    ]  # fmt: skip
    assert [valve["id"] for valve in read["valves"]] == ["OU1-subcooler", "IU01-valve", "IU02-valve"]
    assert read["valves"][0]["winding"]["causes"][0]["cause"] == "open-winding"


def test_json_with_an_explanation_keeps_standard_output_clean(run, visit):
    code, out, err = run("assess", visit, "--json", "--explain", "IU01-valve")

    assert code == 0
    assert json.loads(out)
    assert "IU01-valve" in err


def test_only_one_valve_is_judged_where_one_is_asked_for(run, visit):
    _, out, _ = run("assess", visit, "--only", "IU01-valve", "--json")

    assert [valve["id"] for valve in json.loads(out)["valves"]] == ["IU01-valve"]


def test_an_explanation_tells_every_fact_and_each_reading_in_turn(run, visit):
    code, out, _ = run("assess", visit, "--explain", "OU1-subcooler")

    assert code == 0
    for said in ("5 to 1: 64.9 Ω", "1 to 3: open", "Wire 3 is open from two wires", "To do: replace the coil", "%"):
        assert said in out


def test_an_explanation_in_american_units_has_fahrenheit(run, visit):
    _, si, _ = run("assess", visit, "--explain", "IU01-valve")
    _, us, _ = run("assess", visit, "--explain", "IU01-valve", "--units", "us")

    assert "Head temperature: 21.0\u202f°C." in si
    assert "Head temperature: 69.8\u202f°F." in us


def test_an_explanation_of_a_valve_that_was_not_looked_at_says_so(run, visit):
    code, out, _ = run("assess", visit, "--explain", "IU02-valve")

    assert code == 0
    assert "Not checked" in out


def test_an_explanation_says_why_a_reading_that_tells_next_to_nothing_is_asked_for(run, tmp_path):
    three_read = tmp_path / "three.visit.toml"
    text = Path(__file__).with_name("quayside.visit.toml").read_text("utf-8").partition("[[valves]]")[0]
    three_read.write_text(
        f'{text}[[valves]]\nid = "V"\nunit = "U"\nrole = "indoor"\nhead = "clip-on"\nspec = "clip"\nmeter = "m"\n'
        'head_temperature = "20 degC"\ncommon = "5"\nreadings = [["5","1",62.3],["5","2",62.2],["5","3",62.3]]\n',
        "utf-8",
    )

    sure = tmp_path / "priors.toml"
    shipped = Path(__file__).parents[3] / "src" / "fifthwire" / "diagnosis" / "priors.toml"
    sure.write_text(shipped.read_text("utf-8").replace("planned = 0.97", "planned = 0.999"), "utf-8")

    code, out, _ = run("assess", three_read, "--explain", "V", "--priors", sure)

    assert code == 0
    assert "no head is called good with a winding never read" in " ".join(out.split())


def test_an_explanation_counts_one_minute_as_one(run, tmp_path):
    half_read = tmp_path / "half.visit.toml"
    text = Path(__file__).with_name("quayside.visit.toml").read_text("utf-8")
    half_read.write_text(text.replace(', ["5", "3", "open"], ["5", "4", 64.8], ["1", "3", "open"]]', "]"), "utf-8")

    _, out, _ = run("assess", half_read, "--explain", "OU1-subcooler")

    assert "About 1 minute," in out


def test_reports_are_written_whole_and_named(run, visit, tmp_path):
    page, paper = tmp_path / "r.html", tmp_path / "r.PDF"

    code, _, err = run("assess", visit, "--report", page, "--report", paper, "--report", page)

    assert code == 0
    assert page.read_text("utf-8").lower().startswith("<!doctype html>")
    assert paper.read_bytes().startswith(b"%PDF-")
    assert str(page) in err


def test_a_report_that_is_there_is_left_alone_until_told(run, visit, tmp_path):
    page = tmp_path / "r.html"
    page.write_text("mine")

    code, out, err = run("assess", visit, "--report", page)
    assert (code, out, page.read_text()) == (2, "", "mine")
    assert "--overwrite" in err

    assert run("assess", visit, "--report", page, "--overwrite")[0] == 0
    assert page.read_text("utf-8") != "mine"


def test_one_report_that_cannot_be_written_leaves_none_written(run, visit, tmp_path):
    page = tmp_path / "r.html"

    code, out, _ = run("assess", visit, "--report", page, "--report", tmp_path / "nowhere" / "r.pdf")

    assert (code, out, page.exists()) == (2, "", False)


def from_standard_input(text: str, *words: str) -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-m", "fifthwire", "assess", "-", *words]
    return subprocess.run(command, input=text.encode(), capture_output=True, check=False)


def test_standard_input_may_be_toml_or_json(run, visit, tmp_path):
    from fifthwire.visitfile import read_visit, visit_to_json

    as_json = visit_to_json(read_visit(VISIT, name="a", syntax="toml").visit)
    (tmp_path / "a.visit.json").write_text(as_json, "utf-8")
    _, from_toml_file, _ = run("assess", visit, "--json")
    _, from_json_file, _ = run("assess", tmp_path / "a.visit.json", "--json")

    assert from_json_file == from_toml_file
    for text in (VISIT, as_json):
        ran = from_standard_input(text, "--json")
        assert json.loads(ran.stdout) == json.loads(from_toml_file), ran.stderr


BAD_VISITS = {
    "not a visit": "hello",
    "empty": "",
    "binary": "\x00\x01\x02",
    "two problems": VISIT.replace('"clip-on"', '"clipon"', 1).replace('role = "indoor"', 'role = "indor"', 1),
    "json cut short": '{"format": "fifthwire/visit/1", "visit":',
    "no site": VISIT.replace('site = "Quayside House"\n', ""),
}


@pytest.mark.parametrize("text", BAD_VISITS.values(), ids=BAD_VISITS.keys())
def test_a_bad_file_is_refused_with_every_problem_and_nothing_on_standard_output(run, tmp_path, text):
    path = tmp_path / "bad.visit.toml"
    path.write_text(text, "utf-8")

    code, out, err = run("assess", path)

    assert (code, out) == (2, "")
    assert err
    assert all(line.startswith(str(path)) for line in err.splitlines())


def test_every_problem_of_a_file_has_its_line_and_place(run, tmp_path):
    path = tmp_path / "bad.visit.toml"
    path.write_text(BAD_VISITS["two problems"], "utf-8")

    _, _, err = run("assess", path)

    first, second = err.splitlines()
    assert first.startswith(f"{path}:25: valves[0].head: ")
    assert "clip-on" in first
    assert second.startswith(f"{path}:36: valves[1].role: ")


@pytest.mark.parametrize("words", [["--only", "IU1-valve"], ["--explain", "iu01-VALVE"]])
def test_a_valve_that_is_not_there_is_refused_with_the_nearest_label(run, visit, words):
    code, out, err = run("assess", visit, *words)

    assert (code, out) == (2, "")
    assert "Did you mean IU01-valve" in err


@pytest.mark.parametrize("words", [["--report", "r.docx"], ["--report", "r"], ["--units", "imperial"], ["--ony", "a"]])
def test_an_option_that_is_not_understood_is_refused(run, visit, words):
    code, out, err = run("assess", visit, *words)

    assert (code, out, bool(err)) == (2, "", True)


@pytest.mark.parametrize(
    "words", [[], ["nonsense"], *([command] for command in COMMANDS if command not in ("demo", "serve"))]
)
def test_a_command_without_what_it_needs_is_refused(run, words, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO()))

    code, _, err = run(*words)

    assert code == 3 if words == ["touch"] else (code == 2 and err)


def test_files_that_cannot_be_read_are_refused(run, tmp_path, visit):
    loop = tmp_path / "loop.toml"
    loop.symlink_to(loop)

    for path in (tmp_path, tmp_path / "missing.toml", loop, tmp_path / ("x" * 300), "a\0b"):
        code, out, err = run("assess", path)
        assert (code, out, bool(err)) == (2, "", True)
    code, out, err = run("assess", visit, "--priors", tmp_path)
    assert (code, out, bool(err)) == (2, "", True)


def test_a_closed_pipe_is_quiet(visit):
    read_end, write_end = os.pipe()
    os.close(read_end)

    ran = subprocess.run(
        [sys.executable, "-m", "fifthwire", "assess", str(visit)], stdout=write_end, stderr=subprocess.PIPE, check=False
    )
    os.close(write_end)

    assert (ran.returncode, ran.stderr) == (0, b"")


@pytest.mark.parametrize(
    ("shell", "code"),
    [
        ("assess - <&-", 2),
        ("touch <&-", 3),
        ("assess {visit} >&-", 0),
        ("assess {visit} 2>&-", 0),
        ("assess missing 2>&-", 2),
        ("completion bash >/dev/full", 2),
        ("completion tcsh", 2),
        ("demo --units metric", 2),
        ("new", 2),
    ],
)
def test_no_way_to_start_it_ends_in_a_traceback(visit, shell, code, tmp_path):
    command = f"{sys.executable} -m fifthwire {shell.format(visit=visit)}"

    ran = subprocess.run(["bash", "-c", command], cwd=tmp_path, capture_output=True, text=True, check=False)

    assert (ran.returncode, "Traceback" in ran.stderr) == (code, False), ran.stderr


def test_a_screen_that_prints_only_ascii_is_given_ascii(visit):
    environment = {**os.environ, "PYTHONIOENCODING": "ascii"}
    for words in (
        ["assess", str(visit)],
        ["assess", str(visit), "--explain", "OU1-subcooler"],
        ["assess", str(visit), "--json"],
    ):
        ran = subprocess.run(
            [sys.executable, "-m", "fifthwire", *words], env=environment, capture_output=True, check=False
        )
        assert (ran.returncode, ran.stderr) == (0, b"")
        assert ran.stdout.isascii()
    assert (
        b"[#]"
        in subprocess.run(
            [sys.executable, "-m", "fifthwire", "assess", str(visit)], env=environment, capture_output=True, check=False
        ).stdout
    )


def test_the_version_and_the_help_go_to_standard_output(run):
    code, out, err = run("--version")
    assert (code, out.startswith("fifthwire "), err) == (0, True, "")

    for command in COMMANDS:
        code, out, err = run(command, "--help")
        assert (code, f"usage: fifthwire {command}" in out, err) == (0, True, "")
