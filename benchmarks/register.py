"""How long the register takes on a big company: lists, whole systems and valves, search, a list of 10,000 valves.

One after another, on one connection: what a page asks the register for, without the page. Each question is asked of
other places every time. Aims: search 100 ms, 10,000 valves 10 s; pages are measured as a whole elsewhere.
"""

import sys
from collections.abc import Callable
from random import Random
from time import perf_counter
from typing import Any, Final

from benchmarks.big_registers import big_registers
from fifthwire.model.kept.people import Person
from fifthwire.register.store import Register, open_register
from fifthwire.workflow import lists, places, search, todo, visits_kept

OWNER: Final = Person(id="o", name="RT", role="owner")
N_TIMES: Final = 40
SEED: Final = 20260512
SEARCHES: Final = ("IU07-valve", "quay library iu07", "v", "valve", "invented", "elbow torn", "zebra", "S0")
N_VALVES: Final = 10_000
SEARCH_AIM_S: Final = 0.1
IMPORT_AIM_S: Final = 10.0


def main() -> int:
    """Measure every engine; 1 where an aim is missed."""
    speed()
    missed = []
    with big_registers() as urls:
        for url in urls:
            with open_register(url, create=False) as register:
                sys.stdout.write(f"\n{register.dialect}\n{'':28}  median     p95     max\n")
                missed += measure(register)
                missed += measure_import(register)
    for one in missed:
        sys.stdout.write(f"missed: {one}\n")
    return 1 if missed else 0


def speed() -> None:
    """How fast the machine is: a loop of 10^6 float additions."""
    began, total = perf_counter(), 0.0
    for _ in range(1_000_000):
        total += 1.0
    sys.stdout.write(f"10^6 float additions {(perf_counter() - began) * 1e3:.0f} ms\n")


def measure(register: Register) -> list[str]:
    """Every question, many times; what missed its aim."""
    questions = _questions(register, Random(SEED))
    missed = []
    for name, ask in questions.items():
        ask()
        taken_s = sorted(_taken_s(ask) for _ in range(N_TIMES))
        p95_s = taken_s[round(0.95 * (N_TIMES - 1))]
        figures = "  ".join(f"{of * 1e3:6.1f}" for of in (taken_s[N_TIMES // 2], p95_s, taken_s[-1]))
        sys.stdout.write(f"{name:28}  {figures}  ms\n")
        if name.startswith("search") and p95_s > SEARCH_AIM_S:
            missed.append(f"{register.dialect}, {name}: {p95_s * 1e3:.0f} ms, aim {SEARCH_AIM_S * 1e3:.0f} ms")
    return missed


def _taken_s(ask: Callable[[], object]) -> float:
    began = perf_counter()
    ask()
    return perf_counter() - began


def _questions(register: Register, rng: Random) -> dict[str, Callable[[], object]]:
    """What the pages ask for, each time of other places."""
    systems = [row.system for page in range(1, 41) for row in places.list_systems(register, OWNER, page=page).rows]
    valves = [row.valve.id for page in range(1, 41) for row in places.list_valves(register, OWNER, page=50 * page).rows]
    visits = [row.id for page in range(1, 21) for row in visits_kept.list_visits(register, OWNER, page=page).rows]

    def site() -> str:
        return rng.choice(systems).site_id

    found: dict[str, Callable[[], Any]] = {
        "sites": lambda: places.list_sites(register, OWNER),
        "systems": lambda: places.list_systems(register, OWNER, page=rng.randint(1, 40)),
        "systems of a site": lambda: places.list_systems(register, OWNER, site_id=site()),
        "valves": lambda: places.list_valves(register, OWNER, page=rng.randint(1, 2000)),
        "valves of a site": lambda: places.list_valves(register, OWNER, site_id=site()),
        "valves that are bad": lambda: places.list_valves(register, OWNER, mark="bad"),
        "bad valves of a site": lambda: places.list_valves(register, OWNER, mark="bad", site_id=site()),
        "valves by text": lambda: places.list_valves(register, OWNER, text=f"IU{rng.randint(1, 40):02d} quay"),
        "a system whole": lambda: places.system_whole(register, OWNER, rng.choice(systems).id),
        "a valve whole": lambda: places.valve_whole(register, OWNER, rng.choice(valves)),
        "what is to do": lambda: todo.list_actions(register, OWNER),
        "to do at a site": lambda: todo.list_actions(register, OWNER, site_id=site()),
        "visits": lambda: visits_kept.list_visits(register, OWNER, page=rng.randint(1, 200)),
        "a visit whole": lambda: visits_kept.visit_of(register, OWNER, rng.choice(visits)),
    }
    for words in SEARCHES:
        found[f"search {words}"] = lambda words=words: search.search(register, OWNER, words)  # type: ignore[misc]
    return found


def measure_import(register: Register) -> list[str]:
    """A list of 10,000 valves in, into a site of its own; what missed its aim."""
    rows = (
        f"N{at // 50:03d},IU{at % 50:02d},indoor,,,clip-on,ceiling,Room {at}\n" for at in range(N_VALVES)
    )  # fmt: skip
    text = "system,unit,role,number,label,head,access,room\n" + "".join(rows)
    site = places.add_site(register, OWNER, name=f"Benchmark {perf_counter()} (invented)", time_zone="UTC")
    for name, ask in (
        ("preview of 10,000 valves", lists.preview_valve_list),
        ("import of 10,000 valves", lists.import_valve_list),
    ):
        began = perf_counter()
        ask(register, OWNER, text.encode(), "valves.csv", site_id=site.id)
        taken_s = perf_counter() - began
        sys.stdout.write(f"{name:28}  {taken_s:6.2f}  s\n")
    return [f"{register.dialect}, import: {taken_s:.1f} s"] if taken_s > IMPORT_AIM_S else []


if __name__ == "__main__":
    sys.exit(main())
