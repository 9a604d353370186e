"""Sentences about a compressor that failed: what could have stopped it, and what to prove before a new one starts."""

from typing import Final

FAILURE: Final[dict[str, str]] = {
    "failure.flooded-by": "{valve} could have sent it liquid: standing more open than it is told, it "
    "feeds the suction.",
    "failure.no-charge": "Too little refrigerant: it ran hot, and its oil did not come back.",
    "failure.too-hot": "The outdoor coil got too little air: it ran against too high a pressure.",
    "failure.restricted": "A restricted liquid line: it ran hot on too little suction.",
    "failure.overfilled": "Too much refrigerant: liquid came back with the suction.",
    "failure.liquid-seen": "Liquid reaches compressors of this system: {floodback}, by their superheats.",
    "failure.liquid-unlikely": "In the moment that was read no liquid reached a compressor; of other moments that says "
    "nothing.",
    "failure.liquid-unknown": "Whether liquid reached it is not known: good windings do not show it, only a running "
    "system does.",
    "failure.prove-valves": "Each valve able to flood it, that it moves under command and that it shuts off "
    "tight: {valves}.",
    "failure.prove-oil": "Oil: test it for acid, look for metal and copper; after acid change oil and filter drier.",
    "failure.prove-accumulator": "Accumulator: its oil return hole is open, and it is not full of liquid or oil.",
    "failure.prove-heater": "Crankcase heater: it warms the shell, and has done so for long enough before the start.",
    "failure.prove-supply": "Supply: voltage balanced within 2 %, contacts and terminals sound, insulation of the new "
    "compressor tested.",
    "failure.not-movement": "Movement: not shown of {valves}.",
    "failure.not-shut-off": "Shut-off: not shown of {valves}.",
    "failure.not-running": "How it ran before it failed: there are no readings of it.",
    "failure.not-oil": "The oil: nothing is written of it.",
    "failure.not-accumulator": "The accumulator: nothing is written of it.",
    "failure.not-heater": "The crankcase heater: nothing is written of it.",
    "failure.not-supply": "The balance of the supply: nothing is written of it.",
}
"""Code -> sentence. The balance of 2 % is common practice."""
