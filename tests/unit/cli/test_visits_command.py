"""`fifthwire visits` and `fifthwire register` from the outside."""

import json
from pathlib import Path

import pytest

from fifthwire.cli.main import main
from fifthwire.cli.parser_register import REGISTER_VERBS, VISIT_VERBS
from fifthwire.cli.register import PLACES
from fifthwire.cli.visits import THINGS

VISIT = Path(__file__).parent / "quayside.visit.toml"


@pytest.fixture
def run(capsys, tmp_path, monkeypatch):
    monkeypatch.setenv("FIFTHWIRE_REGISTER", str(tmp_path / "register.sqlite"))

    def ran(*words: object) -> tuple[int, str, str]:
        code = main([str(word) for word in words])
        return (code, *capsys.readouterr())

    return ran


@pytest.fixture
def kept(run):
    """The id of the visit, taken in."""
    code, out, _ = run("visits", "import", VISIT)
    assert code == 0
    return out.strip()


def test_every_verb_says_what_it_takes():
    assert tuple(THINGS) == VISIT_VERBS
    assert tuple(PLACES) == REGISTER_VERBS


def test_a_visit_goes_in_once_and_the_second_time_says_so(run, kept):
    code, out, err = run("visits", "import", VISIT)

    assert (code, out.strip()) == (0, kept)
    assert "nothing has changed" in err
    assert run("visits", "list")[1].splitlines()[1].split()[0] == kept


def test_a_preview_writes_nothing(run, tmp_path):
    run("visits", "import", VISIT)
    other = tmp_path / "b.visit.toml"
    other.write_text(VISIT.read_text("utf-8").replace("64.9", "65.9"), "utf-8")

    code, out, _ = run("visits", "preview", other)

    assert code == 0
    assert "Added: OU1-subcooler, reading: 5 to 1, 65.9 Ω" in out
    assert "Struck out, not in this file any more: OU1-subcooler, reading: 5 to 1, 64.9 Ω" in out
    assert json.loads(run("visits", "list", "--json")[1])["rows"][0]["n_entries"] == len(
        json.loads(run("visits", "show", json.loads(run("visits", "list", "--json")[1])["rows"][0]["id"], "--json")[1])[
            "entries"
        ]
    )


def test_a_preview_says_which_valve_is_told_by_its_label_alone(run, tmp_path):
    run("visits", "import", VISIT)
    other = tmp_path / "b.visit.toml"
    lines = VISIT.read_text("utf-8").replace("2026-05-12", "2026-06-12")
    other.write_text(lines.replace('unit = "OU1"', 'unit = "OU7"'), "utf-8")

    code, out, _ = run("visits", "preview", other)

    assert code == 0
    assert "Taken for the valve of this label, which sits elsewhere: OU1-subcooler in OU7, subcooling valve" in out


def test_what_has_to_be_asked_is_said_with_how_to_answer_it(run, kept, tmp_path):
    other = tmp_path / "b.visit.toml"
    text = VISIT.read_text("utf-8").replace("2026-05-12", "2027-05-12").replace("Quayside House", "Quayside Hous")
    other.write_text(text, "utf-8")

    code, _, err = run("visits", "import", other)
    _, out, _ = run("visits", "preview", other)

    assert code == 2
    assert "No site is named Quayside Hous" in err
    answer = next(word for word in out.split() if word.startswith("site=")).rstrip(":")
    assert run("visits", "import", other, "--answer", answer)[0] == 0
    assert {row["site"] for row in json.loads(run("visits", "list", "--json")[1])["rows"]} == {"Quayside House"}


def test_a_visit_is_added_to_struck_judged_and_signed(run, kept, tmp_path):
    reading = '{"reading": ["5", "1", 46.1]}'
    code, out, _ = run("visits", "add", kept, "valves/OU1-subcooler/readings", reading, "--entry", "r1")
    assert (code, out) == (0, "r1  OU1-subcooler, reading: 5 to 1, 46.1 Ω\n")
    assert run("visits", "strike", kept, "r1", "--why", "wrong plug")[0] == 0
    assert "[struck out by" in run("visits", "show", kept)[1]

    code, out, _ = run("visits", "judge", kept)
    assert code == 0
    assert "replace the head" in out
    code, out, _ = run("visits", "sign", kept, "--json")
    assert (code, json.loads(out)["number"]) == (0, 1)
    assert run("visits", "issue", kept, 1, tmp_path / "issue.pdf")[0] == 0
    assert (tmp_path / "issue.pdf").read_bytes().startswith(b"%PDF")
    assert run("visits", "issue", kept, 1, tmp_path / "issue.pdf")[0] == 2
    assert run("visits", "file", kept, tmp_path / "again.visit.toml")[0] == 0
    assert "nothing has changed" in run("visits", "import", tmp_path / "again.visit.toml")[2]


def test_what_the_manuals_say_otherwise_is_shown_and_taken_over_when_told(run, kept):
    assert run("visits", "take", kept, "clip")[0] == 4
    assert run("manuals", "add", "clip", '{"winding": "unipolar-5", "resistance": "100 ohm"}')[0] == 0
    assert f"fifthwire visits take {kept} clip" in run("visits", "show", kept)[1]

    code, out, _ = run("visits", "take", kept, "clip")

    assert code == 0
    assert "spec clip: winding unipolar 5, resistance 100 Ω" in out
    assert "otherwise by now" not in run("visits", "show", kept)[1]
    assert run("visits", "take", kept, "clip")[0] == 2


def test_a_visit_is_begun_with_the_valves_of_its_system(run, kept):
    code, out, _ = run("visits", "begin", "QH-1", "--date", "2027-05-12", "--technician", "RT", "--json")

    begun = json.loads(out)
    assert (code, begun["date"], begun["technician"], begun["n_valves"]) == (0, "2027-05-12", "RT", 3)
    assert run("visits", "begin", "QH-1", "--date", "tomorrow")[0] == 2


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("visits", "show"), 2),
        (("visits", "show", "nothing"), 4),
        (("visits", "judge", "nothing"), 4),
        (("visits", "begin", "nowhere"), 4),
        (("visits", "import", "nothing.visit.toml"), 2),
        (("visits", "import", "nothing.visit.toml", "--answer", "new"), 2),
        (("visits", "add", "nothing", "notes", "{}"), 4),
        (("visits", "add", "nothing", "notes", "[]"), 2),
        (("visits", "add", "nothing", "notes", "{"), 2),
        (("visits", "issue", "nothing", "first", "a.pdf"), 2),
        (("register", "backup"), 2),
        (("register", "move", "a"), 2),
        (("register", "move", "nothing.sqlite", "b.sqlite"), 4),
        (("register", "restore", "nothing.sqlite"), 4),
    ],
)
def test_what_cannot_be_ends_with_its_code_and_a_word(run, kept, words, code, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    found, out, err = run(*words)

    assert (found, out) == (code, "")
    assert err.strip()
    assert "fault of the program" not in err


def test_without_a_register_nothing_is_made_by_looking(run, tmp_path):
    assert run("visits", "list")[0] == 4
    assert run("register", "check")[0] == 4
    assert not (tmp_path / "register.sqlite").exists()


def test_a_register_is_checked_backed_up_moved_and_restored(run, kept, tmp_path):
    before = json.loads(run("register", "check", "--json")[1])
    assert before["is_whole"]
    assert "whole" in run("register", "check")[1]

    assert run("register", "backup", tmp_path / "b.sqlite")[0] == 0
    code, out, _ = run("register", "restore", tmp_path / "b.sqlite", "--register", tmp_path / "again.sqlite", "--json")
    assert (code, json.loads(out)["sha256"]) == (0, before["sha256"])
    assert run("register", "restore", tmp_path / "b.sqlite")[0] == 4
    code, out, _ = run("register", "move", tmp_path / "again.sqlite", tmp_path / "moved.sqlite")
    assert code == 0
    assert "read again and the same" in out
    assert run("visits", "list", "--register", tmp_path / "moved.sqlite")[1].split()[8] == kept


def test_a_damaged_register_is_named_with_exit_4(run, kept, tmp_path):
    path = tmp_path / "register.sqlite"
    run("register", "backup", tmp_path / "b.sqlite")
    for one in (path, path.with_name(path.name + "-wal"), path.with_name(path.name + "-shm")):
        one.unlink(missing_ok=True)
    path.write_bytes((tmp_path / "b.sqlite").read_bytes()[:-5000])

    code, out, _ = run("register", "check")

    assert code == 4
    assert "is damaged" in out
    assert run("register", "check", "--json")[0] == 4
