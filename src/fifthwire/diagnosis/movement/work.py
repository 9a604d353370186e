"""What was done on the visit, and what showed that it works."""

from collections.abc import Iterable

from fifthwire.diagnosis.movement.fact import Fact, Found, State
from fifthwire.model.assessment import Reason
from fifthwire.model.followup import Proof, Work
from fifthwire.model.valve import Measurement, Valve


def state_of(valve: Valve, work: Iterable[Work], measurements: Iterable[Measurement]) -> State:
    """The state the valve is in now.

    Parameters
    ----------
    valve : Valve
        Its `after_cleaning` says that it was cleaned and tested.
    work : iterable of Work
        Of this valve, entries that are struck out left out.
    measurements : iterable of Measurement
        Of this valve, with readings; one taken after replacement says that the head was replaced.
    """
    done = {one.done for one in work}
    measured = {one.when for one in measurements}
    tested = valve.movement is not None and valve.movement.after_cleaning is not None
    return State(
        has_new_head="replaced-head" in done or ("after-replacement" in measured and "replaced-body" not in done),
        has_new_body="replaced-body" in done,
        is_cleaned="cleaned" in done or "after-cleaning" in measured or tested,
        is_reseated=bool(done & {"reseated", "replaced-head", "replaced-body"}),
        is_plug_repaired="repaired-plug-or-harness" in done,
        was_tested_after_cleaning=tested,
    )


def work_facts(valve: Valve, work: Iterable[Work], proofs: Iterable[Proof]) -> Found:
    """Work done and proofs given, as facts.

    Parameters
    ----------
    valve : Valve
        A coil has no stem to see travel.
    work, proofs : iterable
        Of this valve, entries that are struck out left out.
    """
    facts = [Fact(code=f"work.{done}") for done in dict.fromkeys(one.done for one in work)]
    warnings = []
    latest = {one.kind: one.result for one in proofs}  # a later proof of one kind stands for the earlier
    for kind, result in latest.items():
        if kind == "stem-travel" and (valve.head != "bolt-on" or valve.kind == "solenoid"):
            warnings.append(Reason(code="other-kind.stem-travel", values={"valve": valve.id}))
            continue
        facts.append(Fact(code=f"proof.{kind}.{result}"))
    return Found(facts=tuple(facts), warnings=tuple(warnings))
