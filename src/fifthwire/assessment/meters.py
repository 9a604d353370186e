"""The meters of the day: which misread their check resistor, and which have not been calibrated for over a year."""

from datetime import date
from typing import Final

from fifthwire.assessment.conditions import meter_law
from fifthwire.model.assessment import Reason
from fifthwire.model.visit import Meter
from fifthwire.physics.meter import MeterCheck, MeterRange, check_resistor

LEADS_WITHIN_OHM: Final = 0.05
"""Half-width of what is not known of the leads.  [ohm]  Judgement, as in priors.toml."""


def meter_check(meter: Meter) -> MeterCheck | None:
    """What the check resistor says of a meter; None where none was read.

    Parameters
    ----------
    meter : Meter
        With `check_resistor`: the known resistance, and what the meter made of it on this visit.
    """
    if meter.check_resistor_ohm is None:
        return None
    known, shown = meter.check_resistor_ohm
    law = meter_law(meter)
    ranges = [
        MeterRange(
            to_ohm=one.to_ohm,
            of_reading_frac=one.of_reading_frac,
            digits=one.digits,
            resolution_ohm=one.resolution_ohm,
        )
        for one in law.ranges
    ]
    return check_resistor(known, shown, ranges, leads_ohm=law.leads_ohm, leads_within_ohm=LEADS_WITHIN_OHM)


def is_doubtful(meter: Meter) -> bool:
    """Whether the meter misread its check resistor by more than its limits allow."""
    check = meter_check(meter)
    return check is not None and not check.agrees


def meter_warnings(name: str, meter: Meter, visit_date: date) -> list[Reason]:
    """What is to be said of a meter that was used.

    Parameters
    ----------
    name : str
        As the file calls it.
    meter : Meter
        As written.
    visit_date : date
        A calibration over a year before it is said (our choice: a year is the usual interval).
    """
    warnings = []
    check = meter_check(meter)
    if check is not None and meter.check_resistor_ohm is not None and not check.agrees:
        known, shown = meter.check_resistor_ohm
        values = {"meter": name, "known_ohm": known, "shown_ohm": shown, "limit_ohm": round(check.limit_ohm, 3)}
        warnings.append(Reason(code="meter.check-resistor", values=values))
    if meter.calibrated is not None:
        values = {"meter": name, "calibrated": meter.calibrated.isoformat()}
        if meter.calibrated > visit_date:
            warnings.append(Reason(code="meter.calibrated-later", values=values))
        elif a_year_after(meter.calibrated) < visit_date:
            warnings.append(Reason(code="meter.calibration-old", values=values))
    if meter.accuracy is None and any(one.accuracy is None for one in meter.ranges or (meter,)):
        warnings.append(Reason(code="meter.accuracy-missing", values={"meter": name}))
    if meter.resolution_ohm is None and any(one.resolution_ohm is None for one in meter.ranges or (meter,)):
        warnings.append(Reason(code="meter.resolution-missing", values={"meter": name}))
    return warnings


def a_year_after(day: date) -> date:
    """The same day a year later; 28 February after a leap day."""
    try:
        return day.replace(year=day.year + 1)
    except ValueError:
        return day.replace(year=day.year + 1, day=28)
