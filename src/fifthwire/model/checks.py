"""Sentences of checks: what to do next, verb first."""

from typing import Final

CHECKS: Final[dict[str, str]] = {
    "prove-meter": "Prove the meter {meter} on a known resistor and measure again.",
    "unplug-and-measure": "Take the plug off with the power off, and measure the windings.",
    "measure-windings": "Measure the windings at the head's own plug.",
    "measure-new-head": "Measure the new head at its own plug.",
    "measure-pair": "Touch {wires} and read.",
    "measure-again": "Take the readings again, wire by wire, and check the wire numbers.",
    "measure-at-head": "Measure at the head's own plug: the harness is still in these readings.",
    "measure-after-repair": "After the repair measure again, at the head's plug and through the harness.",
    "clean-pin": "Clean the pin of wire {wire}, seat the probe, measure again.",
    "seat-plug-and-probes": "Short the probes to prove the meter, seat them on the pins, measure again.",
    "read-label": "Read the label of the head and the manual page again.",
    "measure-through-harness": "Measure the same pairs through the harness at the board's plug.",
    "test-insulation": "Test the insulation to the metal of the head: plug off, wires joined.",
    "dry-and-test-insulation": "Dry the head, then test the insulation again.",
    "look-underneath": "Take the coil off and look underneath for rust.",
    "look-at-seat": "See whether the coil is latched home.",
    "look-for-cracks": "Look at the housing of the motor for cracks.",
    "look-at-plug": "Look into the plug for water and corrosion.",
    "stem-in-service-state": "Look at the stem with all valves open for service: it must be fully back.",
    "feel-under-command": "Feel the head while the valve is commanded.",
    "pulses-at-board": "Measure each phase at the board while the valve is commanded.",
    "swap-plugs": "Exchange two like plugs at the board and see where the fault goes.",
    "hand-magnet": "Drive the body with the manual opening magnet.",
    "good-head": "Put a known good head on this body and command it.",
    "own-head-again": "Put its own head back and command it.",
    "dry-plug": "Dry and clean the plug, then measure again.",
    "test-after-cleaning": "Clean it, put it back and command it: see whether it moves.",
    "step-test": "Change its command, leave everything else alone, and see what it feeds change.",
    "shut-off-test": "Command it shut and see whether it still passes.",
    "seat-and-test": "Seat the coil until it latches, then command it.",
    "strainer-drop": "Take the temperature drop across its strainer and isolation valve while it runs.",
    "compare-sensors": "With nothing running and the fan on, compare its sensors with a thermometer and with the air.",
    "check-charge-and-air": "Look at the refrigerant side: leaks, charge by weight, filters, coils, fans, isolation "
    "valves.",
    "strainer-first": "Take the temperature drop across the strainer and the isolation valve before the body is "
    "replaced.",
}
"""Code -> sentence."""
