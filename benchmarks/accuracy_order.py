"""How near the order of readings that the program asks for comes to the best adaptive order there is.

    python -m benchmarks accuracy_order

A five-wire head with unknown common in which every winding reads R: sound, one winding open, the common open, or one
missed probe (a false "open" the first time a pair is tried). A reading is then one of three (R, 2R, open), and the
best adaptive order is found by exhaustive search over all decision trees; what is alike under an exchange of wires is
searched once.
Settled: a fault at P >= 0.95, or sound at P >= 0.95 with every wire read and its common at P >= 0.95. The same rule
stops both; the search stops at eight readings at the latest, which can only make its order look shorter than it is.
"""

import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations, permutations

from benchmarks.accuracy import by_cause, shipped_laws
from fifthwire.diagnosis.winding import (
    HeadTemperature,
    MeterLaw,
    RangeLaw,
    SpecLaw,
    WindingCase,
    WindingLaws,
    judge_windings,
)
from fifthwire.model.assessment import WindingFinding
from fifthwire.model.valve import PairReading

WIRES = range(5)
PAIRS = tuple(combinations(WIRES, 2))
NUMBER_OF = {pair: number for number, pair in enumerate(PAIRS)}
UNTRIED, OPEN, ONE, TWO, OPEN_AGAIN, OPEN_THEN_ONE, OPEN_THEN_TWO = range(7)
"""What is known of a pair: not tried, or what it read (R, 2R, open; an open tried twice)."""
OHM = {ONE: 62.1, TWO: 124.1, OPEN: None}
SURE = 0.95
AT_MOST = 8

Known = tuple[int, ...]


def _renamings() -> tuple[tuple[int, ...], ...]:
    """For each exchange of wires: where each pair goes."""
    found = []
    for order in permutations(WIRES):
        moved = [NUMBER_OF[tuple(sorted((order[a], order[b])))] for a, b in PAIRS]  # type: ignore[index]
        found.append(tuple(moved))
    return tuple(found)


RENAMINGS = _renamings()


@dataclass(frozen=True)
class Truth:
    """One way the head may be."""

    common: int
    cause: str
    at: tuple[int, ...]
    weight: float

    def reads(self, pair: tuple[int, int], is_first: bool) -> int:
        """What the meter shows."""
        if (
            (self.cause == "open-winding" and self.at[0] in pair)
            or (self.cause == "open-common" and self.common in pair)
            or (self.cause == "bad-reading" and pair == self.at and is_first)
        ):
            return OPEN
        return ONE if self.common in pair else TWO

    def fits(self, known: Known) -> bool:
        """Whether it would have read what is known."""
        for pair, state in zip(PAIRS, known, strict=True):
            if state == UNTRIED:
                continue
            first = OPEN if state >= OPEN_AGAIN else state
            if self.reads(pair, True) != first:
                return False
            if state >= OPEN_AGAIN and self.reads(pair, False) != state - OPEN_AGAIN + OPEN:
                return False
        return True


def truths(sound: float, laws: WindingLaws) -> tuple[Truth, ...]:
    """Every head with its prior; causes that three kinds of reading cannot show are left out."""
    shares = {cause: (1.0 - sound) * share for cause, share in laws.fault_shares.items()}
    missed = shares["bad-reading"] * laws.bad_reading_open_share
    found = []
    for common in WIRES:
        found.append(Truth(common, "sound", (), sound / 5))
        found.append(Truth(common, "open-common", (common,), shares["open-common"] / 5))
        found += [Truth(common, "open-winding", (end,), shares["open-winding"] / 20) for end in WIRES if end != common]
        found += [Truth(common, "bad-reading", pair, missed / 50) for pair in PAIRS]
    return tuple(found)


def is_settled(causes: Mapping[str, float], commons: Sequence[float], is_every_wire_read: bool) -> bool:
    """The rule that stops both."""
    sound = causes.get("sound", 0.0)
    if 1.0 - sound - causes.get("bad-reading", 0.0) >= SURE:
        return True
    return sound >= SURE and is_every_wire_read and max(commons, default=0.0) >= SURE


class Search:
    """The best adaptive order, by dynamic programming over what is known."""

    def __init__(self, all_truths: tuple[Truth, ...]) -> None:
        self.truths = all_truths
        self.states: dict[Known, float] = {}

    def expected(self) -> float:
        """Readings until settled, on average over the truths."""
        total = sum(truth.weight for truth in self.truths)
        return self.cost((UNTRIED,) * len(PAIRS), 0) / total

    def cost(self, known: Known, n_taken: int) -> float:
        """Weight times readings still to be taken, at best."""
        known = _same(known)
        if known not in self.states:
            self.states[known] = self._cost(known, n_taken)
        return self.states[known]

    def _cost(self, known: Known, n_taken: int) -> float:
        left = [truth for truth in self.truths if truth.fits(known)]
        weight = sum(truth.weight for truth in left)
        if not left or n_taken >= AT_MOST or self._settled(known, left, weight):
            return 0.0
        best, tried = float("inf"), set()
        for number, state in enumerate(known):
            outcomes = {UNTRIED: (OPEN, ONE, TWO), OPEN: (OPEN_AGAIN, OPEN_THEN_ONE, OPEN_THEN_TWO)}.get(state, ())
            after = [(*known[:number], outcome, *known[number + 1 :]) for outcome in outcomes]
            alike = tuple(sorted(_same(one) for one in after))
            if after and alike not in tried:
                tried.add(alike)
                best = min(best, weight + sum(self.cost(one, n_taken + 1) for one in after))
        return best

    def _settled(self, known: Known, left: list[Truth], weight: float) -> bool:
        causes: dict[str, float] = {}
        commons: dict[int, float] = {}
        for truth in left:
            causes[truth.cause] = causes.get(truth.cause, 0.0) + truth.weight / weight
            commons[truth.common] = commons.get(truth.common, 0.0) + truth.weight / weight
        read = {
            wire for pair, s in zip(PAIRS, known, strict=True) if s not in (UNTRIED, OPEN, OPEN_AGAIN) for wire in pair
        }
        return is_settled(causes, list(commons.values()), len(read) == len(WIRES))


@cache
def _same(known: Known) -> Known:
    """One state for all that are alike under an exchange of wires."""
    return min(tuple(known[number] for number in renaming) for renaming in RENAMINGS)


def asked_for(truth: Truth, sound: float, laws: WindingLaws) -> tuple[int, bool]:
    """Readings that the program asks for until settled, and whether it was."""
    taken: list[PairReading] = []
    seen: set[tuple[int, int]] = set()
    pair = (0, 1)
    while len(taken) < AT_MOST + 4:
        ohm = OHM[truth.reads(pair, pair not in seen)]
        seen.add(pair)
        taken.append(PairReading(str(pair[0]), str(pair[1]), ohm))
        finding = judge_windings(_case(taken, sound), laws)
        finite = {wire for r in taken if r.ohm is not None for wire in (r.wire_a, r.wire_b)}
        if is_settled(by_cause(finding), [c.probability for c in finding.common], len(finite) == len(WIRES)):
            return len(taken), True
        if finding.next_reading is None:
            return len(taken), False
        pair = _next_pair(finding, taken)
    return len(taken), False


def _next_pair(finding: WindingFinding, taken: Sequence[PairReading]) -> tuple[int, int]:
    """The pair asked for; an untouched wire stands for the first ones that were not touched."""
    assert finding.next_reading is not None
    touched = {wire for r in taken for wire in (r.wire_a, r.wire_b)}
    untouched = iter(wire for wire in WIRES if str(wire) not in touched)
    a, b = sorted(int(w) if w in touched else next(untouched) for w in finding.next_reading.wires)
    return a, b


def _case(taken: Sequence[PairReading], sound: float) -> WindingCase:
    return WindingCase(
        readings=tuple(taken),
        meter=MeterLaw(ranges=(RangeLaw(of_reading_frac=0.005, digits=1.0, resolution_ohm=0.1),)),
        head=HeadTemperature(centre_c=20.0, sd_k=1.0),
        arrangement="unipolar-5",
        spec=SpecLaw(resistance_ohm=62.0, tolerance_frac=0.10, at_c=20.0),
        sound_prior=sound,
    )


def main() -> int:
    """Print both for heads as found on a planned visit and for suspected ones."""
    laws = shipped_laws()
    for name, sound in (("suspected", 0.70), ("planned", 0.97)):
        heads = truths(sound, laws)
        search = Search(heads)
        best = search.expected()
        total = sum(truth.weight for truth in heads)
        asked = [(truth, *asked_for(truth, sound, laws)) for truth in heads]
        mean = sum(truth.weight * n for truth, n, _ in asked) / total
        unsettled = sum(truth.weight for truth, _, settled in asked if not settled) / total
        print(f"{name}: best adaptive order {best:.3f} readings ({len(search.states)} states), asked for {mean:.3f}")
        for cause in ("sound", "open-winding", "open-common", "bad-reading"):
            of_cause = [(truth, n) for truth, n, _ in asked if truth.cause == cause]
            weight = sum(truth.weight for truth, _ in of_cause)
            print(f"  asked for, {cause}: {sum(truth.weight * n for truth, n in of_cause) / weight:.3f}")
        print(f"  ended unsettled: {unsettled:.4f} of heads by weight")
    return 0


if __name__ == "__main__":
    sys.exit(main())
