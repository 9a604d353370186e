"""One head as the inference sees it: wires by number, readings cleaned, laws of its meter and its scale."""

from dataclasses import dataclass
from math import inf, sqrt

from fifthwire.diagnosis.winding.case import WindingCase, WindingLaws
from fifthwire.diagnosis.winding.gram import FiniteReading, Gram
from fifthwire.diagnosis.winding.meter_noise import NoiseLaw, noise_law, range_for
from fifthwire.diagnosis.winding.scale import SpecScale
from fifthwire.diagnosis.winding.wires import Wires
from fifthwire.model.errors import InputError


@dataclass(slots=True)
class Head:
    """Readings of one head, by wire number, with all laws that bear on them."""

    wires: Wires
    gram: Gram
    opens: tuple[tuple[int, int], ...]
    laws: WindingLaws
    spec_scale: SpecScale | None
    sound_prior: float

    @property
    def n_readings(self) -> int:
        """Finite and open ones together."""
        return len(self.opens) + len(self.gram.readings)


def seen_wires(case: WindingCase) -> list[str]:
    """Names of the wires touched: numbers by their value, then other names by the alphabet.

    Raises
    ------
    InputError
        If a reading names the same wire twice.
    """
    seen: set[str] = set()
    for reading in case.readings:
        if reading.wire_a == reading.wire_b:
            raise InputError(
                f"reading from wire {reading.wire_a!r} to itself", "A reading is between two different wires."
            )
        seen.update((reading.wire_a, reading.wire_b))
    return sorted(seen, key=_natural)


def _natural(name: str) -> tuple[bool, int, str]:
    is_number = name.isascii() and name.isdigit() and len(name) < 10
    return not is_number, int(name) if is_number else 0, name


def head_of(case: WindingCase, laws: WindingLaws, wires: Wires) -> Head:
    """The readings by wire number, their noise laws and the scale's law."""
    number = {name: index for index, name in enumerate(wires.names[: wires.n_seen])}
    finite: list[FiniteReading] = []
    opens: list[tuple[int, int]] = []
    noise_by_range: dict[int, NoiseLaw] = {}
    gain = 0.0
    for a, b, ohm in _in_one_order(case, number):
        if not ohm <= laws.open_above_ohm:
            opens.append((a, b))
            continue
        law = range_for(case.meter, ohm)
        gain = max(gain, law.of_reading_frac)
        noise = noise_by_range.get(id(law))
        if noise is None:
            noise = noise_by_range[id(law)] = noise_law(law, laws.touch_ohm)
        net = ohm - case.meter.leads_ohm - noise.mean_ohm
        finite.append(FiniteReading(a, b, ohm, net, noise))
    lead_sd = max(laws.leads_within_ohm, 1e-3) / sqrt(3.0)
    gain = gain if finite else max(law.of_reading_frac for law in case.meter.ranges)
    scale = None if case.spec is None else SpecScale(case.spec, case.head, gain, laws)
    gram = Gram(tuple(finite), len(wires.names), lead_sd)
    return Head(wires, gram, tuple(opens), laws, scale, min(max(case.sound_prior, 1e-9), 1.0 - 1e-9))


def _in_one_order(case: WindingCase, number: dict[str, int]) -> list[tuple[int, int, float]]:
    """Readings by wire number, lower first, and value; an open is infinite. The order written must not matter."""
    rows = []
    for reading in case.readings:
        a, b = sorted((number[reading.wire_a], number[reading.wire_b]))
        rows.append((a, b, inf if reading.ohm is None else max(reading.ohm, 0.0)))
    return sorted(rows)
