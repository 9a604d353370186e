"""Made logs: ten plant-days at one minute of 24 units with three faults, from the plant to the bytes of the table."""

from time import perf_counter, process_time

from benchmarks.whole_process import addition_loop_s
from fifthwire.circuit.logs.clock import LogPlan
from fifthwire.circuit.logs.make import make_log
from fifthwire.model.plant import Fault, Plant, PlantUnit

UNITS_KW = (2.2, 2.8, 3.6, 3.6, 4.5, 7.1)
DAYS = 10.0
FAULTS = (
    Fault(valve="IU03", stuck_frac=0.2),
    Fault(valve="subcooler-bypass", stuck_frac=0.9),
    Fault(sensor="IU05/gas_pipe", offset_k=4.0),
)


def main() -> int:
    """Measure and print."""
    print(f"a loop of 10^6 float additions     {addition_loop_s() * 1e3:8.1f} ms")
    units = tuple(PlantUnit(id=f"IU{at + 1:02d}", capacity_kw=UNITS_KW[at % len(UNITS_KW)]) for at in range(24))
    plant = Plant(refrigerant="R410A", units=units, faults=FAULTS)
    start, busy = perf_counter(), process_time()
    made = make_log(plant, LogPlan(days=DAYS, seed=1), name="benchmark")
    moved, spent = perf_counter(), process_time() - busy
    table = made.table()
    written = perf_counter()
    moving = made.moving
    print(f"{DAYS:g} days at one minute, 24 units        {moved - start:8.1f} s to move, property tables included")
    print(f"of which the processor was busy      {spent:8.1f} s, both cores together")
    print(f"its table, {len(table) / 1e6:.1f} MB              {written - moved:8.1f} s to write")
    print(f"steps with the compressors running {int(moving.runs.sum()):8d}, solved twice each")
    print(f"steps without a steady state       {int(moving.is_held.sum()):8d}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
