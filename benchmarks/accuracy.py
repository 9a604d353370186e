"""How right the winding verdict is, on heads drawn by the priors and in worlds that differ from them.

    python -m benchmarks accuracy
    python -m benchmarks.accuracy 4000 1      heads of each world, seed

Invented heads, never field data: what this measures is the inference, not the priors. Against the best possible
inference on the same laws: `accuracy_oracle`.
"""

import sys
from collections.abc import Iterable
from dataclasses import dataclass, field
from importlib.resources import files
from itertools import pairwise
from math import log
from random import Random

from fifthwire.demo.heads import SETS, DrawnHead, World, draw_head
from fifthwire.diagnosis.priors import parse_priors
from fifthwire.diagnosis.winding import WindingLaws, judge_windings
from fifthwire.model.assessment import WindingFinding
from fifthwire.physics.head_network import head_network
from fifthwire.physics.network import effective_matrix

LEAST = 1e-6
"""Probabilities are printed to six decimals: a cause that is not listed counts as this."""


def shipped_laws() -> WindingLaws:
    """The laws that come with the program."""
    return parse_priors(files("fifthwire.diagnosis").joinpath("priors.toml").read_text("utf-8")).winding


def by_cause(finding: WindingFinding) -> dict[str, float]:
    """Probability of each cause, the wires summed."""
    found: dict[str, float] = {}
    for cause in finding.causes:
        found[cause.cause] = found.get(cause.cause, 0.0) + cause.probability
    return found


@dataclass(slots=True)
class Tally:
    """What was counted over some heads."""

    heads: int = 0
    loss: float = 0.0
    """Sum of -ln P(true cause). [nat]"""
    verdicts: dict[str, int] = field(default_factory=dict)
    sound: int = 0
    sound_condemned: int = 0
    faulty_passed: int = 0
    thumb_condemned: int = 0
    common_asked: int = 0
    common_right: int = 0
    claims: list[tuple[float, bool]] = field(default_factory=list)
    """P(sound), and whether it was."""

    def add(self, head: DrawnHead, finding: WindingFinding) -> None:
        """Count one head."""
        probabilities = by_cause(finding)
        self.heads += 1
        self.loss -= log(max(probabilities.get(head.cause, 0.0), LEAST))
        self.verdicts[finding.verdict] = self.verdicts.get(finding.verdict, 0) + 1
        is_sound = head.cause == "sound"
        self.claims.append((probabilities.get("sound", 0.0), is_sound))
        if is_sound:
            self.sound += 1
            self.sound_condemned += finding.verdict == "faulty"
            self.thumb_condemned += thumb_condemns(head)
        elif head.cause != "bad-reading":
            self.faulty_passed += finding.verdict == "sound"
        if head.common and not head.case.common:
            self.common_asked += 1
            self.common_right += bool(finding.common) and set(finding.common[0].wires) == set(head.common)

    @property
    def log_loss(self) -> float:
        """Mean of -ln P(true cause). [nat]"""
        return self.loss / max(self.heads, 1)

    def share(self, verdict: str) -> float:
        """Of a verdict. [1]"""
        return self.verdicts.get(verdict, 0) / max(self.heads, 1)

    def calibration_error(self, n_bins: int = 10) -> float:
        """Mean distance between what was claimed and what was true, in bins of equal numbers. [1]"""
        return sum(abs(claimed - true) * n for claimed, true, n in calibration(self.claims, n_bins)) / len(self.claims)


def calibration(claims: Iterable[tuple[float, bool]], n_bins: int = 10) -> list[tuple[float, float, int]]:
    """Mean claim, share that was true and number, in bins of equal numbers by rising claim."""
    ordered = sorted(claims)
    edges = [round(i * len(ordered) / n_bins) for i in range(n_bins + 1)]
    bins = [ordered[a:b] for a, b in pairwise(edges) if b > a]
    return [(sum(c for c, _ in b) / len(b), sum(t for _, t in b) / len(b), len(b)) for b in bins]


def thumb_condemns(head: DrawnHead) -> bool:
    """The rule of thumb: a head is bad unless each reading is within tolerance of the spec, whatever its temperature.

    The rule is given the true arrangement, which is more than a technician has, and takes the leads off.
    """
    spec = head.case.spec
    assert spec is not None
    order = [*dict.fromkeys(wire for ends in head.ends for wire in ends)]
    network = head_network(head.arrangement, order, [spec.resistance_ohm] * len(head.ends))
    expected = effective_matrix(network, order)
    for reading in head.case.readings:
        pair = (reading.wire_a, reading.wire_b)
        ohm = expected.get(pair, expected.get((pair[1], pair[0]), 0.0))
        if reading.ohm is None or ohm == float("inf"):
            if (reading.ohm is None) != (ohm == float("inf")):
                return True
        elif abs(reading.ohm - head.case.meter.leads_ohm - ohm) > spec.tolerance_frac * ohm:
            return True
    return False


def tally(world: World, n_heads: int, seed: int, laws: WindingLaws) -> dict[str, Tally]:
    """Counted by set of readings, and "all" over them."""
    tallies = {name: Tally() for name in ("all", *world.sets)}
    for number in range(n_heads):
        head = draw_head(Random(seed * 1_000_000 + number), laws, world)
        finding = judge_windings(head.case, laws)
        for name in ("all", head.set_of_readings):
            tallies[name].add(head, finding)
    return tallies


def prior_loss(world: World, laws: WindingLaws) -> float:
    """Log-loss of knowing only how often each cause comes. [nat]"""
    shares = [world.sound, *((1.0 - world.sound) * share for share in laws.fault_shares.values())]
    return -sum(share * log(share) for share in shares if share > 0.0)


WORLDS = {
    "by the priors": World(),
    "planned visit, 97 % good": World(sound=0.97),
    "half the scatter": World(scatter_factor=0.5),
    "twice the scatter": World(scatter_factor=2.0),
    "stated temperature 20 K too high": World(temperature_off_k=20.0, unstated_temperature=0.0),
    "stated temperature 20 K too low": World(temperature_off_k=-20.0, unstated_temperature=0.0),
    "meter three times out of its accuracy": World(gain_factor=3.0),
}
"""The priors, and worlds that differ from them while the inference keeps to them."""

COLUMNS = ("log-loss", "calibration", "good condemned", "thumb condemns", "fault passed", "undecided", "common right")


def header() -> str:
    """Of the table."""
    return f"{'':38}" + "".join(f"{column:>15}" for column in COLUMNS)


def line(name: str, t: Tally) -> str:
    """A row of the table; "thumb condemns" is of good heads too."""
    figures = [
        t.log_loss,
        t.calibration_error(),
        t.sound_condemned / max(t.sound, 1),
        t.thumb_condemned / max(t.sound, 1),
        t.faulty_passed / t.heads,
        t.share("undecided"),
    ]
    common = f"{t.common_right / t.common_asked:15.4f}" if t.common_asked else f"{'-':>15}"
    return f"{name:38}" + "".join(f"{figure:15.4f}" for figure in figures) + common


def report_of_48(n_reports: int, seed: int, laws: WindingLaws) -> tuple[float, int]:
    """48 good heads, planned visit, common to each, common stated: mean undecided a report, condemned in all."""
    world = World(sound=0.97, sets=("common-to-each",), stated_common=1.0, unstated_temperature=0.0)
    undecided = condemned = number = 0
    for _ in range(n_reports):
        good = 0
        while good < 48:
            head = draw_head(Random(seed * 1_000_000 + number), laws, world)
            number += 1
            if head.cause != "sound":
                continue
            good += 1
            verdict = judge_windings(head.case, laws).verdict
            undecided += verdict == "undecided"
            condemned += verdict == "faulty"
    return undecided / n_reports, condemned


def main() -> int:
    """Print the tables."""
    given = [int(value) for value in sys.argv[1:]]
    n_heads, seed = (*given, *(4000, 1)[len(given) :])[:2]
    laws = shipped_laws()
    print(f"{n_heads} heads a world, seed {seed}; log-loss of knowing only the shares: {prior_loss(World(), laws):.4f}")
    print(header())
    for name, world in WORLDS.items():
        tallies = tally(world, n_heads, seed, laws)
        print(line(name, tallies["all"]))
        if name == "by the priors":
            for set_of_readings in SETS:
                print(line(f"  {set_of_readings}", tallies[set_of_readings]))
    undecided, condemned = report_of_48(max(n_heads // 100, 4), seed, laws)
    print(f"48 good heads, common to each, planned: {undecided:.2f} undecided a report, {condemned} condemned in all")
    return 0


if __name__ == "__main__":
    sys.exit(main())
