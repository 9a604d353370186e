"""What a simulation gives back: arrays with a row a case, NaN all along a row that did not converge."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class States:
    """Steady states of many cases; columns in the order of `CircuitSystem.units` and `.outdoor`.

    A row that did not converge has NaN everywhere and says why in `why_not`.
    """

    closure: str
    """minutes-after or settled."""
    mode: str
    """cooling or heating."""
    converged: NDArray[np.bool_]
    """[n]"""
    why_not: NDArray[np.object_]
    """[n]  None where it converged, else a sentence."""
    energy_residual: Array
    """[n]  What goes in less what comes out, of the heat rejected.  [1]"""
    mass_residual: Array
    """[n]  Of the flow.  [1]"""
    loss_residual_k: Array
    """[n]  Change of the suction losses in the last pass."""
    evaporating_c: Array
    """[n]  Dew temperature of the suction pressure at the compressors, where they are several the lowest."""
    condensing_c: Array
    """[n]  Dew temperature of the discharge pressure."""
    speed_frac: Array
    """[n]  Of the rated speed, of all compressors together."""
    power_kw: Array
    """[n]"""
    capacity_kw: Array
    """[n]  Of the indoor units together."""
    charge_frac: Array
    """[n]  What the state holds, of the right charge."""
    suction_kpa_abs: Array
    """[n]"""
    discharge_kpa_abs: Array
    """[n]"""
    liquid_enthalpy_kj_kg: Array
    """[n]  On its way to the valves of the evaporators."""
    liquid_kpa_abs: Array
    """[n]  In the liquid line."""
    outdoor_speed_frac: Array
    """[n, outdoor]"""
    outdoor_power_kw: Array
    """[n, outdoor]"""
    outdoor_flow_g_s: Array
    """[n, outdoor]  Through its compressor."""
    outdoor_evaporating_c: Array
    """[n, outdoor]"""
    suction_superheat_k: Array
    """[n, outdoor]"""
    suction_quality: Array
    """[n, outdoor]  1 where dry."""
    suction_enthalpy_kj_kg: Array
    """[n, outdoor]"""
    discharge_enthalpy_kj_kg: Array
    """[n, outdoor]"""
    liquid_to_compressor_g_s: Array
    """[n, outdoor]"""
    discharge_c: Array
    """[n, outdoor]  As the sensor shows it. NaN, as the next two, where nothing is drawn in and so nothing leaves."""
    discharge_superheat_k: Array
    """[n, outdoor]"""
    dry_discharge_superheat_k: Array
    """[n, outdoor]  What it would be if exactly dry vapour entered."""
    subcooling_k: Array
    """[n, outdoor]  Of the liquid after the subcooler; negative nowhere: 0 where it flashes."""
    coil_subcooling_k: Array
    """[n, outdoor]  Of the liquid at the coil's outlet, when cooling."""
    liquid_quality: Array
    """[n, outdoor]  Vapour in the liquid after the subcooler; 0 where there is none."""
    coil_outlet_enthalpy_kj_kg: Array
    """[n, outdoor]"""
    main_opening_frac: Array
    """[n, outdoor]  NaN when cooling."""
    main_command_frac: Array
    """[n, outdoor]"""
    coil_superheat_k: Array
    """[n, outdoor]  Of the outdoor coil when heating, NaN when cooling."""
    coil_flow_g_s: Array
    """[n, outdoor]  Through the outdoor coil."""
    bypass_opening_frac: Array
    """[n, outdoor]  NaN without a subcooler."""
    bypass_command_frac: Array
    """[n, outdoor]"""
    bypass_superheat_k: Array
    """[n, outdoor]"""
    bypass_shown_superheat_k: Array
    """[n, outdoor]"""
    bypass_flow_g_s: Array
    """[n, outdoor]"""
    accumulator_kg: Array
    """[n, outdoor]  Liquid in the accumulator; NaN minutes after."""
    opening_frac: Array
    """[n, units]"""
    command_frac: Array
    """[n, units]"""
    superheat_k: Array
    """[n, units]  When heating: subcooling."""
    shown_superheat_k: Array
    """[n, units]  When heating: the subcooling shown."""
    outlet_quality: Array
    """[n, units]  Of what leaves the coil; 1 where it is dry, when heating 0 where it is liquid."""
    outlet_enthalpy_kj_kg: Array
    """[n, units]"""
    flow_g_s: Array
    """[n, units]"""
    unit_capacity_kw: Array
    """[n, units]"""
    gas_pipe_c: Array
    """[n, units]  As the sensor shows it, as the next ones."""
    liquid_pipe_c: Array
    """[n, units]"""
    supply_air_c: Array
    """[n, units]"""
    unknowns: Array
    """[n, unknowns]  A start for a case nearby."""
