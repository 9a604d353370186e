"""A plant's state as `fifthwire simulate PLANT --json` prints it: the keys of the format, and nothing unconverged."""

from collections.abc import Mapping
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.states import States
from fifthwire.circuit.system import CircuitSystem

Array = NDArray[np.float64]

STATE_FORMAT: Final = "fifthwire/state/1"
DIGITS: Final = {"_frac": 4, "_kw": 3, "_c": 2, "_k": 2, "_g_s": 3, "_quality": 4}
_OUTDOOR: Final = (
    "suction_superheat_k",
    "suction_quality",
    "liquid_to_compressor_g_s",
    "discharge_c",
    "discharge_superheat_k",
    "dry_discharge_superheat_k",
    "subcooling_k",
)
_BYPASS: Final = {
    "opening_frac": "bypass_opening_frac",
    "command_frac": "bypass_command_frac",
    "outlet_superheat_k": "bypass_superheat_k",
}
_MAIN: Final = {
    "opening_frac": "main_opening_frac",
    "command_frac": "main_command_frac",
    "superheat_k": "coil_superheat_k",
}


def state_as_json(system: CircuitSystem, closures: Mapping[str, States], row: int = 0) -> dict[str, Any]:
    """One case in the closures that were solved.

    Parameters
    ----------
    system : CircuitSystem
        The plant.
    closures : mapping
        States by closure: "minutes-after", "settled".
    row : int
        Which case.

    Returns
    -------
    dict
        Format fifthwire/state/1, ready for JSON.
    """
    return {
        "format": STATE_FORMAT,
        "closures": {name: _one(system, states, row) for name, states in closures.items()},
    }


def _one(system: CircuitSystem, states: States, row: int) -> dict[str, Any]:
    if not states.converged[row]:
        return {"converged": False, "why_not": states.why_not[row]}
    worst = _worst_outdoor(states, row)
    made: dict[str, Any] = {
        "converged": True,
        "why_not": None,
        "energy_residual": _short(states.energy_residual[row]),
        "mass_residual": _short(states.mass_residual[row]),
    }
    for key in ("evaporating_c", "condensing_c", "speed_frac", "power_kw", "capacity_kw"):
        made[key] = _rounded(key, getattr(states, key)[row])
    made |= _outdoor(states, row, worst)
    if len(system.outdoor) > 1:
        made["outdoor"] = [
            {"id": name, "speed_frac": _rounded("_frac", states.outdoor_speed_frac[row, j]), **_outdoor(states, row, j)}
            for j, name in enumerate(system.outdoor)
        ]
    made["units"] = [_unit(states, row, i, name) for i, name in enumerate(system.units)]
    return made


def _worst_outdoor(states: States, row: int) -> int:
    """The one nearest to liquid in its compressor: the most of it, else the least discharge superheat."""
    wettest = states.liquid_to_compressor_g_s[row]
    if wettest.max() > 0.0:
        return int(wettest.argmax())
    superheat = states.discharge_superheat_k[row].round(DIGITS["_k"])  # alike ones: the first, whatever the last digits
    return int(np.where(np.isnan(superheat), np.inf, superheat).argmin())


def _outdoor(states: States, row: int, j: int) -> dict[str, Any]:
    made: dict[str, Any] = {key: _rounded(key, getattr(states, key)[row, j]) for key in _OUTDOOR}
    if np.isfinite(states.main_opening_frac[row, j]):
        made["main"] = {key: _rounded(key, getattr(states, name)[row, j]) for key, name in _MAIN.items()}
    if np.isfinite(states.bypass_opening_frac[row, j]):
        made["subcooler"] = {key: _rounded(key, getattr(states, name)[row, j]) for key, name in _BYPASS.items()}
    else:
        made["subcooler"] = None
    return made


def _unit(states: States, row: int, i: int, name: str) -> dict[str, Any]:
    heats = states.mode == "heating"
    keys = {
        "opening_frac": "opening_frac",
        "command_frac": "command_frac",
        "subcooling_k" if heats else "superheat_k": "superheat_k",
        "shown_subcooling_k" if heats else "shown_superheat_k": "shown_superheat_k",
        "flow_g_s": "flow_g_s",
        "capacity_kw": "unit_capacity_kw",
        "gas_pipe_c": "gas_pipe_c",
        "liquid_pipe_c": "liquid_pipe_c",
        "supply_air_c": "supply_air_c",
    }
    return {"id": name, **{key: _rounded(key, getattr(states, of)[row, i]) for key, of in keys.items()}}


def _rounded(key: str, value: Any) -> float | None:
    if np.isnan(value):
        return None
    digits = next(digits for ending, digits in DIGITS.items() if key.endswith(ending))
    return round(float(value), digits) + 0.0


def _short(value: Any) -> float:
    return float(f"{float(value):.1e}")
