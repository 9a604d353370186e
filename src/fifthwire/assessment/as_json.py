"""An assessment as `fifthwire assess --json` prints it: these keys, in this order, rounded as stated."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from fifthwire.model.assessment import Assessment, CauseProbability, NextCheck, ValveAssessment, WindingFinding
from fifthwire.model.choices import SYSTEM_CAUSES, VALVE_CAUSES, WINDING_CAUSES
from fifthwire.model.reasons import CAUTIONS, CHECKS, REASONS, RISKS, WARNINGS, say

ASSESSMENT_FORMAT: Final = "fifthwire/assessment/1"
LEAST: Final = 1e-6
"""A row less probable than this goes into `other`.  [1]  The assessment's format."""
MICRO: Final = 1_000_000


def assessment_to_json(assessment: Assessment) -> dict[str, Any]:
    """The assessment as a JSON object.

    Parameters
    ----------
    assessment : Assessment
        As assessed.

    Returns
    -------
    dict
        Probabilities to 6 decimals that still sum to 1, ohms to 3, kelvins to 2, bits to 3; rows under 1e-6 in one row
        `other`; ties in the order in which causes are listed.
    """
    return {
        "format": ASSESSMENT_FORMAT,
        "program": assessment.program,
        "visit": {"site": assessment.site, "system": assessment.system, "date": assessment.date},
        "valves": [_valve(one) for one in assessment.valves],
        "compressors": [dict(one) for one in assessment.compressors],
        "compressor": dict(assessment.compressor),
        "system": {"causes": _causes(assessment.system_causes, SYSTEM_CAUSES)},
        "units": [dict(one) for one in assessment.units],
        "sensors": [dict(one) for one in assessment.sensors],
        "warnings": [say(WARNINGS, one.code, one.values) for one in assessment.warnings],
    }


def _valve(valve: ValveAssessment) -> dict[str, Any]:
    return {
        "id": valve.id,
        "winding": _winding(valve.winding),
        "causes": _causes(valve.causes, VALVE_CAUSES),
        "action": valve.action,
        "urgency": valve.urgency,
        "meanwhile": valve.meanwhile,
        "reasons": [
            {"code": one.code, "values": _plain(one.values), "log_odds": _rounded(one.log_odds, 3)}
            for one in valve.reasons
        ],
        "because": [say(REASONS, one.code, one.values) for one in valve.reasons],
        "next_check": _check(valve.next_check),
        "cautions": [say(CAUTIONS, code) for code in valve.cautions],
    }


def _winding(finding: WindingFinding) -> dict[str, Any]:
    following = finding.next_reading
    return {
        "verdict": finding.verdict,
        "causes": _causes(finding.causes, WINDING_CAUSES, with_wires=True),
        "common": [
            {"wires": list(one.wires), "probability": _rounded(one.probability, 6)}
            for one in finding.common
            if one.probability >= LEAST
        ],
        "windings": [
            {
                "wires": list(one.wires),
                "ohm": _rounded(one.ohm, 3),
                "u_ohm": _rounded(one.u_ohm, 3),
                "ohm_at_spec": _rounded(one.ohm_at_spec, 3),
                "u_ohm_at_spec": _rounded(one.u_ohm_at_spec, 3),
            }
            for one in finding.windings
        ],
        "next_reading": None
        if following is None
        else {"wires": list(following.wires), "gain_bits": _rounded(following.gain_bits, 3)},
    }


def _check(check: NextCheck | None) -> dict[str, Any] | None:
    if check is None:
        return None
    return {
        "check": check.check,
        "what": say(CHECKS, check.check, check.values),
        "minutes": _rounded(check.minutes, 1),
        "system_stopped": check.is_system_stopped,
        "risk": say(RISKS, check.risk) if check.risk else "",
    }


def _causes(
    rows: Sequence[CauseProbability], order: tuple[str, ...], *, with_wires: bool = False
) -> list[dict[str, Any]]:
    """Rows in millionths that sum to one, most probable first."""
    kept = [row for row in rows if row.probability >= LEAST and row.cause != "other"]
    shares = [row.probability for row in kept]
    dropped = sum(row.probability for row in rows) - sum(shares)
    millionths = _millionths([*shares, max(dropped, 0.0)])
    listed = sorted(
        zip(kept, millionths, strict=False),
        key=lambda one: (-one[1], order.index(one[0].cause) if one[0].cause in order else len(order)),
    )
    out = [_row(row.cause, millionth, row.wires if with_wires else None) for row, millionth in listed]
    if len(kept) < len(rows) and millionths[-1] > 0:
        out.append(_row("other", millionths[-1], () if with_wires else None))
    return out


def _row(cause: str, millionth: int, wires: tuple[str, ...] | None) -> dict[str, Any]:
    probability = millionth / MICRO
    if wires is None:
        return {"cause": cause, "probability": probability}
    return {"cause": cause, "wires": list(wires), "probability": probability}


def _millionths(shares: Sequence[float]) -> list[int]:
    """Shares in whole millionths that sum to what they sum to: what rounding leaves goes to the largest remainders."""
    exact = [share * MICRO for share in shares]
    whole = [int(one) for one in exact]
    left = round(sum(exact)) - sum(whole)
    by_remainder = sorted(range(len(exact)), key=lambda i: whole[i] - exact[i])
    for i in by_remainder[:left]:
        whole[i] += 1
    return whole


def _plain(values: Mapping[str, Any]) -> dict[str, Any]:
    return {name: list(value) if isinstance(value, tuple) else value for name, value in values.items()}


def _rounded(value: float | None, decimals: int) -> float | None:
    """Rounded, without a minus before zero."""
    return None if value is None else round(value, decimals) + 0.0
