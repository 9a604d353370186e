"""The states of a circuit at one moment: what each compressor draws and gives, by its pressures and temperatures."""

from collections.abc import Callable
from math import hypot
from typing import Final

from fifthwire.model.assessment import Reason
from fifthwire.model.errors import NoSolution, RangeError
from fifthwire.model.record import record
from fifthwire.model.running import CompressorReadings, OutdoorReadings
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
U_EFFICIENCY: Final = (EFFICIENCY_HIGH - EFFICIENCY_LOW) / 2.0 / 3.0**0.5
"""Of an isentropic efficiency that is uniform in its band.  [1]"""
MOST_DRY_K: Final = 100.0
"""The upper end of a band that runs out of the vapour that is fitted.  [K]"""


@record
class CompressorSeen:
    """One compressor at one moment; None where nothing was read."""

    id: str
    suction_kpa_abs: float | None = None
    discharge_kpa_abs: float | None = None
    evaporating_c: float | None = None
    """Dew temperature at suction."""
    condensing_c: float | None = None
    """Dew temperature at discharge."""
    suction_c: float | None = None
    discharge_c: float | None = None
    liquid_c: float | None = None
    suction_superheat_k: float | None = None
    discharge_superheat_k: float | None = None
    dry_discharge_superheat_k: float | None = None
    """Of dry saturated suction at the middle of the efficiency band."""
    lowest_dry_k: float | None = None
    highest_dry_k: float | None = None
    subcooling_k: float | None = None
    """From the bubble temperature at discharge."""
    suction_quality: float | None = None
    u_quality: float | None = None
    shell_c: float | None = None
    shell: str | None = None
    excuses: tuple[str, ...] = ()
    """Why a low discharge superheat may have another reason: "injection", a state of the controller, "start"."""
    stands_still: bool = False
    is_contradicted: bool = False
    """Pressures that do not go with the temperatures beside them."""


@record
class Measured:
    """A compressor, and what of it could not be worked out."""

    seen: CompressorSeen
    warnings: tuple[Reason, ...] = ()


def compressor_seen(
    of: Refrigerant,
    label: str,
    outdoor: OutdoorReadings,
    one: CompressorReadings,
    *,
    has_outdoor_condenser: bool,
    excuses: tuple[str, ...] = (),
    is_contradicted: bool = False,
) -> Measured:
    """The states of one compressor.

    Parameters
    ----------
    of : Refrigerant
        What circulates.
    label : str
        Outdoor unit and compressor, as in "OU1/C1".
    outdoor : OutdoorReadings
        Holds what the compressors of the unit share.
    one : CompressorReadings
        Its own; may be the same table.
    has_outdoor_condenser : bool
        In cooling; else the liquid line of the outdoor unit is not a condenser's outlet and tells no subcooling.
    excuses : tuple of str
        Why a low discharge superheat may have another reason than liquid.
    is_contradicted : bool
        Pressures and temperatures do not go together.

    Returns
    -------
    Measured
        Suction over discharge, or a pressure out of range, is a warning, and what hangs on it is None.
    """
    suction, discharge = outdoor.suction_kpa_abs, outdoor.discharge_kpa_abs
    warnings: list[Reason] = []
    if suction is not None and discharge is not None and suction >= discharge:
        warnings.append(Reason(code="running.suction-over-discharge", values={"id": label}))
        suction = discharge = None
    evaporating = _saturation(of.dew_c, suction, label, warnings)
    condensing = _saturation(of.dew_c, discharge, label, warnings)
    bubble = _saturation(of.bubble_c, discharge if has_outdoor_condenser else None, label, warnings)
    over = _minus(one.discharge_temperature_c, condensing)
    low = middle = high = quality = u_quality = None
    if suction is not None and discharge is not None and evaporating is not None and condensing is not None:
        low, middle, high = dry_band_k(of, suction, discharge)
        if over is not None and middle is not None:
            quality, u_quality = quality_of(of, suction, discharge, over)
    seen = CompressorSeen(
        id=label,
        suction_kpa_abs=None if evaporating is None else suction,
        discharge_kpa_abs=None if condensing is None else discharge,
        evaporating_c=evaporating,
        condensing_c=condensing,
        suction_c=outdoor.suction_temperature_c,
        discharge_c=one.discharge_temperature_c,
        liquid_c=outdoor.liquid_temperature_c if has_outdoor_condenser else None,
        suction_superheat_k=_minus(outdoor.suction_temperature_c, evaporating),
        discharge_superheat_k=over,
        dry_discharge_superheat_k=middle,
        lowest_dry_k=low,
        highest_dry_k=high,
        subcooling_k=None if bubble is None else _minus(bubble, outdoor.liquid_temperature_c),
        suction_quality=quality,
        u_quality=u_quality,
        shell_c=one.shell_temperature_c,
        shell=one.shell,
        excuses=excuses,
        stands_still=one.speed_hz == 0.0,
        is_contradicted=is_contradicted,
    )
    return Measured(seen=seen, warnings=tuple(warnings))


def _saturation(
    line: Callable[[float], float], kpa_abs: float | None, label: str, warnings: list[Reason]
) -> float | None:
    if kpa_abs is None:
        return None
    try:
        return line(kpa_abs)
    except RangeError as error:
        warnings.append(Reason(code="running.out-of-range", values={"id": label, "what": error.message}))
        return None


def _minus(first: float | None, second: float | None) -> float | None:
    return None if first is None or second is None else first - second


def dry_band_k(
    of: Refrigerant, suction_kpa_abs: float, discharge_kpa_abs: float
) -> tuple[float | None, float | None, float | None]:
    """Discharge superheat of dry suction: lowest, middle and highest over the efficiency band.

    Parameters
    ----------
    of : Refrigerant
        What circulates.
    suction_kpa_abs, discharge_kpa_abs : float
        [kPa]

    Returns
    -------
    tuple of float
        The upper end is 100 K where the vapour that is fitted ends; all None where dry vapour is beyond it. [K]
    """
    found: list[float | None] = []
    for efficiency in (EFFICIENCY_HIGH, EFFICIENCY, EFFICIENCY_LOW):
        try:
            found.append(discharge_superheat_k(of, suction_kpa_abs, discharge_kpa_abs, efficiency=efficiency))
        except (RangeError, NoSolution):
            found.append(None)
    low, middle, high = found
    if low is None or middle is None:
        return low, None, None
    return low, middle, MOST_DRY_K if high is None else high


def quality_of(
    of: Refrigerant, suction_kpa_abs: float, discharge_kpa_abs: float, discharge_superheat: float
) -> tuple[float, float]:
    """Quality at suction and its standard uncertainty, from the compressor's energy balance.

    Parameters
    ----------
    of : Refrigerant
        What circulates.
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
    evaporating, condensing = of.dew_c(suction_kpa_abs), of.dew_c(discharge_kpa_abs)

    at = _with_superheat(of, suction_kpa_abs, discharge_kpa_abs, quality)

    def superheat(boils_k: float = 0.0, condenses_k: float = 0.0, better: float = 0.0, drier: float = 0.0) -> float:
        suction = of.dew_kpa_abs(evaporating + boils_k)
        high = of.dew_kpa_abs(condensing + condenses_k)
        return discharge_superheat_k(of, suction, high, quality=at - 0.01 + drier, efficiency=EFFICIENCY + better)

    # Towards the middle of the range, so that a state at an end of the fits has its slopes too.
    inside = -0.5 if condensing > 0.0 else 0.5
    try:
        here = superheat()
        slope = (superheat(drier=0.01) - here) / 0.01
        by_suction = (superheat(boils_k=-inside) - here) / -inside
        by_discharge = (superheat(condenses_k=inside) - here) / inside + 1.0  # it is also what is taken off the reading
        by_efficiency = (superheat(better=-0.05) - here) / 0.05
    except (RangeError, NoSolution):
        return quality, 0.05
    u_k = hypot(U_DISCHARGE_K, by_suction * U_SATURATION_K, by_discharge * U_SATURATION_K, by_efficiency * U_EFFICIENCY)
    return quality, u_k / max(slope, 1.0)


def _with_superheat(of: Refrigerant, suction_kpa_abs: float, discharge_kpa_abs: float, quality: float) -> float:
    """The quality nearest to one given that still leaves some superheat at the outlet: where slopes mean something."""
    at = max(quality, 0.90)
    while at < 1.0 and discharge_superheat_k(of, suction_kpa_abs, discharge_kpa_abs, quality=at - 0.02) <= 0.0:
        at += 0.01
    return min(at, 1.0)
