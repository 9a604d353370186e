"""`python -m tests.oracle N SEED [--write]`: the oracle against the program, head by head, or the stored file anew."""

import sys
from time import perf_counter

from tests.oracle.posterior import posterior
from tests.oracle.stored import drawn, shipped_laws, write

from fifthwire.diagnosis.winding import judge_windings


def main() -> int:
    """Compare, or write."""
    n_heads, seed = int(sys.argv[1]), int(sys.argv[2])
    laws = shipped_laws()
    if "--write" in sys.argv[3:]:
        write(n_heads, seed, laws)
        return 0
    beyond = 0
    for number in range(n_heads):
        head, start = drawn(seed, number, laws), perf_counter()
        oracle, seconds = posterior(head.case, laws), perf_counter() - start
        program: dict[str, float] = {}
        for cause in judge_windings(head.case, laws).causes:
            program[cause.cause] = program.get(cause.cause, 0.0) + cause.probability
        if oracle is None:
            print(f"{number}: nothing fits; the program says {program}")
            continue
        apart = max(abs(oracle.causes.get(c, 0.0) - program.get(c, 0.0)) for c in {*oracle.causes, *program})
        beyond += apart > 1e-3
        print(f"{number} {head.arrangement} {head.set_of_readings} {head.cause}: apart {apart:.5f}, {seconds:.1f} s")
    print(f"{beyond} of {n_heads} beyond 0.001")
    return 0


if __name__ == "__main__":
    sys.exit(main())
