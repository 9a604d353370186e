"""What people read beside a simulated state: readings by name, and what the simulation does not know."""

from typing import Final

from fifthwire.model.plant import Fault

READINGS: Final[dict[str, str]] = {
    "own-superheat": "its unit's superheat",
    "own-command": "its command",
    "own-air": "its unit's supply air",
    "other-commands": "the other valves' commands",
    "suction-superheat": "suction superheat",
    "discharge": "discharge temperature",
    "subcooling": "subcooling",
    "speed": "compressor speed",
    "evaporating": "evaporating temperature",
    "condensing": "condensing temperature",
    "bypass-superheat": "superheat behind the subcooling valve",
    "bypass-command": "the subcooling valve's command",
}
"""Readings that a stuck valve may move."""

LIMITS: Final = (
    "A steady state, computed: nothing here was validated on a machine in the field.",
    "Sizes that are not given are generic; the rooms stay at their temperature.",
    "No oil, no vapour injection, no heat recovery; one liquid pressure; a crude void fraction in the charge.",
)
"""Printed with every simulated result."""

LOG_LIMITS: Final = (
    "An invented log of a simulated plant: no machine was measured.",
    "A moving steady state with lags; starts, oil return and defrost are drawn in their shape, not computed.",
)
"""Printed with every log that is made."""


def fault_line(fault: Fault) -> str:
    """What is wrong, in a few words.

    Parameters
    ----------
    fault : Fault
        One of a plant's.

    Examples
    --------
    >>> fault_line(Fault(valve="IU03", stuck_frac=1.0)), fault_line(Fault(charge_frac=0.8))
    ('IU03 stuck at 100\xa0%', 'charge 80\xa0%')
    """
    if fault.stuck_frac is not None:
        return f"{fault.valve} stuck at {_percent(fault.stuck_frac)}"
    if fault.leaks_frac is not None:
        return f"{fault.valve} passes {_percent(fault.leaks_frac)} when shut"
    if fault.charge_frac is not None:
        return f"charge {_percent(fault.charge_frac)}"
    if fault.offset_k is not None:
        return f"{fault.sensor} off by {fault.offset_k:+g}\xa0K"
    if fault.outdoor_airflow_frac is not None:
        return f"{fault.unit or 'outdoor'} airflow {_percent(fault.outdoor_airflow_frac)}"
    return f"{fault.unit} airflow {_percent(fault.airflow_frac or 1.0)}"


def _percent(frac: float) -> str:
    return f"{frac * 100.0:.4g}\xa0%"
