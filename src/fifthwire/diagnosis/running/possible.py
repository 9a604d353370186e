"""Readings that can be: a snapshot without the temperatures that no pipe, room or outdoor air has."""

from dataclasses import replace
from typing import Any, Final

from fifthwire.model.assessment import Reason
from fifthwire.model.record import record
from fifthwire.model.running import Snapshot

LIMITS_C: Final[dict[str, tuple[float, float]]] = {
    "ambient_c": (-50.0, 60.0),
    "return_air_c": (-30.0, 60.0),
    "supply_air_c": (-40.0, 90.0),
    "liquid_pipe_c": (-55.0, 100.0),
    "gas_pipe_c": (-55.0, 130.0),
    "suction_temperature_c": (-60.0, 90.0),
    "liquid_temperature_c": (-55.0, 100.0),
    "discharge_temperature_c": (-40.0, 180.0),
    "shell_temperature_c": (-40.0, 180.0),
    "outlet_c": (-60.0, 130.0),
}
"""Beyond these a figure is a slip of the pen, another unit or a broken sensor.  [°C]  Judgement, far on the safe side:
oil and refrigerant break down at 150 °C and more (trade press, 2018)."""


@record
class PossibleReadings:
    """A snapshot as it can be used, and what was left out of it."""

    snapshot: Snapshot
    warnings: tuple[Reason, ...] = ()


def possible_readings(snapshot: Snapshot) -> PossibleReadings:
    """A snapshot without what cannot be: temperatures far outside of anything, and those of a compressor at rest.

    Parameters
    ----------
    snapshot : Snapshot
        As written.

    Returns
    -------
    PossibleReadings
        The same snapshot where nothing had to be left out.
    """
    warnings: list[Reason] = []
    outdoor = {name: _outdoor(of, name, warnings) for name, of in snapshot.outdoor.items()}
    units = {name: _without(of, name, warnings) for name, of in snapshot.units.items()}
    valves = {name: _without(of, name, warnings) for name, of in snapshot.valves.items()}
    subcooler = None if snapshot.subcooler is None else _without(snapshot.subcooler, "subcooler", warnings)
    whole = _outdoor(snapshot, "snapshot", warnings)
    now = {"outdoor": outdoor, "units": units, "valves": valves}
    changed: dict[str, Any] = {
        name: new for name, new in now.items() if any(new[key] is not getattr(snapshot, name)[key] for key in new)
    }
    changed |= {} if subcooler is snapshot.subcooler else {"subcooler": subcooler}
    return PossibleReadings(snapshot=replace(whole, **changed) if changed else whole, warnings=tuple(warnings))


def _outdoor(of: Any, name: str, warnings: list[Reason]) -> Any:
    """An outdoor unit's table, and those of its compressors."""
    kept = _at_rest(_without(of, name, warnings))
    own = getattr(of, "compressors", {})
    compressors = {label: _at_rest(_without(one, f"{name}/{label}", warnings)) for label, one in own.items()}
    if any(compressors[label] is not own[label] for label in own):
        kept = replace(kept, compressors=compressors)
    return kept


def _at_rest(of: Any) -> Any:
    """A compressor at rest tells nothing by its temperatures."""
    if getattr(of, "speed_hz", None) != 0.0:
        return of
    if getattr(of, "discharge_temperature_c", None) is None and getattr(of, "shell_temperature_c", None) is None:
        return of
    return replace(of, discharge_temperature_c=None, shell_temperature_c=None)


def _without(of: Any, place: str, warnings: list[Reason]) -> Any:
    beyond: dict[str, None] = {}
    for name, (low, high) in LIMITS_C.items():
        value = getattr(of, name, None)
        if value is not None and not low <= value <= high:
            beyond[name] = None
            what = name.removesuffix("_c").replace("_", " ")
            values = {"place": place, "what": what, "value_c": round(value, 1)}
            warnings.append(Reason(code="running.impossible-temperature", values=values))
    return replace(of, **beyond) if beyond else of
