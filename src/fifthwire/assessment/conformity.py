"""Each winding against its spec: pass, fail or not proven, with the guard band stated. Data for reports."""

from fifthwire.assessment.conditions import spec_law
from fifthwire.model.assessment import ValveAssessment
from fifthwire.model.record import record
from fifthwire.model.visit import Spec
from fifthwire.physics.conformity import GUARD_BAND_IN_U, Zone, conformance_probability, zone


@record
class WindingConformity:
    """One winding, brought to the spec's temperature, against the spec's limits."""

    wires: tuple[str, str]
    zone: Zone
    ohm_at_spec: float
    u_ohm: float
    low_ohm: float
    high_ohm: float
    guard_ohm: float
    """Left on the inside of each limit for a pass, on the outside for a fail. [Ω]"""
    probability: float
    """Of conforming. [1]"""


def conformity_of(valve: ValveAssessment, spec: Spec | None) -> tuple[WindingConformity, ...]:
    """Each winding that was read against its spec.

    Parameters
    ----------
    valve : ValveAssessment
        With the windings at the spec's temperature.
    spec : Spec or None
        What one winding should read; ±10 % where it states no tolerance.

    Returns
    -------
    tuple of WindingConformity
        Empty without a spec; windings that are open or were not read are left out.

    References
    ----------
    .. [1] JCGM 106:2012 and ISO 14253-1:2017, see `physics.conformity`.
    """
    law = spec_law(spec)
    if law is None:
        return ()
    half = law.tolerance_frac * law.resistance_ohm
    low, high = law.resistance_ohm - half, law.resistance_ohm + half
    return tuple(
        WindingConformity(
            wires=one.wires,
            zone=zone(one.ohm_at_spec, one.u_ohm_at_spec, low=low, high=high),
            ohm_at_spec=one.ohm_at_spec,
            u_ohm=one.u_ohm_at_spec,
            low_ohm=low,
            high_ohm=high,
            guard_ohm=GUARD_BAND_IN_U * one.u_ohm_at_spec,
            probability=conformance_probability(one.ohm_at_spec, one.u_ohm_at_spec, low=low, high=high),
        )
        for one in valve.winding.windings
        if one.ohm_at_spec is not None and one.u_ohm_at_spec is not None
    )
