"""The cycle of a refrigerant as pressure and enthalpy, from the readings of one compressor: for the diagram.

What was read is told from what is taken in its place: without a suction temperature dry saturated vapour, without a
liquid temperature saturated liquid, without a discharge temperature the middle of the efficiency band.
"""

from typing import Final

from fifthwire.diagnosis.running.floodback import DRY_SUCTION_K, is_low
from fifthwire.diagnosis.running.states import MOST_DRY_K, CompressorSeen
from fifthwire.model.errors import NoSolution, RangeError
from fifthwire.model.record import record
from fifthwire.physics.compression import EFFICIENCY
from fifthwire.physics.refrigerants import Refrigerant

DOME_POINTS: Final = 48


@record
class CyclePoint:
    """A corner of the cycle."""

    name: str
    """suction, discharge, liquid, inlet."""
    kpa_abs: float
    enthalpy_kj_kg: float
    c: float | None
    """None where it lies between boiling and dew, and the pressure says it.  [°C]"""
    is_read: bool
    """False where something was taken in place of a reading."""
    quality: float | None = None
    u_enthalpy_kj_kg: float | None = None
    """Where it comes from the energy balance."""


@record
class Cycle:
    """Four corners in the order of the flow, and the lines of saturated liquid and vapour around them."""

    points: tuple[CyclePoint, CyclePoint, CyclePoint, CyclePoint]
    liquid_line: tuple[tuple[float, float], ...]
    """Enthalpy and pressure.  [kJ/kg], [kPa]"""
    vapour_line: tuple[tuple[float, float], ...]


def cycle_of(of: Refrigerant, seen: CompressorSeen, liquid_c: float | None) -> Cycle | None:
    """The cycle of one compressor.

    Parameters
    ----------
    of : Refrigerant
        What circulates.
    seen : CompressorSeen
        Its states.
    liquid_c : float or None
        What leaves the condensing coils: the outdoor unit's liquid line in cooling, the indoor coils' in heating.  [°C]

    Returns
    -------
    Cycle or None
        None without both pressures, or where the refrigerant's fits end.
    """
    if seen.suction_kpa_abs is None or seen.discharge_kpa_abs is None:
        return None
    low, high = seen.suction_kpa_abs, seen.discharge_kpa_abs
    try:
        suction = _suction(of, seen, low)
        discharge = _discharge(of, seen, suction, high)
        liquid = _liquid(of, liquid_c, high)
        inlet = CyclePoint(
            name="inlet", kpa_abs=low, enthalpy_kj_kg=liquid.enthalpy_kj_kg, c=None, is_read=liquid.is_read
        )
        lines = saturation_lines(of, low / 2.0, high * 2.0)
    except (RangeError, NoSolution):
        return None
    return Cycle(points=(suction, discharge, liquid, inlet), liquid_line=lines[0], vapour_line=lines[1])


def _suction(of: Refrigerant, seen: CompressorSeen, kpa_abs: float) -> CyclePoint:
    superheat, quality = seen.suction_superheat_k, seen.suction_quality
    is_wet = is_low(seen) and quality is not None and quality < 1.0 and not seen.excuses
    if is_wet and quality is not None and (superheat is None or superheat < DRY_SUCTION_K):
        latent = of.vapour_enthalpy_kj_kg(kpa_abs) - of.wet_enthalpy_kj_kg(kpa_abs, 0.0)
        return CyclePoint(
            name="suction",
            kpa_abs=kpa_abs,
            enthalpy_kj_kg=of.wet_enthalpy_kj_kg(kpa_abs, quality),
            c=None,
            is_read=False,
            quality=quality,
            u_enthalpy_kj_kg=(seen.u_quality or 0.0) * latent,
        )
    is_read = superheat is not None
    dry = max(superheat or 0.0, 0.0)
    c = seen.suction_c if is_read else seen.evaporating_c
    return CyclePoint(
        name="suction", kpa_abs=kpa_abs, enthalpy_kj_kg=of.vapour_enthalpy_kj_kg(kpa_abs, dry), c=c, is_read=is_read
    )


def _discharge(of: Refrigerant, seen: CompressorSeen, suction: CyclePoint, kpa_abs: float) -> CyclePoint:
    over = seen.discharge_superheat_k
    if over is not None and over > 0.0:
        enthalpy = of.vapour_enthalpy_kj_kg(kpa_abs, over)
        return CyclePoint(name="discharge", kpa_abs=kpa_abs, enthalpy_kj_kg=enthalpy, c=seen.discharge_c, is_read=True)
    if over is not None:
        enthalpy = of.vapour_enthalpy_kj_kg(kpa_abs)
        return CyclePoint(
            name="discharge", kpa_abs=kpa_abs, enthalpy_kj_kg=enthalpy, c=seen.condensing_c, is_read=False
        )
    dry = max(seen.suction_superheat_k or 0.0, 0.0)
    entropy = of.vapour_entropy_kj_kg_k(suction.kpa_abs, dry)
    try:
        ideal = of.isentropic_enthalpy_kj_kg(entropy, kpa_abs)
        enthalpy = suction.enthalpy_kj_kg + (ideal - suction.enthalpy_kj_kg) / EFFICIENCY
        c = of.dew_c(kpa_abs) + of.superheat_k(kpa_abs, enthalpy)
    except NoSolution:  # hotter than the vapour that is fitted: as far as that goes
        enthalpy = of.vapour_enthalpy_kj_kg(kpa_abs, MOST_DRY_K)
        c = of.dew_c(kpa_abs) + MOST_DRY_K
    return CyclePoint(name="discharge", kpa_abs=kpa_abs, enthalpy_kj_kg=enthalpy, c=c, is_read=False)


def _liquid(of: Refrigerant, liquid_c: float | None, kpa_abs: float) -> CyclePoint:
    bubble = of.bubble_c(kpa_abs)
    is_read = liquid_c is not None and liquid_c <= bubble
    c = liquid_c if is_read and liquid_c is not None else bubble
    return CyclePoint(name="liquid", kpa_abs=kpa_abs, enthalpy_kj_kg=of.liquid_enthalpy_kj_kg(c), c=c, is_read=is_read)


def saturation_lines(of: Refrigerant, low_kpa: float, high_kpa: float) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Saturated liquid, then saturated vapour, between two pressures as far as they are known.

    Parameters
    ----------
    of : Refrigerant
        The refrigerant.
    low_kpa, high_kpa : float
        [kPa]

    Returns
    -------
    tuple of tuple
        Enthalpy and pressure of each point.  [kJ/kg], [kPa]
    """
    bottom = _within(of, low_kpa, of.low_c)
    top = _within(of, high_kpa, of.high_c)
    steps = [bottom + (top - bottom) * k / (DOME_POINTS - 1) for k in range(DOME_POINTS)]
    liquid = tuple((of.liquid_enthalpy_kj_kg(c), of.bubble_kpa_abs(c)) for c in steps)
    vapour = []
    for c in steps:
        kpa = of.dew_kpa_abs(c)
        vapour.append((of.vapour_enthalpy_kj_kg(kpa), kpa))
    return liquid, tuple(vapour)


def _within(of: Refrigerant, kpa_abs: float, else_c: float) -> float:
    try:
        return min(max(of.dew_c(kpa_abs), of.low_c), of.high_c)
    except RangeError:
        return else_c
