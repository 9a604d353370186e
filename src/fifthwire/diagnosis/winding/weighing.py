"""The hypotheses of a head as they are found, and how far below the best one ceases to matter."""

from dataclasses import dataclass, field
from math import log

from fifthwire.diagnosis.winding.base_fit import Prior
from fifthwire.diagnosis.winding.column import NEVER
from fifthwire.diagnosis.winding.cross_bridge import CrossFit
from fifthwire.diagnosis.winding.head import Head
from fifthwire.diagnosis.winding.hypothesis import Hypothesis

DROPPED_BELOW = 13.0
"""Hypotheses that end this many nats below the best so far are not worth integrating."""


@dataclass(frozen=True, slots=True)
class WeighedBridge:
    """A bridge between groups, weighed without its prior."""

    log_evidence: float
    found: CrossFit
    order: tuple[int, ...]
    """Of its windings, in which bridges alike have the same columns."""
    alike: tuple[object, ...]
    """What it shares with those."""


@dataclass(slots=True)
class Weighing:
    """All hypotheses of a head as they are found, and the best weight so far."""

    head: Head
    found: list[Hypothesis] = field(default_factory=list)
    best: float = NEVER
    dead: set[tuple[object, ...]] = field(default_factory=set)
    """Faults, by cause, common and place, that are out of the question however the bobbins are shared."""
    cross: dict[tuple[object, ...], WeighedBridge] = field(default_factory=dict)
    """Bridges between groups, by their columns."""
    priors: dict[tuple[object, ...], Prior] = field(default_factory=dict)

    def add(self, hypothesis: Hypothesis) -> None:
        """Keep a hypothesis."""
        if hypothesis.log_weight > NEVER:
            self.found.append(hypothesis)
            self.best = max(self.best, hypothesis.log_weight)

    def is_hopeless(self, log_weight: float) -> bool:
        """Whether a weight is too far below the best to matter."""
        return log_weight < self.best - DROPPED_BELOW


def log_shares(head: Head, name: str) -> dict[str, float]:
    """Logarithm of the share of each cause that exists in an arrangement."""
    absent = {
        "unipolar-5": (),
        "unipolar-6": (),
        "bipolar-4": ("open-common",),
        "single-2": ("open-common", "bridged"),
    }[name]
    shares = {cause: share for cause, share in head.laws.fault_shares.items() if cause not in absent and share > 0.0}
    if head.spec_scale is None:
        shares.pop("wrong-head", None)
    total = sum(shares.values())
    found = {cause: log((1.0 - head.sound_prior) * share / total) for cause, share in shares.items()}
    found["sound"] = log(head.sound_prior)
    return found
