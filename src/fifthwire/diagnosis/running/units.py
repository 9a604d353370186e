"""What each indoor unit's coil holds, by each way of measuring it, and where it stands among the others that run.

Two-temperature superheat (gas pipe less liquid pipe) and superheat by pressure (gas pipe less the suction's dew point)
are different measurements: on a measured day the first scattered by 0.37 to 0.45 K, the second by 5 K from minute to
minute. Both are kept, and the quieter one leads.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import hypot
from statistics import quantiles
from typing import Final

from fifthwire.model.record import record
from fifthwire.model.running import UnitReadings

U_TWO_TEMPERATURES_K: Final = 0.5
"""Superheat by two temperatures.  [K]  A measured day: 0.37 to 0.45 K."""
U_BY_PRESSURE_K: Final = 1.5
"""Superheat or subcooling by a temperature and a gauge.  [K]  Judgement; a measured day of one-minute rows: 5 K."""
GLIDE_SHARE: Final = 0.75
"""Share of a blend's glide that lies between a coil's inlet and dry vapour: so much too high two temperatures read.
[1]  Judgement: liquid of 40 °C throttled to 7 °C is a fifth to a third vapour."""
FEWEST_OTHERS: Final = 3
"""Fewer than this have no band worth the name.  [1]"""


@record
class Around:
    """What the system holds around a coil, from the pressures; None where they do not tell."""

    dew_c: float | None = None
    """At suction."""
    bubble_c: float | None = None
    """At discharge."""
    glide_k: float = 0.0
    """At suction."""
    model_u_k: float = 0.0
    """Of the refrigerant's own saturation line."""


@record
class UnitSeen:
    """One indoor unit at one moment."""

    id: str
    runs: str
    """"cooling", "heating", "off", or empty where that is not known."""
    method: str = ""
    """What leads: "two-temperatures", "pressure"; empty where nothing was measured."""
    held_k: float | None = None
    """Superheat in cooling, subcooling in heating, by what leads."""
    u_k: float | None = None
    by_pressure_k: float | None = None
    """The same by pressure, where two temperatures lead and there is a gauge too."""
    u_by_pressure_k: float | None = None
    target_k: float | None = None
    command_frac: float | None = None
    command_pulses: float | None = None
    """Where its full stroke is not known."""
    rank: int | None = None
    """1 holds least of the units that run the same way."""
    n_ranked: int = 0
    others_low_k: float | None = None
    others_high_k: float | None = None
    """The middle half of the others."""


def unit_seen(name: str, of: UnitReadings, runs: str, around: Around) -> UnitSeen:
    """What a unit's coil holds.

    Parameters
    ----------
    name : str
        Of the unit.
    of : UnitReadings
        Its readings.
    runs : str
        "cooling", "heating", "off" or empty.
    around : Around
        Saturation temperatures.

    Returns
    -------
    UnitSeen
        Without figures where it does not run.
    """
    by_pressure_u = hypot(U_BY_PRESSURE_K, around.model_u_k)
    if runs == "heating":
        held = _less(around.bubble_c, of.liquid_pipe_c)
        method, u_k = ("pressure", by_pressure_u) if held is not None else ("", None)
        target = of.target_subcooling_k
        return UnitSeen(id=name, runs=runs, method=method, held_k=held, u_k=u_k, target_k=target)
    if runs != "cooling":
        return UnitSeen(id=name, runs=runs)
    by_pressure = _less(of.gas_pipe_c, around.dew_c)
    by_two = _less(of.gas_pipe_c, of.liquid_pipe_c)
    if by_two is None:
        return UnitSeen(
            id=name,
            runs=runs,
            method="" if by_pressure is None else "pressure",
            held_k=by_pressure,
            u_k=None if by_pressure is None else by_pressure_u,
            target_k=of.target_superheat_k,
        )
    return UnitSeen(
        id=name,
        runs=runs,
        method="two-temperatures",
        held_k=by_two,
        u_k=hypot(U_TWO_TEMPERATURES_K, GLIDE_SHARE * around.glide_k),
        by_pressure_k=by_pressure,
        u_by_pressure_k=None if by_pressure is None else by_pressure_u,
        target_k=of.target_superheat_k,
    )


def _less(first: float | None, second: float | None) -> float | None:
    return None if first is None or second is None else first - second


def ranked(units: Sequence[UnitSeen]) -> tuple[UnitSeen, ...]:
    """The units with their rank among those that run the same way, in the order given.

    Parameters
    ----------
    units : sequence of UnitSeen
        Of one moment.

    Returns
    -------
    tuple of UnitSeen
        Units that hold the same share a rank; the band is that of the others alone, where they are three or more.
    """
    found = []
    for one in units:
        others = [
            of.held_k
            for of in units
            if of is not one and of.held_k is not None and (of.runs, of.method) == (one.runs, one.method)
        ]
        if one.held_k is None or not others:
            found.append(one)
            continue
        low, high = _middle_half(others)
        rank = 1 + sum(of < one.held_k for of in others)
        found.append(replace(one, rank=rank, n_ranked=len(others) + 1, others_low_k=low, others_high_k=high))
    return tuple(found)


def _middle_half(held: Sequence[float]) -> tuple[float | None, float | None]:
    if len(held) < FEWEST_OTHERS:
        return None, None
    low, _, high = quantiles(held, n=4, method="inclusive")
    return low, high
