"""The running system as the gauges and the controller show it: snapshots, step tests, sensors and their curves."""

from collections.abc import Mapping

from fifthwire.model import choices
from fifthwire.model.fields import Entry, FileRecord, choice, flag, named, one, quantity, special, text
from fifthwire.model.record import record


@record(kw_only=False)
class Opening:
    """A commanded opening, as written: pulses, or a share of full stroke."""

    pulses: float | None = None
    frac: float | None = None


@record
class CompressorReadings(FileRecord):
    """One compressor at one moment."""

    discharge_temperature_c: float | None = quantity(
        "discharge_temperature", "of the discharge line", "degC", example="78.0"
    )
    shell_temperature_c: float | None = quantity("shell_temperature", "of the shell, low down", "degC", example="71.0")
    shell: str | None = choice("shell", "which pressure the shell holds", choices.SHELLS)
    speed_hz: float | None = quantity("speed", "of the compressor", "Hz", low=0.0)


@record
class ValveReadings(FileRecord):
    """Any valve that is not an indoor unit's, at one moment."""

    opening: Opening | None = special("opening", 'pulses commanded, or "44 %"', "opening")
    outlet_c: float | None = quantity("outlet", "vapour leaving the bypass", "degC", example="9.5")


@record
class OutdoorReadings(CompressorReadings):
    """One outdoor unit at one moment; with one compressor its keys stand here too."""

    suction_kpa_abs: float | None = quantity(
        "suction_pressure", "at the compressor's inlet", "kPa", low=0.0, example='"118 psig"'
    )
    discharge_kpa_abs: float | None = quantity(
        "discharge_pressure", "at the compressor's outlet", "kPa", low=0.0, example='"385 psig"'
    )
    suction_temperature_c: float | None = quantity("suction_temperature", "of the suction line", "degC", example="12.4")
    liquid_temperature_c: float | None = quantity("liquid_temperature", "after the subcooler", "degC", example="34.0")
    compressors: Mapping[str, CompressorReadings] = named("compressors", "one table a compressor", CompressorReadings)
    target_superheat_k: float | None = quantity("target_superheat", "what the controller aims at", "K", low=0.0)
    target_subcooling_k: float | None = quantity("target_subcooling", "what the controller aims at", "K", low=0.0)


@record
class UnitReadings(FileRecord):
    """One indoor unit at one moment."""

    on: bool | None = flag("on", "running")
    off_minutes: float | None = quantity("off_minutes", "how long it has been off", "min", low=0.0, example="0")
    valve: str | None = text("valve", "the label of its valve", example='"IU07-valve"')
    opening: Opening | None = special("opening", 'pulses commanded, or "44 %"', "opening")
    liquid_pipe_c: float | None = quantity(
        "liquid_pipe", "the coil's inlet in cooling, its outlet in heating", "degC", example="8.1"
    )
    gas_pipe_c: float | None = quantity(
        "gas_pipe", "the coil's outlet in cooling, its inlet in heating", "degC", example="13.0"
    )
    return_air_c: float | None = quantity("return_air", "air entering", "degC", example="25.2")
    supply_air_c: float | None = quantity("supply_air", "air leaving", "degC", example="14.1")
    mode: str | None = choice("mode", "of this unit, where the system is mixed", choices.MODES)
    target_superheat_k: float | None = quantity("target_superheat", "what the controller aims at", "K", low=0.0)
    target_subcooling_k: float | None = quantity("target_subcooling", "what the controller aims at", "K", low=0.0)


@record
class Snapshot(Entry, OutdoorReadings):
    """One steady moment of running; with mode "off", a standstill. With one outdoor unit its keys stand here too."""

    minutes_running: float | None = quantity(
        "minutes_running", "since the start; left out: steady", "min", low=0.0, example="45"
    )
    state: str | None = choice("state", "what the controller was doing", choices.SNAPSHOT_STATES)
    mode: str | None = choice("mode", "if other than the system's", choices.MODES)
    ambient_c: float | None = quantity("ambient", "outdoor air", "degC", example="33.0")
    outdoor: Mapping[str, OutdoorReadings] = named("outdoor", "one table an outdoor unit", OutdoorReadings)
    subcooler: ValveReadings | None = one("subcooler", "of the only subcooling valve", ValveReadings)
    valves: Mapping[str, ValveReadings] = named("valves", "any valve that is not an indoor unit's", ValveReadings)
    units: Mapping[str, UnitReadings] = named("units", "one table an indoor unit", UnitReadings)


@record
class StepTest(Entry):
    """A command changed on purpose, everything else left alone."""

    valve: str = text("valve", "the label of the valve", required=True, example='"IU07-valve"')
    opening: tuple[Opening, Opening] | None = special("opening", "before and after", "opening-pair")
    superheat_k: tuple[float, float] | None = special("superheat", "before and after", "kelvin-pair")
    minutes: float | None = quantity("minutes", "how long was waited before the second", "min", low=0.0, example="8")


@record
class Curve(FileRecord):
    """A temperature sensor's curve: a table, or r25 and beta, or the three Steinhart-Hart coefficients."""

    table: tuple[tuple[float, float], ...] = special(
        "table", "temperature and resistance; between its points ln R is linear in 1/T", "curve-table", default=()
    )
    r25_ohm: float | None = quantity("r25", "resistance at 25 °C", "ohm", above=0.0, example='"10 kohm"')
    beta_k: float | None = quantity("beta", "of the beta law", "K", above=0.0, example="3950")
    steinhart: tuple[float, float, float] | None = special("steinhart", "A, B, C (ohm, kelvin)", "three-numbers")


@record
class SensorCheck(Entry):
    """A temperature sensor checked with the meter."""

    id: str = text("id", "its label", required=True, example='"IU07-gas"')
    unit: str | None = text("unit", "the unit it sits in", example='"IU07"')
    curve: str | None = text("curve", "one of [curves]", example='"coil"')
    reading_ohm: float | None = special("reading", 'ohms, or "open"', "ohm-or-open")
    meter: str | None = text("meter", "one of [meters]", example='"handheld"')
    true_temperature_c: float | None = quantity(
        "true_temperature", "a reference thermometer beside it", "degC", example='"18.0 degC"'
    )
    true_within_k: float | None = quantity(
        "true_within", "error of the reference, two standard deviations", "K", low=0.0, example='"0.5 K"'
    )
