"""Draws the heads of the invented site by the laws of the shipped priors: what the meter shows of each pair."""

from dataclasses import dataclass, field
from itertools import combinations
from random import Random

COPPER_K = 234.5
"""Constant of copper's law R(t) = R(t0) (k + t) / (k + t0).  [K]  IEC 60034-1 prints 235."""
LEADS_OHM = 0.2
METER_FRAC, METER_DIGITS = 0.009, 2


@dataclass(frozen=True)
class Kind:
    """A kind of head: what its manual says."""

    spec: str
    arrangement: str
    ohm: float
    tolerance: float
    head: str


CLIP5 = Kind("outdoor-coil", "unipolar-5", 64.0, 0.10, "clip-on")
BOLT6 = Kind("outdoor-motor", "unipolar-6", 150.0, 0.10, "bolt-on")
ROOM5 = Kind("indoor-coil", "unipolar-5", 205.0, 0.10, "clip-on")
CLIP4 = Kind("branch-coil", "bipolar-4", 92.0, 0.08, "clip-on")
SOLENOID = Kind("gas-solenoid", "single-2", 880.0, 0.08, "")
ENDS = {
    "unipolar-5": [("5", "1"), ("5", "2"), ("5", "3"), ("5", "4")],
    "unipolar-6": [("2", "1"), ("2", "3"), ("5", "4"), ("5", "6")],
    "bipolar-4": [("1", "2"), ("3", "4")],
    "single-2": [("1", "2")],
}
"""The two ends of each winding, common first."""
BOBBINS = {"unipolar-5": (0, 1, 0, 1), "unipolar-6": (0, 0, 1, 1), "bipolar-4": (0, 1), "single-2": (0,)}


@dataclass
class Head:
    """A head, its true state and what was looked at."""

    id: str
    unit: str
    role: str
    kind: Kind
    truth: str = "sound"
    """The true cause, in the words of an assessment."""
    shows: str = "keep"
    """The action that the visit's evidence is enough for; words apart are alternatives."""
    number: int | None = None
    temperature_c: float = 21.0
    temperature_from: str = "clamp"
    pairs: tuple[tuple[str, str], ...] | None = None
    """Read; None: the common to each other wire."""
    is_common_known: bool = True
    fault: dict[str, object] = field(default_factory=dict)
    comment: str = ""
    lines: tuple[str, ...] = ()
    """Keys of the valve itself, as TOML."""
    tables: tuple[str, ...] = ()
    """Tables under the valve, as TOML."""
    is_read: bool = True


def resistances(head: Head, draw: Random) -> dict[tuple[str, str], float]:
    """The true resistance of each winding at the head's temperature. [Ω]"""
    kind = head.kind
    batch = kind.ohm * (1.0 + max(-1.0, min(1.0, draw.gauss(0.0, 1 / 3))) * kind.tolerance)
    batch *= float(str(head.fault.get("scale", 1.0)))
    true_c = head.temperature_c + draw.gauss(0.0, 1.0)
    warm = batch * (COPPER_K + true_c) / (COPPER_K + 20.0)
    bobbin = [draw.gauss(0.0, 0.007) for _ in range(2)]
    return {
        ends: warm * (1.0 + bobbin[BOBBINS[kind.arrangement][at]] + draw.gauss(0.0, 0.004))
        for at, ends in enumerate(ENDS[kind.arrangement])
    }


def between(head: Head, windings: dict[tuple[str, str], float], pair: tuple[str, str]) -> float | None:
    """The true resistance between two wires; None where nothing joins them. [Ω]"""
    opened = head.fault.get("open")
    share = {wire: float(str(gone)) for wire, gone in dict(head.fault.get("shorted", {})).items()}  # type: ignore[call-overload]

    def winding(ends: tuple[str, str]) -> float | None:
        return None if ends[1] == opened else windings[ends] * (1.0 - share.get(ends[1], 0.0))

    contact = head.fault.get("contact", {})
    assert isinstance(contact, dict)
    added = sum(float(contact.get(wire, 0.0)) for wire in pair)
    for ends in windings:
        if set(ends) == set(pair):
            value = winding(ends)
            return None if value is None else value + added
    for first, second in combinations(windings, 2):
        if first[0] == second[0] and {first[1], second[1]} == set(pair):
            values = winding(first), winding(second)
            return None if values[0] is None or values[1] is None else values[0] + values[1] + added
    return None


def readings(head: Head, windings: dict[tuple[str, str], float], draw: Random) -> list[str]:
    """Rows of readings as the meter shows them."""
    gain, leads = draw.uniform(-METER_FRAC, METER_FRAC), LEADS_OHM + draw.uniform(-0.05, 0.05)
    rows = []
    for pair in head.pairs or tuple(ENDS[head.kind.arrangement]):
        value = None if head.fault.get("missed") == pair else between(head, windings, pair)
        if value is None:
            rows.append(f'["{pair[0]}", "{pair[1]}", "open"]')
            continue
        step = 0.1 if value < 600.0 else 1.0
        touched = value + leads + abs(draw.gauss(0.0, 0.08))
        shown = touched * (1.0 + gain) + draw.uniform(-METER_DIGITS, METER_DIGITS) * step
        rows.append(f'["{pair[0]}", "{pair[1]}", {round(shown / step) * step:.{1 if step < 1 else 0}f}]')
    return rows
