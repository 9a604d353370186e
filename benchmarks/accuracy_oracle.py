"""The winding verdict beside the best possible inference on the same laws, head by head.

    python -m benchmarks accuracy_oracle

The oracle's posteriors stand in tests/oracle/posteriors.json; `python -m tests.oracle 600 3 --write` finds them anew,
by fine grids, in about 3 s a head. The best possible verdict applies the same rules to the oracle's posterior.
"""

import sys
from dataclasses import dataclass
from math import log

from tests.oracle.stored import Stored, shipped_laws, stored

from benchmarks.accuracy import LEAST, by_cause
from fifthwire.demo.heads import SETS
from fifthwire.diagnosis.winding import judge_windings
from fifthwire.model.assessment import WindingFinding

SURE = 0.95
"""Probability that a verdict takes.  [1]"""


@dataclass(frozen=True)
class Pair:
    """The program's finding and the oracle's row of one head."""

    row: Stored
    finding: WindingFinding
    program: dict[str, float]

    @property
    def apart(self) -> float:
        """Largest difference of a cause's probability. [1]"""
        causes = {*self.program, *self.row.causes}
        return max(abs(self.program.get(c, 0.0) - self.row.causes.get(c, 0.0)) for c in causes)

    @property
    def best_verdict(self) -> str:
        """The same rules on the oracle's posterior."""
        causes, head = self.row.causes, self.row.head
        finite = {wire for r in head.case.readings if r.ohm is not None for wire in (r.wire_a, r.wire_b)}
        faulty = 1.0 - causes.get("sound", 0.0) - causes.get("bad-reading", 0.0)
        if finite and faulty >= SURE:
            return "faulty"
        n_wires = {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4}[head.arrangement]
        every_winding = len(finite | set(head.common)) == n_wires
        return "sound" if causes.get("sound", 0.0) >= SURE and every_winding else "undecided"


def loss(probabilities: dict[str, float], cause: str) -> float:
    """-ln P(true cause). [nat]"""
    return -log(max(probabilities.get(cause, 0.0), LEAST))


def line(name: str, pairs: list[Pair]) -> str:
    """A row: log-losses, verdicts, differences."""
    n = len(pairs)
    program = sum(loss(p.program, p.row.head.cause) for p in pairs) / n
    best = sum(loss(p.row.causes, p.row.head.cause) for p in pairs) / n
    undecided = sum(p.finding.verdict == "undecided" for p in pairs) / n
    best_undecided = sum(p.best_verdict == "undecided" for p in pairs) / n
    apart = sorted(p.apart for p in pairs)
    within = sum(a <= 1e-3 for a in apart) / n
    figures = f"{program:10.4f}{best:10.4f}{undecided:12.3f}{best_undecided:10.3f}{within:14.3f}{apart[-1]:10.4f}"
    return f"{name:18}{n:7}{figures}"


def main() -> int:
    """Print the comparison."""
    pairs = []
    for row in stored(shipped_laws()):
        finding = judge_windings(row.head.case, shipped_laws())
        pairs.append(Pair(row, finding, by_cause(finding)))
    print(f"{'':25}{'log-loss of a cause':>20}{'undecided':>22}{'posterior apart':>24}")
    print(f"{'':18}{'heads':>7}{'program':>10}{'best':>10}{'program':>12}{'best':>10}{'within 0.001':>14}{'worst':>10}")
    print(line("all", pairs))
    for name in SETS:
        print(line(name, [p for p in pairs if p.row.head.set_of_readings == name]))
    for name in ("unipolar-5", "unipolar-6", "bipolar-4"):
        print(line(name, [p for p in pairs if p.row.head.arrangement == name]))
    proved = [p for p in pairs if p.best_verdict == "faulty"]
    print(f"faults the readings prove: {len(proved)}, called sound {sum(p.finding.verdict == 'sound' for p in proved)}")
    other = [p for p in pairs if p.finding.verdict != p.best_verdict]
    print(f"verdicts that differ from the best possible: {len(other)}")
    for p in other:
        head = p.row.head
        wanted = f"best {p.best_verdict} at P(sound) {p.row.causes.get('sound', 0.0):.4f}"
        print(f"  {head.arrangement} {head.set_of_readings} {head.cause}: {p.finding.verdict}, {wanted}")
    asked = [p for p in pairs if p.row.head.common and not p.row.head.case.common and p.row.commons]
    right = sum(set(p.finding.common[0].wires) == set(p.row.head.common) for p in asked)
    best = sum(max(p.row.commons.values()) for p in asked)
    print(f"common not stated: {len(asked)}, right {right}, to be expected of the best possible {best:.1f}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
