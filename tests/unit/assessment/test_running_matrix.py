"""Every running visit of the matrix comes to what a careful technician accepts."""

import sys
from pathlib import Path

import pytest
from tests.judged_visits import assessed_json

sys.path.insert(0, str(Path(__file__).parent))
from running_matrix import MATRIX, Runs


@pytest.mark.parametrize("runs", MATRIX, ids=[one.name for one in MATRIX])
def test_a_running_visit_is_judged_as_a_technician_would(runs: Runs) -> None:
    out = assessed_json(runs.text)
    valves = {one["id"]: one for one in out["valves"]}

    assert out["system"]["causes"][0]["cause"] in runs.system
    for name, (causes, actions) in runs.told.items():
        assert (name, valves[name]["causes"][0]["cause"]) in [(name, one) for one in causes]
        assert (name, valves[name]["action"]) in [(name, one) for one in actions]
    blamed = {n: one["causes"][0]["cause"] for n, one in valves.items() if n not in runs.told}
    assert {n: cause for n, cause in blamed.items() if cause not in runs.others} == {}
    assert not [n for n, one in valves.items() if n not in runs.told and one["action"].startswith("replace")]
    for name, checks in runs.check.items():
        assert valves[name]["next_check"]["check"] in checks
    for name, words in runs.because.items():
        assert any(words in sentence for sentence in valves[name]["because"])
    for name, urgency in runs.urgency.items():
        assert valves[name]["urgency"] == urgency
    assert not runs.floodback or out["compressor"]["floodback"] in runs.floodback
    assert not runs.warning or any(runs.warning in one for one in out["warnings"])
