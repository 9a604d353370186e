import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from tests.visit_texts import EVERY_KEY, START, VALVE, read

from fifthwire.visitfile import schema, visit_to_json
from fifthwire.visitfile.parsing import parse
from fifthwire.visitfile.writing import plain

VALIDATOR = Draft202012Validator(schema())


def complaints(tree: Any) -> list[str]:
    return [error.message for error in VALIDATOR.iter_errors(tree)]


def as_json(text: str) -> Any:
    return json.loads(json.dumps(plain(parse(text, "x", "toml"))))


def test_the_schema_is_one_of_its_dialect():
    Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("text", [EVERY_KEY, START, START + VALVE], ids=["every key", "no valve", "one valve"])
def test_what_people_write_and_what_we_write_both_go_with_the_schema(text: str):
    assert complaints(as_json(text)) == []
    assert complaints(json.loads(visit_to_json(read("", text)))) == []


@pytest.mark.parametrize(
    "text",
    [
        START.replace("visit/1", "visit/2"),
        START.replace('site = "Quayside House"', ""),
        START.replace("Quayside House", ""),
        START + VALVE.replace('head = "clip-on"', ""),
        START + VALVE + "colour = 3\n",
        START + VALVE + 'access = "stairs"\n',
        START + VALVE + 'readings = [["5", "1"]]\n',
        START + VALVE + 'readings = [["5", "1", -3]]\n',
        START + VALVE + 'readings = [["5", "1", "OL"]]\n',
        START + VALVE + 'head_temperature = "hot"\n',
        START + VALVE + "plug_off = 1\n",
        START + VALVE + 'common = ["1", "1"]\n',
        START + "[meters.a]\nresolution = 0\n",
        START + '[[photographs]]\nsha256 = "abc"\n',
    ],
)
def test_what_the_reader_refuses_for_its_shape_does_not_go_with_the_schema(text: str):
    assert complaints(as_json(text))


def test_a_solenoid_without_a_head_goes_with_the_schema():
    assert complaints(as_json(START + VALVE.replace('head = "clip-on"', 'kind = "solenoid"'))) == []
