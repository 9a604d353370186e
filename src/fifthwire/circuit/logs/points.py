"""What there is to be read: the true values of every point of a plant, each with its lag, at every step of a log."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.atlas import asked_valves
from fifthwire.circuit.logs import lags
from fifthwire.circuit.logs.clock import Array
from fifthwire.circuit.logs.controllers import FULL_STROKE
from fifthwire.circuit.logs.lags import held_over, lagged
from fifthwire.circuit.logs.moving import Moving
from fifthwire.circuit.logs.recorder import AIR, COMMAND, FLAG, PRESSURE, SPEED, TEMPERATURE, Point
from fifthwire.properties import RefrigerantArrays, refrigerant_arrays

RATED_HZ: Final = 60.0
"""Of a made-up compressor.  [Hz]"""
DEFROST_SUCTION_C: Final = -12.0
DEFROST_DISCHARGE_C: Final = 12.0
"""Saturation temperatures that a defrost goes to: its shape, not computed.  [°C]  Our choice."""

Named = dict[str, tuple[Array, Point]]


def points(moving: Moving) -> Named:
    """Every column of the log by its name, with the kind of point that it is.

    Parameters
    ----------
    moving : Moving
        The plant through the log.

    Returns
    -------
    dict
        In the order in which they are written.
    """
    of = refrigerant_arrays(moving.system.plant.refrigerant)
    found: Named = {"Ta": (moving.around.ambient_c, AIR)}
    letter = "H" if moving.system.plant.mode == "heating" else "C"
    found["mode"] = (np.where(moving.runs, float(ord(letter)), float(ord("0"))), FLAG)
    for at, name in enumerate(moving.system.outdoor):
        prefix = f"{name}/" if len(moving.system.outdoor) > 1 else ""
        for column, value in _outdoor(moving, of, at).items():
            found[prefix + column] = value
    for at, name in enumerate(moving.system.units):
        for column, value in _unit(moving, at).items():
            found[f"{name}/{column}"] = value
    return found


def _outdoor(moving: Moving, of: RefrigerantArrays, at: int) -> Named:
    states, cases, ambient = moving.states, moving.cases, moving.around.ambient_c
    rest_c = np.minimum(ambient, moving.rooms.room_c.mean(axis=1))
    running = {
        "suction_c": states.outdoor_evaporating_c[:, at],
        "discharge_c": states.condensing_c,
        "Ts": states.outdoor_evaporating_c[:, at] + states.suction_superheat_k[:, at],
        "Td": np.where(states.outdoor_flow_g_s[:, at] > 0.0, states.discharge_c[:, at], ambient[moving.runs]),
        "Tl": of.bubble_c(states.discharge_kpa_abs) - states.subcooling_k[:, at],
        "out": states.outdoor_evaporating_c[:, at] + states.bypass_superheat_k[:, at],
    }
    resting = {"suction_c": rest_c, "discharge_c": rest_c, "Ts": ambient, "Td": ambient, "Tl": ambient, "out": ambient}
    melting = {
        "suction_c": DEFROST_SUCTION_C, "discharge_c": DEFROST_DISCHARGE_C, "Ts": DEFROST_SUCTION_C,
        "Td": 40.0, "Tl": 8.0, "out": DEFROST_SUCTION_C,
    }  # fmt: skip
    whole = {name: _whole(moving, running[name], resting[name], melting[name]) for name in running}
    shown = {
        "Ps": (of.dew_kpa_abs(lagged(whole["suction_c"], lags.PRESSURE_S) + cases.suction_offset_k[:, at]), PRESSURE),
        "Pd": (
            of.dew_kpa_abs(lagged(whole["discharge_c"], lags.PRESSURE_S) + cases.discharge_pressure_offset_k[:, at]),
            PRESSURE,
        ),
        "Ts": (lagged(whole["Ts"], lags.PIPE_S) + cases.suction_temperature_offset_k[:, at], TEMPERATURE),
        "Td": (lagged(whole["Td"], lags.SHELL_S) + cases.discharge_temperature_offset_k[:, at], TEMPERATURE),
        "Tl": (lagged(whole["Tl"], lags.PIPE_S), TEMPERATURE),
        "rps": (moving.commands.speed_frac * RATED_HZ, SPEED),
    }
    for role, column in (("main", "main_pulses"), ("subcooler-bypass", "bypass_pulses")):
        name = f"{moving.system.outdoor[at]}/{role}"
        if name in asked_valves(moving.system):
            told = moving.commands.command_frac[:, moving.system.valves.index(name)]
            shown[column] = (np.round(told * FULL_STROKE), COMMAND)
    if "bypass_pulses" in shown:
        shown["bypass_out"] = (lagged(whole["out"], lags.PIPE_S) + cases.bypass_outlet_offset_k[:, at], TEMPERATURE)
    return shown


def _unit(moving: Moving, at: int) -> Named:
    states, room = moving.states, moving.rooms.room_c[:, at]
    told = moving.commands.command_frac[:, at]

    def lagging(running: Array, time_constant_s: float, melting_c: float) -> Array:
        return lagged(_whole(moving, running, room, melting_c), time_constant_s)

    return {
        "on": (moving.rooms.on[:, at].astype(float), FLAG),
        "eev": (np.round(told * FULL_STROKE), COMMAND),
        "tl": (lagging(states.liquid_pipe_c[:, at], lags.COIL_S, 5.0), TEMPERATURE),
        "tg": (lagging(states.gas_pipe_c[:, at], lags.PIPE_S, -5.0), TEMPERATURE),
        "tr": (lagged(room, lags.AIR_S), AIR),
        "ts": (lagging(states.supply_air_c[:, at], lags.AIR_S, float(room.mean())), AIR),
    }


def _whole(moving: Moving, running: Array, resting: Array | float, melting: float) -> Array:
    """A value at every step: as solved, as at rest, as while frost melts; kept where there was no steady state."""
    whole = np.array(np.broadcast_to(resting, moving.runs.shape), dtype=float)
    is_known = moving.states.converged & np.isfinite(running)
    whole[moving.runs] = held_over(running, is_known) if is_known.any() else whole[moving.runs]
    whole[moving.events.defrost] = melting
    return whole


def wet_steps(moving: Moving) -> NDArray[np.bool_]:
    """Steps at which liquid reaches a compressor. [n]"""
    wet = np.zeros(moving.runs.shape, dtype=bool)
    wet[moving.runs] = (moving.states.suction_quality < 1.0).any(axis=1)
    return wet
