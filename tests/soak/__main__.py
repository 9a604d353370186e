"""`make soak`: inputs without end, within a time.

python -m tests.soak                                        10^6 inputs, at most 60 minutes
python -m tests.soak --inputs 100000 --minutes 5 --only bytes|windings
"""

import argparse
import sys
from time import perf_counter

from tests.soak import visit_bytes, windings


def main() -> int:
    """Run what was asked for; a finding ends with its traceback and status 1."""
    parser = argparse.ArgumentParser(prog="python -m tests.soak")
    parser.add_argument("--inputs", type=int, default=1_000_000, help="of the visit reader")
    parser.add_argument("--minutes", type=float, default=60.0, help="in all")
    parser.add_argument("--only", choices=("bytes", "windings"))
    asked = parser.parse_args()
    parts = 2 if asked.only is None else 1
    seconds = 60.0 * asked.minutes / parts
    status = 0
    if asked.only != "windings":
        status = _bytes(asked.inputs, seconds)
    if asked.only != "bytes":
        count, slowest = windings.run(asked.inputs // 20, seconds)
        print(f"windings: {count} cases, no exception, sums 1, slowest {slowest:.2f} s")
    return status


def _bytes(n_inputs: int, seconds: float) -> int:
    start = perf_counter()
    if visit_bytes.has_atheris():
        status = visit_bytes.guided(n_inputs, seconds / 60.0)
        print(f"visit reader: atheris ended with {status} after {perf_counter() - start:.0f} s")
        return status
    print("atheris is not installed (pip install atheris): bytes are changed at random, without guidance")
    count = visit_bytes.unguided(n_inputs, lambda: perf_counter() - start > seconds)
    print(f"visit reader: {count} inputs in {perf_counter() - start:.0f} s, no error but VisitFileError, none over 2 s")
    return 0


if __name__ == "__main__":
    sys.exit(main())
