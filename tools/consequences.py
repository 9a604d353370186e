"""Writes the table of what a valve does that is left as it is: by refrigerant, size class and valve curve, simulated.

    python tools/consequences.py                   writes src/fifthwire/assessment/consequence_table.py in half an hour
    python tools/consequences.py --check R410A 8   simulates a few lines again and compares them with what is there

Each line sums up an atlas of an invented plant with units of six sizes (2.2 to 7.1 kW) on one outdoor unit. The table
is made once and kept: no visit waits for a simulation.
"""

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import numpy as np

from fifthwire.assessment.consequences import SIZE_CLASSES, Line, parsed, written
from fifthwire.circuit.atlas import FULL, PART, Atlas, Condition, home_ambient_c, make_atlas
from fifthwire.model.choices import REFRIGERANTS, VALVE_CURVES
from fifthwire.model.errors import InputError
from fifthwire.model.plant import Plant, PlantUnit

WHERE: Final = Path(__file__).resolve().parents[1] / "src/fifthwire/assessment/consequence_table.py"
UNITS_KW: Final = (2.2, 2.8, 3.6, 3.6, 4.5, 7.1)
MODES: Final = ("cooling", "heating")
POSITIONS: Final = {"cooling": 21, "heating": 11}
ROLES: Final = {"": "indoor", "main": "main", "subcooler-bypass": "subcooler-bypass"}
HEADER: Final = '''\
"""What a valve does that is left as it is, simulated once: written by tools/consequences.py, not by hand.

By mode, refrigerant, number of indoor units, valve curve and role of the valve: the opening in % of full stroke from
which on liquid reaches the compressor with all units on, with a third of them on, and with a third of them on and the
valve's own unit off; then the capacity in % that the plant loses with the valve shut, all units on and a third of them.
Each from the valve that does it first (or loses least) to the one that does it last; never: at no opening; none: no
steady state to tell.
"""

from typing import Final

TABLE: Final = """
'''


def plant_of(refrigerant: str, mode: str, count: int) -> Plant:
    """An invented plant."""
    units = tuple(PlantUnit(id=f"IU{at + 1:02d}", capacity_kw=UNITS_KW[at % len(UNITS_KW)]) for at in range(count))
    return Plant(refrigerant=refrigerant, mode=mode, units=units)


def lines_of(refrigerant: str, mode: str, count: int, curve: str) -> Iterator[Line]:
    """The lines of one atlas, a line a role."""
    plant = plant_of(refrigerant, mode, count)
    home = home_ambient_c(plant)
    conditions = (Condition(FULL, home), Condition(PART, home), Condition(PART, home, is_stopped=True))
    atlas = make_atlas(plant, curve=curve, conditions=conditions, positions=POSITIONS[mode])
    by_role: dict[str, list[int]] = {}
    for at, name in enumerate(atlas.valves):
        by_role.setdefault(ROLES[name.partition("/")[2]], []).append(at)
    for role, places in by_role.items():
        yield _line(atlas, (mode, refrigerant, count, curve, role), places)


def _line(atlas: Atlas, key: tuple[str, str, int, str, str], places: list[int]) -> Line:
    begins = [_begins(atlas, places, condition) for condition in range(3)]
    lost = [_span(atlas.lost_frac[places, condition, 0]) for condition in range(2)]
    return Line(*key, *begins, *lost)


def _begins(atlas: Atlas, places: list[int], condition: int) -> tuple[float | None, float | None]:
    """From the valve that floods first to the one that floods last, None where one never does."""
    found = atlas.liquid_from_frac[places, condition]
    if np.isnan(found).all():
        return None, None
    return float(np.nanmin(found)), None if np.isnan(found).any() else float(found.max())


def _span(lost: np.ndarray) -> tuple[float | None, float | None]:
    known = lost[np.isfinite(lost)]
    return (float(known.min()), float(known.max())) if known.size else (None, None)


def all_lines() -> Iterator[Line]:
    """Every line of the table."""
    for mode in MODES:
        for refrigerant in REFRIGERANTS:
            for count in SIZE_CLASSES:
                for curve in VALVE_CURVES:
                    try:
                        yield from lines_of(refrigerant, mode, count, curve)
                    except InputError as err:
                        print(f"left out: {refrigerant}: {err.message}", file=sys.stderr)


def check(refrigerant: str, count: int) -> int:
    """Whether the lines of a refrigerant and a size, cooling, say what a simulation says now."""
    from fifthwire.assessment.consequence_table import TABLE

    kept = {written(line) for line in parsed(TABLE)}
    now = [written(line) for curve in VALVE_CURVES for line in lines_of(refrigerant, "cooling", count, curve)]
    stale = [text for text in now if text not in kept]
    for text in stale:
        print(f"not current: {text}", file=sys.stderr)
    return 1 if stale else 0


def main() -> int:
    """Write the table, or compare some of it."""
    if "--check" in sys.argv[1:]:
        refrigerant, count = [*sys.argv[2:], "R410A", "8"][:2]
        return check(refrigerant, int(count))
    texts = [written(line) for line in all_lines()]
    WHERE.write_text(HEADER + "\n".join(texts) + '\n"""\n', "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
