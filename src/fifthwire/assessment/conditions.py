"""A visit's specs, meters and head temperatures as the laws that the inference of windings takes, defaults said."""

from typing import Final

from fifthwire.diagnosis.winding.case import HeadTemperature, MeterLaw, RangeLaw, SpecLaw
from fifthwire.model.assessment import Reason
from fifthwire.model.valve import Measurement, Valve
from fifthwire.model.visit import Meter, MeterRange, Spec, Visit

TOLERANCE_FRAC: Final = 0.10
"""Of a winding's resistance, where the spec does not say.  [1]  Common practice."""
SPEC_AT_C: Final = 20.0
"""Temperature of a spec that does not say.  [°C]  The visit file's format."""
ACCURACY_FRAC: Final = 0.01
ACCURACY_DIGITS: Final = 2.0
RESOLUTION_OHM: Final = 0.1
"""A meter that says nothing of itself: ±(1 % + 2 digits) at 0.1 Ω.  Judgement: a fair handheld meter."""

WITHIN_BY_SOURCE_K: Final = {"air-after-1h": 2.0, "clamp": 2.0, "infrared": 5.0, "by-hand": 15.0}
WITHIN_ELSE_K: Final = 5.0
"""Two standard deviations of a head's temperature, by how it was taken.  [K]  The visit file's format."""


def spec_law(spec: Spec | None) -> SpecLaw | None:
    """What one winding should read; None without a spec or without its resistance."""
    if spec is None or spec.resistance_ohm is None:
        return None
    frac = TOLERANCE_FRAC
    if spec.tolerance is not None:
        by_ohm = (spec.tolerance.ohm or 0.0) / spec.resistance_ohm
        frac = spec.tolerance.frac if spec.tolerance.frac is not None else by_ohm
    at_c = SPEC_AT_C if spec.at_c is None else spec.at_c
    return SpecLaw(resistance_ohm=spec.resistance_ohm, tolerance_frac=frac, at_c=at_c)


def spec_warnings(name: str, spec: Spec) -> list[Reason]:
    """What was taken for what a spec leaves out."""
    if spec.resistance_ohm is None:
        return [Reason(code="spec.resistance-missing", values={"spec": name})]
    if spec.tolerance is None:
        return [Reason(code="spec.tolerance-missing", values={"spec": name})]
    return []


def meter_law(meter: Meter | None) -> MeterLaw:
    """The meter's ranges by rising end, and its leads; the stated default where there is no meter."""
    if meter is None:
        return MeterLaw(ranges=(_range(None, None),))
    ranges = [_range(meter, one) for one in meter.ranges] or [_range(meter, None)]
    return MeterLaw(ranges=tuple(sorted(ranges, key=lambda one: one.to_ohm)), leads_ohm=meter.leads_ohm or 0.0)


def _range(meter: Meter | None, one: MeterRange | None) -> RangeLaw:
    accuracy = (one and one.accuracy) or (meter and meter.accuracy)
    resolution = one.resolution_ohm if one is not None and one.resolution_ohm is not None else None
    if resolution is None:
        resolution = meter.resolution_ohm if meter is not None and meter.resolution_ohm is not None else RESOLUTION_OHM
    return RangeLaw(
        to_ohm=one.to_ohm if one is not None and one.to_ohm is not None else float("inf"),
        of_reading_frac=accuracy.of_reading_frac if accuracy else ACCURACY_FRAC,
        digits=accuracy.digits if accuracy else ACCURACY_DIGITS,
        resolution_ohm=resolution,
    )


def head_temperature(valve: Valve, measurement: Measurement) -> HeadTemperature:
    """Temperature of the copper of one measurement; left out, anything a head can have.

    Parameters
    ----------
    valve : Valve
        Says how its temperature was taken, and how far that may be off.
    measurement : Measurement
        May have a temperature of its own.
    """
    own = measurement.head_temperature_c
    centre = valve.head_temperature_c if own is None else own
    if centre is None:
        return HeadTemperature()
    within = valve.head_temperature_within_k
    if within is None:
        within = WITHIN_BY_SOURCE_K.get(valve.head_temperature_from or "", WITHIN_ELSE_K)
    return HeadTemperature(centre_c=centre, sd_k=within / 2.0)


def meter_name(visit: Visit, valve: Valve, measurement: Measurement) -> str | None:
    """The meter a measurement was taken with; the only one of the file where none is named."""
    named = measurement.meter or valve.meter
    if named is None and len(visit.meters) == 1:
        return next(iter(visit.meters))
    return named if named in visit.meters else None


def arrangement_of(valve: Valve, spec: Spec | None) -> str | None:
    """Arrangement of the windings: the spec's; a solenoid has one coil; else it is inferred."""
    if spec is not None:
        return spec.winding
    return "single-2" if valve.kind == "solenoid" else None
