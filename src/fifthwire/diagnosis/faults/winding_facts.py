"""What the readings say, as facts with the values their sentences need."""

from fifthwire.diagnosis.faults.case import WindingRead
from fifthwire.diagnosis.movement.fact import Fact
from fifthwire.model.assessment import CauseProbability, WindingEstimate
from fifthwire.model.record import record

TELL_HEAT_FROM_FRAC = 0.03
"""A head that reads this much over its value at the spec's temperature is told to be hot, and no fault.  [1]"""

ONE_CAUSE_FROM = 0.9
"""A faulty verdict whose leading cause and wires are less probable than this is told as shared between causes.  [1]"""
ONE_WIRE_FROM = 0.5
"""An open winding less probable than this is told as an open pair: which of its wires is not known yet.  [1]"""


@record
class ReadAgainst:
    """What a measurement is told against."""

    spec_ohm: float | None = None
    spec_c: float | None = None
    head_c: float | None = None
    heat_factor: float | None = None
    """Resistance at the head's temperature over that at the spec's.  [1]"""
    before_cleaning: str | None = None
    """What an earlier measurement said, where it said something else."""


def winding_facts(read: WindingRead, against: ReadAgainst) -> tuple[Fact, ...]:
    """Facts of the windings: the verdict with what it rests on, and what makes it doubtful.

    Parameters
    ----------
    read : WindingRead
        The measurement that the verdict stands on.
    against : ReadAgainst
        Spec and temperature.

    Returns
    -------
    tuple of Fact
        Empty where nothing was measured and nothing is to be said.
    """
    if read.is_plug_on:
        return (Fact(code="winding.plug-on", weighs=False),)
    if read.finding.verdict == "not-measured":
        return ()
    if read.is_all_open:
        return (Fact(code="readings.all-open"),)
    if read.doubtful_meter:
        return (Fact(code="winding.meter-doubtful", values={"meter": read.doubtful_meter}, weighs=read.counts),)
    facts = [_main(read, against), *_hot(read, against)]
    if read.is_of_head_taken_off:
        facts.append(Fact(code="winding.before-replacement", weighs=False))
    elif read.is_before_repair:
        facts.append(Fact(code="winding.before-repair", weighs=False))
    if against.before_cleaning is not None:
        facts.append(Fact(code="winding.before-cleaning", values={"before": against.before_cleaning}, weighs=False))
    return tuple(facts)


def _main(read: WindingRead, against: ReadAgainst) -> Fact:
    """The verdict with what it rests on; it weighs through the windings' own posterior."""
    weighs = read.counts
    finding = read.finding
    leading = finding.causes[0] if finding.causes else CauseProbability(cause="bad-reading", probability=1.0)
    if finding.verdict == "sound":
        return _sound(finding.windings, against, weighs)
    if leading.cause == "sound":
        if finding.unread_wires:
            return Fact(code="winding.unread", values={"wires": list(finding.unread_wires)}, weighs=weighs)
        return Fact(code="winding.undecided", values=_named(leading), weighs=weighs)
    if leading.cause == "open-winding":
        return _open(leading, read, weighs)
    if finding.verdict == "faulty" and leading.probability < ONE_CAUSE_FROM:
        return Fact(code="winding.faulty-between", values=_named(leading), weighs=weighs)
    if finding.verdict == "undecided" and leading.cause not in ("bad-reading", "other", "wrong-head"):
        return Fact(code="winding.undecided", values=_named(leading), weighs=weighs)
    return _other(leading, finding.windings, weighs)


def _sound(windings: tuple[WindingEstimate, ...], against: ReadAgainst, weighs: bool) -> Fact:
    ohms = [one.ohm for one in windings if one.ohm is not None]
    at_spec = [one.ohm_at_spec for one in windings if one.ohm_at_spec is not None]
    if len(ohms) == 1:
        code = "winding.sound-coil" if against.spec_ohm is not None else "winding.whole-coil"
        return Fact(code=code, values={"ohm": round(ohms[0], 3)}, weighs=weighs)
    values: dict[str, object] = {"n_windings": len(ohms), "spread_ohm": _spread(ohms)}
    if at_spec and against.spec_ohm is not None:
        doubts = [one.u_ohm_at_spec for one in windings if one.u_ohm_at_spec is not None]
        values["ohm_at_spec"] = round(sum(at_spec) / len(at_spec), 3)
        values["u_ohm"] = round(max(doubts, default=0.0), 3)
        values.update(at_c=against.spec_c, spec_ohm=against.spec_ohm)
        return Fact(code="winding.sound-spec", values=values, weighs=weighs)
    return Fact(code="winding.sound", values=values, weighs=weighs)


def _open(leading: CauseProbability, read: WindingRead, weighs: bool) -> Fact:
    wires = set(leading.wires)
    named = " and ".join(leading.wires)
    opens = read.opens_that_prove(leading.wires)
    n_from = len({frozenset((one.wire_a, one.wire_b)) for one in opens})
    if len(leading.wires) == 2 and len(opens) > 1:
        return Fact(code="winding.open-repeated", values={"wires": named, "n_from": len(opens)}, weighs=weighs)
    if opens and (leading.probability < ONE_WIRE_FROM or len(leading.wires) == 2):
        pair = f"{opens[0].wire_a} to {opens[0].wire_b}"
        return Fact(code="winding.open-pair", values={"pair": pair}, weighs=weighs)
    if n_from < 2:
        return Fact(code="winding.open-once", values={"wire": named}, weighs=weighs)
    others = [one.ohm for one in read.finding.windings if one.ohm is not None and not wires & set(one.wires)]
    values = {"wire": named, "n_from": n_from}
    if len(others) < 2:
        return Fact(code="winding.open-alone", values=values, weighs=weighs)
    values.update(n_others=len(others))
    return Fact(code="winding.open", values={**values, "spread_ohm": _spread(others)}, weighs=weighs)


def _other(leading: CauseProbability, windings: tuple[WindingEstimate, ...], weighs: bool) -> Fact:
    wires = list(leading.wires)
    if leading.cause == "open-common":
        return Fact(code="winding.open-common", values={"wires": wires}, weighs=weighs)
    if leading.cause == "wrong-head":
        return Fact(code="winding.wrong-head", weighs=weighs)
    if leading.cause in ("bad-reading", "other"):
        code = "winding.bad-reading" if wires else "winding.no-head-fits"
        return Fact(code=code, values={"wires": wires} if wires else {}, weighs=weighs)
    if leading.cause == "bridged":
        return Fact(code="winding.bridged", values={"wires": wires}, weighs=weighs)
    if leading.cause == "bad-contact":
        return Fact(code="winding.bad-contact", values={"wire": " and ".join(wires)}, weighs=weighs)
    return _shorted(wires, windings, weighs)


def _shorted(wires: list[str], windings: tuple[WindingEstimate, ...], weighs: bool) -> Fact:
    blamed = [one.ohm for one in windings if one.ohm is not None and set(wires) & set(one.wires[-len(wires) :])]
    others = [one.ohm for one in windings if one.ohm is not None and one.ohm not in blamed]
    if not blamed or not others:
        named = {"leading": "shorted turns", "wires": wires, "probability": 1.0}
        return Fact(code="winding.shorted-turns-alone", values=named, weighs=weighs)
    low = 1.0 - blamed[0] * len(others) / sum(others)
    values = {"wire": " and ".join(wires), "low_frac": round(low, 4)}
    return Fact(code="winding.shorted-turns", values=values, weighs=weighs)


def _hot(read: WindingRead, against: ReadAgainst) -> list[Fact]:
    """A good head that is warm reads high: said, so that nobody condemns it."""
    factor = against.heat_factor
    if factor is None or read.finding.verdict != "sound" or factor - 1.0 < TELL_HEAT_FROM_FRAC:
        return []
    values = {"head_c": against.head_c, "at_c": against.spec_c, "rise_frac": round(factor - 1.0, 4)}
    return [Fact(code="winding.hot", values=values, weighs=False)]


def _spread(ohms: list[float]) -> float:
    return round(max(ohms) - min(ohms), 3)


def _named(leading: CauseProbability) -> dict[str, object]:
    return {"leading": leading.cause, "wires": list(leading.wires), "probability": round(leading.probability, 4)}
