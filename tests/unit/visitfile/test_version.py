from datetime import date

import pytest
from tests.visit_texts import START, VALVE, the_problem

from fifthwire.model.errors import Problem
from fifthwire.visitfile import read_visit, visit_to_json


def test_a_higher_minor_keeps_unknown_keys_says_so_and_writes_them_back():
    text = START.replace("visit/1", "visit/1.4") + VALVE + 'torque = "2 N m"\nseen = 2026-05-12\n[shine]\nlux = 3\n'

    found = read_visit(text, name="a", syntax="toml")

    assert found.visit.valves[0].extra == {"torque": "2 N m", "seen": date(2026, 5, 12)}
    assert [one.code for one in found.warnings].count("visit.key-of-later-version") == 3
    again = read_visit(visit_to_json(found.visit), name="b", syntax="json").visit
    assert again.format_minor == 4
    assert again.extra == {"shine": {"lux": 3}}
    assert again.valves[0].extra == {"torque": "2 N m", "seen": "2026-05-12"}


@pytest.mark.parametrize("version", ["1", "1.0"])
def test_an_unknown_key_of_this_version_is_a_problem_with_the_nearest_known_one(version: str):
    found = the_problem(VALVE + 'insulaton = "120 Mohm"\n', START.replace("visit/1", f"visit/{version}"))

    assert found == Problem(
        "valves[0].insulaton", "insulaton is no key known here", "did you mean insulation?", line=11
    )


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('format = "fifthwire/visit/2"', "version 2"),
        ('format = "fifthwire/visit/2.1"', "version 2"),
        ('format = "fifthwire/log-map/1"', "the map of a log"),
        ('format = "fifthwire/assessment/1"', "what the program made of a visit"),
        ('format = "someone/else/1"', "another format"),
        ('format = "fifthwire/visit"', "no format"),
        ('format = "fifthwire/visit/x"', "no format"),
        ("format = 1", "no format"),
        ("", "format is missing"),
    ],
)
def test_another_format_or_major_version_is_refused_with_what_it_is(line: str, says: str):
    found = the_problem("", START.replace('format = "fifthwire/visit/1"', line))

    assert found.place == "format"
    assert says in found.message


@pytest.mark.parametrize(("version", "hint"), [("2", "newer version"), ("0.9", 'write format = "fifthwire/visit/1"')])
def test_only_a_later_major_version_is_said_to_need_a_newer_program(version: str, hint: str):
    found = the_problem("", START.replace("visit/1", f"visit/{version}"))

    assert hint in found.hint
