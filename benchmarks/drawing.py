"""The page of a system with its circuit: 8, 24 and 64 indoor units, made by the app and shown by Chromium.

The floor: 64 units in 400 ms. SQLite in a temporary directory, one request at a time; the load of twenty people at once
is another benchmark.
"""

import shutil
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

from playwright.sync_api import Browser, sync_playwright
from tests.browser.served_pages import DESK, PHONE, served

from fifthwire.assessment.stave.on_page import circuit_on_page
from fifthwire.model.kept.people import alone
from fifthwire.register.store import Register
from fifthwire.web.app import create_app
from fifthwire.web.pages.drawing import circuit_of, valve_address
from fifthwire.workflow import places, valves
from fifthwire.workflow.register_place import open_place

RUNS = 40
WHO = alone("bench")
OUTDOOR = (("main", 1), ("main", 2), ("subcooler-bypass", None), ("injection", None), ("hot-gas-bypass", None))
BRANCH = ("branch-liquid", "branch-hot-gas", "branch-suction", "branch-subcooler")


def main() -> int:
    """Measure and print."""
    print(f"a loop of 10^6 float additions     {addition_loop_s() * 1e3:8.1f} ms\n")
    print("heat recovery, median and 95th percentile of", RUNS)
    with tempfile.TemporaryDirectory() as directory:
        register = open_place(str(Path(directory) / "register.sqlite"))
        systems = {n: a_system(register, n_indoor=n) for n in (8, 24, 64)}
        for n, system_id in systems.items():
            whole = places.system_whole(register, WHO, system_id)
            drawn = timed(lambda whole=whole: circuit_on_page(circuit_of(whole, "mixed"), valve_address))
            print(f"{n:2d} units, the three drawings alone  {shown(drawn)}")
        measure_pages(register, systems)
        register.close()
    return 0


def measure_pages(register: Register, systems: dict[int, str]) -> None:
    """The page from asking for it to its last byte, and until Chromium has laid it out and painted it."""
    path = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if path is None:
        print("Chromium is not here: the pages are not measured")
        return
    with served(create_app(register, alone=WHO)) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
        for n, system_id in systems.items():
            for name, size in (("phone", PHONE), ("desk", DESK)):
                asked, painted = page_s(browser, f"{address}/systems/{system_id}", size)
                print(f"{n:2d} units, {name:5s}: answered           {shown(asked)}")
                print(f"{n:2d} units, {name:5s}: painted            {shown(painted)}")
        browser.close()


def page_s(browser: Browser, address: str, size: dict[str, int]) -> tuple[list[float], list[float]]:
    """Seconds to the last byte, and to the first paint with content. [s]"""
    context = browser.new_context(viewport=size)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(address)  # what is kept by the browser is fetched, templates are read
    asked, painted = [], []
    for _ in range(RUNS):
        page.goto(address)
        times = page.evaluate(
            "[performance.getEntriesByType('navigation')[0].responseEnd, "
            "performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? performance.now()]"
        )
        asked.append(times[0] / 1e3)
        painted.append(times[1] / 1e3)
    context.close()
    return asked, painted


def a_system(register: Register, *, n_indoor: int) -> str:
    """A heat recovery system: three outdoor units, a branch unit for every eight indoor units."""
    site = places.add_site(register, WHO, name=f"Site of {n_indoor} (invented)", time_zone="Europe/London")
    system = places.add_system(register, WHO, site_id=site.id, name=f"HM-{n_indoor}", is_heat_recovery=True)
    for k in range(1, 4):
        unit = valves.add_unit(register, WHO, system_id=system.id, name=f"OU{k}", kind="outdoor")
        for role, number in OUTDOOR:
            valves.add_valve(
                register,
                WHO,
                unit_id=unit.id,
                role=role,
                number=number,
                label=f"OU{k}-{role}{number or ''}",
                head="clip-on",
            )
    for k in range(n_indoor // 8):
        branch = valves.add_unit(register, WHO, system_id=system.id, name=f"BU{k + 1}", kind="branch")
        for role in BRANCH:
            valves.add_valve(register, WHO, unit_id=branch.id, role=role, label=f"BU{k + 1}-{role[7:]}", head="clip-on")
        for at in range(8 * k + 1, 8 * k + 9):
            indoor = valves.add_unit(
                register, WHO, system_id=system.id, name=f"IU{at:02d}", kind="indoor", branch_unit=branch.name
            )
            valves.add_valve(register, WHO, unit_id=indoor.id, role="indoor", label=f"IU{at:02d}-valve", head="clip-on")
    return system.id


def timed(work: object) -> list[float]:
    """Seconds of each run. [s]"""
    spent = []
    for _ in range(RUNS):
        start = perf_counter()
        work()  # type: ignore[operator]
        spent.append(perf_counter() - start)
    return spent


def shown(spent: list[float]) -> str:
    """Median and 95th percentile."""
    ordered = sorted(spent)
    return f"{median(ordered) * 1e3:8.1f} ms {ordered[int(0.95 * len(ordered)) - 1] * 1e3:8.1f} ms"


def addition_loop_s() -> float:
    """Seconds that this machine takes for 10^6 float additions in a loop. [s]"""
    start, total = perf_counter(), 0.0
    for _ in range(1_000_000):
        total += 1.5
    return perf_counter() - start


if __name__ == "__main__":
    sys.exit(main())
