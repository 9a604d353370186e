"""The assessment's JSON: its keys in their order, its roundings, its `other` row and its ties."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.judged_visits import GOOD_FIVE, OPEN_ONCE, OPEN_THREE, assessed_json, visit_text

from fifthwire.assessment.as_json import assessment_to_json
from fifthwire.model.assessment import Assessment, CauseProbability, Reason, ValveAssessment, WindingFinding


def as_json(causes: tuple[CauseProbability, ...], winding: tuple[CauseProbability, ...] = ()) -> dict[str, Any]:
    finding = WindingFinding(verdict="undecided", causes=winding)
    valve = ValveAssessment(id="V1", winding=finding, causes=causes, action="check-more", urgency="none")
    made = Assessment(program="0.1.0", site="A", system="B", date="2026-05-12", valves=(valve,))
    return assessment_to_json(made)["valves"][0]  # type: ignore[no-any-return]


def row(cause: str, probability: float, *wires: str) -> CauseProbability:
    return CauseProbability(cause=cause, probability=probability, wires=wires)


def test_the_keys_stand_in_their_order() -> None:
    out = assessed_json(visit_text(f"readings = {OPEN_ONCE}"))
    valve = out["valves"][0]

    assert list(out) == [
        "format",
        "program",
        "visit",
        "valves",
        "compressors",
        "compressor",
        "system",
        "units",
        "sensors",
        "warnings",
    ]
    assert list(out["visit"]) == ["site", "system", "date"]
    assert list(valve) == [
        "id",
        "winding",
        "causes",
        "action",
        "urgency",
        "meanwhile",
        "reasons",
        "because",
        "next_check",
        "cautions",
    ]
    assert list(valve["winding"]) == ["verdict", "causes", "common", "windings", "next_reading"]
    assert list(valve["winding"]["causes"][0]) == ["cause", "wires", "probability"]
    assert list(valve["winding"]["windings"][0]) == ["wires", "ohm", "u_ohm", "ohm_at_spec", "u_ohm_at_spec"]
    assert list(valve["reasons"][0]) == ["code", "values", "log_odds"]
    assert list(valve["next_check"]) == ["check", "what", "minutes", "system_stopped", "risk"]
    assert out["format"] == "fifthwire/assessment/1"


def test_until_the_running_system_is_judged_its_keys_are_empty_and_unknown() -> None:
    out = assessed_json(visit_text(f"readings = {GOOD_FIVE}"))

    assert out["compressors"] == out["units"] == out["sensors"] == []
    assert out["compressor"] == {
        "suction_superheat_k": None,
        "discharge_superheat_k": None,
        "subcooling_k": None,
        "floodback": "unknown",
    }
    assert sum(one["probability"] for one in out["system"]["causes"]) == pytest.approx(1.0, abs=1e-9)


def test_a_snapshot_that_does_not_say_how_the_system_runs_is_told() -> None:
    out = assessed_json(visit_text("", after='[snapshot]\nambient = 33.0\n[[step_tests]]\nvalve = "V1"\nminutes = 8'))

    assert out["warnings"] == [
        "A snapshot does not say whether the system cools or heats: its readings are not used to judge valves."
    ]


def test_rows_under_a_millionth_become_one_row_other() -> None:
    rows = as_json(
        (row("sound", 1.0 - 2.4e-6), row("sensor", 0.9e-6), row("winding", 0.8e-6), row("wrong-head", 0.7e-6))
    )

    assert [one["cause"] for one in rows["causes"]] == ["sound", "other"]
    assert rows["causes"][1]["probability"] == 2e-6


def test_an_own_row_other_takes_in_what_is_dropped() -> None:
    rows = as_json((row("sound", 0.9), row("other", 0.1 - 0.9e-6), row("winding", 0.9e-6)))["causes"]

    assert [(one["cause"], one["probability"]) for one in rows] == [("sound", 0.9), ("other", 0.1)]


def test_a_row_of_a_millionth_stays() -> None:
    assert len(as_json((row("sound", 1.0 - 1e-6), row("winding", 1e-6)))["causes"]) == 2


def test_ties_stand_in_the_listed_order() -> None:
    rows = as_json((row("sensor", 0.3), row("winding", 0.3), row("sound", 0.3), row("body-stuck-open", 0.1)))

    assert [one["cause"] for one in rows["causes"]] == ["sound", "winding", "sensor", "body-stuck-open"]


def test_ties_of_the_windings_causes_stand_in_their_listed_order() -> None:
    rows = as_json((row("sound", 1.0),), (row("bridged", 0.5, "1", "2"), row("open-winding", 0.5, "3")))

    assert [one["cause"] for one in rows["winding"]["causes"]] == ["open-winding", "bridged"]


@given(st.lists(st.floats(1e-9, 1.0), min_size=1, max_size=40))
def test_probabilities_sum_to_one_in_millionths(raw: list[float]) -> None:
    rows = as_json(tuple(row("sound", one / sum(raw)) for one in raw))["causes"]

    assert round(sum(one["probability"] for one in rows) * 1e6) == 1_000_000
    assert all(round(one["probability"], 6) == one["probability"] for one in rows)


def test_the_whole_is_plain_json() -> None:
    out = assessed_json(visit_text(f"readings = {OPEN_THREE}"))

    assert json.loads(json.dumps(out, allow_nan=False)) == out


def test_a_reason_is_a_code_with_values_and_a_sentence() -> None:
    valve = assessed_json(visit_text(f"readings = {OPEN_THREE}"))["valves"][0]

    assert valve["reasons"][0]["code"] == "winding.open"
    assert valve["reasons"][0]["values"]["wire"] == "3"
    assert valve["reasons"][0]["log_odds"] > 5.0
    assert len(valve["reasons"]) == len(valve["because"])


def test_warnings_are_sentences() -> None:
    made = Assessment(
        program="0.1.0",
        site="A",
        system="B",
        date="2026-05-12",
        valves=(),
        warnings=(Reason(code="other-kind.stem", values={"valve": "V1"}),),
    )

    assert assessment_to_json(made)["warnings"] == ["V1: a coil has no stem; what is written of one is not used."]
