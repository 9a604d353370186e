"""What hangs where: a system's units and valves, sorted into the pieces of its circuit in the order of the pipes."""

from collections.abc import Sequence
from typing import Final

from fifthwire.assessment.stave.branch import Trunk, branch_piece
from fifthwire.assessment.stave.indoor import Port, indoor_piece
from fifthwire.assessment.stave.outdoor import OutdoorValves, outdoor_piece
from fifthwire.assessment.stave.pieces import Heights, Piece, heights
from fifthwire.assessment.stave.valves import Pen
from fifthwire.model.kept.places import SystemPlace, UnitPlace, ValveRow
from fifthwire.model.record import record

_GAS_ROLES: Final = ("branch-hot-gas", "branch-suction")
_MAIN_OF: Final = {"branch-hot-gas": "hot", "branch-suction": "suction"}


@record
class Plan:
    """The pieces of a circuit, in order, with the heights that they share."""

    at: Heights
    pieces: tuple[Piece, ...]
    has_outdoor: bool


@record
class _Group:
    """Indoor units that hang together: behind one branch unit, or one unit alone on the mains."""

    branch: UnitPlace | None
    indoor: tuple[UnitPlace, ...]
    ported: dict[str, tuple[ValveRow, ...]]
    """By role: a valve for each of its indoor units."""
    shared: dict[str, tuple[ValveRow, ...]]


@record
class Circuit:
    """A system to be drawn."""

    system: SystemPlace
    units: tuple[UnitPlace, ...]
    valves: tuple[ValveRow, ...]
    n_compressors: int = 1
    """Of each outdoor unit: the register does not hold it."""
    mode: str | None = None
    """"cooling", "heating" or "mixed": which way the arrows point; otherwise there are none."""


def circuit_plan(of: Circuit, pen: Pen) -> Plan:
    """Every unit and every valve of a system as a piece of its circuit.

    Parameters
    ----------
    of : Circuit
        The system with its units and valves.
    pen : Pen
        To draw with.
    """
    of_unit = _valves_by_unit(of.valves)
    is_hr = of.system.is_heat_recovery or any(row.valve.role in _GAS_ROLES for row in of.valves)
    groups = _groups(of.units, of_unit)
    at = heights(
        is_heat_recovery=is_hr,
        has_branch_rails=any(_trunk(group, is_hr) is not None for group in groups),
        has_ports=any(group.ported for group in groups),
    )
    outdoor = [unit for unit in _in_order(of.units) if unit.kind == "outdoor"]
    pieces = [
        outdoor_piece(pen, unit, _outdoor(of_unit.get(unit.id, ())), at, n_compressors=of.n_compressors, mode=of.mode)
        for unit in outdoor
    ]
    for group in groups:
        pieces += _pieces(pen, group, of_unit, at)
    return Plan(at=at, pieces=tuple(pieces), has_outdoor=bool(outdoor))


def _in_order(units: Sequence[UnitPlace]) -> list[UnitPlace]:
    return sorted(units, key=lambda unit: (unit.position, unit.name))


def _valves_by_unit(rows: Sequence[ValveRow]) -> dict[str, tuple[ValveRow, ...]]:
    held: dict[str, list[ValveRow]] = {}
    for row in rows:
        held.setdefault(row.valve.unit_id, []).append(row)
    return {
        unit_id: tuple(sorted(of, key=lambda row: (row.valve.number or 0, row.valve.label)))
        for unit_id, of in held.items()
    }


def _outdoor(rows: Sequence[ValveRow]) -> OutdoorValves:
    """A valve of a role that no outdoor unit has is drawn as a main valve rather than left out."""
    known = {
        "injection": "injection",
        "subcooler-bypass": "bypass",
        "receiver": "receiver",
        "hot-gas-bypass": "hot_gas",
    }
    sorted_out: dict[str, list[ValveRow]] = {}
    for row in rows:
        sorted_out.setdefault(known.get(row.valve.role, "main"), []).append(row)
    return OutdoorValves(**{name: tuple(of) for name, of in sorted_out.items()})


def _groups(units: Sequence[UnitPlace], of_unit: dict[str, tuple[ValveRow, ...]]) -> list[_Group]:
    """Branch units with what hangs on them, in the order of their first indoor unit; units on the mains between."""
    branches = {unit.name: unit for unit in units if unit.kind == "branch"}
    behind: dict[str, list[UnitPlace]] = {name: [] for name in branches}
    placed: list[tuple[int, int, _Group]] = []
    for unit in _in_order(units):
        if unit.kind == "indoor" and unit.branch_unit in branches:
            behind[unit.branch_unit or ""].append(unit)
        elif unit.kind == "indoor":
            placed.append((unit.position, len(placed), _Group(branch=None, indoor=(unit,), ported={}, shared={})))
    for branch in _in_order(list(branches.values())):
        indoor = tuple(behind[branch.name])
        first = indoor[0].position if indoor else len(units) + branch.position
        placed.append((first, len(placed), _branch_group(branch, indoor, of_unit.get(branch.id, ()))))
    return [group for *_, group in sorted(placed, key=lambda one: one[:2])]


def _branch_group(branch: UnitPlace, indoor: tuple[UnitPlace, ...], rows: Sequence[ValveRow]) -> _Group:
    """A role has its valves at the ports where they are numbered one for each of several indoor units."""
    by_role: dict[str, list[ValveRow]] = {}
    for row in rows:
        role = row.valve.role if row.valve.role in (*_GAS_ROLES, "branch-subcooler") else "branch-liquid"
        by_role.setdefault(role, []).append(row)
    numbers = list(range(1, len(indoor) + 1))
    ported = {
        role: tuple(of)
        for role, of in by_role.items()
        if role != "branch-subcooler" and len(indoor) > 1 and [row.valve.number for row in of] == numbers
    }
    shared = {role: tuple(of) for role, of in by_role.items() if role not in ported}
    return _Group(branch=branch, indoor=indoor, ported=ported, shared=shared)


def _trunk(group: _Group, is_hr: bool) -> Trunk | None:
    """The shared part of a branch unit; None where every port hangs on the mains by itself."""
    if group.branch is None:
        return None
    bypass, liquid = group.shared.get("branch-subcooler", ()), group.shared.get("branch-liquid", ())
    gas: tuple[tuple[str, tuple[ValveRow, ...]], ...] = ()
    if is_hr:
        mains = [role for role in reversed(_GAS_ROLES) if role not in group.ported]
        gas = tuple((_MAIN_OF[role], group.shared.get(role, ())) for role in mains)
    has_liquid = "branch-liquid" not in group.ported and bool(liquid or gas)
    if not (bypass or gas or has_liquid):
        return None
    return Trunk(unit=group.branch, bypass=bypass, liquid=liquid, gas=gas, has_liquid=has_liquid)


def _pieces(pen: Pen, group: _Group, of_unit: dict[str, tuple[ValveRow, ...]], at: Heights) -> list[Piece]:
    trunk = _trunk(group, at.is_heat_recovery)
    pieces = [branch_piece(pen, trunk, at)] if trunk is not None else []
    for place, unit in enumerate(group.indoor):
        port = _port(group, trunk, place, at)
        pieces.append(indoor_piece(pen, unit, of_unit.get(unit.id, ()), port, at))
    return pieces


def _port(group: _Group, trunk: Trunk | None, place: int, at: Heights) -> Port:
    name = group.branch.name if group.branch is not None else ""
    gas: list[tuple[str, ValveRow | None]] = []
    if not at.is_heat_recovery:
        gas.append(("gas", None))
    else:
        gas += [(_MAIN_OF[role], group.ported[role][place]) for role in _GAS_ROLES if role in group.ported]
        if trunk is not None and trunk.gas:
            gas.append((f"{name}/gas", None))
        gas = gas or [("suction", None)]
    liquid = group.ported.get("branch-liquid")
    return Port(
        branch=name,
        gas_rails=tuple(rail for rail, _ in gas),
        gas_valves=tuple(row for _, row in gas),
        liquid_rail=f"{name}/liquid" if trunk is not None and trunk.has_liquid else "liquid",
        liquid_valve=liquid[place] if liquid is not None else None,
    )
