"""Whether liquid reaches a compressor: its discharge superheat against that of dry suction, and the signs beside it.

No fixed limit tells it: dry suction gives 16 K where it is mild outside and 48 K with another refrigerant where it is
hot.
Computed (steady circuit): a per cent of liquid takes about 2 K of discharge superheat with R410A and 3 K with R32.
"""

from math import hypot, sqrt
from typing import Final

from fifthwire.model.record import record
from fifthwire.physics.compression import (
    EFFICIENCY,
    EFFICIENCY_HIGH,
    EFFICIENCY_LOW,
    discharge_superheat_k,
    suction_quality,
)
from fifthwire.physics.refrigerants import Refrigerant

U_DISCHARGE_K: Final = 1.5
"""Of a discharge temperature taken on the line.  [K]  Judgement: the wall reads a little under the vapour."""
U_SATURATION_K: Final = 0.5
"""Of evaporating and of condensing temperature.  [K]  Judgement: a gauge, or the controller's transmitter."""
U_EFFICIENCY: Final = (EFFICIENCY_HIGH - EFFICIENCY_LOW) / 2.0 / sqrt(3.0)
"""Of an isentropic efficiency that is uniform in its band.  [1]"""
WET_SUCTION_K: Final = 1.0
"""Suction superheat under this is a second sign.  [K]  Judgement; the readings' own noise is about as large."""
DRY_SUCTION_K: Final = 3.0
"""Suction superheat from here on speaks against liquid.  [K]  Judgement: three times that noise."""
SURELY_LOW_K: Final = 1.5
"""So far under the lowest dry value of the band is low whatever the efficiency.  [K]  One standard uncertainty."""
SHELL_COLD_K: Final = 6.0
"""A low-side shell nearer to evaporating temperature, a high-side one nearer to condensing, is cold for its kind.  [K]
From memory: an oil sump is kept 10 K and more above saturated suction; a high-side shell stands near discharge."""
WORST: Final = ("likely", "possible", "unknown", "unlikely")
"""The worst first."""


@record
class CompressorSeen:
    """One compressor at one moment; None where nothing was read."""

    id: str
    evaporating_c: float | None = None
    condensing_c: float | None = None
    suction_superheat_k: float | None = None
    discharge_superheat_k: float | None = None
    dry_discharge_superheat_k: float | None = None
    """Of dry saturated suction at the middle of the efficiency band."""
    lowest_dry_k: float | None = None
    highest_dry_k: float | None = None
    subcooling_k: float | None = None
    suction_quality: float | None = None
    u_quality: float | None = None
    shell_c: float | None = None
    shell: str | None = None
    is_excused: bool = False
    """Injection or hot-gas valve open or unknown, oil return, defrost, protection or the first minutes: a low discharge
    superheat may have another reason."""


def dry_band_k(of: Refrigerant, suction_kpa_abs: float, discharge_kpa_abs: float) -> tuple[float, float, float]:
    """Discharge superheat of dry suction: lowest, middle and highest over the efficiency band. [kPa] -> [K]"""
    low, middle, high = (
        discharge_superheat_k(of, suction_kpa_abs, discharge_kpa_abs, efficiency=one)
        for one in (EFFICIENCY_HIGH, EFFICIENCY, EFFICIENCY_LOW)
    )
    return low, middle, high


def quality_of(
    of: Refrigerant, suction_kpa_abs: float, discharge_kpa_abs: float, discharge_superheat: float
) -> tuple[float, float]:
    """Quality at suction and its standard uncertainty, from the compressor's energy balance.

    Parameters
    ----------
    of : Refrigerant
        The refrigerant.
    suction_kpa_abs, discharge_kpa_abs : float
        [kPa]
    discharge_superheat : float
        As measured.  [K]

    Returns
    -------
    tuple of float
        Quality, never over 1, and its standard uncertainty: that of temperatures, pressures and efficiency.  [1]
    """
    quality = suction_quality(of, suction_kpa_abs, discharge_kpa_abs, discharge_superheat)

    def superheat(
        evaporating_k: float = 0.0, condensing_k: float = 0.0, better: float = 0.0, drier: float = 0.0
    ) -> float:
        suction = of.dew_kpa_abs(of.dew_c(suction_kpa_abs) + evaporating_k)
        high = of.dew_kpa_abs(of.dew_c(discharge_kpa_abs) + condensing_k)
        at = min(max(quality, 0.92) - 0.01 + drier, 1.0)
        return discharge_superheat_k(of, suction, high, quality=at, efficiency=EFFICIENCY + better)

    here = superheat()
    slope = (superheat(drier=0.01) - here) / 0.01
    of_pressures = hypot(superheat(evaporating_k=-0.5) - here, superheat(condensing_k=-0.5) - here + 0.5)
    u_k = hypot(
        U_DISCHARGE_K, of_pressures * U_SATURATION_K / 0.5, (superheat(better=-0.05) - here) / 0.05 * U_EFFICIENCY
    )
    return quality, u_k / max(slope, 1.0)


def floodback(seen: CompressorSeen) -> str:
    """unlikely, possible, likely or unknown.

    Parameters
    ----------
    seen : CompressorSeen
        What was read of it.

    Returns
    -------
    str
        `likely` needs a low discharge superheat, and a second sign where that may have another reason; frost is none.
    """
    suction, discharge = seen.suction_superheat_k, seen.discharge_superheat_k
    if discharge is None or seen.lowest_dry_k is None or seen.dry_discharge_superheat_k is None:
        return _by_suction(suction, is_shell_cold(seen))
    second = is_shell_cold(seen) or (suction is not None and suction < WET_SUCTION_K)
    if discharge < seen.lowest_dry_k - SURELY_LOW_K:
        speaks_against = suction is not None and suction >= DRY_SUCTION_K and not is_shell_cold(seen)
        return "likely" if second or not (seen.is_excused or speaks_against) else "possible"
    if second:
        return "possible"
    if suction is None:
        return "unlikely" if discharge >= seen.dry_discharge_superheat_k + U_DISCHARGE_K else "possible"
    return "possible" if suction < DRY_SUCTION_K and discharge < seen.dry_discharge_superheat_k else "unlikely"


def is_shell_cold(seen: CompressorSeen) -> bool:
    """Whether the shell is cold for its kind; no where either is not known."""
    near_c = {"low-side": seen.evaporating_c, "high-side": seen.condensing_c}.get(seen.shell or "")
    return seen.shell_c is not None and near_c is not None and seen.shell_c < near_c + SHELL_COLD_K


def worst_of(told: tuple[str, ...]) -> str:
    """The worst of several compressors; unknown where there is none."""
    return min(told, key=WORST.index) if told else "unknown"


def _by_suction(suction_superheat_k: float | None, shell_cold: bool) -> str:
    if suction_superheat_k is None:
        return "possible" if shell_cold else "unknown"
    if suction_superheat_k < WET_SUCTION_K or shell_cold:
        return "possible"
    return "unlikely" if suction_superheat_k >= DRY_SUCTION_K else "unknown"
