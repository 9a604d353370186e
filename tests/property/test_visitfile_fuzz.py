"""Whatever a file holds, reading it ends in a visit or in problems with places: never in a traceback, never late."""

import json
from datetime import date
from time import process_time
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fifthwire.model.errors import VisitFileError
from fifthwire.model.fields import Kind, describe
from fifthwire.model.visit import Visit
from fifthwire.visitfile import read_visit, visit_to_json

LATEST_S = 2.0
"""Wrong files are refused in under 2 s, of this process."""
WORDS = [
    "open",
    "OL",
    "never",
    "10 %",
    "-3 ohm",
    "118 psi",
    "9 delta_degF",
    "40 degF",
    ">100 Mohm",
    "2026-05-12",
    "",
    "5",
]
VALUES = st.recursive(
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(),
        st.floats(),
        st.sampled_from(WORDS),
        st.text(max_size=8),
        st.dates().map(str),
    ),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=4), inner, max_size=3)),
    max_leaves=6,
)


def tables(record: type) -> st.SearchStrategy[Any]:
    """Tables with the right keys, mostly, and anything behind them."""
    inner: dict[str, st.SearchStrategy[Any]] = {}
    for note in describe(record):
        value = VALUES if note.record is None else st.deferred(lambda of=note.record: tables(of))
        if note.kind is Kind.LIST:
            value = st.lists(value, max_size=2)
        elif note.kind is Kind.TABLE:
            value = st.dictionaries(st.sampled_from(["a", "b"]), value, max_size=2)
        elif note.choices:
            value = st.sampled_from(note.choices) | value
        inner[note.key] = value | VALUES
    return st.fixed_dictionaries({}, optional=inner)


def read(text: str | bytes, syntax: Any) -> None:
    started = process_time()
    try:
        found = read_visit(text, name="fuzz", syntax=syntax)
    except VisitFileError as err:
        assert err.problems
        assert all(problem.message for problem in err.problems)
        "".join(f"{problem.place}{problem.message}{problem.hint}" for problem in err.problems).encode()
    else:
        again = read_visit(visit_to_json(found.visit), name="again", syntax="json")
        assert again.visit == found.visit
    assert process_time() - started < LATEST_S


@settings(max_examples=300, deadline=None)
@given(tables(Visit), st.sampled_from(["fifthwire/visit/1", "fifthwire/visit/1.3", "fifthwire/visit/2", "x/1", 1]))
def test_any_tree_with_the_keys_of_a_visit_is_read_or_refused(tree: dict[str, Any], version: Any):
    read(json.dumps({"format": version, **tree}), "json")


@given(st.binary(max_size=200), st.sampled_from(["toml", "json"]))
def test_any_bytes_are_read_or_refused(content: bytes, syntax: str):
    read(content, syntax)


@given(st.text(max_size=200), st.sampled_from(["toml", "json"]))
def test_any_text_is_read_or_refused(text: str, syntax: str):
    read(text, syntax)


GOOD = 'format = "fifthwire/visit/1"\n[visit]\ndate = 2026-05-12\nsite = "S"\nsystem = "1"\n[[valves]]\nid = "A"\n'


@given(st.integers(0, len(GOOD)), st.integers(0, 6), st.text("[]{}=\"'.\\\n#-_0\u2028\x00", max_size=4))
def test_a_good_file_cut_and_scratched_is_read_or_refused(at: int, lost: int, put: str):
    read(GOOD[:at] + put + GOOD[at + lost :], "toml")


HEAD = 'format = "fifthwire/visit/1"\n'
HOSTILE = {
    "deep arrays": (HEAD + "x = " + "[" * 100_000, "toml"),
    "deep closed arrays": (HEAD + "x = " + "[" * 3000 + "]" * 3000, "toml"),
    "deep inline tables": (HEAD + "x = " + "{a=" * 50_000, "toml"),
    "33 deep": (HEAD + "x = " + "[" * 33 + "]" * 33, "toml"),
    "a key of 200,000 parts": (HEAD + "a." * 200_000 + "a = 1", "toml"),
    "a header of 200,000 parts": (HEAD + "[" + "a." * 200_000 + "a]", "toml"),
    "quoted parts": (HEAD + '"a" . ' * 100_000 + "a = 1", "toml"),
    "an inline key of 100,000 parts": (HEAD + "x = {" + "a." * 100_000 + "a = 1}", "toml"),
    "a number of 41 characters": (HEAD + "x = 1." + "0" * 39, "toml"),
    "a whole number of 41 digits": (HEAD + "x = " + "9" * 41, "toml"),
    "a number of 100,000 digits": (HEAD + "x = " + "9" * 100_000, "toml"),
    "a long number in a string": (HEAD + '[visit]\naltitude = "' + "9" * 41 + ' m"', "toml"),
    "nan": (HEAD + "[system]\nservice_state_minutes = nan", "toml"),
    "an infinite number": (HEAD + "[system]\nservice_state_minutes = -inf", "toml"),
    "over 10 MB": (HEAD + "#" * 10_000_001, "toml"),
    "backslashes": (HEAD + 'bad = "' + "\\\\" * 500_000 + '"', "toml"),
    "quotes": (HEAD + 'bad = """' + '""\\"' * 200_000 + '"""', "toml"),
    "a million brackets in a comment": (HEAD + "#" + "[." * 1_000_000 + "\nbad = 1", "toml"),
    "json deep": ("[" * 200_000, "json"),
    "json deep objects": ('{"a":' * 50_000, "json"),
    "json nan": ('{"format": "fifthwire/visit/1", "x": NaN}', "json"),
    "json infinite": ('{"format": "fifthwire/visit/1", "x": -Infinity}', "json"),
    "json too large": ('{"format": "fifthwire/visit/1", "x": 1e999}', "json"),
    "json many digits": ('{"x": ' + "1" * 100_000 + "}", "json"),
    "json duplicate keys": ('{"x": 1, ' * 1 + '"x": 2, ' * 200_000 + '"y": 1}', "json"),
    "json half a character": ('{"format": "\\ud800"}', "json"),
    "json not an object": ("3", "json"),
    "json empty": ("", "json"),
    "utf-16": ("format = 1".encode("utf-16"), "toml"),
    "utf-16 without mark": ("format = 1".encode("utf-16-le"), "toml"),
    "latin-1": ('site = "Caf\xe9"'.encode("latin-1"), "toml"),
    "nul": ('site = "a\0"', "toml"),
    "half a character": ('site = "\ud800"', "toml"),
    "control characters": (HEAD + 'x = "\\u001b[2J"', "toml"),
    "a million values": (HEAD + "x = [" + "1," * 1_000_000 + "]", "toml"),
    "json a million values": ('{"x": [' + "[]," * 1_000_000 + "[]]}", "json"),
    "just few enough values": (HEAD + "x = [" + "1," * 119_000 + "]", "toml"),
    "json just few enough values": ('{"x": [' + "[]," * 59_000 + "[]]}", "json"),
    "many tables": (HEAD + "[[x]]\n" * 59_000, "toml"),
    "many keys": (HEAD + "".join(f"k{n}=1\n" for n in range(119_000)), "toml"),
    "a brace in a list beside a row of dots": (HEAD + "x = [}\n" + "." * 40, "toml"),
    "fifty thousand problems": (HEAD + "[[valves]]\n" * 50_000, "toml"),
}


@pytest.mark.parametrize("hostile", HOSTILE)
def test_a_hostile_file_is_refused_in_time(hostile: str):
    text, syntax = HOSTILE[hostile]
    started = process_time()

    with pytest.raises(VisitFileError) as caught:
        read_visit(text, name="hostile", syntax=syntax)  # type: ignore[arg-type]

    assert process_time() - started < LATEST_S
    assert len(caught.value.problems) <= 1001


def test_dates_at_the_ends_of_the_calendar_are_no_traceback():
    for at in ("0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00"):
        tree = {"format": "fifthwire/visit/1", "notes": [{"text": "x", "at": at}]}
        with pytest.raises(VisitFileError):
            read_visit(json.dumps(tree), name="x", syntax="json")
    assert date.min.year == 1
