"""Fills a register with an invented company: 200 sites, 2,000 systems, 100,000 valves, 2 million readings.

    python tools/big_register.py PATH|postgresql://...             all of it
    python tools/big_register.py PATH|postgresql://... --scale 0.01

The rows are written in bulk, past the steps of the program, since those would take a day; a small one is compared with
the program's own in the tests. Judgements (their JSON) are kept of each system's latest visit alone; reports of none.
"""

import sys
from argparse import ArgumentParser
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, date, datetime
from random import Random
from time import perf_counter
from typing import Any, Final

from sqlalchemy import Connection, Table

from big_register_rows import BigSystem, rows_of_system, rows_of_the_company
from fifthwire.register.store import Register, open_register
from fifthwire.register.tables import METADATA

N_SITES: Final = 200
SYSTEMS_A_SITE: Final = 10
SEED: Final = 20260512
BATCH_ROWS: Final = 20_000


def main(argv: Sequence[str] | None = None) -> int:
    """Fill the register that the words name."""
    parser = ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("register", help="path of a new SQLite file, or postgresql://...")
    parser.add_argument("--scale", type=float, default=1.0, help="share of all of it; left out: 1")
    words = parser.parse_args(argv)
    began = perf_counter()
    with open_register(words.register) as register:
        counts = fill(register, words.scale)
    for name, count in counts.items():
        sys.stdout.write(f"{count:>10,} {name}\n")
    sys.stdout.write(f"{perf_counter() - began:>10.1f} s\n")
    return 0


def fill(register: Register, scale: float = 1.0) -> dict[str, int]:
    """Write an invented company into an empty register.

    Parameters
    ----------
    register : Register
        Empty.
    scale : float
        Share of 200 sites. [1]

    Returns
    -------
    dict
        How many rows of each table.
    """
    n_sites = max(1, round(N_SITES * scale))
    counts: dict[str, int] = {}
    with register.adding() as keep:
        if keep.dialect == "sqlite":
            keep.connection.exec_driver_sql("PRAGMA defer_foreign_keys = ON")
        for rows in _parts(n_sites):
            for name, of_table in rows.items():
                _write(keep.connection, keep.dialect, METADATA.tables[name], of_table)
                counts[name] = counts.get(name, 0) + len(of_table)
    with register.adding() as keep:
        if keep.dialect == "postgresql":  # as its own housekeeping does within the next minutes
            keep.connection.exec_driver_sql("ANALYZE")
    return counts


def _parts(n_sites: int) -> Iterator[dict[str, list[dict[str, Any]]]]:
    """The rows, gathered into batches by table, each table after those that it points to."""
    rng = Random(SEED)
    yield rows_of_the_company(n_sites)
    held: dict[str, list[dict[str, Any]]] = {}
    for site in range(n_sites):
        for number in range(SYSTEMS_A_SITE):
            for name, rows in rows_of_system(rng, BigSystem(site=site, number=number)).items():
                held.setdefault(name, []).extend(rows)
        if len(held["visit_entries"]) >= BATCH_ROWS:
            yield held
            held = {}
    yield held


def _write(connection: Connection, dialect: str, table: Table, rows: Sequence[dict[str, Any]]) -> None:
    if not rows:
        return
    names = list(rows[0])
    if dialect == "sqlite":
        marks = ", ".join("?" for _ in names)
        quoted = ", ".join(f'"{name}"' for name in names)
        raw = connection.connection.driver_connection
        assert raw is not None
        raw.executemany(f'INSERT INTO "{table.name}" ({quoted}) VALUES ({marks})', _bound(rows, names, _for_sqlite))
        return
    raw = connection.connection.driver_connection
    assert raw is not None
    columns = ", ".join(f'"{name}"' for name in names)
    with raw.cursor() as cursor, cursor.copy(f'COPY "{table.name}" ({columns}) FROM STDIN') as copy:
        for row in _bound(rows, names, lambda value: value):
            copy.write_row(row)


def _bound(rows: Iterable[dict[str, Any]], names: Sequence[str], bind: Any) -> Iterator[tuple[Any, ...]]:
    return (tuple(bind(row[name]) for name in names) for row in rows)


def _for_sqlite(value: Any) -> Any:
    """As SQLAlchemy writes it into SQLite."""
    if isinstance(value, datetime):
        return value.astimezone(UTC).strftime("%Y-%m-%d %H:%M:%S.%f")
    if isinstance(value, date):
        return value.isoformat()
    return int(value) if isinstance(value, bool) else value


if __name__ == "__main__":
    sys.exit(main())
