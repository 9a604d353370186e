"""How long the winding verdict takes, next reading included: medians and 95th percentiles by kind of head.

    python -m benchmarks winding
    python -m benchmarks.winding 2000 7     heads, seed

Heads are invented, drawn by the priors. The aim is 6 / 20 ms on five wires, 5 / 20 on six and 2 / 5 on four (median /
95th percentile) on a machine that takes 100 ms for a loop of 10^6 float additions.
"""

import cProfile
import io
import pstats
import sys
import time
from importlib.resources import files
from random import Random
from statistics import median

from fifthwire.demo.heads import DrawnHead, draw_head
from fifthwire.diagnosis.priors import parse_priors
from fifthwire.diagnosis.winding import WindingLaws, judge_windings

AIMS_MS = {"unipolar-5": (6.0, 20.0), "unipolar-6": (5.0, 20.0), "bipolar-4": (2.0, 5.0)}


LOOP = compile("total = 0.0\nfor _ in range(10**6):\n    total += 1.5\n", "loop", "exec")


def loop_ms() -> float:
    """A loop of 10^6 float additions as the statements of a script. [ms]"""
    start = time.process_time()
    exec(LOOP, {})
    return 1e3 * (time.process_time() - start)


def loop_in_function_ms() -> float:
    """The same loop inside a function, whose variables are found quicker. [ms]"""
    start = time.process_time()
    total = 0.0
    for _ in range(10**6):
        total += 1.5
    return 1e3 * (time.process_time() - start)


def judged_ms(head: DrawnHead, laws: WindingLaws) -> float:
    """One verdict, processor time. [ms]"""
    start = time.process_time()
    judge_windings(head.case, laws)
    return 1e3 * (time.process_time() - start)


def line(name: str, times_ms: list[float], to_aim: float) -> str:
    """Median, 95th percentile and the longest; and the first two as on the machine of the aim."""
    ordered = sorted(times_ms)
    middle, high, last = median(ordered), ordered[int(0.95 * len(ordered))], ordered[-1]
    aim = AIMS_MS.get(name)
    aimed = f"   aim {aim[0]:.0f} / {aim[1]:.0f}" if aim else ""
    return (
        f"{name:28} {len(ordered):5} heads   {middle:5.2f} / {high:5.2f} ms, longest {last:6.1f}"
        f"   at 100 ms a loop {middle * to_aim:5.1f} / {high * to_aim:5.1f}{aimed}"
    )


def profile(heads: list[DrawnHead], laws: WindingLaws) -> str:
    """Where the time goes."""
    profiler = cProfile.Profile()
    profiler.enable()
    for head in heads:
        judge_windings(head.case, laws)
    profiler.disable()
    text = io.StringIO()
    pstats.Stats(profiler, stream=text).strip_dirs().sort_stats("tottime").print_stats(20)
    return text.getvalue()


def main(n_heads: int, seed: int) -> None:
    """Time and profile."""
    laws = parse_priors((files("fifthwire.diagnosis") / "priors.toml").read_text(encoding="utf-8")).winding
    rng = Random(seed)
    heads = [draw_head(rng, laws) for _ in range(n_heads)]
    for head in heads[:30]:
        judge_windings(head.case, laws)
    loops = [loop_ms()]
    times: dict[str, list[float]] = {}
    for head in heads:
        taken = judged_ms(head, laws)
        times.setdefault(head.arrangement, []).append(taken)
        times.setdefault(f"  {head.arrangement} {head.set_of_readings}", []).append(taken)
    loops.append(loop_ms())
    loop = sum(loops) / len(loops)
    print(
        f"loop of 10^6 float additions as a script: {loop:.0f} ms (before {loops[0]:.0f}, after {loops[1]:.0f}); "
        f"inside a function {loop_in_function_ms():.0f} ms\n"
    )
    for name in sorted(times, key=lambda name: (name.split()[0], name.startswith(" "), name)):
        print(line(name, times[name], 100.0 / loop))
    print(profile(heads[:200], laws))


if __name__ == "__main__":
    numbers = [int(argument) for argument in sys.argv[1:]]
    main(numbers[0] if numbers else 1000, numbers[1] if len(numbers) > 1 else 1)
