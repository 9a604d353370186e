"""How many readings settle a head whose common is not known, when each next one is the pair that was asked for.

    python -m benchmarks winding_order
    python -m benchmarks.winding_order 150 7     heads of each kind, seed

Heads are invented, drawn by the priors; those with a spoiled reading are left out, since what a second look at the same
pair would have shown is not drawn. A head is settled when nothing more is asked for. Beside it the same head read pair
by pair in the order of its pins.
"""

import sys
from dataclasses import replace
from importlib.resources import files
from itertools import combinations
from random import Random

from fifthwire.demo.heads import DrawnHead, World, draw_head
from fifthwire.diagnosis.priors import parse_priors
from fifthwire.diagnosis.winding import WindingLaws, judge_windings
from fifthwire.model.assessment import WindingFinding
from fifthwire.model.valve import PairReading

AT_MOST = 20
"""Readings after which a head counts as not to be settled."""


def answers(head: DrawnHead) -> dict[frozenset[str], PairReading]:
    """What every pair of the head reads."""
    return {frozenset((reading.wire_a, reading.wire_b)): reading for reading in head.case.readings}


def judged(head: DrawnHead, readings: list[PairReading], laws: WindingLaws) -> WindingFinding:
    """The verdict after some readings."""
    return judge_windings(replace(head.case, readings=tuple(readings), common=()), laws)


def asked_for(head: DrawnHead, laws: WindingLaws) -> tuple[int, str]:
    """Readings taken as asked, from pins 1 and 2 on, and the verdict."""
    known = answers(head)
    readings = [known[frozenset(("1", "2"))]]
    while len(readings) < AT_MOST:
        finding = judged(head, readings, laws)
        if finding.next_reading is None:
            return len(readings), finding.verdict
        readings.append(known[frozenset(finding.next_reading.wires)])
    return len(readings), "undecided"


def in_order(head: DrawnHead, laws: WindingLaws) -> int:
    """Readings taken pin by pin until nothing more is asked for."""
    known, readings = answers(head), []
    for pair in combinations(sorted({wire for wires in known for wire in wires}), 2):
        readings.append(known[frozenset(pair)])
        if judged(head, readings, laws).next_reading is None:
            break
    return len(readings)


def measured(arrangement: str, sound: float, n_heads: int, rng: Random, laws: WindingLaws) -> str:
    """A line for one kind of head."""
    world = World(arrangements=((arrangement, 1.0),), sets=("full",), sound=sound, unstated_temperature=0.0)
    asked, ordered, settled = 0, 0, 0
    n_drawn = 0
    while n_drawn < n_heads:
        head = draw_head(rng, laws, world)
        if head.cause == "bad-reading":
            continue
        n_drawn += 1
        n_readings, verdict = asked_for(head, laws)
        asked, settled = asked + n_readings, settled + (verdict != "undecided")
        ordered += in_order(head, laws)
    return (
        f"{arrangement:12} {sound:4.0%} good {n_heads:5} heads   as asked {asked / n_heads:5.2f}   "
        f"in order {ordered / n_heads:5.2f}   settled as asked {settled / n_heads:6.1%}"
    )


def main(n_heads: int, seed: int) -> None:
    """Measure all kinds."""
    laws = parse_priors((files("fifthwire.diagnosis") / "priors.toml").read_text(encoding="utf-8")).winding
    rng = Random(seed)
    for arrangement in ("unipolar-5", "unipolar-6", "bipolar-4"):
        for sound in (0.97, 0.70):
            print(measured(arrangement, sound, n_heads, rng, laws))


if __name__ == "__main__":
    numbers = [int(argument) for argument in sys.argv[1:]]
    main(numbers[0] if numbers else 150, numbers[1] if len(numbers) > 1 else 1)
