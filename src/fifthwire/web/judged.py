"""A kept judgement as a page shows it: a row a valve, worst first, in the words of the report."""

from collections.abc import Mapping
from typing import Any

from fifthwire.assessment.from_json import assessment_of
from fifthwire.assessment.marks import MARKS, mark_of
from fifthwire.assessment.summary import three_lines
from fifthwire.assessment.valve_words import cause_words
from fifthwire.model.kept.visits import Judgement, VisitWhole
from fifthwire.model.reasons import say
from fifthwire.model.record import record
from fifthwire.model.running_words import FLOODBACK

_ORDER = {mark.key: place for place, mark in enumerate(MARKS)}


@record
class JudgedValve:
    """A valve's verdict."""

    label: str
    valve_id: str | None
    mark: str
    cause: str
    """In words, with how sure; empty where nothing speaks against the valve."""
    action: str
    urgency: str
    meanwhile: str
    because: tuple[str, ...]
    next_check: str
    cautions: tuple[str, ...]


def judged_rows(judgement: Judgement, whole: VisitWhole) -> tuple[JudgedValve, ...]:
    """The valves of a judgement, worst first, else in the order of the visit.

    Parameters
    ----------
    judgement : Judgement
        As it was kept.
    whole : VisitWhole
        The visit it was made of.
    """
    written = {valve.id: valve for valve in whole.visit.valves}
    kept = {one["id"]: one for one in judgement.assessment["valves"]}
    rows = []
    for valve in assessment_of(judgement.assessment).valves:
        said = kept[valve.id]
        row = JudgedValve(
            label=valve.id,
            valve_id=whole.valve_ids.get(valve.id),
            mark=mark_of(valve).key,
            cause=cause_words(valve, written.get(valve.id)),
            action=valve.action,
            urgency=valve.urgency,
            meanwhile=valve.meanwhile,
            because=tuple(said["because"]),
            next_check=said["next_check"]["what"] if said["next_check"] else "",
            cautions=tuple(said["cautions"]),
        )
        rows.append(row)
    return tuple(sorted(rows, key=lambda row: (_ORDER[row.mark], row.urgency != "now")))


def plain_lines(judgement: Judgement, whole: VisitWhole) -> tuple[tuple[str, str], ...]:
    """The three plain lines of a judgement, with their labels."""
    return three_lines(whole.visit, assessment_of(judgement.assessment)).labelled()


@record
class SystemJudged:
    """What a judgement says of the system as a whole."""

    cause: str
    """Key of the leading cause; empty where nothing of the running system was read."""
    probability: float
    compressors: tuple[Mapping[str, Any], ...]
    """As the assessment's JSON holds them, with `said`: whether liquid reaches it, in words."""
    sensors: tuple[Mapping[str, Any], ...]
    """Those that cannot be right."""
    warnings: tuple[str, ...]


def system_judged(judgement: Judgement) -> SystemJudged:
    """The system as a judgement saw it.

    Parameters
    ----------
    judgement : Judgement
        As it was kept.
    """
    kept = judgement.assessment
    leading = kept["system"]["causes"][0] if kept["system"]["causes"] and kept["compressors"] else None
    return SystemJudged(
        cause=leading["cause"] if leading else "",
        probability=leading["probability"] if leading else 0.0,
        compressors=tuple(
            {**one, "said": say(FLOODBACK, f"floodback.{one['floodback']}", {"id": one["id"]})}
            for one in kept["compressors"]
        ),
        sensors=tuple(one for one in kept["sensors"] if one["verdict"] not in ("good", "undecided")),
        warnings=tuple(kept["warnings"]),
    )
