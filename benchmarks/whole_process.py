"""Whole processes: `fifthwire assess` of one valve and of 48 valves, and where the imports go.

48 valves: 32 with five wires, 12 with six, 4 with four, every pair of each read.
"""

import subprocess
import sys
import tempfile
from compileall import compile_dir
from itertools import combinations
from pathlib import Path
from random import Random
from statistics import median
from time import perf_counter

import fifthwire

RUNS = 15
ARRANGEMENTS = [("unipolar-5", 5)] * 32 + [("unipolar-6", 6)] * 12 + [("bipolar-4", 4)] * 4
COMMONS = {"unipolar-5": {"5": "1234"}, "unipolar-6": {"2": "13", "5": "46"}, "bipolar-4": {"1": "2", "3": "4"}}


def main() -> int:
    """Measure and print."""
    compile_dir(str(Path(fifthwire.__file__).parent), quiet=1)  # as an installed program is
    with tempfile.TemporaryDirectory() as directory:
        one, many = Path(directory) / "one.visit.toml", Path(directory) / "many.visit.toml"
        one.write_text(visit_text(ARRANGEMENTS[:1]), "utf-8")
        many.write_text(visit_text(ARRANGEMENTS), "utf-8")
        print(f"a loop of 10^6 float additions     {addition_loop_s() * 1e3:8.1f} ms")
        for name, words in (
            ("python -c pass", ["-c", "pass"]),
            ("fifthwire --version", ["-m", "fifthwire", "--version"]),
            ("fifthwire assess, 1 valve", ["-m", "fifthwire", "assess", str(one)]),
            ("fifthwire assess --json, 1 valve", ["-m", "fifthwire", "assess", "--json", str(one)]),
            ("fifthwire assess, 48 valves", ["-m", "fifthwire", "assess", str(many)]),
        ):
            spent = sorted(process_s(words) for _ in range(RUNS))
            print(f"{name:34s} {median(spent) * 1e3:8.1f} ms median, {spent[-1] * 1e3:.1f} ms slowest of {RUNS}")
        print("\nImports of `fifthwire assess`, the dearest, own time in ms:")
        for spent_ms, module in dearest_imports(one):
            print(f"  {spent_ms:6.2f}  {module}")
    return 0


def process_s(words: list[str]) -> float:
    """Seconds from the start to the end of a process. [s]"""
    start = perf_counter()
    subprocess.run([sys.executable, *words], check=True, capture_output=True)
    return perf_counter() - start


def addition_loop_s() -> float:
    """Seconds that this machine takes for 10^6 float additions in a loop. [s]"""
    start, total = perf_counter(), 0.0
    for _ in range(1_000_000):
        total += 1.5
    return perf_counter() - start


def dearest_imports(visit: Path, most: int = 15) -> list[tuple[float, str]]:
    """The modules whose own import takes longest. [ms]"""
    ran = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "fifthwire", "assess", str(visit)],
        check=True,
        capture_output=True,
        text=True,
    )
    rows = [
        line.split("|") for line in ran.stderr.splitlines() if line.startswith("import time:") and "self" not in line
    ]
    spent = [(float(row[0].split(":")[1]) / 1e3, row[2].strip()) for row in rows]
    return sorted(spent, reverse=True)[:most]


def visit_text(arrangements: list[tuple[str, int]]) -> str:
    """A visit of good heads, every pair of each read, with a fixed seed."""
    draw = Random(48)
    parts = [
        'format = "fifthwire/visit/1"\n[visit]\ndate = 2026-05-12\nsite = "bench"\nsystem = "B-1"\n',
        *(
            f'[specs.{name}]\nwinding = "{name}"\nresistance = "62 ohm"\ntolerance = "10 %"\nat = "20 degC"\n'
            for name in COMMONS
        ),
        '[meters.m]\naccuracy = "0.9 % + 2 digits"\nresolution = "0.1 ohm"\n',
    ]
    for at, (arrangement, n_wires) in enumerate(arrangements):
        rows = [row(arrangement, a, b, draw) for a, b in combinations("123456"[:n_wires], 2)]
        parts.append(
            f'[[valves]]\nid = "V{at:02d}"\nunit = "U{at:02d}"\nrole = "indoor"\nhead = "clip-on"\n'
            f'spec = "{arrangement}"\nmeter = "m"\nhead_temperature = "25 degC"\nplug_off = true\n'
            f'readings = [{", ".join(rows)}]\n[valves.inspection]\nrust = "none"\nseated = true\n'
        )
    return "".join(parts)


def row(arrangement: str, a: str, b: str, draw: Random) -> str:
    """A reading of a good head."""
    groups = COMMONS[arrangement]
    n_windings = 0
    for common, ends in groups.items():
        if {a, b} <= {common, *ends}:
            n_windings = 1 if common in (a, b) else 2
    if not n_windings:
        return f'["{a}", "{b}", "open"]'
    return f'["{a}", "{b}", {63.2 * n_windings * draw.gauss(1.0, 0.002):.1f}]'


if __name__ == "__main__":
    sys.exit(main())
