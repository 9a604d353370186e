"""Any visit written as JSON reads back equal, and any quantity means the same in every unit of its kind."""

import json
from datetime import UTC, date, datetime
from math import inf
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from fifthwire.model.choices import LOG_CAUSES
from fifthwire.model.fields import FieldNote, Kind, describe
from fifthwire.model.running import Opening
from fifthwire.model.units import convert
from fifthwire.model.valve import Insulation, PairReading
from fifthwire.model.visit import Accuracy, Tolerance, Visit
from fifthwire.visitfile import read_visit, schema, template, visit_to_json

NAMES = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc", "Zs")), min_size=1, max_size=6)
TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), min_size=1, max_size=12).filter(
    str.strip
)
OHMS = st.floats(0.0, 1e7, allow_subnormal=False)
PERCENT = st.integers(1, 99_999).map(lambda thousandths: float(f"{thousandths / 1000}") / 100.0)
SHARES = PERCENT.filter(lambda frac: 0.0 < frac < 1.0)
OPENINGS = st.one_of(st.floats(0, 2000).map(lambda p: Opening(pulses=p)), SHARES.map(lambda f: Opening(frac=f)))
WIRES = st.sampled_from(["1", "2", "3", "red", "5"])
SPECIALS: dict[str, st.SearchStrategy[Any]] = {
    "tolerance": st.one_of(SHARES.map(lambda f: Tolerance(frac=f)), st.floats(0.1, 50).map(lambda o: Tolerance(ohm=o))),
    "accuracy": st.builds(Accuracy, SHARES, st.integers(0, 50).map(float)),
    "ohm-pair": st.tuples(st.floats(1, 1e4), st.floats(1, 1e4)),
    "readings": st.lists(
        st.tuples(st.permutations(["1", "2", "3", "red"]), st.none() | OHMS).map(
            lambda row: PairReading(row[0][0], row[0][1], row[1])
        ),
        max_size=4,
    ).map(tuple),
    "insulation": st.builds(Insulation, st.floats(0, 1e4), st.booleans()),
    "insulation-test": st.sampled_from(["500 V", "250.5 V", "meter"]),
    "wires": st.lists(WIRES, max_size=2, unique=True).map(tuple),
    "day-or-never": st.dates() | st.just("never"),
    "pulses": st.booleans() | st.dictionaries(WIRES, st.booleans(), min_size=1, max_size=4),
    "opening": OPENINGS,
    "opening-pair": st.tuples(OPENINGS, OPENINGS),
    "kelvin-pair": st.tuples(st.floats(-50, 50), st.floats(-50, 50)),
    "curve-table": st.lists(st.floats(-40, 120), min_size=2, max_size=5, unique=True).map(
        lambda points: tuple((point, 1000.0 * (200 - place)) for place, point in enumerate(sorted(points)))
    ),
    "three-numbers": st.tuples(*[st.floats(-1, 1)] * 3),
    "ohm-or-open": OHMS | st.just(inf),
    "sha256": st.text("0123456789abcdef", min_size=64, max_size=64),
    "log-likelihood": st.dictionaries(st.sampled_from(LOG_CAUSES), st.floats(-9, 0), min_size=1),
}
VALIDATOR = Draft202012Validator(schema())
REFERENCES = ("spec", "meter", "curve")
"""These must name what is in the file: left out here, tested by hand elsewhere."""


def values(note: FieldNote) -> st.SearchStrategy[Any]:
    if note.kind is Kind.SPECIAL:
        return SPECIALS[note.special]
    if note.kind is Kind.CHOICE:
        return st.sampled_from(note.choices)
    if note.kind in (Kind.NUMBER, Kind.QUANTITY):
        low = note.low if note.low is not None else (note.above or 0.0) + 0.5 if note.above is not None else -200.0
        return st.floats(low, note.high if note.high is not None else low + 1e4)
    if note.record is None:
        return {
            Kind.TEXT: TEXTS,
            Kind.FLAG: st.booleans(),
            Kind.INTEGER: st.integers(2000, 2100),
            Kind.DAY: st.dates(),
            Kind.MOMENT: st.datetimes(datetime(1900, 1, 1), datetime(2100, 1, 1), timezones=st.just(UTC)),
        }[note.kind]
    inner = records(note.record)
    if note.kind is Kind.LIST:
        return st.lists(inner, max_size=2).map(tuple)
    return inner if note.kind is Kind.RECORD else st.dictionaries(NAMES, inner, max_size=2)


def records(record: type) -> st.SearchStrategy[Any]:
    notes = [note for note in describe(record) if note.name not in (*REFERENCES, "voids", "entry", "time_zone")]
    required = {note.name: values(note) for note in notes if note.required or note.name == "head"}
    optional = {note.name: values(note) for note in notes if note.name not in required}
    return st.fixed_dictionaries(required, optional=optional).map(lambda given_: record(**_whole(record, given_)))


def _whole(record: type, chosen: dict[str, Any]) -> dict[str, Any]:
    """Rules between keys: one law a curve, and valves that are told apart."""
    if record.__name__ == "Curve":
        laws = [("table",), ("r25_ohm", "beta_k"), ("steinhart",)]
        kept = next((law for law in laws if all(chosen.get(name) for name in law)), ())
        return {name: chosen[name] for name in kept}
    if record is Visit and chosen.get("valves"):
        from dataclasses import replace

        chosen["valves"] = tuple(
            replace(valve, id=f"{valve.id}{n}", number=n + 1) for n, valve in enumerate(chosen["valves"])
        )
    if record.__name__ == "Meter" and chosen.get("ranges"):
        chosen["ranges"] = chosen["ranges"][:1]
    if record.__name__ == "LogEvidence" and chosen.get("from_utc") and chosen.get("to_utc"):
        chosen["from_utc"], chosen["to_utc"] = sorted((chosen["from_utc"], chosen["to_utc"]))
    return chosen


@settings(max_examples=120, deadline=None)
@given(records(Visit))
def test_a_visit_written_as_json_reads_back_equal(visit: Visit):
    text = visit_to_json(visit)

    found = read_visit(text, name="there and back", syntax="json").visit

    assert found == visit
    assert visit_to_json(found) == text


@settings(max_examples=60, deadline=None)
@given(records(Visit))
def test_a_visit_written_as_toml_or_json_keeps_to_the_schema_and_reads_back_equal(visit: Visit):
    written = json.loads(visit_to_json(visit))

    assert [error.message for error in VALIDATOR.iter_errors(written)] == []
    assert read_visit(template(visit), name="as TOML", syntax="toml").visit == visit


EXTRA = st.dictionaries(
    NAMES.map(lambda name: f"x_{name}"),
    st.recursive(
        st.one_of(st.booleans(), st.integers(-(10**9), 10**9), st.floats(-1e9, 1e9), TEXTS),
        lambda inner: st.lists(inner, max_size=2) | st.dictionaries(NAMES, inner, max_size=2),
        max_leaves=4,
    ),
    min_size=1,
    max_size=3,
)


@settings(deadline=None)
@given(EXTRA, EXTRA)
def test_keys_of_a_later_minor_are_kept_and_written_back(of_visit: dict[str, Any], of_valve: dict[str, Any]):
    from fifthwire.model.valve import Valve
    from fifthwire.model.visit import VisitHeader

    header = VisitHeader(date=date(2026, 5, 12), site="S", system="1")
    valve = Valve(id="A", unit="U", role="main", head="clip-on", extra=of_valve)
    visit = Visit(format_minor=3, header=header, valves=(valve,), extra=of_visit)

    assert read_visit(visit_to_json(visit), name="later", syntax="json").visit == visit


@given(
    st.sampled_from(["psig", "barg", "kPag", "MPag", "psia", "bar", "inHg", "hPa"]),
    st.floats(1, 100),
    st.floats(60, 110),
)
def test_a_pressure_goes_there_and_back_with_the_air_of_the_place(unit: str, value: float, air_kpa_abs: float):
    there = convert(value, unit, "kPa", air_kpa_abs=air_kpa_abs)

    assert abs(convert(there, "kPa", unit, air_kpa_abs=air_kpa_abs) - value) < 1e-8
