"""The plant: a refrigerant system described well enough to be simulated, and what is wrong with it.

Sizes that are left out are generic ones. None of them comes from a machine in the field.
"""

from typing import Final

from fifthwire.model import choices
from fifthwire.model.fields import FileRecord, choice, flag, many, number, one, quantity, special, text
from fifthwire.model.record import record

PLANT_FORMAT: Final = "fifthwire/plant"
PLANT_MINOR: Final = 0
FIRST_OUTDOOR: Final = "OU1"
"""What the only outdoor unit is called where the file gives it no id."""


@record
class OutdoorUnit(FileRecord):
    """One outdoor unit."""

    id: str = text("id", "what it is called", default=FIRST_OUTDOOR, example='"OU1"')
    capacity_kw: float | None = quantity(
        "capacity",
        "rated cooling; left out: that of the indoor units together",
        "kW",
        above=0.0,
        high=2000.0,
        example='"82 kW"',
    )
    condenser_approach_k: float = quantity(
        "condenser_approach", "condensing minus ambient at rated load", "K", default=10.0, low=3.0, high=40.0
    )
    subcooling_k: float = quantity(
        "subcooling",
        "of the liquid that leaves its coil at rated load; at most 0.8 of what its bubble point lies above 35 °C",
        "K",
        default=5.0,
        low=0.0,
        high=25.0,
    )
    has_subcooler: bool = flag("subcooler", "it has a subcooler with a bypass valve", default=True)


@record
class PlantCompressor(FileRecord):
    """The compressors: all outdoor units have the same."""

    isentropic_frac: float = number(
        "isentropic", "isentropic efficiency", default=0.70, unit="frac", above=0.1, high=1.0
    )
    volumetric_frac: float = number(
        "volumetric", "volumetric efficiency", default=0.92, unit="frac", above=0.1, high=1.0
    )
    speed_frac: tuple[float, float] = special(
        "speed", "least and most speed, of the rated speed", "speed-range", default=(0.2, 1.2)
    )
    fixed_frac: float | None = number(
        "fixed", "speed of one without an inverter, of the rated speed", unit="frac", above=0.0, high=2.0, example="1.0"
    )
    map: str | None = text("map", "a file beside this one that holds its map", example='"compressor.json"')


@record
class PlantUnit(FileRecord):
    """One indoor unit."""

    id: str = text("id", "what it is called", required=True, example='"IU01"')
    capacity_kw: float = quantity(
        "capacity", "rated cooling", "kW", required=True, above=0.0, high=500.0, example='"3.6 kW"'
    )
    room_c: float | None = quantity(
        "room", "air that it takes in; left out: 27 °C when cooling, 20 °C when heating", "degC", low=-10.0, high=50.0
    )
    is_on: bool = flag("on", "running", default=True)
    suction_drop_k: float = quantity(
        "suction_drop", "of its gas pipe at rated load, as saturation temperature", "K", default=0.0, low=0.0, high=5.0
    )


@record
class Fault(FileRecord):
    """One thing that is wrong; it says one thing only."""

    valve: str | None = text("valve", 'a unit\'s valve, "OU1/main" or "subcooler-bypass"', example='"IU01"')
    stuck_frac: float | None = number("stuck", "opening it stays at", unit="frac", low=0.0, high=1.0, example="1.0")
    leaks_frac: float | None = number("leaks", "of full flow, when shut", unit="frac", low=0.0, high=1.0, example="0.1")
    charge_frac: float | None = number(
        "charge", "refrigerant in the system, of the right charge", unit="frac", low=0.3, high=2.0, example="0.8"
    )
    outdoor_airflow_frac: float | None = number(
        "outdoor_airflow",
        "of the rated airflow; with `unit` of one outdoor unit",
        unit="frac",
        above=0.02,
        high=2.0,
        example="0.6",
    )
    unit: str | None = text("unit", "whose airflow it is", example='"IU03"')
    airflow_frac: float | None = number(
        "airflow", "of an indoor unit, of the rated airflow", unit="frac", above=0.02, high=2.0, example="0.5"
    )
    sensor: str | None = text("sensor", "unit/sensor", example='"IU04/gas_pipe"')
    offset_k: float | None = quantity(
        "offset", "what the sensor shows more than there is", "K", low=-60.0, high=60.0, example='"3 K"'
    )


@record
class Plant(FileRecord):
    """A plant file, whole."""

    format_minor: int = PLANT_MINOR
    """Minor version of the format as it was read."""
    refrigerant: str = choice("refrigerant", "what is in it", choices.REFRIGERANTS, required=True, example='"R410A"')
    mode: str = choice("mode", "what it does", choices.PLANT_MODES, default="cooling")
    ambient_c: float | None = quantity(
        "ambient", "air outside; left out: 35 °C when cooling, 7 °C when heating", "degC", low=-30.0, high=60.0
    )
    evaporating_c: float = quantity(
        "evaporating",
        "held by the compressor's speed when cooling, inside its range",
        "degC",
        default=7.0,
        low=-25.0,
        high=20.0,
        example='"7 degC"',
    )
    condensing_c: float = quantity(
        "condensing",
        "held by the compressor's speed when heating, inside its range",
        "degC",
        default=44.0,
        low=25.0,
        high=60.0,
        example='"44 degC"',
    )
    target_superheat_k: float = quantity(
        "target_superheat", "what the valves of evaporators hold", "K", default=5.0, low=0.5, high=20.0
    )
    target_subcooling_k: float = quantity(
        "target_subcooling", "what the indoor valves hold when heating", "K", default=10.0, low=0.5, high=25.0
    )
    valve_curve: str | tuple[tuple[float, float], ...] = special(
        "valve_curve", "flow against opening: concave, linear or a table", "valve-curve", default="concave"
    )
    seat_leak_frac: float = number(
        "seat_leak", "of every valve, of full flow, when shut", unit="frac", default=0.0, low=0.0, high=0.5
    )
    outdoor: tuple[OutdoorUnit, ...] = many(
        "outdoor", "the outdoor unit; [[outdoor]] with an id each where there are several", OutdoorUnit, or_one=True
    )
    compressor: PlantCompressor = one("compressor", "the compressors", PlantCompressor, default=PlantCompressor())
    units: tuple[PlantUnit, ...] = many("units", "the indoor units", PlantUnit)
    faults: tuple[Fault, ...] = many("faults", "what is wrong: none, or any number together", Fault)
