"""Whether all valves were open for service: only then does a stem prove anything."""

from typing import Final

from fifthwire.model.assessment import Reason
from fifthwire.model.record import record
from fifthwire.model.visit import System

LONG_ENOUGH_MIN: Final = 3.0
"""Time after which every valve driven open has come to its stop.  [min]  Judgement: 2,000 pulses at 30 a second take
67 s; the rest is for boards that drive their valves one after the other."""


@record
class ServiceState:
    """What the stems may be judged by."""

    holds: bool
    """Every valve was driven open, and given time."""
    minutes: float | None = None
    warnings: tuple[Reason, ...] = ()

    @property
    def was_too_short(self) -> bool:
        """Declared, but not given its time."""
        return not self.holds and self.minutes is not None


def service_state_of(system: System) -> ServiceState:
    """The service state of a visit; minutes that are not written are taken as long enough, and said.

    Parameters
    ----------
    system : System
        `service_state` says that every valve was driven open and given time.

    Returns
    -------
    ServiceState
        Does not hold where it is not written, or written with too few minutes.
    """
    if not system.service_state:
        return ServiceState(holds=False)
    minutes = system.service_state_minutes
    if minutes is None:
        return ServiceState(holds=True, warnings=(Reason(code="service-state.minutes-missing"),))
    if minutes < LONG_ENOUGH_MIN:
        short = Reason(code="service-state.minutes-short", values={"minutes": minutes, "needed": LONG_ENOUGH_MIN})
        return ServiceState(holds=False, minutes=minutes, warnings=(short,))
    return ServiceState(holds=True, minutes=minutes)
