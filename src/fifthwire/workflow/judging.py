"""Judge a kept visit: the judgement stands beside earlier ones; what it says of each valve is what is known now."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from hashlib import sha256

from fifthwire.assessment.as_json import assessment_to_json
from fifthwire.assessment.assess import assess
from fifthwire.assessment.conditions import meter_name
from fifthwire.assessment.history.as_read import windings_as_read
from fifthwire.assessment.marks import GOOD, mark_of
from fifthwire.assessment.valve_words import FROM_WINDINGS, leading_fault
from fifthwire.assessment.windings import judged_measurement
from fifthwire.diagnosis.priors import Priors
from fifthwire.model.assessment import Assessment, Reason, ValveAssessment
from fifthwire.model.errors import Conflict
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import HeadInstance, ValveNow, WindingPoint
from fifthwire.model.kept.visits import Judgement, VisitKept
from fifthwire.model.reasons import REASONS, say
from fifthwire.model.record import record
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit
from fifthwire.register import audit, judgements, todo, valves, visits
from fifthwire.register.entries import Assembled, assemble
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep, Register
from fifthwire.visitfile import visit_to_json
from fifthwire.workflow.laws import load_priors
from fifthwire.workflow.permission import Deed, require

MOST_TRIES = 5
"""How often a visit that somebody adds to meanwhile is judged again before that is said.  [1]  Our choice."""

ASSESSED_LAST = 16
"""Assessments that are remembered.  [1]  Our choice: one takes some 100 kB."""


@record
class Judged:
    """A kept visit as it stood, and what the program makes of it."""

    kept: VisitKept
    put_together: Assembled
    assessment: Assessment
    inputs_sha256: str

    @property
    def visit(self) -> Visit:
        """As its entries say it."""
        return self.put_together.visit


def judge_visit(register: Register, who: Person, visit_id: str, *, priors: Priors | None = None) -> Judgement:
    """Judge a visit as it stands, and keep what that says of its valves.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    visit_id : str
        The visit.
    priors : Priors or None
        The laws to judge by; None: the shipped ones.

    Returns
    -------
    Judgement
        The same as the last where neither the visit nor the program nor its priors have changed.

    Raises
    ------
    NotFound
        If there is no such visit at the person's sites.
    """
    laws = priors or load_priors()
    for _ in range(MOST_TRIES):
        judged = judge_as_it_stands(register, who, visit_id, laws, "add")
        with register.adding() as keep:
            if visits.hold(keep, visit_id).version != judged.kept.version:
                continue
            return keep_judgement(keep, who, judged)
    raise Conflict("Others keep adding to this visit.", "Nothing was judged. Try again once they are done.")


def judge_as_it_stands(register: Register, who: Person, visit_id: str, priors: Priors, deed: Deed) -> Judged:
    """What the program makes of a visit, nothing kept yet: it is worked out while nobody is held up."""
    with register.reading() as keep:
        kept = visits.visit(keep, visit_id)
        require(who, deed, site_id=kept.site_id)
        put_together = assemble(visits.drafts_of(keep, visit_id), name="the visit")
    inputs_sha256 = inputs_of(put_together.visit)
    assessment = _assessed(_Inputs(put_together, priors, inputs_sha256))
    return Judged(kept=kept, put_together=put_together, assessment=assessment, inputs_sha256=inputs_sha256)


class _Inputs:
    """What an assessment is made from, known by its hashes."""

    def __init__(self, put_together: Assembled, priors: Priors, sha256: str) -> None:
        self.put_together, self.priors = put_together, priors
        self._known_by = (sha256, priors.sha256 or id(priors))

    def __hash__(self) -> int:
        return hash(self._known_by)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Inputs) and self._known_by == other._known_by


@lru_cache(maxsize=ASSESSED_LAST)
def _assessed(inputs: _Inputs) -> Assessment:
    """An assessment, remembered for a while: who judges a visit often signs it next."""
    return assess(inputs.put_together.visit, inputs.priors, warnings=inputs.put_together.warnings)


def inputs_of(visit: Visit) -> str:
    """SHA-256 of everything a judgement is made from, the program and its priors apart."""
    return sha256(visit_to_json(visit).encode("utf-8", "surrogatepass")).hexdigest()


def keep_judgement(keep: Keep, who: Person, judged: Judged) -> Judgement:
    """Keep a judgement, the verdict and the windings of each valve, and what is to do there.

    Parameters
    ----------
    keep : Keep
        A transaction that writes, in which the visit is held.
    who : Person
        The actor.
    judged : Judged
        Of the visit as it stands.
    """
    assessment, kept = judged.assessment, judged.kept
    last = next(iter(judgements.judgements_of(keep, kept.id)), None)
    like = (assessment.program, assessment.priors_sha256, judged.inputs_sha256)
    if last is not None and (last.program, last.priors_sha256, last.inputs_sha256) == like:
        return last
    made = Judgement(
        id=new_id(keep.now_utc),
        visit_id=kept.id,
        at_utc=keep.now_utc,
        by=who.name,
        program=assessment.program,
        priors_sha256=assessment.priors_sha256,
        inputs_sha256=judged.inputs_sha256,
        assessment=assessment_to_json(assessment),
    )
    judgements.add_judgement(keep, made)
    ids = visits.valve_ids_of(keep, kept.id)
    verdicts = [verdict_of(one, ids[one.id], kept) for one in assessment.valves if one.id in ids]
    judgements.put_verdicts(keep, kept.id, made.id, verdicts)
    judgements.put_points(keep, kept.id, _points(keep, judged, ids))
    wanted = [_wanted(one, ids[one.id], kept, judged.visit) for one in assessment.valves if one.id in ids]
    todo.want(keep, kept.id, kept.date, [one for one in wanted if one.urgency != "none"])
    audit.write_down(keep, who, "visit-judged", f"{kept.site}, {kept.system}, {kept.date}")
    return made


def verdict_of(valve: ValveAssessment, valve_id: str, kept: VisitKept) -> ValveNow:
    """What an assessment says of a valve, as it is listed."""
    mark, leading = mark_of(valve), leading_fault(valve)
    return ValveNow(
        valve_id=valve_id,
        visit_id=kept.id,
        date=kept.date,
        mark=mark.key,
        word_code=_word_code(valve),
        cause=None if leading is None else leading.cause,
        probability=None if leading is None else round(leading.probability, 6),
        action=valve.action,
        urgency=valve.urgency,
        meanwhile=valve.meanwhile,
        because=_because(valve.reasons),
        winding_verdict=valve.winding.verdict,
    )


def _because(reasons: Sequence[Reason]) -> tuple[str, ...]:
    return tuple(say(REASONS, one.code, one.values) for one in reasons)


def _word_code(valve: ValveAssessment) -> str:
    """The finest word for the verdict: what the windings themselves say, where they are the cause."""
    leading = leading_fault(valve)
    if leading is None:
        return "sound" if mark_of(valve) is GOOD else valve.winding.verdict
    if leading.cause == "winding":
        return next((one.cause for one in valve.winding.causes if one.cause in FROM_WINDINGS), leading.cause)
    return leading.cause


def _points(keep: Keep, judged: Judged, ids: Mapping[str, str]) -> dict[str, list[WindingPoint]]:
    """The value of every winding that was measured, each with the head that it belongs to."""
    records = {valve.id: valve for valve in judged.visit.valves if not valve.is_void}
    points: dict[str, list[WindingPoint]] = {}
    for one in judged.assessment.valves:
        if one.id in ids and one.winding.windings:
            heads = valves.heads_of(keep, ids[one.id])
            points[ids[one.id]] = _points_of(one, records[one.id], judged, heads)
    return points


def _points_of(one: ValveAssessment, valve: Valve, judged: Judged, heads: Sequence[HeadInstance]) -> list[WindingPoint]:
    measurement = judged_measurement(valve)
    is_after = measurement is not None and measurement.when == "after-replacement"
    head = _head_of(heads, judged, is_after=is_after)
    meter = None if measurement is None else meter_name(judged.visit, valve, measurement)
    windings = one.winding.windings
    if measurement is not None:
        windings = windings_as_read(judged.visit, valve, measurement, windings)
    found = {
        of.wires: WindingPoint(
            date=judged.kept.date,
            visit_id=judged.kept.id,
            head_id=None if head is None else head.id,
            wires=of.wires,
            ohm_at_spec=of.ohm_at_spec,
            u_ohm=of.u_ohm_at_spec,
            verdict=one.winding.verdict,
            meter_serial=None if meter is None else judged.visit.meters[meter].serial,
        )
        for of in windings
    }
    return list(found.values())


def _head_of(heads: Sequence[HeadInstance], judged: Judged, *, is_after: bool) -> HeadInstance | None:
    """The head that was on the valve that day; where one was replaced by another, the one that was measured."""
    day = judged.kept.date
    there = [
        one for one in heads if (one.since is None or one.since <= day) and (one.until is None or one.until >= day)
    ]
    if not there:
        return None
    return max(there, key=lambda one: str(one.since or "")) if is_after or len(there) == 1 else _older(there)


def _older(heads: Sequence[HeadInstance]) -> HeadInstance:
    return min(heads, key=lambda one: str(one.since or ""))


def _wanted(one: ValveAssessment, valve_id: str, kept: VisitKept, visit: Visit) -> todo.Wanted:
    return todo.Wanted(
        valve_id=valve_id,
        site_id=kept.site_id,
        system_id=kept.system_id,
        action=one.action,
        why=_because(one.reasons),
        urgency=one.urgency,
        meanwhile=one.meanwhile,
        parts=_parts(one, visit),
    )


def _parts(one: ValveAssessment, visit: Visit) -> str | None:
    """What to bring, where the visit says which part it is."""
    valve = next((valve for valve in visit.valves if valve.id == one.id and not valve.is_void), None)
    if valve is None or one.action != "replace-head":
        return None
    spec = visit.specs.get(valve.spec or "")
    told = [valve.part_label, valve.spec, spec.source if spec is not None else None]
    return " · ".join(part for part in told if part) or None
