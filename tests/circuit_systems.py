"""Systems to draw: as many outdoor, branch and indoor units as a test asks for, their valves in every state."""

from datetime import date

from fifthwire.assessment.stave.plan import Circuit
from fifthwire.model.kept.places import Site, SystemPlace, UnitPlace, ValveNow, ValvePlace, ValveRow

SITE = Site(id="S1", name="Hollowmere Library (invented)", time_zone="Europe/London")
OUTDOOR_ROLES = (
    ("main", 1),
    ("main", 2),
    ("subcooler-bypass", None),
    ("injection", None),
    ("hot-gas-bypass", None),
)
BRANCH_ROLES = ("branch-liquid", "branch-hot-gas", "branch-suction", "branch-subcooler")
SHORT = {
    "main": "main",
    "subcooler-bypass": "subcooler",
    "injection": "injection",
    "hot-gas-bypass": "hotgas",
    "receiver": "receiver",
    "branch-liquid": "liquid",
    "branch-hot-gas": "hotgas",
    "branch-suction": "suction",
    "branch-subcooler": "subcooler",
    "indoor": "valve",
}
_CAUSES = {"bad": "winding", "probable": "head-jammed", "good": "sound"}


def a_unit(name: str, kind: str, position: int, branch_unit: str | None = None, room: str | None = None) -> UnitPlace:
    return UnitPlace(
        id=f"U-{name}",
        system_id="Y1",
        name=name,
        kind=kind,
        position=position,
        branch_unit=branch_unit,
        room=room,
    )


def a_valve(system: SystemPlace, unit: str, role: str, number: int | None = None, mark: str | None = None) -> ValveRow:
    label = f"{unit}-{SHORT[role]}{number or ''}"
    place = ValvePlace(
        id=f"V-{label}",
        system_id=system.id,
        unit_id=f"U-{unit}",
        unit=unit,
        role=role,
        number=number,
        label=label,
        kind="solenoid" if role == "hot-gas-bypass" else "eev",
    )
    now = None
    if mark is not None:
        now = ValveNow(
            valve_id=place.id,
            visit_id="T1",
            date=date(2026, 3, 17),
            mark=mark,
            word_code="sound",
            cause=_CAUSES.get(mark),
            urgency="now" if mark == "bad" else "none",
        )
    return ValveRow(valve=place, site=SITE, system=system, now=now)


def a_mark(at: int) -> str | None:
    """Most valves good, every other state among them."""
    return {3: "bad", 7: "probable", 11: "not-proven", 12: None, 17: "not-reached"}.get(at % 20, "good")


def a_system(
    *,
    n_indoor: int,
    n_outdoor: int = 1,
    n_branch: int = 0,
    is_port_valved: bool = False,
    has_rooms: bool = False,
    mode: str | None = None,
) -> Circuit:
    """A system; with branch units it recovers heat, its indoor units shared out among them in order."""
    system = SystemPlace(id="Y1", site_id="S1", name="HM-1", is_heat_recovery=n_branch > 0)
    units, valves = [], []
    for k in range(1, n_outdoor + 1):
        units.append(a_unit(f"OU{k}", "outdoor", k))
        valves += [a_valve(system, f"OU{k}", role, number, a_mark(len(valves))) for role, number in OUTDOOR_ROLES]
    share = -(-n_indoor // n_branch) if n_branch else 0
    for k in range(1, n_branch + 1):
        units.append(a_unit(f"BU{k}", "branch", k))
        numbers = range(1, min(share, n_indoor - share * (k - 1)) + 1) if is_port_valved else [None]
        roles = BRANCH_ROLES[:3] if is_port_valved else BRANCH_ROLES
        valves += [
            a_valve(system, f"BU{k}", role, number, a_mark(len(valves) + k)) for role in roles for number in numbers
        ]
    for k in range(1, n_indoor + 1):
        branch = f"BU{(k - 1) // share + 1}" if n_branch else None
        units.append(a_unit(f"IU{k:02d}", "indoor", k, branch, f"Room {100 + k}" if has_rooms else None))
        valves.append(a_valve(system, f"IU{k:02d}", "indoor", None, a_mark(len(valves))))
    return Circuit(system=system, units=tuple(units), valves=tuple(valves), mode=mode)
