"""`make soak`: inputs without end, within a time.

python -m tests.soak                                        10^6 inputs, at most 60 minutes
python -m tests.soak --inputs 100000 --minutes 5 --only bytes|windings|killed

First 500 imports and 500 additions are killed on a register, which takes some minutes.
"""

import argparse
import sys
import tempfile
from time import perf_counter, time

from tests.soak import killed_writer, visit_bytes, windings


def main() -> int:
    """Run what was asked for; a finding ends with its traceback and status 1."""
    parser = argparse.ArgumentParser(prog="python -m tests.soak")
    parser.add_argument("--inputs", type=int, default=1_000_000, help="of the visit reader")
    parser.add_argument("--minutes", type=float, default=60.0, help="in all")
    parser.add_argument("--only", choices=("bytes", "windings", "killed"))
    asked = parser.parse_args()
    parts = 2 if asked.only is None else 1
    seconds = 60.0 * asked.minutes / parts
    status = 0
    if asked.only in (None, "killed"):
        print(f"register: {_killed()}")
    if asked.only == "killed":
        return 0
    if asked.only != "windings":
        status = _bytes(asked.inputs, seconds)
    if asked.only != "bytes":
        count, slowest = windings.run(asked.inputs // 20, seconds)
        print(f"windings: {count} cases, no exception, sums 1, slowest {slowest:.2f} s")
    return status


def _killed() -> str:
    with tempfile.TemporaryDirectory() as home:
        return killed_writer.run(f"{home}/register.sqlite", n_imports=500, n_additions=500, seed=int(time()))


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
