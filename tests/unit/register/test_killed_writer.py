"""A writer killed at any moment; `make soak` does it 500 times each."""

import re
import subprocess
import sys
from pathlib import Path

from fifthwire.register.store import open_register

ROOT = Path(__file__).parents[3]


def test_nothing_acknowledged_is_lost_and_no_visit_is_half_there(register_url, engine_name):
    n = 15 if engine_name == "sqlite" else 8
    words = ["-m", "tests.soak.killed_writer", register_url, "--imports", str(n), "--additions", str(n), "--seed", "7"]

    ran = subprocess.run([sys.executable, *words], cwd=ROOT, capture_output=True, text=True, check=False)

    assert (ran.returncode, ran.stderr) == (0, "")
    counts = [int(one) for one in re.findall(r"(\d+) left no trace", ran.stdout)]
    assert sum(counts) > 0, f"nothing was killed before it was done: {ran.stdout}"
    open_register(register_url, create=False).close()
