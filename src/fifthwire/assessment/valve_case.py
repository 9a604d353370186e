"""Everything the visit says of one valve, gathered for the decision."""

from collections.abc import Iterable

from fifthwire.assessment.running_case import NOTHING_RUNS, RunningCase
from fifthwire.assessment.windings import Judged, judge_head, measurements_of, not_measured
from fifthwire.diagnosis.faults.before import age_of, mechanical_shares, prior_by_state, winding_classes
from fifthwire.diagnosis.faults.network import ValveNode
from fifthwire.diagnosis.faults.weigh import likelihoods_of, running_lines_of
from fifthwire.diagnosis.faults.winding_facts import winding_facts
from fifthwire.diagnosis.movement.board import board_facts
from fifthwire.diagnosis.movement.fact import Fact, Found, State, joined
from fifthwire.diagnosis.movement.inspected import inspection_facts, insulation_facts
from fifthwire.diagnosis.movement.moved import moved_facts
from fifthwire.diagnosis.movement.service_state import ServiceState
from fifthwire.diagnosis.movement.stem import stem_facts
from fifthwire.diagnosis.movement.work import state_of, work_facts
from fifthwire.diagnosis.priors import Priors
from fifthwire.model.assessment import Reason
from fifthwire.model.record import record
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit

OLD_COIL_YEARS = 5.0
"""A coil that has not been off for so long may be rusted fast.  [years]  Judgement."""
COMMON_FROM = 0.5
"""A wire found to be the common with this probability is not expected to swing at the board.  [1]"""


@record
class Gathered:
    """One valve with its facts and its node in the network of causes."""

    valve: Valve
    judged: Judged
    state: State
    facts: tuple[Fact, ...]
    node: ValveNode
    without_windings: dict[str, tuple[float, ...]]
    """Priors as they were before the windings were measured."""
    warnings: tuple[Reason, ...] = ()


def gather(
    visit: Visit, valve: Valve, priors: Priors, service: ServiceState, running: RunningCase = NOTHING_RUNS
) -> Gathered:
    """Facts, priors and warnings of one valve.

    Parameters
    ----------
    visit : Visit
        Holds specs, meters, work and proofs.
    valve : Valve
        As written.
    priors : Priors
        What valves are like before a look.
    service : ServiceState
        Whether stems prove anything.
    running : RunningCase
        What the running system says of it.
    """
    work = [one for one in visit.work if one.valve == valve.id and not one.is_void]
    proofs = [one for one in visit.proofs if one.valve == valve.id and not one.is_void]
    state = state_of(valve, work, measurements_of(valve))
    judged = judge_head(visit, valve, priors, state)
    found = joined(
        Found(facts=winding_facts(judged.read, judged.against)),
        Found(facts=(judged.harness,) if judged.harness is not None else ()),
        _looked(visit, valve, judged, state, service),
        work_facts(valve, work, proofs),
        Found(facts=running.by_valve.get(valve.id, ())),
    )
    before = winding_classes(not_measured(visit, valve, priors), at_head_plug=True)
    now = before
    if judged.read.counts:
        now = winding_classes(judged.read.finding, at_head_plug=judged.read.at_head_plug)
    shares = _shares(visit, valve, priors, state)
    is_fed = _is_fed(found.facts)
    return Gathered(
        valve=valve,
        judged=judged,
        state=state,
        facts=found.facts,
        node=ValveNode(
            prior_by_state(now, shares, is_fed=is_fed),
            likelihoods_of(found.facts),
            running_lines_of(found.facts),
            running.floods.get(valve.id, {}),
            valve.id in running.heating,
        ),
        without_windings=prior_by_state(before, shares, is_fed=is_fed),
        warnings=found.warnings,
    )


def unlisted_node(visit: Visit, label: str, priors: Priors, running: RunningCase) -> ValveNode:
    """A valve that only the running readings name: it gets no verdict, and takes its part in explaining them."""
    age = age_of(visit.header.date, None, visit.system.installed)
    shares = mechanical_shares(priors, head=None, kind="eev", age=age)
    of = Valve(id=label, unit=label, role="indoor")
    classes = winding_classes(not_measured(visit, of, priors), at_head_plug=True)
    facts = running.by_valve.get(label, ())
    return ValveNode(
        prior_by_state(classes, shares, is_fed=_is_fed(facts)),
        likelihoods_of(facts),
        running_lines_of(facts),
        running.floods.get(label, {}),
        label in running.heating,
    )


def _is_fed(facts: Iterable[Fact]) -> bool:
    """Whether a coil that runs was read."""
    return any(fact.code.startswith("coil.") for fact in facts)


def _looked(visit: Visit, valve: Valve, judged: Judged, state: State, service: ServiceState) -> Found:
    found = []
    if valve.inspection is not None:
        found.append(inspection_facts(valve, valve.inspection, state))
    found.append(insulation_facts(valve, state))
    if valve.movement is not None:
        stem = stem_facts(valve, valve.movement, service)
        found.append(_of_old_head(stem) if state.has_new_head else stem)
        found.append(moved_facts(valve, valve.movement, state))
    if valve.board is not None:
        spec = visit.specs.get(valve.spec or "")
        found.append(
            board_facts(
                valve,
                valve.board,
                common=_common(valve, judged),
                spec_supply_volt=spec.supply_volt if spec is not None else None,
                has_common=judged.read.finding.arrangement != "bipolar-4",
            )
        )
    return joined(*found)


def _of_old_head(found: Found) -> Found:
    """What was seen of a head that has been replaced since does not weigh."""
    facts = tuple(Fact(code=one.code, values=one.values, weighs=False) for one in found.facts)
    return Found(facts=facts, warnings=found.warnings)


def _common(valve: Valve, judged: Judged) -> tuple[str, ...]:
    if valve.common:
        return valve.common
    likely = [one for one in judged.read.finding.common if one.probability >= COMMON_FROM]
    return likely[0].wires if likely else ()


def _shares(visit: Visit, valve: Valve, priors: Priors, state: State) -> dict[str, float]:
    age = age_of(
        visit.header.date,
        valve.head_installed,
        visit.system.installed,
        has_new_head=state.has_new_head,
        has_new_body=state.has_new_body,
    )
    return mechanical_shares(priors, head=valve.head, kind=valve.kind, age=age)


def is_old_coil(visit: Visit, valve: Valve) -> bool:
    """Whether a clip-on coil may be rusted fast: never off, off long ago, or nobody knows on an old system."""
    if valve.head != "clip-on":
        return False
    if valve.last_removed == "never":
        return True
    if valve.last_removed is not None:
        return (visit.header.date - valve.last_removed).days > OLD_COIL_YEARS * 365.25
    installed = visit.system.installed
    return installed is None or visit.header.date.year - installed > OLD_COIL_YEARS
