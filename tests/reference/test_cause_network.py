"""The exact combination of facts against pyAgrum, an independent library for Bayesian networks.

Source of the expected values: pyAgrum's LazyPropagation on the same joint distribution, worked out in the test.
"""

import random
import warnings
from itertools import pairwise

import pytest

from fifthwire.diagnosis.faults.before import SYSTEM_PRIOR
from fifthwire.diagnosis.faults.likelihoods import CAUSES, ROWS, likelihood_of
from fifthwire.diagnosis.faults.network import ValveNode, combine

with warnings.catch_warnings():
    warnings.simplefilter(
        "ignore"
    )  # its generated types warn while they load; raised there, a warning ends the process
    import pyagrum

SEED = 20260512


def shares(rng: random.Random, n: int, zeros: int = 0) -> list[float]:
    """Random probabilities over some five decades, some of them zero, summing to 1."""
    raw = [10.0 ** rng.uniform(-5.0, 0.0) for _ in range(n)]
    for i in rng.sample(range(1, n), zeros):
        raw[i] = 0.0
    return [one / sum(raw) for one in raw]


def random_case(rng: random.Random, n_valves: int, n_facts: int) -> tuple[dict[str, float], list[ValveNode]]:
    """A system whose states bear on the causes, and facts that bear on the system, as running evidence will."""
    system = dict(zip(SYSTEM_PRIOR, shares(rng, len(SYSTEM_PRIOR)), strict=True))
    valves = []
    for _ in range(n_valves):
        prior = {state: shares(rng, len(CAUSES), zeros=3) for state in system}
        of_table = [likelihood_of(code) for code in rng.sample(sorted(ROWS), n_facts)]
        of_running = [tuple(rng.uniform(0.001, 1.0) for _ in CAUSES) for _ in range(2)]
        valves.append(ValveNode(prior, [*[one for one in of_table if one is not None], *of_running]))
    return system, valves


def by_pyagrum(system: dict[str, float], valves: list[ValveNode]) -> tuple[list[float], list[list[float]]]:
    """Posteriors of the system and of every valve."""
    net = pyagrum.BayesNet("valves")
    net.add(pyagrum.LabelizedVariable("system", "", list(system)))
    net.cpt("system").fillWith(list(system.values()))
    evidence: dict[str, list[float]] = {}
    for v, valve in enumerate(valves):
        net.add(pyagrum.LabelizedVariable(f"cause{v}", "", list(CAUSES)))
        net.addArc("system", f"cause{v}")
        for state in system:
            net.cpt(f"cause{v}")[{"system": state}] = list(valve.prior_by_state[state])
        for f, likelihood in enumerate(valve.likelihoods):
            name = f"fact{v}_{f}"
            net.add(pyagrum.LabelizedVariable(name, "", ["no", "yes"]))
            net.addArc(f"cause{v}", name)
            for cause, one in zip(CAUSES, likelihood, strict=True):
                net.cpt(name)[{f"cause{v}": cause}] = [1.0 - one, one]
            evidence[name] = [0.0, 1.0]
    engine = pyagrum.LazyPropagation(net)
    engine.setEvidence(evidence)
    engine.makeInference()
    return (
        engine.posterior("system").tolist(),
        [engine.posterior(f"cause{v}").tolist() for v in range(len(valves))],
    )


@pytest.mark.parametrize("trial", range(40))
def test_the_posterior_of_one_valve_and_the_system_is_pyagrums(trial: int) -> None:
    rng = random.Random(SEED + trial)
    system, valves = random_case(rng, n_valves=1, n_facts=rng.randint(0, 8))

    ours = combine(system, valves)
    states, causes = by_pyagrum(system, valves)

    assert [ours.system[state] for state in system] == pytest.approx(states, abs=1e-9)
    assert [ours.causes[0].get(cause, 0.0) for cause in CAUSES] == pytest.approx(causes[0], abs=1e-9)


@pytest.mark.parametrize("trial", range(10))
def test_the_joint_posterior_of_five_valves_is_pyagrums(trial: int) -> None:
    rng = random.Random(SEED + 1000 + trial)
    system, valves = random_case(rng, n_valves=5, n_facts=4)

    ours = combine(system, valves)
    states, causes = by_pyagrum(system, valves)

    assert [ours.system[state] for state in system] == pytest.approx(states, abs=1e-9)
    for found, expected in zip(ours.causes, causes, strict=True):
        assert [found.get(cause, 0.0) for cause in CAUSES] == pytest.approx(expected, abs=1e-9)


def test_what_the_other_valves_say_of_the_system_reaches_each_valve() -> None:
    """Two valves that both look short of refrigerant make a low charge likely, and each other innocent."""
    fine, low = {"fine": 0.9, "charge-low": 0.1}, ("sound", "body-stuck-closed", "refrigerant-side")
    weights = {"fine": (0.9, 0.1, 0.0), "charge-low": (0.2, 0.1, 0.7)}
    prior = {s: tuple(dict(zip(low, w, strict=True)).get(c, 0.0) for c in CAUSES) for s, w in weights.items()}
    starved = tuple({"sound": 0.05, "body-stuck-closed": 0.9, "refrigerant-side": 0.9}.get(c, 0.05) for c in CAUSES)

    blamed = [combine(fine, [ValveNode(prior, [starved])] * n).causes[0]["body-stuck-closed"] for n in (1, 2, 4)]

    assert all(after < before for before, after in pairwise(blamed))
