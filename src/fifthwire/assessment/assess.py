"""One visit in, an assessment out: the windings of every head, the causes of every valve together, and what to do."""

from collections.abc import Mapping

from fifthwire import __version__
from fifthwire.assessment.compressor_failure import compressor_failure
from fifthwire.assessment.conditions import meter_name, spec_warnings
from fifthwire.assessment.meters import meter_warnings
from fifthwire.assessment.not_checked import MOVEMENT_SEEN, not_checked
from fifthwire.assessment.repeats import slip_warnings
from fifthwire.assessment.running_case import RunningCase, running_case
from fifthwire.assessment.running_states import running_states
from fifthwire.assessment.valve_case import Gathered, gather, is_old_coil, unlisted_node
from fifthwire.assessment.windings import judged_measurement
from fifthwire.diagnosis.faults.action import action_of
from fifthwire.diagnosis.faults.before import SYSTEM_PRIOR, system_as_told
from fifthwire.diagnosis.faults.behaviours import BEHAVIOURS
from fifthwire.diagnosis.faults.care import cautions_of
from fifthwire.diagnosis.faults.case import Case
from fifthwire.diagnosis.faults.likelihoods import CAUSES, ROWS
from fifthwire.diagnosis.faults.network import Message, Posterior, behaviour_weights, combine, marginal
from fifthwire.diagnosis.faults.next_step import next_check_of
from fifthwire.diagnosis.faults.urgency import meanwhile_of, urgency_of
from fifthwire.diagnosis.faults.weigh import weighed
from fifthwire.diagnosis.movement.service_state import ServiceState, service_state_of
from fifthwire.diagnosis.priors import Priors
from fifthwire.model.assessment import Assessment, CauseProbability, CompressorFailure, Reason, ValveAssessment
from fifthwire.model.choices import SYSTEM_CAUSES
from fifthwire.model.errors import InputError
from fifthwire.model.visit import Visit

TOLD_FROM = 0.05
"""A fact that moved the odds by less, as a logarithm, is told on demand only.  [1]  Judgement."""
TOLD_WHERE_SEEN = ("coil.", "bypass.", "bypass-shut.", "off-pipes.", "step-test.", "held.")
"""What runs is told though it moves little: that a valve looks right, and that one stuck in its place looks the
same."""
SYSTEM_AT_FAULT_UNDER = 0.5
"""A system less probably fine than this is looked at before its valves.  [1]  More likely than not."""
ALWAYS_TOLD = frozenset(
    {
        "stem.outside-service-state",
        "stem.too-soon",
        "stem.between",
        "stem.contradiction",
        "felt.at-rest",
        "felt.coil.steps",
        "board.at-rest",
        "harness.head-end-doubtful",
        "insulation.meter-only",
        "insulation.untold",
        "fault-code",
        "step-test.not-due",
        "step-test.too-soon",
        "step-test.stroke-unknown",
        "log.hunting",
        "work.cleaned",
        "work.reseated",
        "work.replaced-head",
        "work.replaced-body",
        "work.repaired-plug-or-harness",
    }
)
"""Facts that are told though they move nothing, as those of the windings are: that is what has to be known."""


def assess(visit: Visit, priors: Priors, *, only: str | None = None, warnings: tuple[Reason, ...] = ()) -> Assessment:
    """What a visit shows: a verdict for every valve, with its reasons, and what to do.

    Parameters
    ----------
    visit : Visit
        As read; entries that are struck out are not used.
    priors : Priors
        What valves are like before a look.
    only : str, optional
        The label of the one valve to assess.
    warnings : tuple of Reason
        Of the reader, told first.

    Returns
    -------
    Assessment
        The same for the same visit, whatever the order of its evidence.

    Raises
    ------
    InputError
        If `only` names no valve of the visit.
    """
    valves = [one for one in visit.valves if not one.is_void]
    if only is not None and only not in {one.id for one in valves}:
        raise InputError(f"no valve {only} in this visit", "Name one of its valves by its label.")
    states = running_states(visit)
    running = running_case(visit, states.sensor_rows())
    if only is not None and not running.is_used:
        valves = [one for one in valves if one.id == only]
    service = service_state_of(visit.system)
    gathered = [gather(visit, valve, priors, service, running) for valve in valves]
    nodes = [one.node for one in gathered] + [unlisted_node(visit, one, priors, running) for one in running.unlisted]
    posterior = combine(SYSTEM_PRIOR, nodes, running.terms)
    system = system_as_told(posterior.system)
    assessed = [
        _assessed(visit, one, service, dict(causes), message, running, system)
        for one, causes, message in zip(gathered, posterior.causes, posterior.messages, strict=False)
        if only is None or one.valve.id == only
    ]
    failure = _failure(visit, gathered, posterior, running, states.worst)
    gathered = [one for one in gathered if only is None or one.valve.id == only]
    return Assessment(
        program=__version__,
        site=visit.header.site,
        system=visit.header.system,
        date=visit.header.date.isoformat(),
        valves=tuple(assessed),
        system_causes=_ranked(system, SYSTEM_CAUSES),
        compressors=states.compressor_rows(),
        compressor=states.compressor_row(),
        units=states.unit_rows(),
        sensors=states.sensor_rows(),
        warnings=_once((*warnings, *states.warnings, *running.warnings, *_warnings(visit, gathered, service))),
        failure=failure,
        priors_sha256=priors.sha256,
    )


def _failure(
    visit: Visit, gathered: list[Gathered], posterior: Posterior, running: RunningCase, floodback: str
) -> CompressorFailure | None:
    """What could have stopped the compressor, where the visit is after one failed."""
    if visit.header.reason != "compressor-failure":
        return None
    behaviours = {
        one.valve.id: marginal(message, behaviour_weights(one.node, message), BEHAVIOURS)
        for one, message in zip(gathered, posterior.messages, strict=False)
    }
    return compressor_failure(
        gathered,
        behaviours,
        system_as_told(posterior.system),
        floodback,
        is_running_seen=running.terms is not None,
        mode=visit.system.mode,
    )


def _assessed(
    visit: Visit,
    one: Gathered,
    service: ServiceState,
    causes: dict[str, float],
    message: Message,
    running: RunningCase,
    system: Mapping[str, float],
) -> ValveAssessment:
    ranked = _ranked(causes, CAUSES)
    valve, read = one.valve, one.judged.read
    case = Case(
        id=valve.id,
        role=valve.role,
        kind=valve.kind,
        head=valve.head,
        windings=read,
        facts=one.facts,
        state=one.state,
        causes={row.cause: row.probability for row in ranked},
        never_removed=valve.last_removed == "never",
        is_old=is_old_coil(visit, valve),
        service_state_holds=service.holds,
        behaviours=marginal(message, behaviour_weights(one.node, message), BEHAVIOURS),
        is_running_seen=running.is_used,
        is_system_at_fault=system["fine"] < SYSTEM_AT_FAULT_UNDER,
    )
    action = action_of(case)
    check = next_check_of(case, action)
    facts = weighed(one.facts, one.node, message, case.leading, one.without_windings)
    return ValveAssessment(
        id=valve.id,
        winding=read.finding,
        causes=ranked,
        action=action,
        urgency=urgency_of(case, action),
        meanwhile=meanwhile_of(case, action),
        reasons=_told(facts, action),
        next_check=check,
        cautions=cautions_of(case, action, check),
        doubts=_doubts(visit, one),
        facts=facts,
        not_checked=not_checked(visit, valve, case),
    )


def _told(facts: tuple[Reason, ...], action: str) -> tuple[Reason, ...]:
    """The facts that stand among the reasons, in order of weight; of a good valve first what makes it so."""
    told = tuple(fact for fact in facts if _is_told(fact))
    if action != "keep":
        return told
    return tuple(sorted(told, key=lambda fact: (not fact.code.startswith("winding."), not _shows_movement(fact))))


def _shows_movement(fact: Reason) -> bool:
    return fact.code.rpartition(".")[0] in MOVEMENT_SEEN


def _is_told(fact: Reason) -> bool:
    """Whether a fact stands among the reasons: it moves the odds, it was a look, or it proves nothing and says so."""
    if fact.code.startswith("winding.") or fact.code in ALWAYS_TOLD or abs(fact.log_odds) >= TOLD_FROM:
        return True
    if fact.code.startswith(TOLD_WHERE_SEEN):
        return True
    return fact.log_odds != 0.0 and fact.code in ROWS and ROWS[fact.code].mark != "."


def _ranked(probabilities: Mapping[str, float], order: tuple[str, ...]) -> tuple[CauseProbability, ...]:
    """Most probable first, ties in the listed order."""
    listed = sorted(probabilities, key=lambda cause: (-round(probabilities[cause], 9), order.index(cause)))
    return tuple(CauseProbability(cause=cause, probability=probabilities[cause]) for cause in listed)


def _doubts(visit: Visit, one: Gathered) -> tuple[Reason, ...]:
    """What makes this valve's readings doubtful: its meter."""
    measurement = one.judged.measurement
    name = meter_name(visit, one.valve, measurement) if measurement is not None else None
    if name is None:
        return ()
    doubtful = ("meter.check-resistor", "meter.calibration-old")
    return tuple(w for w in meter_warnings(name, visit.meters[name], visit.header.date) if w.code in doubtful)


def _warnings(visit: Visit, gathered: list[Gathered], service: ServiceState) -> list[Reason]:
    warnings: list[Reason] = []
    if any(fact.code.startswith("stem.") for one in gathered for fact in one.facts):
        warnings += service.warnings
    warnings += _of_meters_and_specs(visit, gathered)
    for one in gathered:
        warnings += one.warnings
        warnings += slip_warnings(one.valve.id, one.judged.measurement)
        is_new_unread = one.state.has_new_head and (
            one.judged.measurement is None or one.judged.read.is_of_head_taken_off
        )
        warnings += [Reason(code="head-new.no-reading", values={"valve": one.valve.id})] if is_new_unread else []
    return warnings


def _of_meters_and_specs(visit: Visit, gathered: list[Gathered]) -> list[Reason]:
    warnings: list[Reason] = []
    not_named: dict[str | None, list[str]] = {}
    for one in gathered:
        measurement = judged_measurement(one.valve)
        if measurement is None:
            continue
        name = meter_name(visit, one.valve, measurement)
        if name is None or not (measurement.meter or one.valve.meter):
            not_named.setdefault(name, []).append(one.valve.id)
        if name is not None:
            warnings += meter_warnings(name, visit.meters[name], visit.header.date)
        spec = visit.specs.get(one.valve.spec or "")
        if spec is not None and one.valve.spec is not None:
            warnings += spec_warnings(one.valve.spec, spec)
    return [*warnings, *(_no_meter(name, valves) for name, valves in not_named.items())]


def _no_meter(name: str | None, valves: list[str]) -> Reason:
    if name is None:
        return Reason(code="meter.default", values={"valves": valves})
    return Reason(code="meter.only-one", values={"valves": valves, "meter": name})


def _once(warnings: tuple[Reason, ...]) -> tuple[Reason, ...]:
    """Each warning once, in order."""
    return tuple({(one.code, str(sorted(one.values.items()))): one for one in warnings}.values())
