"""The assessment: what the program makes of a visit, shaped as `fifthwire assess --json` prints it."""

from collections.abc import Mapping
from dataclasses import field
from typing import Any

from fifthwire.model.record import record


@record
class CauseProbability:
    """A cause, the wires it names, and how probable it is."""

    cause: str
    probability: float
    wires: tuple[str, ...] = ()


@record
class CommonProbability:
    """A candidate for the common wire, or for the pair of commons."""

    wires: tuple[str, ...]
    probability: float


@record
class WindingEstimate:
    """One winding between two wires; None where it is open or nothing was read of it."""

    wires: tuple[str, str]
    """Common first, where there is one."""
    ohm: float | None
    u_ohm: float | None
    ohm_at_spec: float | None
    """At the spec's temperature; None without a spec or without a head temperature to correct from."""
    u_ohm_at_spec: float | None


@record
class NextReading:
    """The pair of wires whose reading is expected to settle most."""

    wires: tuple[str, str]
    gain_bits: float


@record
class WindingFinding:
    """What the readings of one measurement say of a head's windings."""

    verdict: str
    causes: tuple[CauseProbability, ...] = ()
    common: tuple[CommonProbability, ...] = ()
    windings: tuple[WindingEstimate, ...] = ()
    next_reading: NextReading | None = None
    arrangement: str | None = None
    """The most probable arrangement; not part of the JSON."""
    unread_wires: tuple[str, ...] = ()
    """Wires (where known) without a finite reading; not part of the JSON."""


@record
class Reason:
    """A fact as a code with values, and how far it moved the odds of the leading cause (natural logarithm)."""

    code: str
    values: Mapping[str, Any] = field(default_factory=dict)
    log_odds: float = 0.0


@record
class NextCheck:
    """The check with the most expected benefit for its minutes and its risk."""

    check: str
    values: Mapping[str, Any] = field(default_factory=dict)
    minutes: float = 0.0
    is_system_stopped: bool = False
    """Whether the system must be stopped for it."""
    risk: str = ""
    """A code of `model.reasons.RISKS`; empty where it risks nothing worth saying."""
    gain_bits: float | None = None


@record
class ValveAssessment:
    """Everything said of one valve."""

    id: str
    winding: WindingFinding
    causes: tuple[CauseProbability, ...]
    action: str
    urgency: str
    meanwhile: str = "none"
    reasons: tuple[Reason, ...] = ()
    """Those that stand in `because`, in order of weight."""
    next_check: NextCheck | None = None
    cautions: tuple[str, ...] = ()
    """Codes of `model.reasons.CAUTIONS`, in the order of the work."""
    doubts: tuple[Reason, ...] = ()
    """What makes this valve's readings doubtful."""
    facts: tuple[Reason, ...] = ()
    """Every fact used, for `--explain`; not part of the JSON."""
    not_checked: tuple[Reason, ...] = ()
    """What was not looked at, and why where that is known; for the report."""


@record
class Suspect:
    """What could have stopped a compressor, and how probable it is that it was at work."""

    reason: Reason
    probability: float
    valve: str = ""
    """Its label, where it is a valve that could have sent liquid."""


@record
class CompressorFailure:
    """After a compressor failed: what could have done it, and what has to be proved before a new one starts."""

    suspects: tuple[Suspect, ...]
    """Most probable first."""
    to_prove: tuple[Reason, ...]
    not_proved: tuple[Reason, ...]
    """What of it nothing in the visit shows."""


@record
class Assessment:
    """A visit assessed."""

    program: str
    site: str
    system: str
    date: str
    valves: tuple[ValveAssessment, ...]
    system_causes: tuple[CauseProbability, ...] = ()
    compressors: tuple[Mapping[str, Any], ...] = ()
    compressor: Mapping[str, Any] = field(default_factory=dict)
    units: tuple[Mapping[str, Any], ...] = ()
    sensors: tuple[Mapping[str, Any], ...] = ()
    warnings: tuple[Reason, ...] = ()
    failure: CompressorFailure | None = None
    """Where the visit is after a compressor failed; for the report, not part of the JSON."""
    priors_sha256: str = ""
    """Of the priors' text; not part of the JSON."""
