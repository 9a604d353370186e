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
    "stem.two-states": "{valve}: stem {stem}, and {stem_mm:g} mm out: these contradict each other. Not used.",
    "service-state.minutes-missing": "How long all valves were open for service is not written: it is taken as long "
    "enough for the stems.",
    "service-state.minutes-short": "All valves were open for service for {minutes:g} min, under the {needed:g} min "
    "taken here as long enough: the stems prove nothing.",
    "spec.tolerance-missing": "Spec {spec} gives no tolerance: ±10 % is taken.",
    "spec.resistance-missing": "Spec {spec} gives no resistance: the windings are compared with one another only.",
    "meter.only-one": "No meter is named for {valves}: the only one in the file, {meter}, is taken.",
    "meter.default": "No meter is known for {valves}: ±(1 % + 2 digits) at 0.1 Ω is taken.",
    "meter.accuracy-missing": "Meter {meter} gives no accuracy: ±(1 % + 2 digits) is taken.",
    "meter.resolution-missing": "Meter {meter} gives no resolution: 0.1 Ω is taken.",
    "meter.check-resistor": "Meter {meter} read {shown_ohm:g} Ω on a resistor of {known_ohm:g} Ω, off by more than its "
    "±{limit_ohm:.2f} Ω: no verdict measured with it counts until it is proved.",
    "meter.calibration-old": "Meter {meter} was last calibrated on {calibrated}, over a year before the visit.",
    "meter.calibrated-later": "Meter {meter} is written as calibrated on {calibrated}, after the visit.",
    "running.not-steady": "A snapshot of state {state} is not steady: its readings are not used to judge valves.",
    "running.no-mode": "A snapshot does not say whether the system cools or heats: its readings are not used to judge "
    "valves.",
    "head-new.no-reading": "{valve}: the head was replaced and the new one was not measured.",
    "readings.slipped": "{valve}: {pair} read {shown} once, and {n_agree} times otherwise: that once is taken as a "
    "slipped or missed probe, and is not used.",
    "running.no-refrigerant": "Pressures without a refrigerant: write [system] refrigerant, and they are judged.",
    "running.suction-over-discharge": "{id}: its suction pressure is not under its discharge pressure; not used.",
    "running.out-of-range": "{id}: {what}; its pressures are not used. See whether the refrigerant and the gauges are "
    "the right ones.",
    "running.impossible-temperature": "{place}: {what} {value_c:g} °C cannot be; not used.",
    "running.contradicted": "{id}: {what} at {is_c:g} °C does not go with {limit_c:g} °C, the saturation temperature "
    "of {refrigerant} at the pressure written. See whether refrigerant, gauge and sensor are the right ones. These "
    "pressures are not used to judge valves.",
    "running.not-at-rest": "{id}: the system is written as off, but a compressor turns or the pressures have not "
    "evened out. See whether the mode is right.",
    "running.beyond-stroke": "{valve}: {opening:g} pulses are more than its full stroke of {full:g}; taken as "
    "wide open.",
    "running.valve-of-two": "{valve} is named as the valve of {units}: a valve feeds one unit.",
    # Said by the reader of visit files; `place` says where.
    "visit.later-version": "The file is of version {version}, later than this program reads: what it adds is kept, "
    "not used.",
    "visit.key-of-later-version": "{place}: a key of a later version; kept, not used.",
    "visit.voids-unknown": "{place}: no entry of this file has the id {entry}; nothing is struck out.",
    "visit.entry-twice": "{place}: the entry id {entry} stands more than once.",
    "visit.readings-with-plug-on": "{valve}: readings taken with the plug on; the board hangs in parallel, so they "
    "mean nothing.",
    "visit.spec-of-other-kind": "{valve}: its spec has the winding {winding}, which does not go with a valve of this "
    "kind.",
    "visit.more-wires-than-spec": "{valve}: readings name {n_wires} wires, more than its spec's {winding} has.",
    "visit.common-against-spec": "{valve}: {n_common} common named, which its spec's {winding} does not have.",
    "visit.head-installed-after": "{valve}: its head is written as fitted on {date}, after the visit.",
    "visit.last-removed-after": "{valve}: its head is written as last removed on {date}, after the visit.",
    "visit.removed-before-installed": "{valve}: last removed on {date}, before this head was fitted.",
    "visit.before-installed": "The visit is dated before the system was installed, {year}.",
    "visit.ranges-and-accuracy": "Meter {meter} gives ranges and one accuracy for all: its ranges are taken.",
    "visit.barometer-against-altitude": "The barometer, {barometer_kpa_abs} kPa, does not go with the altitude, where "
    "{standard_kpa_abs} kPa is usual: the barometer is taken.",
    "visit.snapshot-and-snapshots": "Both [snapshot] and [[snapshots]] are in the file; all are kept.",
    "visit.subcooler-of-many": "{place}: the file lists {n_valves} subcooling valves; write their readings under "
    "[snapshot.valves] by name. Not used.",
    "visit.stands-twice": "{place}: {key} of {unit} stands twice with two values; the one of {unit} is taken.",
}
"""Code -> sentence. Each says what was given and what becomes of it."""
