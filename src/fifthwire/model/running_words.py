"""Sentences of what runs: whether liquid reaches a compressor, why that is told, and sensors that cannot be right."""

from typing import Final

FLOODBACK: Final[dict[str, str]] = {
    "floodback.likely": "{id}: liquid likely reaches this compressor.",
    "floodback.possible": "{id}: liquid may reach this compressor; the readings do not rule it out.",
    "floodback.unlikely": "{id}: liquid is unlikely to reach this compressor.",
    "floodback.unknown": "{id}: whether liquid reaches this compressor is not known.",
    "floodback.discharge-low": "Its discharge superheat is {discharge_k} K; dry suction gives from {low_k} K to "
    "{high_k} K at these pressures.",
    "floodback.discharge-near": "Its discharge superheat is {discharge_k} K, within what dry suction with nothing to "
    "spare gives, from {low_k} K to {high_k} K.",
    "floodback.discharge-dry": "Its discharge superheat is {discharge_k} K; dry suction with nothing to spare gives "
    "from {low_k} K to {high_k} K, so its suction is superheated.",
    "floodback.discharge-impossible": "Its discharge reads {discharge_k} K against the temperature it condenses at, "
    "which cannot be: the sensor or the gauge is wrong.",
    "floodback.quality": "By its energy balance {liquid} % of what it draws is liquid, give or take {u} %.",
    "floodback.suction-none": "Its suction superheat is {suction_k} K, next to none.",
    "floodback.suction-little": "Its suction superheat is {suction_k} K, too little to be sure of.",
    "floodback.suction-dry": "Its suction superheat is {suction_k} K.",
    "floodback.shell-cold.low-side": "Its shell is at {shell_c} °C, near the {saturation_c} °C at which refrigerant "
    "boils: cold for a shell at suction pressure.",
    "floodback.shell-cold.high-side": "Its shell is at {shell_c} °C, near the {saturation_c} °C at which refrigerant "
    "condenses: cold for a shell at discharge pressure.",
    "floodback.excuse.injection": "An injection or hot-gas valve is open, or its opening is not known: a low discharge "
    "superheat alone proves nothing.",
    "floodback.excuse.start": "It has run for less than 15 min: a low discharge superheat alone proves nothing.",
    "floodback.excuse.oil-return": "The system was returning oil: a low discharge superheat alone proves nothing.",
    "floodback.excuse.defrost": "The system was defrosting: a low discharge superheat alone proves nothing.",
    "floodback.excuse.protection": "A protection was at work: a low discharge superheat alone proves nothing.",
    "floodback.contradicted": "The pressures do not go with the temperatures beside them: put that right first.",
    "floodback.no-discharge": "Without both pressures and the discharge temperature, the discharge superheat cannot be "
    "compared with that of dry suction.",
    "floodback.stands-still": "It stood still.",
    "floodback.nothing": "It takes both pressures and the discharge temperature, or the suction temperature.",
}
"""The first four are the verdicts; the others say what they rest on."""

SENSORS: Final[dict[str, str]] = {
    "sensor.standstill": "At rest, beside {around_c} °C around it.",
    "sensor.under-boiling": "Colder than the {boils_c} °C at which refrigerant boils at the suction pressure.",
    "sensor.gas-over-room": "Warmer than the {room_c} °C of the room while the coil cools.",
    "sensor.liquid-over-room": "Warmer than the {room_c} °C of the room while the coil cools.",
    "sensor.return-under-all": "Colder than the coil's outlet and the air it blows.",
    "sensor.supply-warmer": "Warmer than the {room_c} °C it draws while the coil cools.",
    "sensor.gas-under-liquid": "Outlet {gas_c} °C, inlet {liquid_c} °C: a coil that cools leaves no colder than it "
    "enters.",
    "sensor.gas-under-liquid-heating": "Inlet {gas_c} °C, outlet {liquid_c} °C: a coil that heats leaves no warmer "
    "than it enters.",
    "sensor.pipe-under-room": "Colder than the {room_c} °C of the room while the coil heats.",
    "sensor.over-discharge": "Hotter than the {hottest_c} °C at which the compressors discharge.",
    "sensor.air-over-gas": "Hotter than the {gas_c} °C that enters the coil.",
    "sensor.supply-colder": "Colder than the {room_c} °C it draws while the coil heats.",
    "sensor.under-condensing": "Colder than the {condenses_c} °C at which refrigerant condenses at the discharge "
    "pressure.",
}
"""Why a sensor cannot be right, or what it was held against."""

RUNNING: Final[dict[str, str]] = {**FLOODBACK, **SENSORS}
