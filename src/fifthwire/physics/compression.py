"""What leaves a compressor for what enters it, and back: discharge superheat, dry or wet, and the quality at suction.

Steady adiabatic compression with one isentropic efficiency; wet suction as a homogeneous mixture. The inverse, from the
two pressures and the discharge temperature to the suction's quality, is that of the compressor's energy balance.
"""

from typing import Final

from fifthwire.physics.refrigerants import Refrigerant

EFFICIENCY: Final = 0.70
"""Isentropic efficiency, heat loss included.  [1]  Judgement: scroll and rotary compressors near their rating."""
EFFICIENCY_LOW: Final = 0.60
EFFICIENCY_HIGH: Final = 0.80
"""Limits of the band.  [1]  Judgement."""
WETTEST: Final = 0.5
"""Quality below which nothing is told.  [1]"""
STEPS: Final = 50


def discharge_superheat_k(
    of: Refrigerant,
    suction_kpa_abs: float,
    discharge_kpa_abs: float,
    *,
    superheat_k: float = 0.0,
    quality: float = 1.0,
    efficiency: float = EFFICIENCY,
) -> float:
    """Superheat at the compressor's outlet; 0 where it is wet there.

    Parameters
    ----------
    of : Refrigerant
        The refrigerant.
    suction_kpa_abs, discharge_kpa_abs : float
        [kPa]
    superheat_k : float
        At suction, where that is dry.  [K]
    quality : float
        At suction, where that is wet.  [1]
    efficiency : float
        Isentropic.  [1]

    Returns
    -------
    float
        [K]

    Raises
    ------
    RangeError, NoSolution
        Where the refrigerant's fits end.
    """
    if quality < 1.0:
        inlet = of.wet_enthalpy_kj_kg(suction_kpa_abs, quality)
        entropy = of.wet_entropy_kj_kg_k(suction_kpa_abs, quality)
    else:
        inlet = of.vapour_enthalpy_kj_kg(suction_kpa_abs, superheat_k)
        entropy = of.vapour_entropy_kj_kg_k(suction_kpa_abs, superheat_k)
    ideal = of.isentropic_enthalpy_kj_kg(entropy, discharge_kpa_abs)
    return of.superheat_k(discharge_kpa_abs, inlet + (ideal - inlet) / efficiency)


def suction_quality(
    of: Refrigerant,
    suction_kpa_abs: float,
    discharge_kpa_abs: float,
    discharge_superheat: float,
    *,
    efficiency: float = EFFICIENCY,
) -> float:
    """Quality at suction that gives a discharge superheat: 1 where dry, and where both ends are wet the most it can be.

    Parameters
    ----------
    of : Refrigerant
        The refrigerant.
    suction_kpa_abs, discharge_kpa_abs : float
        [kPa]
    discharge_superheat : float
        As measured.  [K]
    efficiency : float
        Isentropic.  [1]

    Returns
    -------
    float
        [1]
    """
    low, high = WETTEST, 1.0
    aim = max(discharge_superheat, 1e-6)
    if discharge_superheat_k(of, suction_kpa_abs, discharge_kpa_abs, efficiency=efficiency) <= aim:
        return 1.0
    for _ in range(STEPS):
        middle = 0.5 * (low + high)
        found = discharge_superheat_k(of, suction_kpa_abs, discharge_kpa_abs, quality=middle, efficiency=efficiency)
        low, high = (middle, high) if found < aim else (low, middle)
    return 0.5 * (low + high)
