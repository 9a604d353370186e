"""The running evidence joined with the rest, against pyAgrum, an independent library for Bayesian networks.

Source of the expected values: pyAgrum's LazyPropagation on the whole joint of five valves, two outdoor units, liquid
that each valve may send to each of them, and the state of the system, built in the test from the tables alone.
"""

import random
import warnings

import pytest

from fifthwire.diagnosis.faults.before import SYSTEM_PRIOR
from fifthwire.diagnosis.faults.behaviours import BEHAVIOURS, behaves
from fifthwire.diagnosis.faults.flooding import (
    FLOODS_LESS,
    NEED_LIQUID,
    UNEXPLAINED,
    UNEXPLAINED_ELSE,
    OutdoorSeen,
    dry_terms,
)
from fifthwire.diagnosis.faults.likelihoods import CAUSES, ROWS, likelihood_of
from fifthwire.diagnosis.faults.network import ValveNode, behaviour_weights, combine, marginal
from fifthwire.diagnosis.faults.running_table import STATES, SUCTION_ROWS, SYSTEM_ROWS, VALVE_ROWS

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # as in the test of the network at rest
    import pyagrum

SEED = 20260601
OUTDOOR = ("OU1", "OU2")


def shares(rng: random.Random, n: int, zeros: int = 0) -> list[float]:
    raw = [10.0 ** rng.uniform(-4.0, 0.0) for _ in range(n)]
    for i in rng.sample(range(1, n), zeros):
        raw[i] = 0.0
    return [one / sum(raw) for one in raw]


def outcome(rng: random.Random, codes: list[str]) -> dict[str, float]:
    return dict(zip(codes, shares(rng, len(codes)), strict=True))


def random_valve(rng: random.Random) -> ValveNode:
    lines = [likelihood_of(code) for code in rng.sample(sorted(ROWS), 2)]
    running = [VALVE_ROWS[code].likelihood for code in rng.sample(sorted(VALVE_ROWS), rng.randint(0, 3))]
    fed = rng.sample(OUTDOOR, rng.randint(0, 2))
    return ValveNode(
        {state: shares(rng, len(CAUSES), zeros=3) for state in STATES},
        [line for line in lines if line is not None],
        running,
        {one: [rng.uniform(0.0, 0.95) for _ in BEHAVIOURS] for one in fed},
        rng.random() < 0.5,
    )


def random_seen(rng: random.Random) -> tuple[OutdoorSeen, ...]:
    discharge = [code for code in SUCTION_ROWS if code.startswith("discharge.")]
    subcooling = [code for code in SYSTEM_ROWS if code.startswith("subcooling.")]
    return tuple(
        OutdoorSeen(id=one, suction=(outcome(rng, discharge),), system=(outcome(rng, subcooling),)) for one in OUTDOOR
    )


class Joint:
    """The whole joint in pyAgrum, every likelihood a child that was seen."""

    def __init__(self) -> None:
        self.net = pyagrum.BayesNet("running")
        self.seen: dict[str, list[float]] = {}
        self.add("state", list(STATES), [])
        self.net.cpt("state").fillWith([SYSTEM_PRIOR[one] for one in STATES])

    def add(self, name: str, labels: list[str], parents: list[str]) -> None:
        self.net.add(pyagrum.LabelizedVariable(name, "", labels))
        for parent in parents:
            self.net.addArc(parent, name)

    def see(self, name: str, parent: str, likelihood: dict[str, float]) -> None:
        self.add(name, ["no", "yes"], [parent])
        for label, one in likelihood.items():
            self.net.cpt(name)[{parent: label}] = [1.0 - one, one]
        self.seen[name] = [0.0, 1.0]

    def valve(self, v: int, valve: ValveNode) -> None:
        self.add(f"cause{v}", list(CAUSES), ["state"])
        self.add(f"does{v}", list(BEHAVIOURS), ["state", f"cause{v}"])
        for state in STATES:
            self.net.cpt(f"cause{v}")[{"state": state}] = list(valve.prior_by_state[state])
            for cause in CAUSES:
                row = [0.0] * len(BEHAVIOURS)
                for b, share in behaves(cause, state, in_heating=valve.in_heating):
                    row[b] = share
                self.net.cpt(f"does{v}")[{"state": state, f"cause{v}": cause}] = row
        for f, line in enumerate(valve.likelihoods):
            self.see(f"look{v}_{f}", f"cause{v}", dict(zip(CAUSES, line, strict=True)))
        for f, line in enumerate(valve.running):
            self.see(f"runs{v}_{f}", f"does{v}", dict(zip(BEHAVIOURS, line, strict=True)))

    def sends(self, v: int, valve: ValveNode, outdoor: str) -> str:
        name = f"sends{v}_{outdoor}"
        self.add(name, ["no", "yes"], ["state", f"does{v}"])
        for state in STATES:
            for b, does in enumerate(BEHAVIOURS):
                q = FLOODS_LESS.get(state, 1.0) * valve.floods[outdoor][b]
                self.net.cpt(name)[{"state": state, f"does{v}": does}] = [1.0 - q, q]
        return name

    def outdoor(self, of: OutdoorSeen, valves: list[ValveNode]) -> None:
        name = of.id
        self.add(f"other_{name}", ["no", "yes"], ["state"])
        for state in STATES:
            q = UNEXPLAINED.get(state, UNEXPLAINED_ELSE)
            self.net.cpt(f"other_{name}")[{"state": state}] = [1.0 - q, q]
        sources = [f"other_{name}"] + [self.sends(v, one, name) for v, one in enumerate(valves) if name in one.floods]
        self.add(f"wet_{name}", ["dry", "wet"], sources)
        cpt = self.net.cpt(f"wet_{name}")
        at = pyagrum.Instantiation(cpt)
        at.setFirst()
        while not at.end():
            is_sent = any(at.val(at.variable(one)) == 1 for one in sources)
            cpt.set(at, float(at.val(at.variable(f"wet_{name}")) == int(is_sent)))
            at.inc()
        for f, one in enumerate(of.suction):
            wet, dry = (sum(w * SUCTION_ROWS[code].likelihood[k] for code, w in one.items()) for k in (0, 1))
            self.see(f"suction_{name}{f}", f"wet_{name}", {"wet": wet, "dry": dry})
        for f, one in enumerate(of.system):
            self.of_system(f"system_{name}{f}", one)

    def of_system(self, name: str, one: dict[str, float]) -> None:
        by_state = {
            state: sum(w * SYSTEM_ROWS[code].likelihood[k] for code, w in one.items()) for k, state in enumerate(STATES)
        }
        self.see(name, "state", by_state)

    def overfed_needs_liquid(self) -> None:
        parents = ["state", *(f"wet_{one}" for one in OUTDOOR)]
        self.add("consistent", ["no", "yes"], parents)
        for state in STATES:
            for first in ("dry", "wet"):
                for second in ("dry", "wet"):
                    is_one = not (state in NEED_LIQUID and (first, second) == ("dry", "dry"))
                    at = {"state": state, f"wet_{OUTDOOR[0]}": first, f"wet_{OUTDOOR[1]}": second}
                    self.net.cpt("consistent")[at] = [float(not is_one), float(is_one)]
        self.seen["consistent"] = [0.0, 1.0]

    def posterior(self, name: str) -> list[float]:
        engine = pyagrum.LazyPropagation(self.net)
        engine.setEvidence(self.seen)
        engine.makeInference()
        return engine.posterior(name).tolist()  # type: ignore[no-any-return]


@pytest.mark.parametrize("trial", range(6))
def test_the_joint_of_five_valves_and_two_outdoor_units_is_pyagrums(trial: int) -> None:
    rng = random.Random(SEED + trial)
    valves, seen = [random_valve(rng) for _ in range(5)], random_seen(rng)
    commands = outcome(rng, [code for code in SYSTEM_ROWS if code.startswith("commands.")])
    terms = dry_terms(seen, (commands,))

    ours = combine(SYSTEM_PRIOR, valves, terms)

    joint = Joint()
    for v, valve in enumerate(valves):
        joint.valve(v, valve)
    for of in seen:
        joint.outdoor(of, valves)
    joint.of_system("commands", commands)
    joint.overfed_needs_liquid()
    assert [ours.system[one] for one in STATES] == pytest.approx(joint.posterior("state"), abs=1e-9)
    for v, valve in enumerate(valves):
        found = [ours.causes[v].get(cause, 0.0) for cause in CAUSES]
        does = marginal(ours.messages[v], behaviour_weights(valve, terms), BEHAVIOURS)
        assert found == pytest.approx(joint.posterior(f"cause{v}"), abs=1e-9)
        assert [does.get(one, 0.0) for one in BEHAVIOURS] == pytest.approx(joint.posterior(f"does{v}"), abs=1e-9)


def test_the_order_of_valves_and_of_outdoor_units_changes_nothing() -> None:
    rng = random.Random(SEED + 77)
    valves, seen = [random_valve(rng) for _ in range(7)], random_seen(rng)

    forth = combine(SYSTEM_PRIOR, valves, dry_terms(seen))
    back = combine(SYSTEM_PRIOR, valves[::-1], dry_terms(seen[::-1]))

    assert [forth.system[one] for one in STATES] == pytest.approx([back.system[one] for one in STATES], abs=1e-12)
    for one, other in zip(forth.causes, reversed(back.causes), strict=True):
        assert one == pytest.approx(other, abs=1e-12)


def test_a_running_fact_that_is_as_probable_whatever_the_valve_does_changes_nothing() -> None:
    rng = random.Random(SEED + 78)
    valves, seen = [random_valve(rng) for _ in range(4)], dry_terms(random_seen(rng))
    told = ValveNode(
        valves[0].prior_by_state,
        valves[0].likelihoods,
        [*valves[0].running, [0.3] * len(BEHAVIOURS)],
        valves[0].floods,
    )

    before, after = combine(SYSTEM_PRIOR, valves, seen), combine(SYSTEM_PRIOR, [told, *valves[1:]], seen)

    assert before.system == pytest.approx(after.system, abs=1e-12)
    for one, other in zip(before.causes, after.causes, strict=True):
        assert one == pytest.approx(other, abs=1e-12)
