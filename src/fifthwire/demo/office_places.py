"""Three invented sites with six systems: every unit, every valve, what its manual says, and the meters used there.

Every name and every number is invented. Any likeness to a real place is chance.
"""

from typing import Final

from fifthwire.model.record import record
from fifthwire.model.visit import Accuracy, Meter, MeterRange, Spec, Tolerance


@record(kw_only=False)
class InventedSite:
    """A building that does not exist."""

    name: str
    time_zone: str
    altitude_m: float
    address: str


@record
class InventedSystem:
    """A system that does not exist: how many units of each kind, and what hangs where."""

    name: str
    site: str
    refrigerant: str
    installed: int
    family: str
    """Whose manuals it follows: a key of FAMILIES."""
    n_outdoor: int
    n_mains: int = 1
    """Main valves of an outdoor unit."""
    has_hot_gas: bool = False
    """Each outdoor unit has a hot-gas solenoid."""
    n_branch: int = 0
    rooms: tuple[str, ...]
    """One an indoor unit, along the pipes."""


@record
class InventedValve:
    """A valve of such a system."""

    label: str
    unit: str
    unit_kind: str
    role: str
    number: int | None = None
    kind: str = "eev"
    head: str | None
    spec: str
    access: str
    room: str | None = None
    branch_unit: str | None = None
    capacity_kw: float | None = None


SITES: Final = (
    InventedSite("Hollowmere Library (invented)", "Europe/London", 55.0, "1 Reading Row, Hollowmere"),
    InventedSite("Saltmarsh Clinic (invented)", "Europe/London", 8.0, "12 Causeway, Saltmarsh"),
    InventedSite("Tern Street Offices (invented)", "America/Denver", 1620.0, "400 Tern Street, High Plain"),
)

_FLOORS: Final = ("Ground floor", "First floor", "Second floor", "Third floor")


def _rooms(*counts: int) -> tuple[str, ...]:
    """Rooms floor by floor."""
    return tuple(
        f"{floor}, room {number}"
        for floor, count in zip(_FLOORS, counts, strict=False)
        for number in range(1, count + 1)
    )


SYSTEMS: Final = (
    InventedSystem(
        name="HM-1", site=SITES[0].name, refrigerant="R410A", installed=2014, family="grey", n_outdoor=2, n_mains=2,
        n_branch=2, rooms=_rooms(7, 7),
    ),
    InventedSystem(
        name="HM-2", site=SITES[0].name, refrigerant="R410A", installed=2014, family="grey", n_outdoor=1, n_mains=2,
        rooms=_rooms(8, 8, 6),
    ),
    InventedSystem(
        name="SC-1", site=SITES[1].name, refrigerant="R410A", installed=2011, family="grey", n_outdoor=2, n_mains=2,
        n_branch=3, rooms=_rooms(8, 8),
    ),
    InventedSystem(
        name="SC-2", site=SITES[1].name, refrigerant="R410A", installed=2017, family="blue", n_outdoor=1,
        has_hot_gas=True, rooms=_rooms(10, 8),
    ),
    InventedSystem(
        name="TS-1", site=SITES[2].name, refrigerant="R410A", installed=2016, family="blue", n_outdoor=2, n_mains=2,
        has_hot_gas=True, rooms=_rooms(8, 8, 8),
    ),
    InventedSystem(
        name="TS-2", site=SITES[2].name, refrigerant="R32", installed=2021, family="blue", n_outdoor=1, n_branch=2,
        rooms=_rooms(6, 6, 6),
    ),
)  # fmt: skip


def _spec(winding: str, ohm: float, tolerance: float, stroke: float | None, source: str) -> Spec:
    return Spec(
        winding=winding,
        resistance_ohm=ohm,
        tolerance=Tolerance(frac=tolerance),
        at_c=20.0,
        full_stroke_pulses=stroke,
        supply_volt=None if winding == "single-2" else 12.0,
        source=source,
    )


_GREY: Final = "service manual of the grey family (invented)"
_BLUE: Final = "service manual of the blue family (invented)"
SPECS: Final[dict[str, Spec]] = {
    "grey-main": _spec("unipolar-6", 150.0, 0.10, 2000, f"{_GREY}, p. 42"),
    "grey-coil": _spec("unipolar-5", 64.0, 0.10, 500, f"{_GREY}, p. 41"),
    "grey-branch": _spec("bipolar-4", 92.0, 0.08, 1000, f"{_GREY}, p. 96"),
    "grey-room": _spec("unipolar-5", 205.0, 0.10, 1000, f"{_GREY}, p. 117"),
    "blue-main": _spec("unipolar-6", 46.0, 0.07, 1400, f"{_BLUE}, p. 203"),
    "blue-coil": _spec("unipolar-5", 100.0, 0.10, 480, f"{_BLUE}, p. 204"),
    "blue-branch": _spec("unipolar-5", 130.0, 0.10, 960, f"{_BLUE}, p. 251"),
    "blue-room": _spec("unipolar-5", 150.0, 0.10, 500, f"{_BLUE}, p. 310"),
    "blue-solenoid": _spec("single-2", 880.0, 0.08, None, f"{_BLUE}, p. 206"),
}
"""What the invented manuals say, by the name that visits use."""
PAGES: Final = {name: str(spec.source).rpartition(" p. ")[2] for name, spec in SPECS.items()}
MANUALS: Final = {name: _GREY if name.startswith("grey") else _BLUE for name in SPECS}
MISREAD_OHM: Final = {"grey-room": 250.0}
"""First entered wrongly, and put right in a second revision.  [Ω]"""


def _meter(serial: str, accuracy: float, digits: float, calibrated: str) -> Meter:
    from datetime import date

    of = Accuracy(accuracy, digits)
    ranges = (
        MeterRange(to_ohm=600.0, accuracy=of, resolution_ohm=0.1),
        MeterRange(to_ohm=6000.0, accuracy=of, resolution_ohm=1.0),
    )
    return Meter(ranges=ranges, serial=serial, leads_ohm=0.2, calibrated=date.fromisoformat(calibrated))


METERS: Final[dict[str, Meter]] = {
    "yellow": _meter("INV-1001", 0.009, 2.0, "2022-11-03"),
    "red": _meter("INV-1002", 0.005, 2.0, "2023-01-16"),
}
GAINS: Final = {"yellow": 0.0041, "red": -0.0018}
"""How far each meter really reads off, the same over all years.  [1]"""

_BRANCH_VALVES: Final = (
    ("liquid", "branch-liquid"), ("hotgas", "branch-hot-gas"), ("suction", "branch-suction"),
    ("subcooler", "branch-subcooler"),
)  # fmt: skip
CAPACITIES_KW: Final = (2.8, 3.6, 4.5, 5.6)


def valves_of(system: InventedSystem) -> tuple[InventedValve, ...]:
    """Every valve of an invented system: outdoor units, branch units, indoor units."""
    return (*_outdoor(system), *_branch(system), *_indoor(system))


def _outdoor(system: InventedSystem) -> list[InventedValve]:
    made = []
    for unit in (f"OU{number}" for number in range(1, system.n_outdoor + 1)):
        for main in range(1, system.n_mains + 1):
            number = main if system.n_mains > 1 else None
            made.append(_at_outdoor(system, unit, f"main{number or ''}", "main", number, "main"))
        made.append(_at_outdoor(system, unit, "subcooler", "subcooler-bypass", None, "coil"))
        made.append(_at_outdoor(system, unit, "injection", "injection", None, "coil"))
        if system.has_hot_gas:
            made.append(_at_outdoor(system, unit, "hotgas", "hot-gas-bypass", None, "solenoid"))
    return made


def _at_outdoor(
    system: InventedSystem, unit: str, ending: str, role: str, number: int | None, spec: str
) -> InventedValve:
    is_solenoid = spec == "solenoid"
    return InventedValve(
        label=f"{unit}-{ending}",
        unit=unit,
        unit_kind="outdoor",
        role=role,
        number=number,
        kind="solenoid" if is_solenoid else "eev",
        head=None if is_solenoid else ("bolt-on" if spec == "main" else "clip-on"),
        spec=f"{system.family}-{spec}",
        access="roof",
    )


def _branch(system: InventedSystem) -> list[InventedValve]:
    return [
        InventedValve(
            label=f"BU{unit}-{ending}",
            unit=f"BU{unit}",
            unit_kind="branch",
            role=role,
            head="clip-on",
            spec=f"{system.family}-{'room' if ending == 'subcooler' else 'branch'}",
            access="ceiling",
        )
        for unit in range(1, system.n_branch + 1)
        for ending, role in _BRANCH_VALVES
    ]


def _indoor(system: InventedSystem) -> list[InventedValve]:
    count = len(system.rooms)
    return [
        InventedValve(
            label=f"IU{at + 1:02d}-valve",
            unit=f"IU{at + 1:02d}",
            unit_kind="indoor",
            role="indoor",
            head="clip-on",
            spec=f"{system.family}-room",
            access="ceiling" if at % 3 else "ladder",
            room=room,
            branch_unit=f"BU{at * system.n_branch // count + 1}" if system.n_branch else None,
            capacity_kw=CAPACITIES_KW[at * 7 % 4],
        )
        for at, room in enumerate(system.rooms)
    ]
