"""A winding's value for its history: as it was read, whatever is blamed for it on that day.

A verdict's resistances are those under its leading cause: a contact's ohms are taken off, a doubtful reading is set
aside. From year to year the leading cause changes, and with it such a value jumps by what was taken off. What is
compared over the years is what the meter showed between the same two wires, leads taken off, at the spec's temperature.
"""

from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from fifthwire.assessment.conditions import meter_law, meter_name
from fifthwire.model.assessment import WindingEstimate
from fifthwire.model.valve import Measurement, Valve
from fifthwire.model.visit import Visit


def windings_as_read(
    visit: Visit, valve: Valve, measurement: Measurement, windings: Sequence[WindingEstimate]
) -> tuple[WindingEstimate, ...]:
    """The windings of a head with the values that were read of them.

    Parameters
    ----------
    visit : Visit
        Holds the meter.
    valve : Valve
        The valve.
    measurement : Measurement
        The state that was judged.
    windings : sequence of WindingEstimate
        As the verdict has them.

    Returns
    -------
    tuple of WindingEstimate
        A winding that was not read directly, or is open, as the verdict has it. The uncertainty is the smallest share
        that the verdict states of any winding of the head: what a blamed cause adds to it belongs to that cause.
    """
    name = meter_name(visit, valve, measurement)
    leads_ohm = meter_law(visit.meters[name] if name is not None else None).leads_ohm or 0.0
    shares = [one.u_ohm / one.ohm for one in windings if one.ohm and one.u_ohm is not None]
    at_spec = [one.u_ohm_at_spec / one.ohm_at_spec for one in windings if one.ohm_at_spec and one.u_ohm_at_spec]
    made = []
    for one in windings:
        read = [
            reading.ohm
            for reading in measurement.readings
            if {reading.wire_a, reading.wire_b} == set(one.wires) and reading.ohm is not None
        ]
        if not read or not one.ohm:
            made.append(one)
            continue
        ohm = max(median(read) - leads_ohm, 0.0)
        same_temperature = None if one.ohm_at_spec is None else ohm * one.ohm_at_spec / one.ohm
        made.append(
            replace(
                one,
                ohm=ohm,
                u_ohm=ohm * min(shares) if shares else None,
                ohm_at_spec=same_temperature,
                u_ohm_at_spec=same_temperature * min(at_spec) if same_temperature is not None and at_spec else None,
            )
        )
    return tuple(made)
