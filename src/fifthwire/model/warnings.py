"""Sentences of warnings: contradictions and doubts in what was given."""

from typing import Final

WARNINGS: Final[dict[str, str]] = {
    "other-kind.stem": "{valve}: a coil has no stem; what is written of one is not used.",
    "other-kind.seated": "{valve}: a motor is screwed down, not latched; `seated` is not used.",
    "other-kind.cracks": "{valve}: cracks are looked for in the housing of a motor; on a coil they are not used.",
    "other-kind.hand_magnet": "{valve}: the manual opening magnet belongs to a coil's body; `hand_magnet` is not used.",
    "other-kind.pulses": "{valve}: a solenoid has a coil and no pulses; they are not used.",
    "other-kind.felt": "{valve}: a solenoid does not step or rock; what was felt is not used.",
    "other-kind.stem-travel": "{valve}: a coil has no stem to see travel; that proof is not used.",
    "board.pulses-at-rest": "{valve}: pulses written of a board at rest; at rest a board drives nothing. Not used.",
    "stem.contradiction": "{valve}: stem {stem}, and {stem_mm:g} mm out: these contradict each other. Not used.",
    "service-state.minutes-missing": "How long all valves were open for service is not written: it is taken as long "
    "enough for the stems.",
    "service-state.minutes-short": "All valves were open for service for {minutes:g} min, under the {needed:g} min "
    "taken here as long enough: the stems prove nothing.",
    "spec.tolerance-missing": "Spec {spec} gives no tolerance: ±10 % is taken.",
    "spec.resistance-missing": "Spec {spec} gives no resistance: the windings are compared with one another only.",
    "meter.only-one": "{valve}: no meter is named; the only one in the file, {meter}, is taken.",
    "meter.default": "{valve}: no meter is named; ±(1 % + 2 digits) at 0.1 Ω is taken.",
    "meter.accuracy-missing": "Meter {meter} gives no accuracy: ±(1 % + 2 digits) is taken.",
    "meter.resolution-missing": "Meter {meter} gives no resolution: 0.1 Ω is taken.",
    "meter.check-resistor": "Meter {meter} read {shown_ohm:g} Ω on a resistor of {known_ohm:g} Ω, off by more than its "
    "±{limit_ohm:.2f} Ω: no verdict measured with it counts until it is proved.",
    "meter.calibration-old": "Meter {meter} was last calibrated on {calibrated}, over a year before the visit.",
    "meter.calibrated-later": "Meter {meter} is written as calibrated on {calibrated}, after the visit.",
    "not-judged-yet": "Read and kept, not judged yet: {what}.",
    "head-new.no-reading": "{valve}: the head was replaced and the new one was not measured.",
}
"""Code -> sentence. Each says what was given and what becomes of it."""
