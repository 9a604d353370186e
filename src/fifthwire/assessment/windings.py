"""The measurements of a head judged one by one, and which of them the verdict is of."""

from typing import Final

from fifthwire.assessment.conditions import arrangement_of, head_temperature, meter_law, meter_name, spec_law
from fifthwire.assessment.meters import is_doubtful
from fifthwire.assessment.repeats import without_slipped
from fifthwire.diagnosis.faults.case import WindingRead
from fifthwire.diagnosis.faults.winding_facts import ReadAgainst
from fifthwire.diagnosis.movement.fact import Fact, State
from fifthwire.diagnosis.movement.harness import harness_fact
from fifthwire.diagnosis.priors import Priors
from fifthwire.diagnosis.winding import WindingCase, judge_windings
from fifthwire.model.assessment import CauseProbability, WindingFinding
from fifthwire.model.choices import MEASURED_WHEN, WINDING_CAUSES
from fifthwire.model.record import record
from fifthwire.model.valve import Measurement, Valve
from fifthwire.model.visit import Visit
from fifthwire.physics.copper import resistance_factor

ALL_OPEN_FROM: Final = {"single-2": 1, "unipolar-5": 2, "bipolar-4": 5, "unipolar-6": 10}
"""So many pairs, all of them open and none finite, are "every pair open": more than a good head of that arrangement has
open pairs, of which a star has none, two separate windings have 4 and two separate stars 9.  [1]"""


@record
class Judged:
    """A head's windings as the decision takes them."""

    read: WindingRead
    against: ReadAgainst
    measurement: Measurement | None
    harness: Fact | None = None


def measurements_of(valve: Valve) -> list[Measurement]:
    """The measurements of a head with readings, in the order in which they were taken; struck-out ones left out.

    As found comes before after cleaning, and that before after replacement; within one, the order of the file.
    The valve's own `readings` are short for the first.
    """
    first = Measurement(readings=valve.readings)
    taken = [one for one in (first, *valve.measurements) if one.readings and not one.is_void]
    return sorted(taken, key=lambda one: MEASURED_WHEN.index(one.when))


def judged_measurement(valve: Valve) -> Measurement | None:
    """The measurement that the verdict is of: the latest at the head's plug; where there is none, the latest."""
    taken = measurements_of(valve)
    at_head = [one for one in taken if one.measured_at == "head-plug"]
    return next(iter([*reversed(at_head), *reversed(taken)]), None)


def judge_head(visit: Visit, valve: Valve, priors: Priors, state: State) -> Judged:
    """The windings of one head.

    Parameters
    ----------
    visit : Visit
        Holds specs and meters.
    valve : Valve
        With its measurements.
    priors : Priors
        What heads are like before a reading.
    state : State
        What was done since: readings of a head that was taken off do not count for the new one.
    """
    chosen = judged_measurement(valve)
    if valve.plug_off is False:
        finding = not_measured(visit, valve, priors)
        return Judged(read=WindingRead(finding=finding, is_plug_on=True), against=ReadAgainst(), measurement=None)
    if chosen is None:
        finding = not_measured(visit, valve, priors)
        return Judged(read=WindingRead(finding=finding), against=ReadAgainst(), measurement=None)
    finding = _judge(visit, valve, chosen, priors)
    blames_plug = bool(finding.causes) and finding.causes[0].cause in ("bad-contact", "open-common")
    name = meter_name(visit, valve, chosen)
    doubtful = name if name is not None and is_doubtful(visit.meters[name]) else None
    if doubtful:
        finding = _undecided(finding)
    is_all_open = _is_all_open(chosen, arrangement_of(valve, visit.specs.get(valve.spec or "")))
    read = WindingRead(
        finding=_undecided(finding) if is_all_open else finding,
        readings=chosen.readings,
        at_head_plug=chosen.measured_at == "head-plug",
        is_of_head_taken_off=state.has_new_head and chosen.when != "after-replacement",
        is_before_repair=state.is_plug_repaired and blames_plug and chosen.when == "as-found",
        is_all_open=is_all_open,
        doubtful_meter=doubtful,
    )
    return Judged(
        read=read,
        against=_against(visit, valve, chosen, priors, finding),
        measurement=chosen,
        harness=_harness(valve, chosen, finding),
    )


def not_measured(visit: Visit, valve: Valve, priors: Priors) -> WindingFinding:
    """What is believed of windings nobody measured: the shares before a reading, and no verdict."""
    sound = priors.sound_prior(visit.header.reason, is_suspected=valve.suspected)
    arrangement = arrangement_of(valve, visit.specs.get(valve.spec or ""))
    shares = dict(priors.winding.fault_shares)
    if arrangement in ("bipolar-4", "single-2"):
        shares.pop("open-common", None)
    if arrangement == "single-2":
        shares.pop("bridged", None)
    whole = sum(shares.values())
    causes = [CauseProbability(cause="sound", probability=sound)]
    causes += [CauseProbability(cause=cause, probability=(1 - sound) * one / whole) for cause, one in shares.items()]
    causes.sort(key=lambda one: (-one.probability, WINDING_CAUSES.index(one.cause)))
    return WindingFinding(verdict="not-measured", causes=tuple(causes), arrangement=arrangement)


def _judge(visit: Visit, valve: Valve, measurement: Measurement, priors: Priors) -> WindingFinding:
    spec = visit.specs.get(valve.spec or "")
    name = meter_name(visit, valve, measurement)
    case = WindingCase(
        readings=without_slipped(measurement.readings),
        meter=meter_law(visit.meters[name] if name is not None else None),
        head=head_temperature(valve, measurement),
        arrangement=arrangement_of(valve, spec),
        spec=spec_law(spec),
        common=valve.common,
        sound_prior=priors.sound_prior(visit.header.reason, is_suspected=valve.suspected),
    )
    return judge_windings(case, priors.winding)


def _undecided(finding: WindingFinding) -> WindingFinding:
    return WindingFinding(
        verdict="undecided",
        causes=finding.causes,
        common=finding.common,
        windings=finding.windings,
        next_reading=finding.next_reading,
        arrangement=finding.arrangement,
        unread_wires=finding.unread_wires,
    )


def _against(visit: Visit, valve: Valve, chosen: Measurement, priors: Priors, finding: WindingFinding) -> ReadAgainst:
    law = spec_law(visit.specs.get(valve.spec or ""))
    head_c = head_temperature(valve, chosen).centre_c
    factor = resistance_factor(law.at_c, head_c) if law is not None and head_c is not None else None
    return ReadAgainst(
        spec_ohm=law.resistance_ohm if law is not None else None,
        spec_c=law.at_c if law is not None else None,
        head_c=head_c,
        heat_factor=factor,
        before_cleaning=_before(visit, valve, chosen, priors, finding),
    )


def _before(visit: Visit, valve: Valve, chosen: Measurement, priors: Priors, finding: WindingFinding) -> str | None:
    """What the readings before cleaning said, where they said something else."""
    if chosen.when != "after-cleaning":
        return None
    earlier = [one for one in measurements_of(valve) if one.when == "as-found" and one.measured_at == "head-plug"]
    if not earlier:
        return None
    before = _judge(visit, valve, earlier[-1], priors)
    leading = before.causes[0].cause
    return leading if leading != finding.causes[0].cause else None


def _is_all_open(measurement: Measurement, arrangement: str | None) -> bool:
    pairs = {frozenset((one.wire_a, one.wire_b)) for one in measurement.readings}
    enough = ALL_OPEN_FROM[arrangement or "unipolar-6"]
    return len(pairs) >= enough and all(one.is_open for one in measurement.readings)


def _harness(valve: Valve, chosen: Measurement, finding: WindingFinding) -> Fact | None:
    """Through the harness against at the head's plug, both of one state of the head.

    Where the readings at the head already blame a contact, the same ohms further off say nothing of the harness.
    """
    through = [one for one in measurements_of(valve) if one.measured_at != "head-plug" and one.when == chosen.when]
    if chosen.measured_at != "head-plug" or not through:
        return None
    fact = harness_fact(chosen.readings, through[-1].readings)
    if fact is not None and fact.code == "harness.same" and finding.causes[0].cause == "bad-contact":
        return Fact(code=fact.code, weighs=False)
    return fact
