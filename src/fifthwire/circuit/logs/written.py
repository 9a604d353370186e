"""A made log as files: the table (CSV), its map (TOML) and its truth (JSON)."""

import json
from datetime import datetime
from typing import Any, Final

import numpy as np

from fifthwire import __version__
from fifthwire.circuit.atlas import asked_valves
from fifthwire.circuit.logs.clock import STEP_S, Array
from fifthwire.circuit.logs.controllers import FULL_STROKE
from fifthwire.circuit.logs.events import spans_s
from fifthwire.circuit.logs.faults import Begun
from fifthwire.circuit.logs.moving import Moving
from fifthwire.circuit.logs.points import wet_steps
from fifthwire.circuit.logs.recorder import Recorded
from fifthwire.model.circuit_words import LOG_LIMITS, fault_line

SITE: Final = "Invented site"
_OUTDOOR: Final = (
    ("suction_pressure", "Ps", "kPa"),
    ("discharge_pressure", "Pd", "kPa"),
    ("suction_temperature", "Ts", ""),
    ("discharge_temperature", "Td", ""),
    ("liquid_temperature", "Tl", ""),
    ("compressor_speed", "rps", "Hz"),
    ("subcooler_opening", "bypass_pulses", ""),
    ("subcooler_outlet", "bypass_out", ""),
)


def log_csv(log: Recorded, moving: Moving) -> bytes:
    """The table: a row a sample, times in UTC, nothing where a reading is missing."""
    rows = [_times(log.time_s, moving)]
    rows += [_texts(values, log.decimals[name], name) for name, values in log.columns.items()]
    head = ",".join(["time", *log.columns])
    return "\n".join([head, *map(",".join, zip(*rows, strict=True)), ""]).encode()


def _times(time_s: Array, moving: Moving) -> list[str]:
    start = np.datetime64(moving.plan.start_utc.replace(tzinfo=None), "ms")
    stamps = start + np.round(time_s * 1000.0).astype("timedelta64[ms]")
    unit = "s" if np.all(time_s == np.round(time_s)) else "ms"
    return [f"{one}Z" for one in np.datetime_as_string(stamps.astype(f"datetime64[{unit}]"))]


def _texts(values: Array, decimals: int, name: str) -> list[str]:
    """A column as text: each different value is written once."""
    known, places = np.unique(values, return_inverse=True)
    if name == "mode":
        texts = [chr(int(one)) for one in known]
    else:
        texts = ["" if np.isnan(one) else f"{one:.{decimals}f}" for one in known]
    return [texts[at] for at in places.tolist()]


def log_map(moving: Moving, system_name: str) -> bytes:
    """The map: which column is which."""
    plant, outdoor = moving.system.plant, moving.system.outdoor
    is_many = len(outdoor) > 1
    lines = [
        "# " + " ".join(LOG_LIMITS),
        'format = "fifthwire/log-map/1"',
        "",
        "[log]",
        f"site = {_toml(SITE)}",
        f"system = {_toml(system_name)}",
        f"refrigerant = {_toml(plant.refrigerant)}",
        'time = "time"',
        'mode = { column = "mode", cooling = "C", heating = "H", off = "0" }',
        "",
        "[columns]",
        'ambient = "Ta"',
    ]
    prefix = ""
    if is_many:
        lines += ["", "[outdoor]", f"names = [{', '.join(map(_toml, outdoor))}]"]
        prefix = "{outdoor}/"
    has_subcooler = any(name.endswith("/subcooler-bypass") for name in moving.system.valves)
    for key, column, unit in _OUTDOOR:
        if has_subcooler or not key.startswith("subcooler"):
            shown = _toml(prefix + column)
            lines.append(f"{key} = {{ column = {shown}, unit = {_toml(unit)} }}" if unit else f"{key} = {shown}")
    return "\n".join([*lines, *_units_of_map(moving), ""]).encode()


def _units_of_map(moving: Moving) -> list[str]:
    return [
        "",
        "[units]",
        f"names = [{', '.join(map(_toml, moving.system.units))}]",
        f"full_stroke = {FULL_STROKE}",
        'valve = "{unit}-valve"',
        'on = "{unit}/on"',
        'opening = "{unit}/eev"',
        'liquid_pipe = "{unit}/tl"',
        'gas_pipe = "{unit}/tg"',
        'return_air = "{unit}/tr"',
        'supply_air = "{unit}/ts"',
    ]


def _toml(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def log_truth(log: Recorded, moving: Moving, plant_name: str) -> dict[str, Any]:
    """What is really so: every fault with its beginning, every valve's cause, every event, every bias."""
    time_s, plan = moving.time_s, moving.plan
    return {
        "format": "fifthwire/log-truth/1",
        "program": __version__,
        "limits": list(LOG_LIMITS),
        "plant": plant_name,
        "seed": plan.seed,
        "days": plan.days,
        "from": _iso(plan.start_utc),
        "faults": [_fault(one, moving) for one in moving.begun],
        "valves": [_valve(moving, name) for name in asked_valves(moving.system)],
        "wet_minutes": round(float(wet_steps(moving).sum() * STEP_S / 60.0)),
        "starts": int((np.diff(moving.runs.astype(int)) == 1).sum() + bool(moving.runs[0])),
        "oil_returns": _spans(spans_s(moving.events.oil_return, time_s), moving),
        "defrosts": _spans(spans_s(moving.events.defrost, time_s), moving),
        "finding_zero": _spans(spans_s(moving.events.finding_zero, time_s), moving),
        "gaps": _spans(log.gaps_s, moving),
        "rows": len(log.time_s),
        "rows_twice": int((np.diff(log.time_s) == 0.0).sum()),
        "steps_held": int(moving.is_held.sum()),
        "biases": {name: round(value, 3) for name, value in log.biases.items() if value},
    }


def _fault(one: Begun, moving: Moving) -> dict[str, str]:
    return {"words": fault_line(one.fault), "begins": _iso(moving.plan.moment_utc(one.begins_s))}


def _iso(moment: datetime) -> str:
    return moment.isoformat(timespec="seconds").replace("+00:00", "Z")


def _spans(spans: Any, moving: Moving) -> list[list[str]]:
    return [[_iso(moving.plan.moment_utc(start)), _iso(moving.plan.moment_utc(end))] for start, end in spans]


def _valve(moving: Moving, name: str) -> dict[str, Any]:
    outdoor, _, role = name.partition("/")
    label = f"{name}-valve" if not role else f"{outdoor}-{'subcooler' if role == 'subcooler-bypass' else role}"
    about = [one for one in moving.begun if _is_about(one, name, outdoor, moving)]
    cause = _cause(about[0]) if about else "sound"
    since = _iso(moving.plan.moment_utc(min(one.begins_s for one in about))) if about else None
    return {"id": label, "unit": outdoor, "role": role or "indoor", "true": cause, "since": since}


def _is_about(one: Begun, name: str, unit: str, moving: Moving) -> bool:
    fault = one.fault
    if fault.valve is not None:
        return moving.system.valves.index(name) == moving.system.valve(fault.valve)
    about = fault.sensor.partition("/")[0] if fault.sensor is not None else fault.unit
    return about == unit and name == unit


def _cause(one: Begun) -> str:
    """In the words that the screening of a log has for it."""
    fault = one.fault
    if fault.valve is not None:
        return "passes-when-shut" if fault.leaks_frac is not None else "not-following"
    return "sensor" if fault.sensor is not None else "refrigerant-side"
