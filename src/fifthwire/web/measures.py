"""What heads should measure and how well a meter measures: typed into forms with units, and shown."""

from typing import Final

from fifthwire.assessment.figures import number, ohms, percent, plain, temperature, with_unit
from fifthwire.model.kept.people import UnitSystem
from fifthwire.model.visit import Meter, Spec, Tolerance
from fifthwire.visitfile.writing import table_of
from fifthwire.web.shown import NOTHING

SPEC_KEYS: Final = ("winding", "resistance", "tolerance", "at", "supply", "full_stroke", "min_opening")
"""Keys of a visit file's spec that the form asks for; `source` is made of title and page."""
METER_KEYS: Final = ("accuracy", "resolution", "leads", "calibrated")
"""Keys of a visit file's meter that the form asks for."""
_UNIT_OF: Final = {"resistance": "ohm", "at": "degC", "supply": "V", "resolution": "ohm", "leads": "ohm"}
DEFAULT_AT_C: Final = 20.0
"""Where a manual states no temperature.  [°C]  As the visit file's `at`."""


def typed_spec(spec: Spec) -> dict[str, str]:
    """What a person would type into the form for this spec."""
    return _typed(table_of(spec), SPEC_KEYS)


def typed_meter(meter: Meter) -> dict[str, str]:
    """What a person would type into the form for this meter."""
    return _typed(table_of(meter), METER_KEYS)


def as_written(typed: str) -> str | float:
    """A field as a visit file would hold it: a bare number as a number, anything else as text.

    Examples
    --------
    >>> as_written("62"), as_written("62 ohm"), as_written("10 %")
    (62.0, '62 ohm', '10 %')
    """
    try:
        return float(typed) if typed.replace(".", "", 1).isdigit() else typed
    except ValueError:  # digits of other scripts
        return typed


def _typed(table: dict[str, object], keys: tuple[str, ...]) -> dict[str, str]:
    return {key: _with_unit(key, table[key]) if key in table else "" for key in keys}


def _with_unit(key: str, value: object) -> str:
    if isinstance(value, int | float):
        return f"{value:g} {_UNIT_OF[key]}" if key in _UNIT_OF else f"{value:g}"
    return str(value)


def spec_value(spec: Spec, units: UnitSystem) -> str:
    """A spec in one line: resistance, tolerance, temperature.

    Examples
    --------
    >>> from fifthwire.model.visit import Tolerance
    >>> spec_value(Spec(winding="unipolar-5", resistance_ohm=62.0, tolerance=Tolerance(0.1)), "si")
    '62\u202fΩ ± 10\u202f% at 20\u202f°C'
    """
    if spec.resistance_ohm is None:
        return NOTHING
    spread = f" ± {_tolerance(spec.tolerance)}" if spec.tolerance else ""
    at = temperature(DEFAULT_AT_C if spec.at_c is None else spec.at_c, units)
    return f"{with_unit(plain(spec.resistance_ohm), 'Ω')}{spread} at {at}"


def _tolerance(tolerance: Tolerance) -> str:
    if tolerance.ohm is not None:
        return ohms(tolerance.ohm, decimals=1 if tolerance.ohm % 1 else 0)
    return percent(tolerance.frac or 0.0)


def spec_facts(spec: Spec, units: UnitSystem) -> list[tuple[str, str]]:
    """A spec as labels (texts of the catalogue) with values."""
    facts = [(_("Resistance of one winding"), spec_value(spec, units))]
    if spec.full_stroke_pulses is not None:
        facts.append((_("Full stroke"), with_unit(number(spec.full_stroke_pulses, 0), "pulses")))
    if spec.min_opening_pulses is not None:
        facts.append((_("Least opening"), with_unit(number(spec.min_opening_pulses, 0), "pulses")))
    if spec.supply_volt is not None:
        facts.append((_("Supply"), with_unit(plain(spec.supply_volt), "V")))
    return facts


def _(message: str) -> str:
    """Marks a text for the catalogue."""
    return message


def meter_accuracy(meter: Meter) -> str:
    """A meter's accuracy in one line.

    Examples
    --------
    >>> from fifthwire.model.visit import Accuracy
    >>> meter_accuracy(Meter(accuracy=Accuracy(0.009, 2.0), resolution_ohm=0.1))
    '0.9\u202f% + 2 digits of 0.1\u202fΩ'
    """
    if meter.ranges:
        return f"{len(meter.ranges)} ranges"
    if meter.accuracy is None:
        return NOTHING
    digits = f" + {plain(meter.accuracy.digits)} digits" if meter.accuracy.digits else ""
    of = f" of {with_unit(plain(meter.resolution_ohm), 'Ω')}" if digits and meter.resolution_ohm else ""
    return f"{percent(meter.accuracy.of_reading_frac)}{digits}{of}"
