"""The same head measured at its own plug and through the harness: which of the two the fault is in."""

from collections.abc import Iterable
from typing import Final

from fifthwire.diagnosis.movement.fact import Fact
from fifthwire.model.valve import PairReading

SAME_WITHIN_OHM: Final = 1.0
"""What a sound harness, its plug and the touch of the probes may add to a reading.  [ohm]  Judgement."""
SAME_WITHIN_FRAC: Final = 0.01
"""And what two readings of one head differ by on one meter.  [1]  Judgement."""


def harness_fact(at_head: Iterable[PairReading], through_harness: Iterable[PairReading]) -> Fact | None:
    """Whether the readings through the harness are those at the head's plug.

    Parameters
    ----------
    at_head, through_harness : iterable of PairReading
        Of one state of one head; only pairs read at both ends are compared.

    Returns
    -------
    Fact or None
        None where no pair was read at both ends.
    """
    near = {frozenset((one.wire_a, one.wire_b)): one for one in at_head}
    compared = [(near[pair], far) for far in through_harness if (pair := frozenset((far.wire_a, far.wire_b))) in near]
    if not compared:
        return None
    odd = next((far for at, far in compared if _is_worse(at, far)), None)
    if odd is not None:
        return Fact(code="harness.differs", values={"pair": f"{odd.wire_a} to {odd.wire_b}"})
    doubtful = next((far for at, far in compared if at.is_open and not far.is_open), None)
    if doubtful is not None:
        return Fact(code="harness.head-end-doubtful", values={"pair": f"{doubtful.wire_a} to {doubtful.wire_b}"})
    return Fact(code="harness.same")


def _is_worse(at_head: PairReading, through: PairReading) -> bool:
    if at_head.ohm is None:
        return False
    if through.ohm is None:
        return True
    return through.ohm - at_head.ohm > SAME_WITHIN_OHM + SAME_WITHIN_FRAC * at_head.ohm
