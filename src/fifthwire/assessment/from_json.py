"""An assessment out of the JSON that was kept of it, so that an old judgement is shown in today's words and marks.

What the JSON leaves out (facts that are no reasons, doubts) is not there; sentences of an older program stay as they
were written, beside the codes.
"""

from collections.abc import Mapping
from typing import Any, Final

from fifthwire.model.assessment import (
    Assessment,
    CauseProbability,
    CommonProbability,
    NextCheck,
    NextReading,
    Reason,
    ValveAssessment,
    WindingEstimate,
    WindingFinding,
)
from fifthwire.model.cautions import CAUTIONS

_CODES: Final = {sentence: code for code, sentence in CAUTIONS.items()}


def assessment_of(kept: Mapping[str, Any]) -> Assessment:
    """The assessment that a JSON was made of, as far as the JSON tells.

    Parameters
    ----------
    kept : mapping
        As `fifthwire assess --json` prints it.
    """
    visit = kept["visit"]
    return Assessment(
        program=kept["program"],
        site=visit["site"],
        system=visit["system"],
        date=visit["date"],
        valves=tuple(_valve(one) for one in kept["valves"]),
        system_causes=_causes(kept["system"]["causes"]),
        compressors=tuple(kept["compressors"]),
        compressor=kept["compressor"],
        units=tuple(kept["units"]),
        sensors=tuple(kept["sensors"]),
    )


def _valve(kept: Mapping[str, Any]) -> ValveAssessment:
    return ValveAssessment(
        id=kept["id"],
        winding=_winding(kept["winding"]),
        causes=_causes(kept["causes"]),
        action=kept["action"],
        urgency=kept["urgency"],
        meanwhile=kept["meanwhile"],
        reasons=tuple(
            Reason(code=one["code"], values=one["values"], log_odds=one["log_odds"]) for one in kept["reasons"]
        ),
        next_check=_check(kept["next_check"]),
        cautions=tuple(_CODES[one] for one in kept["cautions"] if one in _CODES),
    )


def _winding(kept: Mapping[str, Any]) -> WindingFinding:
    following = kept["next_reading"]
    return WindingFinding(
        verdict=kept["verdict"],
        causes=_causes(kept["causes"]),
        common=tuple(
            CommonProbability(wires=tuple(of["wires"]), probability=of["probability"]) for of in kept["common"]
        ),
        windings=tuple(WindingEstimate(**{**one, "wires": tuple(one["wires"])}) for one in kept["windings"]),
        next_reading=following and NextReading(wires=tuple(following["wires"]), gain_bits=following["gain_bits"]),
    )


def _causes(kept: Any) -> tuple[CauseProbability, ...]:
    return tuple(
        CauseProbability(cause=one["cause"], probability=one["probability"], wires=tuple(one.get("wires", ())))
        for one in kept
    )


def _check(kept: Mapping[str, Any] | None) -> NextCheck | None:
    if kept is None:
        return None
    return NextCheck(check=kept["check"], minutes=kept["minutes"], is_system_stopped=kept["system_stopped"])
