"""A plant file into a plant, or every problem in it at once."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final, Literal

from fifthwire.model.choices import OUTDOOR_SENSORS, UNIT_SENSORS
from fifthwire.model.nearest import nearest
from fifthwire.model.plant import PLANT_FORMAT, PLANT_MINOR, Fault, OutdoorUnit, Plant
from fifthwire.visitfile.context import Context
from fifthwire.visitfile.parsing import check_tree, decode, parse
from fifthwire.visitfile.places import Steps, shortened
from fifthwire.visitfile.problems import Problems, TooManyProblemsError
from fifthwire.visitfile.reading import lines_of_text
from fifthwire.visitfile.records import read_record
from fifthwire.visitfile.version import read_version

NOT_SIMULATED: Final = {
    "injection": "vapour injection",
    "hot-gas-bypass": "a hot-gas bypass",
    "receiver": "a receiver",
    "branch-liquid": "heat-recovery operation",
    "branch-hot-gas": "heat-recovery operation",
    "branch-suction": "heat-recovery operation",
    "branch-subcooler": "heat-recovery operation",
}
"""Valves that no simulated plant has, and what they belong to."""
_WHAT: Final = ("stuck_frac", "leaks_frac", "charge_frac", "outdoor_airflow_frac", "airflow_frac", "offset_k")


def read_plant(text: str | bytes, *, name: str, syntax: Literal["toml", "json"]) -> Plant:
    """Read a plant.

    Parameters
    ----------
    text : str | bytes
        The file; bytes are read as UTF-8.
    name : str
        The file as the person named it, for messages.
    syntax : str
        "toml" or "json"; both hold the same keys.

    Returns
    -------
    Plant
        As described.

    Raises
    ------
    VisitFileError
        With every problem and its place and line, or with the one syntax error.
    """
    text = decode(text, name)
    tree = parse(text, name, syntax)
    problems = Problems(name, syntax)
    try:
        plant = _read_tree(tree, problems)
    except TooManyProblemsError:
        plant = None
    if plant is None or len(problems):
        raise problems.error(lines_of_text(text, syntax))
    return plant


def _read_tree(tree: dict[str, Any], problems: Problems) -> Plant:
    context = Context(problems)
    read_version(tree, context, wanted=PLANT_FORMAT, newest_minor=PLANT_MINOR)
    check_tree(tree, problems)
    problems.settle()
    plant: Plant = read_record(Plant, tree, (), context)
    if plant.format_minor != context.minor:
        plant = replace(plant, format_minor=context.minor)
    _check_plant(plant, problems)
    return plant


def _check_plant(plant: Plant, problems: Problems) -> None:
    """What shows only when the plant is seen as a whole; fields that were not readable are None."""
    if plant.mode == "mixed":
        problems.add(("mode",), "heat-recovery operation is not simulated", 'write mode = "cooling" or "heating"')
    if not plant.units and not problems.has_below(("units",)):
        problems.add(("units",), "the plant has no indoor unit", "add [[units]] with an id and a capacity each")
    elif plant.units and not any(unit.is_on for unit in plant.units):
        problems.add(("units",), "no indoor unit is on: nothing runs", "leave `on` out, or write on = true")
    _check_once([unit.id for unit in plant.units], "units", problems)
    _check_once([unit.id for unit in plant.outdoor], "outdoor", problems)
    outdoor = [unit.id for unit in plant.outdoor or (OutdoorUnit(),)]
    for both in set(outdoor) & {unit.id for unit in plant.units}:
        problems.add(("outdoor",), f'"{shortened(both)}" is an indoor unit too', "give each unit its own id")
    for index, fault in enumerate(plant.faults):
        _check_fault(fault, ("faults", index), plant, outdoor, problems)


def _check_once(ids: Sequence[str | None], table: str, problems: Problems) -> None:
    seen: set[str | None] = set()
    for index, one in enumerate(ids):
        if one is not None and one in seen:
            problems.add((table, index, "id"), f'"{shortened(one)}" stands here twice', "give each unit its own id")
        seen.add(one)


def _check_fault(fault: Fault, steps: Steps, plant: Plant, outdoor: list[str], problems: Problems) -> None:
    said = [name for name in _WHAT if getattr(fault, name) is not None]
    if problems.has_below(steps):
        return
    if len(said) != 1:
        what = "says more than one thing" if said else "says nothing that is wrong"
        problems.add(steps, f"this fault {what}", "one of stuck, leaks, charge, outdoor_airflow, airflow, offset each")
        return
    needs = {"stuck_frac": "valve", "leaks_frac": "valve", "airflow_frac": "unit", "offset_k": "sensor"}.get(said[0])
    allowed = {needs, "unit" if said[0] == "outdoor_airflow_frac" else None}
    for name in ("valve", "unit", "sensor"):
        if getattr(fault, name) is not None and name not in allowed:
            problems.add((*steps, name), f"{name} has nothing to do with this fault", "leave it out")
            return
    if needs is not None and getattr(fault, needs) is None:
        problems.add((*steps, needs), f"{needs} is missing", f"say which {needs} it is")
        return
    units = [unit.id for unit in plant.units]
    if needs == "valve":
        _check_valve(str(fault.valve), (*steps, "valve"), plant, (units, outdoor), problems)
    elif needs == "sensor":
        _check_sensor(str(fault.sensor), (*steps, "sensor"), (units, outdoor), problems)
    elif fault.unit is not None:
        known = units if needs == "unit" else outdoor
        _check_known(fault.unit, known, (*steps, "unit"), problems)


def _check_valve(valve: str, steps: Steps, plant: Plant, ids: tuple[list[str], list[str]], problems: Problems) -> None:
    units, outdoor = ids
    owner, _, role = valve.rpartition("/")
    if role in NOT_SIMULATED and valve not in units:
        problems.add(steps, f"{NOT_SIMULATED[role]} is not simulated", "known are the units' valves and those outdoors")
        return
    has_subcooler = [unit.id for unit in plant.outdoor or (OutdoorUnit(),) if unit.has_subcooler]
    known = [*units, *(f"{one}/main" for one in outdoor), *(f"{one}/subcooler-bypass" for one in has_subcooler)]
    if len(outdoor) == 1:
        known += ["main", *(["subcooler-bypass"] if has_subcooler else [])]
    elif not owner and role in ("main", "subcooler-bypass"):
        problems.add(steps, f"there are {len(outdoor)} outdoor units", f'say which: "{outdoor[0]}/{role}"')
        return
    _check_known(valve, known, steps, problems)


def _check_sensor(sensor: str, steps: Steps, ids: tuple[list[str], list[str]], problems: Problems) -> None:
    units, outdoor = ids
    known = [f"{one}/{name}" for one in units for name in UNIT_SENSORS]
    known += [f"{one}/{name}" for one in outdoor for name in OUTDOOR_SENSORS]
    if len(outdoor) == 1:
        known += OUTDOOR_SENSORS
    _check_known(sensor, known, steps, problems)


def _check_known(name: str, known: Sequence[str], steps: Steps, problems: Problems) -> None:
    if name in known:
        return
    near = nearest(name, known)
    few = ", ".join(shortened(one) for one in list(known)[:8])
    hint = f'did you mean "{near}"?' if near else f"known are {few}" + (", ..." if len(known) > 8 else "")
    problems.add(steps, f'"{shortened(name)}" is not in this plant', hint)
