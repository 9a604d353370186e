"""Sentences of facts: what was read, seen, felt and proved of a valve, and what was not looked at."""

from typing import Final

_WINDING: Final = {
    "winding.sound": "{n_windings} windings are good: they agree within {spread_ohm:.1f} Ω.",
    "winding.sound-spec": "{n_windings} windings are good: they agree within {spread_ohm:.1f} Ω and come to "
    "{ohm_at_spec:.1f} ± {u_ohm:.1f} Ω at {at_c:.0f} °C, where the manual says {spec_ohm:g} Ω.",
    "winding.sound-coil": "The coil reads {ohm:.1f} Ω and is good.",
    "winding.whole-coil": "The coil reads {ohm:.1f} Ω: it is not open; what it should read was not given.",
    "winding.open": "Wire {wire} is open from {n_from} wires; the other {n_others} windings agree within "
    "{spread_ohm:.1f} Ω.",
    "winding.open-alone": "Wire {wire} is open from {n_from} wires.",
    "winding.open-repeated": "Wires {wires} read open {n_from} times over.",
    "winding.open-once": "Wire {wire} reads open from one wire only: a probe may have missed.",
    "winding.open-pair": "{pair} reads open, so far once: a probe may have missed.",
    "winding.faulty-between": "The windings are faulty, and it is not settled how; most likely so far: {leading}.",
    "winding.open-common": "Every reading to the common {wires} is open and the other wires read through one another: "
    "the common is open.",
    "winding.shorted-turns": "The winding on wire {wire} reads {low_frac:.0%} under the others: turns are shorted.",
    "winding.shorted-turns-alone": "The winding on {wires} reads low: turns are shorted.",
    "readings.all-open": "Every pair reads open: the plug or the probes, before anything else.",
    "winding.bad-contact": "Every reading through wire {wire} is high by about the same: a poor contact, or a high "
    "winding, which reads the same. Clean the pin, seat the probe, measure again.",
    "winding.bridged": "The windings on wires {wires} read as if joined: there is a short between them.",
    "winding.wrong-head": "The windings agree with one another, at a value that the manual page rules out at any "
    "temperature the head can have: another head, or the wrong page.",
    "winding.bad-reading": "One reading, between {wires}, fits no head together with the rest: take it again.",
    "winding.no-head-fits": "No single fault makes these readings: check the wire numbers and take them again.",
    "winding.undecided": "The readings do not settle the windings yet; most likely so far: {leading}.",
    "winding.unread": "The windings are not proven good: nothing has been read through {wires} yet.",
    "winding.not-measured": "The windings were not measured.",
    "winding.plug-on": "The plug was left on: the board hangs in parallel and no reading means anything.",
    "winding.before-replacement": "The readings are those of the head that was taken off; the new one was not "
    "measured.",
    "winding.before-repair": "The readings were taken before the plug or harness was repaired.",
    "winding.before-cleaning": "Before cleaning the windings read otherwise ({before}); the readings after it count.",
    "winding.hot": "The head was {head_c:.0f} °C: it reads {rise_frac:.1%} over its value at {at_c:.0f} °C, and that "
    "is no fault.",
    "winding.meter-doubtful": "The meter {meter} misread its check resistor: no reading taken with it counts.",
}

_HARNESS: Final = {
    "harness.same": "The same ohms at the head's plug and through the harness: the harness is good.",
    "harness.differs": "Good at the head's own plug, but not through the harness ({pair}): the fault lies between.",
    "harness.head-end-doubtful": "{pair} reads through the harness but not at the head's own plug: take it again "
    "there.",
}

_INSPECTION: Final = {
    "rust.none": "No rust.",
    "rust.light": "Light rust.",
    "rust.heavy": "Heavy rust.",
    "pitted.yes": "The can is pitted: it is a pressure part, and a pitted one is the body's fault.",
    "pitted.no": "The can is not pitted.",
    "cracks.yes": "The housing of the motor is cracked: moisture gets in and seizes the gears.",
    "cracks.no": "No cracks in the housing.",
    "seated.yes": "The coil is latched home.",
    "seated.no": "The coil is not latched home.",
    "connector.dry": "The plug is dry and clean.",
    "connector.wet": "The plug is wet.",
    "connector.corroded": "The plug is corroded.",
    "insulation.good": "{mohm:g} MΩ to the metal of the head, tested with {test}: good.",
    "insulation.meter-only": "{mohm:g} MΩ to the metal of the head with the meter's own few volts: that does not prove "
    "the insulation.",
    "insulation.untold": "{mohm:g} MΩ to the metal of the head; with which test voltage is not written, so it does not "
    "prove the insulation.",
    "insulation.at-least": "More than {mohm:g} MΩ to the metal of the head: the end of the scale is too low to judge "
    "by.",
    "insulation.suspect": "{mohm:g} MΩ to the metal of the head, tested with {test}: under 1 MΩ is suspect. Dry it and "
    "test again.",
    "insulation.fault": "Still {mohm:g} MΩ to the metal of the head after drying, tested with {test}: under 0.1 MΩ is "
    "a fault.",
}

_MOVEMENT: Final = {
    "stem.back": "With all valves open for service the stem is fully back.",
    "stem.out": "With all valves open for service the stem still stands out{how_far}: jammed, whatever the windings "
    "read.",
    "stem.between": "The stem stands {stem_mm:g} mm out: too near its stop to call it jammed, too far to call it back.",
    "stem.contradiction": "The stem is written as {stem} and as {stem_mm:g} mm out: look again.",
    "stem.outside-service-state": "The stem was seen without all valves open for service: where it stands proves "
    "nothing.",
    "stem.too-soon": "All valves were open for service for only {minutes:g} min: where the stem stands proves nothing "
    "yet.",
    "felt.motor.steps": "The motor is felt stepping under command.",
    "felt.motor.rocking": "Under command the motor rocks and does not travel.",
    "felt.motor.nothing": "Under command nothing is felt.",
    "felt.coil.steps": "The coil is felt humming under command: it is driven, which does not prove movement.",
    "felt.coil.rocking": "Under command the coil buzzes and the rotor seems to rock.",
    "felt.coil.nothing": "Under command nothing is felt at the coil.",
    "felt.at-rest": "The board was at rest: what was felt then proves nothing.",
    "hand-magnet.moves": "The manual opening magnet moves the valve: the body is free.",
    "hand-magnet.stuck": "The manual opening magnet does not move the valve.",
    "good-head.moves": "A known good head moves the valve: the body is free.",
    "good-head.stuck": "A known good head does not move the valve.",
    "own-head-after-good.moves": "Its own head, put back, moves the valve too.",
    "own-head-after-good.stuck": "Its own head, put back after a good one had moved the valve, does not move it.",
    "own-head.moves": "Its own head, put back, moves the valve.",
    "own-head.stuck": "Its own head, put back, does not move the valve.",
    "after-cleaning.moves": "It moves since it was cleaned.",
    "after-cleaning.stuck": "It is still stuck after cleaning.",
    "plug-swap.moves": "With two like plugs exchanged at the board the fault went with the plug: head or harness.",
    "plug-swap.stays": "With two like plugs exchanged at the board the fault stayed at the output: the board.",
    "fault-code": "Fault code noted: {text}. It points at no one part.",
}

_BOARD: Final = {
    "board.all-swing": "Every phase swings at the board.",
    "board.listed-swing": "The wires looked at swing at the board ({wires}); not all were looked at.",
    "board.some-missing": "{wires} {does_not} swing at the board.",
    "board.none-swing": "No phase swings at the board under command.",
    "board.at-rest": "The board was at rest: it drives nothing then, and that is normal.",
    "board.unknown-when": "It is not written whether the board was commanded: missing pulses prove nothing.",
    "supply.good": "The supply is {supply_volt:.1f} V.",
    "supply.low": "The supply is {supply_volt:.1f} V where {spec_volt:g} V is meant: too low to drive the head.",
    "supply.unknown": "The supply is {supply_volt:.1f} V; nothing says what it should be.",
}

_WORK: Final = {
    "work.cleaned": "It was cleaned on this visit.",
    "work.reseated": "It was seated again on this visit.",
    "work.replaced-head": "The head was replaced on this visit.",
    "work.replaced-body": "The body was replaced on this visit.",
    "work.repaired-plug-or-harness": "The plug or harness was repaired on this visit.",
    "proof.start-up-heard.passed": "At power-on it was heard running to its stop.",
    "proof.start-up-heard.failed": "At power-on it was not heard.",
    "proof.stem-travel.passed": "Its stem was seen to travel.",
    "proof.stem-travel.failed": "Its stem did not travel.",
    "proof.step-response.passed": "A changed command changed what it feeds: it moves.",
    "proof.step-response.failed": "A changed command changed nothing.",
    "proof.shut-off.passed": "It shuts off tight.",
    "proof.shut-off.failed": "It does not shut off.",
    "proof.ran-30-min.passed": "It ran for 30 minutes as it should.",
    "proof.ran-30-min.failed": "It did not run properly for 30 minutes.",
}

_RUNNING: Final = {
    "coil.low-min": "Its {what} is {held_k:.1f} K with its command at its minimum ({command}): it stands more open "
    "than it is told.",
    "coil.low-below": "Its {what} is {held_k:.1f} K with its command already below the other units' ({command}).",
    "coil.low-like": "Its {what} is {held_k:.1f} K where {target_k:.0f} K is meant, its command like the other units' "
    "({command}).",
    "coil.low-above": "Its {what} is {held_k:.1f} K with its command above the other units' ({command}): the two "
    "contradict each other, look at its sensors.",
    "coil.low-max": "Its {what} is {held_k:.1f} K with its command at its maximum ({command}): the two contradict each "
    "other, look at its sensors.",
    "coil.on-min": "Its {what} is {held_k:.1f} K, on its target, with its command at its minimum ({command}).",
    "coil.on-below": "Its {what} is {held_k:.1f} K, on its target, with its command below the other units' "
    "({command}).",
    "coil.on-like": "Its {what} is {held_k:.1f} K, on its target, and its command like the other units' ({command}): "
    "nothing wrong is seen, and a valve that stands where it is needed would look the same.",
    "coil.on-above": "Its {what} is {held_k:.1f} K, on its target, with its command above the other units' "
    "({command}).",
    "coil.on-max": "Its {what} is {held_k:.1f} K, on its target, with its command at its maximum ({command}).",
    "coil.high-min": "Its {what} is {held_k:.1f} K where {target_k:.0f} K is meant, with its command at its minimum "
    "({command}): it has not been opened.",
    "coil.high-below": "Its {what} is {held_k:.1f} K where {target_k:.0f} K is meant, with its command below the other "
    "units' ({command}).",
    "coil.high-like": "Its {what} is {held_k:.1f} K where {target_k:.0f} K is meant, its command like the other units' "
    "({command}).",
    "coil.high-above": "Its {what} is {held_k:.1f} K where {target_k:.0f} K is meant, though its command is above the "
    "other units' ({command}).",
    "coil.high-max": "Its {what} is {held_k:.1f} K where {target_k:.0f} K is meant, though its command is at its "
    "maximum ({command}): too little passes or too little reaches it.",
    "liquid-pipe.low": "Its liquid pipe shows {liquid_pipe_c:.1f} °C where nothing colder than {saturation_c:.1f} °C "
    "evaporates: a sensor misreads.",
    "liquid-pipe.near": "Its liquid pipe shows {liquid_pipe_c:.1f} °C, near the {saturation_c:.1f} °C that evaporates.",
    "liquid-pipe.warm": "Its liquid pipe shows {liquid_pipe_c:.1f} °C, far above the {saturation_c:.1f} °C that "
    "evaporates: hardly anything passes, or the sensor misreads.",
    "gas-pipe.impossible": "Its gas pipe shows {gas_pipe_c:.1f} °C, colder than its own liquid pipe at "
    "{liquid_pipe_c:.1f} °C: a sensor misreads.",
    "gas-pipe.possible": "Its two pipes stand in an order that is possible.",
    "air.much": "Its air cools by {air_k:.1f} K, {times:.1f} times the other units': little air passes it.",
    "air.more": "Its air cools by {air_k:.1f} K, {times:.1f} times the other units': little air, or much refrigerant.",
    "air.like": "Its air cools by {air_k:.1f} K, as the other units' does.",
    "air.less": "Its air cools by {air_k:.1f} K only, {times:.1f} times the other units'.",
    "off-pipes.cold": "Off for {off_minutes:g} min and commanded shut, its pipes are still at {pipe_c:.1f} °C, near "
    "the {saturation_c:.1f} °C that evaporates: it passes.",
    "off-pipes.cool": "Off for {off_minutes:g} min and commanded shut, its pipes are at {pipe_c:.1f} °C, between "
    "evaporating and the room's {room_c:.1f} °C.",
    "off-pipes.warm": "Off for {off_minutes:g} min and commanded shut, its pipes are at {pipe_c:.1f} °C, near the "
    "room: it is tight.",
    "bypass.wet-low": "Wet vapour leaves it (superheat {outlet_k:.1f} K) though its command is driven down "
    "({command}).",
    "bypass.wet-mid": "Wet vapour leaves it (superheat {outlet_k:.1f} K) at a command of {command}.",
    "bypass.wet-wide": "Wet vapour leaves it (superheat {outlet_k:.1f} K) and its command is wide ({command}): look at "
    "its sensor.",
    "bypass.on-low": "Vapour leaves it with {outlet_k:.1f} K of superheat at a command of {command}.",
    "bypass.on-mid": "Vapour leaves it with {outlet_k:.1f} K of superheat at a command of {command}: as it should.",
    "bypass.on-wide": "Vapour leaves it with {outlet_k:.1f} K of superheat, its command wide ({command}).",
    "bypass.hot-low": "Vapour leaves it with {outlet_k:.1f} K of superheat at a command of {command}.",
    "bypass.hot-mid": "Vapour leaves it with {outlet_k:.1f} K of superheat at a command of {command}: little passes.",
    "bypass.hot-wide": "Vapour leaves it with {outlet_k:.1f} K of superheat though its command is wide ({command}): "
    "next to nothing passes.",
    "bypass-shut.wet": "Commanded shut, wet vapour leaves it (superheat {outlet_k:.1f} K): it passes.",
    "bypass-shut.dry": "Commanded shut, no wet vapour leaves it.",
    "sensors.bad": "A sensor of its coil misreads: {sensors}.",
    "sensors.good": "The sensors of its coil that were checked are good: {sensors}.",
    "step-test.responds": "A step of its command ({opening}) changed what it holds by {change_k:.1f} K: it follows.",
    "step-test.none": "A step of its command ({opening}) changed what it holds by {change_k:.1f} K only, where some "
    "{expected_k:.0f} K were due: it does not follow.",
    "step-test.wrong-way": "A step of its command ({opening}) changed what it holds by {change_k:.1f} K, the wrong "
    "way: something else changed too. Take it again.",
    "step-test.not-due": "A step of its command ({opening}) changed what it holds by {change_k:.1f} K; little was due, "
    "so it proves nothing.",
    "step-test.too-soon": "After a step of its command only {minutes:g} min were waited: it proves nothing.",
    "step-test.stroke-unknown": "A step test is written, but not the full stroke of the valve: it is not judged.",
    "held.at-two-commands": "It held its target at a command of {low} and at one of {high}: it moves.",
    "log.sound": "A log found it following its command.",
    "log.not-following": "A log found that it does not follow its command.",
    "log.passes-when-shut": "A log found that it passes when commanded shut.",
    "log.sensor": "A log found a sensor of its coil misreading.",
    "log.refrigerant-side": "A log found the refrigerant side at fault, not this valve.",
    "log.hunting": "A log found it hunting: opening and closing without rest. That points at no one part; watch it.",
}

_NOT_CHECKED: Final = {
    "not-checked.windings": "The windings were not measured.",
    "not-checked.plug-on": "The windings: the plug was left on.",
    "not-checked.temperature": "The temperature of the head was not taken: anything from -15 to 75 °C is reckoned "
    "with.",
    "not-checked.spec": "No manual page is named: the windings were compared with one another only.",
    "not-checked.inspection": "It was not looked at for rust, cracks and seat.",
    "not-checked.movement": "It was not seen to move.",
    "not-checked.stem": "The stem was not looked at with all valves open for service.",
    "not-checked.board": "The board's output was not measured.",
    "not-checked.new-head": "The new head was not measured.",
}

FACTS: Final[dict[str, str]] = {
    **_WINDING,
    **_HARNESS,
    **_INSPECTION,
    **_MOVEMENT,
    **_BOARD,
    **_WORK,
    **_RUNNING,
    **_NOT_CHECKED,
}
"""Code -> sentence."""
