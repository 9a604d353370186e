"""Cautions and risks: said where the step is taken. The program advises; the technician decides; local codes and
licensed practice rule.
"""

from typing import Final

MAKE_SAFE: Final = (
    "safe.stop",
    "safe.open-all",
    "safe.lock-out",
    "safe.dc-bus",
    "safe.unplug",
    "safe.refit",
    "safe.power-on",
    "safe.cancel-service-state",
    "safe.crankcase-heat",
    "safe.first-30-minutes",
)
"""The order of the work, before the first head and after the last."""

_MAKE_SAFE: Final = {
    "safe.stop": "Stop the system. See that the compressors are off and cannot start again.",
    "safe.open-all": "Drive all valves open for service, wait, and confirm it. With every valve open a compressor that "
    "starts is flooded within about a minute.",
    "safe.lock-out": "Lock out every supply: indoor units and branch units have their own. Prove the meter, prove "
    "dead, prove the meter again.",
    "safe.dc-bus": "Wait for the DC bus to discharge, then measure it. Never short it.",
    "safe.unplug": "Only now unplug and pull heads, one hand holding the body. A body without its motor stands fully "
    "open.",
    "safe.refit": "Refit every head: coils latched, motors screwed down, plugs home.",
    "safe.power-on": "Power on, standing clear: the boards run the valves shut to find zero. Never with a motor off "
    "its body.",
    "safe.cancel-service-state": "Cancel the service state and sign for it.",
    "safe.crankcase-heat": "Where the power was off for long, give the crankcase heaters their time before a start.",
    "safe.first-30-minutes": "Watch the first 30 minutes.",
}

_AT_THE_STEP: Final = {
    "head-off": "Lock out every supply and prove dead before the head comes off.",
    "dc-bus": "Wait for the DC bus and measure it; never short it.",
    "plug-live": "Never plug or unplug a head with the power on.",
    "hold-body": "Hold the body with one hand while the head comes off: the pipe must not twist.",
    "motor-off": "A body without its motor stands fully open: no start and no power-on until the motor is screwed "
    "down.",
    "coil-off": "A step sent while the coil is off is lost until the next homing.",
    "never-removed": "This coil has never been off: it may be rusted fast. Free it slowly; do not twist the pipe.",
    "clean-can": "The can is a pressure part: no steel brush, and do not sand pits deeper.",
    "leak-check": "Check for leaks after cleaning, and insulate again indoors.",
    "live-board": "A test at a live board is a separate permission, with a meter rated for it.",
    "insulation-test": "Insulation test: plug off, wires joined, never into the board.",
    "circuit": "Opening the circuit is for licensed people: recover first, ventilate, no ignition source, a detector "
    "where the refrigerant can burn.",
    "brazing": "Braze with nitrogen flowing, fire watch kept; local codes rule.",
    "strainer": "A blocked strainer or a half-shut isolation valve looks like a valve stuck closed: check the "
    "temperature drop across it first.",
    "position-lost": "A valve moved by hand stands where the board does not know it: let it home before it runs.",
}

CAUTIONS: Final[dict[str, str]] = {**_MAKE_SAFE, **_AT_THE_STEP}
"""Code -> sentence."""

CAUTION_ORDER: Final = tuple(CAUTIONS)
"""The order of the work: cautions of a valve are told in it."""

RISKS: Final[dict[str, str]] = {
    "twists-pipe": "An old coil that never came off may twist the pipe.",
    "body-left-open": "The body stands fully open while the motor is off.",
    "live-parts": "Live parts: a separate permission, and a meter rated for it.",
    "into-board": "Test voltage on the wires: never into the board.",
    "wrong-plug": "A plug put back on the wrong output drives the wrong valve.",
    "starves-or-floods": "The unit runs short or wet while the command is changed.",
    "loses-position": "The board does not know where the valve stands until the next homing.",
    "circuit-opened": "Charge is weighed and leaks are sought by licensed people; where the refrigerant can burn, with "
    "a detector and no ignition source.",
    "pits-deeper": "The can is a pressure part: no steel brush, no sanding.",
}
"""Code -> sentence."""
