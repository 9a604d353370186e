"""Readings put into a visit file; everything else stays as it was written."""

import json

import pytest

from fifthwire.model.errors import VisitFileError
from fifthwire.model.valve import PairReading
from fifthwire.workflow.keeping import ReadingsKept, keep_readings, with_readings
from fifthwire.workflow.visits import open_visit

TOML = """\
# Quayside House, second visit
format = "fifthwire/visit/1"

[visit]
date = 2026-05-12   # a Tuesday
site = "Quayside House"
system = "QH-1"

[[valves]]
id = "none-yet"     # on the roof
unit = "OU1"
role = "main"
head = "bolt-on"

[valves.inspection]
cracks = false

[[valves]]
id = "some"
unit = "OU1"
role = "injection"
head = "clip-on"
readings = [        # hot
  ["5", "1", 64.90],
  ["5", "2", "64.8 ohm"],   # twice
]

[[valves]]
id = "states"
unit = "OU1"
role = "subcooler-bypass"
head = "clip-on"
readings = [["5", "1", 70.0]]

[[valves.measurements]]
when = "after-cleaning"   # green pin
readings = []

[[work]]
valve = "states"
done = "cleaned"
"""
TAKEN = (PairReading("5", "3", 64.7), PairReading("5", "4", None))


def opened(tmp_path, text=TOML, name="a.visit.toml"):
    path = tmp_path / name
    path.write_bytes(text.encode())
    return open_visit(str(path))


def lines_added(before: str, after: str) -> list[str]:
    """The lines of `after` that are not in `before`, where every line of `before` is still there, in order."""
    rest = iter(after.splitlines())
    added = []
    for line in before.splitlines():
        for other in rest:
            if other == line:
                break
            added.append(other)
        else:
            pytest.fail(f"lost: {line}")
    return added + list(rest)


def test_readings_of_a_valve_without_any_stand_before_its_tables(tmp_path):
    text = with_readings(opened(tmp_path), 0, TAKEN, state=None).decode()

    assert lines_added(TOML, text) == ["readings = [", '  ["5", "3", 64.7],', '  ["5", "4", "open"],', "]"]


def test_comments_and_layout_of_readings_that_are_there_stay(tmp_path):
    text = with_readings(opened(tmp_path), 1, TAKEN, state=None).decode()

    assert [line.strip() for line in lines_added(TOML, text)] == ['["5", "3", 64.7],', '["5", "4", "open"],']


def test_a_further_state_is_added_to(tmp_path):
    text = with_readings(opened(tmp_path), 2, TAKEN, state=0).decode()

    assert 'when = "after-cleaning"   # green pin' in text
    assert 'readings = [["5", "1", 70.0]]' in text


def test_a_state_that_is_not_there_yet_is_made(tmp_path):
    for at, state in ((0, 0), (2, 1)):
        text = with_readings(opened(tmp_path), at, TAKEN, state=state, when="after-replacement").decode()

        assert 'when = "after-replacement"' in lines_added(TOML, text)


def test_windows_line_ends_stay(tmp_path):
    text = with_readings(opened(tmp_path, TOML.replace("\n", "\r\n")), 1, TAKEN, state=None).decode()

    assert text.count("# a Tuesday\r\n") == 1


def test_valves_written_in_one_line_are_added_to(tmp_path):
    head = TOML[: TOML.index("[[valves]]")]
    text = f'valves = [{{ id = "a", unit = "u", role = "main", head = "bolt-on" }}]\n{head}'

    kept = with_readings(opened(tmp_path, text), 0, TAKEN, state=None).decode()

    assert "readings" in kept


@pytest.mark.parametrize("indent", [None, 1, 2, "\t"])
def test_json_keeps_its_order_and_indent(tmp_path, indent):
    tree = {
        "format": "fifthwire/visit/1",
        "visit": {"system": "QH-1", "site": "Ælf", "date": "2026-05-12"},
        "valves": [{"id": "a", "unit": "u", "role": "main", "head": "bolt-on", "readings": [["1", "2", 150]]}],
    }
    before = json.dumps(tree, indent=indent, ensure_ascii=False)

    text = with_readings(opened(tmp_path, before, "a.visit.json"), 0, TAKEN, state=None).decode()

    tree["valves"][0]["readings"] += [["5", "3", 64.7], ["5", "4", "open"]]
    assert text == json.dumps(tree, indent=indent, ensure_ascii=False) + "\n"


def test_readings_are_kept_one_after_the_other_and_taken_back(tmp_path):
    visit = opened(tmp_path)
    kept = ReadingsKept(opened=visit, written=visit.content)

    for count in (1, 2, 1, 0):
        kept = keep_readings(kept, "some", TAKEN[:count], state=None, when=None)

        now = open_visit(visit.name).visit.valves[1].readings
        assert now == visit.visit.valves[1].readings + TAKEN[:count]
    assert (tmp_path / "a.visit.toml").read_text() == TOML


def test_a_file_that_somebody_else_changed_is_left_alone_and_the_readings_are_said(tmp_path):
    visit = opened(tmp_path)
    (tmp_path / "a.visit.toml").write_text(TOML + "\n# mine\n")

    with pytest.raises(VisitFileError) as raised:
        keep_readings(ReadingsKept(opened=visit, written=visit.content), "some", TAKEN, state=None, when=None)

    assert '["5", "3", 64.7], ["5", "4", "open"]' in raised.value.problems[0].hint
    assert (tmp_path / "a.visit.toml").read_text() == TOML + "\n# mine\n"
