"""How the invented site ran before it was stopped: one snapshot in cooling, two step tests, three sensors checked.

Made from the true faults that tools/demo_site.py writes by hand: the subcooling valve of outdoor unit 1 stands open and
floods its compressor, the valves of IU03 and IU08 stand nearly shut, that of IU09 stands open, and the liquid-pipe
sensor of IU24 reads 4.6 K low. Every number is invented; noise is drawn with a fixed seed.
"""

from random import Random

from fifthwire.physics.refrigerants import refrigerant

SEED = 20260318
BOILS_C, CONDENSES_C, AMBIENT_C = 6.2, 42.5, 31.0
TARGET_K, STROKE = 5, 1000
INLET_OVER_K = 0.9
"""A coil's inlet over the suction's dew point, by the drop of pressure between.  [K]"""
OFF = {"IU06": 95, "IU17": 240}
"""Units that are off, and for how many minutes."""
HELD_K = {"IU03": 14.2, "IU08": 17.4, "IU09": 0.2}
COMMANDS = {"IU03": 1000, "IU08": 1000, "IU09": 80}
AIR_K = {"IU03": 5.1, "IU08": 1.9, "IU09": 12.6}
"""What the air is cooled by.  [K]"""
LIQUID_SENSOR_OFF_K = {"IU24": -4.6}
NOISE_K = 0.15

HEAD = """
# How it ran before it was stopped (invented; kPa absolute, °C, pulses).

[snapshot]
mode = "cooling"
minutes_running = 70
state = "normal"
ambient = {ambient}
"""
OUTDOOR = """
[snapshot.outdoor.{name}]
suction_pressure = {suction:.0f}
discharge_pressure = {discharge:.0f}
suction_temperature = {suction_c:.1f}
liquid_temperature = {liquid_c:.1f}

[snapshot.outdoor.{name}.compressors.C1]
discharge_temperature = {discharge_c:.1f}
shell_temperature = {shell_c:.1f}
shell = "high-side"
speed = "{speed} Hz"
"""
VALVES = {
    "OU1-main1": "opening = 2000",
    "OU1-main2": "opening = 2000",
    "OU1-subcooler": "opening = 40\noutlet = {wet:.1f}",
    "OU1-injection": "opening = 0",
    "OU1-hotgas": 'opening = "0 %"',
    "OU2-main1": "opening = 2000",
    "OU2-main2": "opening = 2000",
    "OU2-subcooler": "opening = 150\noutlet = {dry:.1f}",
    "OU2-injection": "opening = 0",
    "OU2-hotgas": 'opening = "0 %"',
}
AFTER = """
# A command changed on purpose, everything else left alone.

[[step_tests]]
valve = "IU21-valve"
opening = [430, 390]
superheat = ["5.2 K", "10.1 K"]
minutes = 10

[[step_tests]]
valve = "IU09-valve"
opening = [300, 200]
superheat = ["0.2 K", "0.1 K"]
minutes = 10

# Sensors measured with the meter, a thermometer beside each.

[curves.pipe-sensor]
r25 = "10 kohm"
beta = "3950 K"

[[sensors]]
id = "IU01-gas"
unit = "IU01"
curve = "pipe-sensor"
reading = "10.55 kohm"
meter = "yellow"
true_temperature = "23.9 degC"
true_within = "0.5 K"

[[sensors]]
id = "IU24-gas"
unit = "IU24"
curve = "pipe-sensor"
reading = "10.78 kohm"
meter = "yellow"
true_temperature = "23.4 degC"
true_within = "0.5 K"

[[sensors]]
id = "IU24-liquid"
unit = "IU24"
curve = "pipe-sensor"
reading = "13.31 kohm"
meter = "yellow"
true_temperature = "23.3 degC"
true_within = "0.5 K"
"""


def running_text() -> str:
    """The tables of the snapshot, the step tests and the sensors."""
    draw = Random(SEED)
    parts = [HEAD.format(ambient=AMBIENT_C)]
    parts.append(_outdoor("OU1", superheat_k=0.3, discharge_k=11.5, subcooling_k=8.1, shell_over_k=3.0, speed=66))
    parts.append(_outdoor("OU2", superheat_k=5.4, discharge_k=29.8, subcooling_k=9.6, shell_over_k=24.0, speed=58))
    for name, lines in VALVES.items():
        keys = lines.format(wet=BOILS_C + 0.2, dry=BOILS_C + 5.3)
        parts.append(f"\n[snapshot.valves.{name}]\n{keys}\n")
    parts += [_unit(f"IU{number:02d}", draw) for number in range(1, 25)]
    return "".join([*parts, AFTER])


def _outdoor(
    name: str, *, superheat_k: float, discharge_k: float, subcooling_k: float, shell_over_k: float, speed: int
) -> str:
    of = refrigerant("R410A")
    discharge = of.dew_kpa_abs(CONDENSES_C)
    return OUTDOOR.format(
        name=name,
        suction=of.dew_kpa_abs(BOILS_C),
        discharge=discharge,
        suction_c=BOILS_C + superheat_k,
        liquid_c=of.bubble_c(discharge) - subcooling_k,
        discharge_c=CONDENSES_C + discharge_k,
        shell_c=CONDENSES_C + shell_over_k,
        speed=speed,
    )


def _unit(name: str, draw: Random) -> str:
    def noisy(value: float) -> float:
        return round(value + draw.gauss(0.0, NOISE_K), 1)

    room = noisy(24.3)
    lines = ["", f"[snapshot.units.{name}]", f'valve = "{name}-valve"']
    if name in OFF:
        pipes = [f"liquid_pipe = {noisy(room - 0.5)}", f"gas_pipe = {noisy(room - 0.2)}"]
        lines += ["on = false", f"off_minutes = {OFF[name]}", "opening = 0", *pipes, f"return_air = {room}"]
        return "\n".join(lines) + "\n"
    inlet = BOILS_C + INLET_OVER_K
    held = HELD_K.get(name, TARGET_K + draw.gauss(0.0, 0.3))
    lines += ["on = true", f"opening = {COMMANDS.get(name, 10 * round(draw.uniform(38.0, 47.0)))}"]
    # The controller steers by what the sensors show: a liquid pipe that reads low lets it hold too little.
    off_k = LIQUID_SENSOR_OFF_K.get(name, 0.0)
    lines += [f"liquid_pipe = {noisy(inlet + off_k)}", f"gas_pipe = {noisy(inlet + off_k + held)}"]
    lines += [f"return_air = {room}", f"supply_air = {noisy(room - AIR_K.get(name, 10.6))}"]
    lines.append(f'target_superheat = "{TARGET_K} K"')
    return "\n".join(lines) + "\n"
