"""Big registers to measure on: 200 sites, 2,000 systems, 100,000 valves, 2 million readings, on each engine.

They are made by `tools/big_register.py`, which takes some minutes and 2 GB each, and are gone at the end. Addresses in
the environment variable FIFTHWIRE_BENCH_REGISTERS, parted by spaces, are used in place of new ones.
"""

import os
import pwd
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

VARIABLE: Final = "FIFTHWIRE_BENCH_REGISTERS"
POSTGRESQL: Final = Path("/usr/lib/postgresql/15/bin")
TOOL: Final = Path(__file__).parent.parent / "tools" / "big_register.py"


@contextmanager
def big_registers(scale: float = 1.0) -> Iterator[list[str]]:
    """Addresses of big registers, one an engine; without PostgreSQL on this machine, of the SQLite one alone.

    Parameters
    ----------
    scale : float
        Share of all of it. [1]
    """
    given = os.environ.get(VARIABLE, "").split()
    if given:
        yield given
        return
    home = Path(tempfile.mkdtemp(prefix="fw-big-", dir="/tmp"))  # short: a socket's path holds 107 characters
    try:
        urls = [str(home / "big.sqlite")]
        if (POSTGRESQL / "initdb").exists():
            urls.append(_start(home))
        else:
            sys.stdout.write(f"left out: PostgreSQL 15, which is not at {POSTGRESQL}\n")
        for url in urls:
            subprocess.run([sys.executable, str(TOOL), url, "--scale", str(scale)], check=True, capture_output=True)
        yield urls
    finally:
        if (home / "pg" / "postmaster.pid").exists():
            _as_postgres([str(POSTGRESQL / "pg_ctl"), "-D", str(home / "pg"), "-m", "fast", "-w", "stop"], home)
        shutil.rmtree(home, ignore_errors=True)


def _start(home: Path) -> str:
    """A cluster of its own, reached by its socket alone, set up as it comes; the address of an empty database."""
    if os.geteuid() == 0:
        os.chown(home, pwd.getpwnam("postgres").pw_uid, -1)
    data = str(home / "pg")
    made = ["-D", data, "-U", "fifthwire", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8"]
    _as_postgres([str(POSTGRESQL / "initdb"), *made], home)
    options = f"-k {home} -h '' -c shared_buffers=512MB -c max_wal_size=4GB"
    _as_postgres([str(POSTGRESQL / "pg_ctl"), "-D", data, "-o", options, "-l", str(home / "log"), "-w", "start"], home)
    _as_postgres([str(POSTGRESQL / "createdb"), "-h", str(home), "-U", "fifthwire", "big"], home)
    return f"postgresql://fifthwire@/big?host={home}"


def _as_postgres(words: list[str], home: Path) -> None:
    """Run a program of PostgreSQL, which refuses to run as root."""
    who = ["setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups"] if os.geteuid() == 0 else []
    subprocess.run([*who, *words], cwd=home, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, check=True)
