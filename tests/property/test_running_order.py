"""What a running visit comes to does not hang on the order of what was written, nor on what says nothing."""

import random
from dataclasses import replace
from typing import Any

import pytest
from tests.judged_visits import priors
from tests.running_visits import running_visit

from fifthwire.assessment import assess, assessment_to_json
from fifthwire.model.visit import Visit
from fifthwire.visitfile import read_visit

SEED = 20260714
UNITS = {
    "IU2": {"held": 0.2, "cmd": 0.083},
    "IU5": {"held": 15.0, "cmd": 1.0, "air": 4.0},
    "IU7": {"on": False, "liquid_pipe": 8.0, "gas_pipe": 9.0},
}
OUTDOOR = {"OU1": {"ssh": 0.4, "dsh": 12.0, "bypass": 0.083, "outlet": 0.3}, "OU2": {}}
AFTER = """
[[step_tests]]
valve = "IU3-v"
opening = [210, 186]
superheat = ["5.1 K", "10.8 K"]
[[step_tests]]
valve = "IU4-v"
opening = [210, 162]
superheat = ["5.1 K", "5.3 K"]
[[evidence]]
from = "log"
sha256 = "1111111111111111111111111111111111111111111111111111111111111111"
valve = "IU6-v"
log_likelihood = { not-following = 0.0, sound = -2.0 }
[[evidence]]
from = "log"
sha256 = "2222222222222222222222222222222222222222222222222222222222222222"
valve = "IU6-v"
log_likelihood = { passes-when-shut = 0.0, sound = -3.0 }
"""


def a_visit() -> Visit:
    return read_visit(running_visit(UNITS, outdoor=OUTDOOR, after=AFTER), name="a", syntax="toml").visit


def told(visit: Visit) -> dict[str, Any]:
    out = assessment_to_json(assess(visit, priors()))
    valves = {one["id"]: {**one, "reasons": sorted(map(str, one["reasons"])), "because": None} for one in out["valves"]}
    return {"valves": valves, "system": out["system"], "compressor": out["compressor"]}


@pytest.mark.parametrize("trial", range(5))
def test_the_order_of_units_valves_and_evidence_changes_nothing(trial: int) -> None:
    rng, visit = random.Random(SEED + trial), a_visit()
    assert visit.snapshot is not None

    def mixed(items: Any) -> Any:
        return rng.sample(list(items), len(items))

    snapshot = replace(
        visit.snapshot,
        units=dict(mixed(visit.snapshot.units.items())),
        valves=dict(mixed(visit.snapshot.valves.items())),
        outdoor=dict(mixed(visit.snapshot.outdoor.items())),
    )
    other = replace(
        visit,
        valves=tuple(mixed(visit.valves)),
        step_tests=tuple(mixed(visit.step_tests)),
        evidence=tuple(mixed(visit.evidence)),
        snapshot=snapshot,
    )

    assert told(other) == told(visit)


def test_one_log_pasted_in_twice_counts_once() -> None:
    visit = a_visit()

    assert told(replace(visit, evidence=visit.evidence + visit.evidence[:1])) == told(visit)


def test_a_log_that_tells_nothing_apart_changes_nothing() -> None:
    visit = a_visit()
    flat = replace(visit.evidence[0], sha256="3" * 64, log_likelihood={"sound": -1.0, "not-following": -1.0})

    before, after = told(visit), told(replace(visit, evidence=(*visit.evidence, flat)))

    assert before["system"] == after["system"]
    assert before["valves"]["IU6-v"]["causes"] == after["valves"]["IU6-v"]["causes"]


def test_one_valve_assessed_alone_comes_to_what_it_comes_to_among_all() -> None:
    visit = a_visit()
    among = next(one for one in assess(visit, priors()).valves if one.id == "IU5-v")

    (alone,) = assess(visit, priors(), only="IU5-v").valves

    assert alone == among


@pytest.mark.parametrize("dsh", [6.0, 12.0, 16.0, 18.0, 20.0, 25.0])
def test_a_little_more_or_less_changes_little(dsh: float) -> None:
    """No cliffs: a tenth of a kelvin moves no probability by more than a few per cent."""
    by = [
        assess(
            read_visit(running_visit(UNITS, outdoor={"OU1": {"dsh": of, "ssh": 0.8}}), name="a", syntax="toml").visit,
            priors(),
        )
        for of in (dsh, dsh + 0.1)
    ]
    for one, other in zip(by[0].valves, by[1].valves, strict=True):
        first = {row.cause: row.probability for row in one.causes}
        assert {row.cause: row.probability for row in other.causes} == pytest.approx(first, abs=0.03)
