"""A valve on a visit: the head as found, its readings, what was seen, felt and measured at the board."""

from collections.abc import Mapping
from datetime import date
from typing import Literal

from fifthwire.model import choices
from fifthwire.model.fields import (
    Entry,
    FileRecord,
    choice,
    day,
    flag,
    integer,
    many,
    number,
    one,
    quantity,
    special,
    text,
)
from fifthwire.model.record import record


@record(kw_only=False)
class PairReading:
    """One reading between two wires."""

    wire_a: str
    wire_b: str
    ohm: float | None
    """As the meter showed it, leads not yet taken off; None where it showed open."""

    @property
    def is_open(self) -> bool:
        """Whether the meter showed no connection."""
        return self.ohm is None


@record(kw_only=False)
class Insulation:
    """Resistance of all wires together to the metal of the head."""

    mohm: float
    is_at_least: bool = False
    """Written with ">": the meter's end of scale."""


@record
class Measurement(Entry):
    """One state of a head, measured; its readings are repeats of that one state."""

    when: str = choice("when", "before or after what was done", choices.MEASURED_WHEN, default="as-found")
    measured_at: str = choice("measured_at", "where the probes touched", choices.MEASURED_AT, default="head-plug")
    readings: tuple[PairReading, ...] = special("readings", 'wire, wire, ohms or "open"', "readings", default=())
    head_temperature_c: float | None = quantity(
        "head_temperature", "if other than the valve's", "degC", example='"31 degC"'
    )
    meter: str | None = text("meter", "if other than the valve's", example='"handheld"')


@record
class Inspection(FileRecord):
    """What the eye saw."""

    rust: str | None = choice("rust", "under the head, on the can and the shell", choices.RUST)
    pitted: bool | None = flag("pitted", "rust has eaten into the pressure part", example="false")
    cracks: bool | None = flag("cracks", "in the housing of the head (bolt-on)", example="false")
    seated: bool | None = flag("seated", "latched home (clip-on)")
    connector: str | None = choice("connector", "state of the plug", choices.CONNECTOR)


@record
class Movement(FileRecord):
    """The valve under command, or by hand."""

    stem: str | None = choice("stem", "where it stands (bolt-on, in the service state)", choices.STEM)
    stem_mm: float | None = number("stem_mm", "how far it stands out, in millimetres", unit="mm", low=0.0, high=100.0)
    felt: str | None = choice("felt", "what the hand feels while it is commanded", choices.FELT)
    hand_magnet: str | None = choice(
        "hand_magnet", "clip-on body, driven by a manual opening magnet", choices.MOVES_OR_STUCK
    )
    known_good_head: str | None = choice("known_good_head", "a good head on this body", choices.MOVES_OR_STUCK)
    old_head_again: str | None = choice("old_head_again", "its own head put back after that", choices.MOVES_OR_STUCK)
    plug_swap: str | None = choice(
        "plug_swap",
        "two like plugs exchanged at the board: fault-moves (head or harness), fault-stays (board)",
        choices.PLUG_SWAP,
    )
    after_cleaning: str | None = choice("after_cleaning", "tested again after cleaning", choices.MOVES_OR_STUCK)
    fault_code: str | None = text("fault_code", "what the controller shows, free text")


@record
class Board(FileRecord):
    """The board's output, measured with the plug on or a dummy load."""

    when: str | None = choice("when", "at rest a board drives nothing, and that is normal", choices.BOARD_WHEN)
    supply_volt: float | None = quantity("supply", "from common to board zero", "V", low=0.0, example='"12.1 V"')
    pulses: Mapping[str, bool] | bool | None = special(
        "pulses", "which wires swing: a table by wire, or one yes or no for all", "pulses"
    )


@record
class Valve(Entry):
    """A valve: (system, unit, role, and a number where a unit has two of one role); `id` is its label."""

    id: str = text("id", "its label, each valve its own", required=True, example='"OU1-subcooler"')
    unit: str = text("unit", "the unit it sits in", required=True, example='"OU1"')
    number: int | None = integer("number", "1 or 2, where the unit has two of one role", low=1)
    role: str = choice("role", "what it does", choices.ROLES, required=True, example='"subcooler-bypass"')
    kind: str = choice("kind", "a solenoid has a coil and no pulses", choices.VALVE_KINDS, default="eev")
    head: str | None = choice("head", "needed unless it is a solenoid", choices.HEADS, example='"clip-on"')
    spec: str | None = text(
        "spec",
        "one of [specs]; without it the windings are compared with one another only",
        example='"outdoor-clip"',
    )
    meter: str | None = text("meter", "one of [meters]", example='"handheld"')
    suspected: bool = flag("suspected", "something pointed at this head before it was measured", default=False)
    last_removed: "date | Literal['never'] | None" = special(
        "last_removed", 'the last time this head came off: a date, or "never"', "day-or-never"
    )
    head_installed: "date | None" = day("head_installed", "when this head was fitted", example="2014-06-01")
    access: str | None = choice("access", "how it is reached", choices.ACCESS)
    part_label: str | None = text("part_label", "as printed on the head")
    head_temperature_c: float | None = quantity(
        "head_temperature",
        "of the windings; left out: anywhere from -15 to 75 °C",
        "degC",
        low=-60.0,
        high=150.0,
        example='"31 degC"',
    )
    head_temperature_within_k: float | None = quantity(
        "head_temperature_within", "its error, two standard deviations", "K", low=0.0, high=60.0, example='"3 K"'
    )
    head_temperature_from: str | None = choice(
        "head_temperature_from",
        "how it was taken; its error is then 2, 2, 5 or 15 K unless stated",
        choices.HEAD_TEMPERATURE_FROM,
    )
    common: tuple[str, ...] = special(
        "common", "the common wire; left out where it is not known; six wires: a list of two", "wires", default=()
    )
    plug_off: bool | None = flag("plug_off", "false: the board hangs in parallel and no reading means anything")
    readings: tuple[PairReading, ...] = special(
        "readings", 'at the head\'s own plug: wire, wire, ohms or "open"', "readings", default=()
    )
    insulation: Insulation | None = special("insulation", "all wires together to the metal of the head", "insulation")
    insulation_test: str | None = special(
        "insulation_test", 'how it was tested: "500 V", or "meter"', "insulation-test"
    )
    measurements: tuple[Measurement, ...] = many("measurements", "further states of the same head", Measurement)
    inspection: Inspection | None = one("inspection", "what the eye saw", Inspection)
    movement: Movement | None = one("movement", "under command, or by hand", Movement)
    board: Board | None = one("board", "the board's output", Board)
