"""A writer killed at a random moment: nothing that was acknowledged is lost, and no visit is half there.

python -m tests.soak.killed_writer REGISTER --imports 500 --additions 500 --seed 1

Each trial is a process of its own that opens the register, writes once, and says so through a pipe once the call has
come back; it gets SIGKILL after a random time, up to a third longer than such a write takes when it is left alone.
"""

import argparse
import json
import os
import signal
import sys
import time
from collections.abc import Callable
from random import Random

from fifthwire.model.kept.people import alone
from fifthwire.register.store import Register, open_register
from fifthwire.workflow.register_place import check
from fifthwire.workflow.visits_kept import add_entry, import_visit_file, list_visits, visit_of

OWNER = alone("rt")
N_VALVES = 12
WARM = 3
"""Writes that are left alone at first: they say how long one takes, and load what is loaded once."""


def visit_text(number: int) -> bytes:
    """The file of one visit, of a dozen valves with five readings each."""
    tree = {
        "format": "fifthwire/visit/1",
        "visit": {"id": f"v{number}", "date": "2026-05-12", "site": "Quayside House", "system": "QH-1"},
        "specs": {"clip": {"winding": "unipolar-5", "resistance": 46}},
        "valves": [
            {
                "id": f"IU{n:02}-valve",
                "unit": f"IU{n:02}",
                "role": "indoor",
                "head": "clip-on",
                "spec": "clip",
                "readings": [["5", str(wire), 46.0 + number % 7] for wire in (1, 2, 3, 4, 1)],
            }
            for n in range(N_VALVES)
        ],
        "notes": [{"text": f"Visit {number}."}],
    }
    return json.dumps(tree).encode()


N_ENTRIES = 2 + N_VALVES * 6 + 1


class Trials:
    """Killed writes to one register."""

    def __init__(self, where: str, seed: int) -> None:
        self.where = where
        self.chance = Random(seed)
        self.n_acknowledged = 0
        self.n_kept_unsaid = 0
        self._takes_s = 0.5

    def run(
        self, n_trials: int, write: Callable[[Register, int], None], is_kept: Callable[[Register, int], bool]
    ) -> None:
        """So many trials of one kind of write.

        Raises
        ------
        AssertionError
            If something acknowledged is lost; `is_kept` raises it where something is half there.
        """
        for number in range(n_trials):
            wait_s = 60.0 if number < WARM else self.chance.uniform(0.0, self._takes_s * 4 / 3)
            start = time.perf_counter()
            is_said = self._killed(write, number, wait_s)
            if number < WARM:
                self._takes_s = time.perf_counter() - start
            with open_register(self.where, create=False) as register:
                is_there = is_kept(register, number)
            assert is_there or not is_said, f"write {number} was acknowledged and is lost"
            self.n_acknowledged += is_said
            self.n_kept_unsaid += is_there and not is_said

    def _killed(self, write: Callable[[Register, int], None], number: int, wait_s: float) -> bool:
        """Write in a process of its own and kill that; whether it said that the write was done."""
        reads, writes = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(reads)
            status = 1
            try:
                with open_register(self.where, create=False) as register:
                    write(register, number)
                    os.write(writes, b"done")
                status = 0
            finally:
                os._exit(status)
        os.close(writes)
        is_said = _read_within(reads, wait_s) == b"done"
        os.kill(child, signal.SIGKILL)
        _, status = os.waitpid(child, 0)
        is_said = is_said or os.read(reads, 4) == b"done"  # said just before the signal came
        os.close(reads)
        assert os.waitstatus_to_exitcode(status) in (0, -signal.SIGKILL), "the writer failed by itself"
        return is_said


def _read_within(reads: int, wait_s: float) -> bytes:
    import select

    ready, _, _ = select.select([reads], [], [], wait_s)
    return os.read(reads, 4) if ready else b""


def import_one(register: Register, number: int) -> None:
    """Take one visit in."""
    import_visit_file(register, OWNER, visit_text(number), f"{number}.visit.json")


def is_whole_visit_kept(register: Register, number: int) -> bool:
    """Whether the visit is there, with every entry of its file."""
    there = [one for one in _visits(register) if _identity(register, one.id) == f"v{number}"]
    assert len(there) <= 1, f"visit {number} is kept twice"
    for one in there:
        whole = visit_of(register, OWNER, one.id)
        assert len(whole.entries) == one.n_entries == N_ENTRIES, f"half a visit: {len(whole.entries)} entries"
        assert len(whole.valve_ids) == N_VALVES, "half a visit: valves that are not known"
    return bool(there)


def _visits(register: Register) -> list[object]:
    rows, page = [], 1
    while True:
        found = list_visits(register, OWNER, page=page)
        rows += found.rows
        if page >= found.n_pages:
            return rows
        page += 1


def _identity(register: Register, visit_id: str) -> str:
    from fifthwire.register.visits import identity_kept

    with register.reading() as keep:
        return identity_kept(keep, visit_id)


def adds_to(visit_id: str) -> tuple[Callable[[Register, int], None], Callable[[Register, int], bool]]:
    """Adding one note to a visit, and whether it is there."""

    def add_one(register: Register, number: int) -> None:
        add_entry(register, OWNER, visit_id, "notes", {"text": f"Addition {number}."}, entry=f"n{number}")

    def is_addition_kept(register: Register, number: int) -> bool:
        whole = visit_of(register, OWNER, visit_id)
        assert whole.kept.n_entries == len(whole.entries) == whole.kept.version, "the count is not that of the entries"
        there = [one for one in whole.entries if one.id == f"n{number}"]
        assert len(there) <= 1
        return bool(there)

    return add_one, is_addition_kept


def run(where: str, *, n_imports: int, n_additions: int, seed: int) -> str:
    """Every trial, then the register looked through from end to end; what came of it, in words."""
    open_register(where).close()
    imports, additions = Trials(where, seed), Trials(where, seed + 1)
    imports.run(n_imports, import_one, is_whole_visit_kept)
    with open_register(where, create=False) as register:
        import_visit_file(register, OWNER, visit_text(0), "0.visit.json")
        visit_id = next(one.id for one in _visits(register) if _identity(register, one.id) == "v0")
    additions.run(n_additions, *adds_to(visit_id))
    found = check(where)
    assert found.is_whole, found.problems
    return "; ".join(
        f"{n} {name} killed: {of.n_acknowledged} acknowledged, all kept; {of.n_kept_unsaid} kept unsaid; "
        f"{n - of.n_acknowledged - of.n_kept_unsaid} left no trace"
        for n, name, of in ((n_imports, "imports", imports), (n_additions, "additions", additions))
    )


def main() -> int:
    """From the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.soak.killed_writer")
    parser.add_argument("register", help="where a new one is made")
    parser.add_argument("--imports", type=int, default=500)
    parser.add_argument("--additions", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    print(run(asked.register, n_imports=asked.imports, n_additions=asked.additions, seed=asked.seed))
    return 0


if __name__ == "__main__":
    sys.exit(main())
