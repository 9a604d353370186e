"""Invented plants for the tests of the simulation."""

from fifthwire.model.plant import Fault, OutdoorUnit, Plant, PlantUnit

SIZES_KW = (2.2, 2.8, 3.6, 3.6, 4.5, 7.1)


def a_plant(units: int = 4, *, refrigerant: str = "R410A", faults: tuple[Fault, ...] = (), **other) -> Plant:
    """A plant of some indoor units of six sizes."""
    hung = tuple(PlantUnit(id=f"IU{at + 1:02d}", capacity_kw=SIZES_KW[at % 6]) for at in range(units))
    return Plant(refrigerant=refrigerant, units=hung, faults=faults, **other)


def stuck(valve: str, opening_frac: float) -> Fault:
    """A valve that stays where it is."""
    return Fault(valve=valve, stuck_frac=opening_frac)


def two_outdoor() -> tuple[OutdoorUnit, ...]:
    """Two outdoor units."""
    return (OutdoorUnit(id="OU1"), OutdoorUnit(id="OU2"))
