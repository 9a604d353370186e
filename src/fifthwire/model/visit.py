"""The visit: everything one visit wrote down, as `*.visit.toml` and `*.visit.json` hold it.

Units are in the names; None means "not looked at", which is not "fine". Raw values stay as they were written.
"""

from collections.abc import Mapping
from datetime import date

from fifthwire.model import choices
from fifthwire.model.fields import FileRecord, choice, day, flag, integer, many, named, one, quantity, special, text
from fifthwire.model.followup import Confirmation, LogEvidence, Note, Photograph, Proof, Work
from fifthwire.model.record import record
from fifthwire.model.running import Curve, SensorCheck, Snapshot, StepTest
from fifthwire.model.valve import Valve

VISIT_FORMAT = "fifthwire/visit"
VISIT_MINOR = 0


@record
class VisitHeader(FileRecord):
    """Who, when, where and why."""

    id: str | None = text("id", "stays the same however often the file travels", example='"01JV7Q3N8W5R"')
    date: "date" = day("date", "the day of the visit", required=True, example="2026-05-12")
    time_zone: str | None = text("time_zone", "of times that carry no offset", example='"Europe/London"')
    technician: str | None = text("technician", "initials or a number", example='"RT-14"')
    site: str = text("site", "the building", required=True, example='"Quayside House"')
    system: str = text("system", "the refrigerant system", required=True, example='"QH-1"')
    reason: str = choice("reason", "why the visit was made", choices.REASONS_FOR_VISIT, default="planned")
    altitude_m: float | None = quantity(
        "altitude",
        "of the site above the sea; gauge pressures are read with it",
        "m",
        low=-500.0,
        high=9000.0,
        example='"40 m"',
    )
    barometer_kpa_abs: float | None = quantity(
        "barometer",
        "air pressure on the day, in place of the altitude",
        "kPa",
        low=50.0,
        high=110.0,
        example='"1009 hPa"',
    )


@record
class System(FileRecord):
    """The refrigerant system as a whole."""

    refrigerant: str | None = choice("refrigerant", "needed only with pressures", choices.REFRIGERANTS)
    installed: int | None = integer("installed", "the year", low=1900, high=2100, example="2014")
    mode: str | None = choice("mode", "while the snapshot was taken", choices.MODES)
    service_state: bool | None = flag(
        "service_state", "every valve driven open, compressors off, and given time, before heads came off"
    )
    service_state_minutes: float | None = quantity(
        "service_state_minutes", "how long it was given", "min", low=0.0, example="10"
    )


@record(kw_only=False)
class Tolerance:
    """Of a winding's resistance: a share of it or ohms, whichever was written."""

    frac: float | None = None
    ohm: float | None = None


@record
class Spec(FileRecord):
    """What a service manual says a kind of head should measure."""

    winding: str = choice(
        "winding",
        "arrangement of the windings; single-2 is a solenoid's coil",
        choices.WINDING_ARRANGEMENTS,
        required=True,
        example='"unipolar-5"',
    )
    resistance_ohm: float | None = quantity(
        "resistance", "of one winding", "ohm", above=0.0, high=1e6, example='"62 ohm"'
    )
    tolerance: Tolerance | None = special("tolerance", "of the resistance: a percentage, or ohms", "tolerance")
    at_c: float | None = quantity("at", "temperature the resistance is stated for; default 20 °C", "degC")
    full_stroke_pulses: float | None = quantity(
        "full_stroke", "from shut to fully open", "pulses", low=1.0, example="480"
    )
    min_opening_pulses: float | None = quantity(
        "min_opening", "where the controller stops closing while the unit runs", "pulses", low=0.0, example="40"
    )
    supply_volt: float | None = quantity("supply", "voltage from the board's common to zero", "V", low=0.0)
    source: str | None = text("source", "manual and page", example='"manual of the outdoor unit, p. 212"')


@record(kw_only=False)
class Accuracy:
    """Limits of a uniform error: a share of the reading and a count of the last digit."""

    of_reading_frac: float
    digits: float = 0.0


@record
class MeterRange(FileRecord):
    """One range of a meter."""

    to_ohm: float | None = quantity(
        "to", "end of the range; left out for the last", "ohm", above=0.0, example='"600 ohm"'
    )
    accuracy: Accuracy | None = special(
        "accuracy", "limits of its error: of the reading, and of the last digit", "accuracy"
    )
    resolution_ohm: float | None = quantity(
        "resolution", "the last digit it shows", "ohm", above=0.0, example='"0.1 ohm"'
    )


@record
class Meter(FileRecord):
    """The ohmmeter of the day."""

    accuracy: Accuracy | None = special(
        "accuracy", "limits of its error: of the reading, and of the last digit", "accuracy"
    )
    resolution_ohm: float | None = quantity(
        "resolution", "the last digit it shows", "ohm", above=0.0, example='"0.1 ohm"'
    )
    ranges: tuple[MeterRange, ...] = many("ranges", "in place of accuracy and resolution", MeterRange)
    serial: str | None = text("serial", "its serial number", example='"A1234"')
    leads_ohm: float | None = quantity(
        "leads",
        "it reads this with the probes shorted; left out where it was zeroed",
        "ohm",
        low=0.0,
        example='"0.2 ohm"',
    )
    check_resistor_ohm: tuple[float, float] | None = special(
        "check_resistor", "a known resistor, and what the meter made of it on this visit", "ohm-pair"
    )
    calibrated: "date | None" = day("calibrated", "day of its last calibration", example="2026-01-10")


@record
class Visit(FileRecord):
    """A visit file, whole."""

    format_minor: int = VISIT_MINOR
    """Minor version of the format as it was read."""
    header: VisitHeader = one("visit", "who, when, where and why", VisitHeader, required=True)
    system: System = one("system", "the refrigerant system", System, default=System())
    specs: Mapping[str, Spec] = named("specs", "what the service manual says, one table a kind of head", Spec)
    meters: Mapping[str, Meter] = named("meters", "the meters used, one table each", Meter)
    valves: tuple[Valve, ...] = many("valves", "the valves looked at", Valve)
    step_tests: tuple[StepTest, ...] = many("step_tests", "a command changed on purpose, all else left alone", StepTest)
    curves: Mapping[str, Curve] = named(
        "curves", "resistance of temperature sensors: table, or r25 and beta, or steinhart", Curve
    )
    sensors: tuple[SensorCheck, ...] = many("sensors", "temperature sensors checked with the meter", SensorCheck)
    snapshot: Snapshot | None = one("snapshot", "one steady moment of running", Snapshot)
    snapshots: tuple[Snapshot, ...] = many("snapshots", "several moments", Snapshot)
    work: tuple[Work, ...] = many("work", "what was done", Work)
    confirmations: tuple[Confirmation, ...] = many(
        "confirmations", "the make-safe steps, each by the person who did it", Confirmation
    )
    notes: tuple[Note, ...] = many("notes", "remarks on anything", Note)
    photographs: tuple[Photograph, ...] = many("photographs", "pictures beside the file", Photograph)
    proofs: tuple[Proof, ...] = many("proofs", "after a repair: what showed that it works", Proof)
    evidence: tuple[LogEvidence, ...] = many("evidence", "findings of logs", LogEvidence)
