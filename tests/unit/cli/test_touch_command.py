"""`fifthwire touch`, driven through a pipe as a person drives it at the terminal."""

import io
import os
import pty
import re
import select
import signal
import subprocess
import sys
import time
from itertools import combinations
from pathlib import Path

import pytest

from fifthwire.cli.main import main
from fifthwire.model.valve import PairReading
from fifthwire.workflow.visits import open_visit

VISIT = (Path(__file__).parent / "quayside.visit.toml").read_text("utf-8")
EMPTY = VISIT.replace('readings = [["5", "1", 62.1], ["5", "2", 62.3], ["5", "3", 62.2], ["5", "4", 62.0]]\n', "")
"""IU01-valve has its spec, meter, temperature and common, and no reading yet."""
GOOD = {frozenset(pair): 124.3 for pair in combinations("1234", 2)} | {frozenset(("5", wire)): 62.2 for wire in "1234"}
"""What the meter shows on a good head, by pair."""
OPEN_3 = {pair: None if "3" in pair else ohm for pair, ohm in GOOD.items()}


class Technician:
    """Standard input of somebody who touches the pins that were asked for last and types what the meter shows."""

    def __init__(self, head, out, *, first=(), most=30):
        self._head, self._out, self._first, self._left = head, out, list(first), most

    def isatty(self) -> bool:
        return False

    def readline(self) -> str:
        if self._first:
            return self._first.pop(0) + "\n"
        asked = re.findall(r"Touch (\S+) and (\S+):", self._out.getvalue())
        self._left -= 1
        if self._left < 0:
            return ""
        ohm = self._head[frozenset(asked[-1])]
        return "open\n" if ohm is None else f"{ohm}\n"


@pytest.fixture
def visit(tmp_path):
    path = tmp_path / "a.visit.toml"
    path.write_text(EMPTY, "utf-8")
    return path


@pytest.fixture
def touch(capsys, monkeypatch):
    """Run with what is typed; returns exit code, output and talk."""
    monkeypatch.delenv("COLUMNS", raising=False)

    def touched(typed: str | bytes, *words: object) -> tuple[int, str, str]:
        raw = typed if isinstance(typed, bytes) else typed.encode()
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8"))
        code = main(["touch", *(str(word) for word in words)])
        return (code, *capsys.readouterr())

    return touched


@pytest.fixture
def measure(monkeypatch):
    """Run with somebody at the head; returns exit code and output."""
    monkeypatch.delenv("COLUMNS", raising=False)

    def measured(head, *words: object, first=(), most=30) -> tuple[int, str]:
        out = io.StringIO()
        monkeypatch.setattr(sys, "stdout", out)
        monkeypatch.setattr(sys, "stdin", Technician(head, out, first=first, most=most))
        code = main(["touch", *(str(word) for word in words)])
        return code, out.getvalue()

    return measured


def readings_in(path, label="IU01-valve"):
    return next(valve for valve in open_visit(str(path)).visit.valves if valve.id == label).readings


def test_a_good_head_ends_by_itself_and_its_readings_stand_in_the_file(measure, visit):
    code, out = measure(GOOD, "--into", visit, "IU01-valve")

    assert code == 0
    assert "Windings good." in out
    assert "More readings would change nothing." in out
    readings = readings_in(visit)
    assert {wire for reading in readings for wire in (reading.wire_a, reading.wire_b)} == set("12345")
    assert len(readings) <= 5
    assert all(reading.ohm == GOOD[frozenset((reading.wire_a, reading.wire_b))] for reading in readings)


def test_an_open_winding_is_proved_from_a_second_wire(measure, visit):
    code, out = measure(OPEN_3, "--into", visit, "IU01-valve")

    assert code == 0
    assert "Windings faulty: open winding, wire 3: sure." in out
    opens = [reading for reading in readings_in(visit) if reading.is_open]
    assert len({frozenset((reading.wire_a, reading.wire_b)) for reading in opens}) >= 2


def test_a_common_that_nobody_knows_is_found(measure, visit):
    visit.write_text(EMPTY.replace('common = "5"\n', ""), "utf-8")

    code, out = measure(GOOD, "--into", visit, "IU01-valve")

    assert code == 0
    assert "Common 5: sure." in out
    assert len(readings_in(visit)) <= 7


def test_readings_that_no_head_gives_are_said_and_can_be_struck_out(measure, visit):
    _, out = measure(GOOD, "--into", visit, "IU01-valve", first=["5 1 20", "5 2 900", "undo", "undo"])

    assert "No head reads like this: check the wire numbers; undo strikes out the last reading." in out
    assert "Windings good." in out


def test_the_pair_to_touch_is_named_and_drawn(touch, visit):
    _, out, _ = touch("", "--into", visit, "IU01-valve")

    assert "Touch 5 and 1:" in out
    assert "  1  2  3  4  5\n  ●  ○  ○  ○  ●\n  └───────────┘" in out


def test_the_order_of_making_safe_is_shown_once_before_the_first_head(touch, visit):
    _, out, _ = touch("62.1\n62.1\n", "--into", visit, "IU01-valve")

    assert out.count("Lock out every supply") == 1
    assert out.index("Lock out every supply") < out.index("Touch 5 and 1:")


def test_the_end_of_the_input_keeps_what_was_read(touch, visit):
    code, out, _ = touch("62.1", "--into", visit, "IU01-valve")

    assert code == 0
    assert "1 reading added to IU01-valve" in out
    assert readings_in(visit) == (PairReading("5", "1", 62.1),)


def test_nothing_read_is_no_answer_and_leaves_the_file_as_it_was(touch, visit):
    code, _, _ = touch("", "--into", visit, "IU01-valve")

    assert (code, visit.read_text("utf-8")) == (3, EMPTY)


def test_undo_strikes_out_the_last_reading_in_the_file_too(touch, visit):
    code, out, _ = touch("5 1 62.1\n5 2 62.0\nundo\n", "--into", visit, "IU01-valve")

    assert code == 0
    assert "Struck out: 5-2 62 Ω." in out
    assert readings_in(visit) == (PairReading("5", "1", 62.1),)


def test_undo_does_not_touch_what_the_file_held(touch, visit):
    touch("62.1\ndone\n", "--into", visit, "IU01-valve")

    _, out, _ = touch("undo\n", "--into", visit, "IU01-valve")

    assert "There is nothing to undo" in out
    assert readings_in(visit) == (PairReading("5", "1", 62.1),)


def test_a_session_goes_on_where_the_file_stopped(touch, measure, visit):
    touch("62.2\ndone\n", "--into", visit, "IU01-valve")

    _, out = measure(GOOD, "--into", visit, "IU01-valve")

    assert "Read: 5-1 62.2 Ω" in out[: out.index("Touch ")]
    assert "Windings good." in out


def test_a_settled_head_is_asked_nothing(touch, tmp_path):
    path = tmp_path / "a.visit.toml"
    path.write_text(VISIT, "utf-8")

    code, out, _ = touch("", "--into", path, "OU1-subcooler")

    assert (code, path.read_text("utf-8")) == (0, VISIT)
    assert "More readings would change nothing." in out


def test_same_again_is_the_value_read_before(touch, visit):
    touch("62.1\n5 2 same again\ndone\n", "--into", visit, "IU01-valve")

    assert readings_in(visit) == (PairReading("5", "1", 62.1), PairReading("5", "2", 62.1))


def test_lines_of_a_pipe_that_are_not_understood_are_said_and_the_rest_is_kept(touch, visit):
    code, _, err = touch(b"sixty\n5 1 62.1\n\xff\xfe\x00\n1 9 4\n", "--into", visit, "IU01-valve")

    assert code == 2
    assert "Not understood: sixty" in err
    assert readings_in(visit) == (PairReading("5", "1", 62.1),)


@pytest.mark.parametrize("words", [(), ("--into", "VISIT", "IU01-valve")])
def test_a_pipe_of_which_nothing_is_understood_is_wrong_input(touch, visit, words):
    code, _, err = touch("what\n" + "x" * 5000 + "\n", *(str(visit) if word == "VISIT" else word for word in words))

    assert (code, visit.read_text("utf-8")) == (2, EMPTY)
    assert max(map(len, err.splitlines())) < 200


def test_another_pair_than_the_one_asked_for_can_be_read(touch, visit):
    touch("1 2 124.3\n", "--into", visit, "IU01-valve")

    assert readings_in(visit) == (PairReading("1", "2", 124.3),)


def test_a_state_after_cleaning_is_a_measurement_of_its_own(touch, visit):
    touch("62.1\n", "--into", visit, "IU01-valve", "--when", "after-cleaning")

    valve = next(valve for valve in open_visit(str(visit)).visit.valves if valve.id == "IU01-valve")
    assert valve.readings == ()
    assert [(of.when, len(of.readings)) for of in valve.measurements] == [("after-cleaning", 1)]


def test_json_is_written_into_too(touch, visit, tmp_path):
    from fifthwire.visitfile import visit_to_json

    path = tmp_path / "a.visit.json"
    path.write_text(visit_to_json(open_visit(str(visit)).visit), "utf-8")

    touch("62.1\n", "--into", path, "IU01-valve")

    assert readings_in(path) == (PairReading("5", "1", 62.1),)


def test_without_a_file_the_head_is_asked_for(measure):
    code, out = measure(GOOD, first=["5", "60 ohm 10 % 20 degC", "31 degC", ""])

    assert code == 0
    assert "How many wires has the plug?" in out
    assert "Windings good." in out
    assert "Common 5: sure." in out


def test_a_head_with_six_wires_and_no_manual_is_guided_too(measure):
    stars = {"2": "13", "5": "46"}
    head = {frozenset(pair): None for pair in combinations("123456", 2)}
    for common, (one, other) in stars.items():
        head |= {frozenset((common, one)): 150.1, frozenset((common, other)): 150.2, frozenset((one, other)): 300.3}

    code, out = measure(head, first=["6", "", "", "2 5"])

    assert code == 0
    assert "Touch 2 and 1:" in out
    assert "Windings good." in out


def test_pins_may_have_names(touch):
    _, out, _ = touch("4\n\n\n90.1\n", "--pins", "red blue white black")

    assert "Touch red and blue:" in out


def test_an_answer_that_is_not_understood_is_asked_for_again(touch):
    code, out, err = touch("seven\n5\nsixty ohm\n62 ohm\nhot\n20 degC\n9\n5\n62.0\n")

    assert code == 2
    assert "Touch 5 and 1: 62.0" in out
    assert err.count("\n") == 4


@pytest.mark.parametrize(
    "words",
    [
        ("--into", "missing.toml", "a"),
        ("--into", "-", "a"),
        ("--into", ".", "a"),
        ("--into", "VISIT", "IU99-valve"),
        ("--into", "VISIT", "IU01-valve", "--pins", "1 2 3"),
        ("--into", "VISIT", "IU01-valve", "--pins", "1 1 2 3 4"),
        ("--into", "VISIT"),
        ("--when", "yesterday"),
        ("--priors", "."),
    ],
)
def test_what_cannot_be_used_is_refused(touch, visit, words):
    code, _, err = touch("5\n62\n", *(str(visit) if word == "VISIT" else word for word in words))

    assert (code, bool(err), visit.read_text("utf-8")) == (2, True, EMPTY)


def test_a_plug_that_is_on_the_board_is_not_measured(touch, tmp_path):
    path = tmp_path / "a.visit.toml"
    path.write_text(EMPTY.replace("plug_off = true", "plug_off = false"), "utf-8")

    code, _, err = touch("62.1\n", "--into", path, "IU01-valve")

    assert code == 2
    assert "no reading means anything" in err


def test_ctrl_c_at_a_terminal_keeps_what_was_read(visit):
    ours, theirs = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "fifthwire", "touch", "--into", str(visit), "IU01-valve"],
        stdin=theirs, stdout=theirs, stderr=theirs, env={**os.environ, "TERM": "dumb", "COLUMNS": "100"},
    )  # fmt: skip
    os.close(theirs)
    try:
        seen = read_until(ours, rb"Touch 5 and 1:")
        os.write(ours, b"62.1\n")
        seen += read_until(ours, rb"Nothing wrong so far.*Touch \d and \d:")
        process.send_signal(signal.SIGINT)
        seen += read_until(ours, rb"added to")
        assert process.wait(timeout=20) == 0
    finally:
        process.kill()
        process.wait()
        os.close(ours)

    assert b"Traceback" not in seen
    assert readings_in(visit) == (PairReading("5", "1", 62.1),)


def read_until(descriptor: int, wanted: bytes) -> bytes:
    """What the program printed up to the words wanted, a pattern; fails after 20 s."""
    seen, end = b"", time.monotonic() + 20
    while not re.search(wanted, seen, re.DOTALL):
        assert time.monotonic() < end, seen
        if select.select([descriptor], [], [], 0.2)[0]:
            seen += os.read(descriptor, 4096)
    return seen
