"""A register on either engine, fresh for every test: `pytest_plugins` of `tests/conftest.py` names this module.

    def test_a_site_is_found_again(register): ...      runs once on SQLite and once on PostgreSQL

PostgreSQL: a cluster is started once a session in a temporary directory, reached by its socket alone. Where it is
missing the tests fail, unless FIFTHWIRE_WITHOUT_POSTGRESQL=1 says that they are to be left out.
"""

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

import psycopg
import pytest
from tools.chromium import postgresql

from fifthwire.register.store import Register, open_register

ENGINES: Final = ("sqlite", "postgresql")
POSTGRESQL: Final = postgresql()
"""Directory of initdb and pg_ctl."""
STARTS: Final = datetime(2026, 5, 12, 9, 0, tzinfo=UTC)


class Ticking:
    """A clock that goes on by a second whenever it is asked."""

    def __init__(self) -> None:
        self.now_utc = STARTS

    def __call__(self) -> datetime:
        self.now_utc += timedelta(seconds=1)
        return self.now_utc


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty register to copy: making one takes longer than copying it."""
    path = tmp_path_factory.mktemp("template") / "register.sqlite"
    open_register(str(path)).close()
    return path


@pytest.fixture(scope="session")
def postgresql_server() -> Iterator[str]:
    """Address of a cluster of this session, without the database's name."""
    if os.environ.get("FIFTHWIRE_WITHOUT_POSTGRESQL") == "1":
        pytest.skip("left out: FIFTHWIRE_WITHOUT_POSTGRESQL=1")
    if POSTGRESQL is None:
        pytest.fail(
            "PostgreSQL 15 is missing: on Debian, apt-get install postgresql-15, elsewhere set POSTGRESQL_BIN to where "
            "initdb is; or set FIFTHWIRE_WITHOUT_POSTGRESQL=1 to leave its tests out"
        )
    home = Path(tempfile.mkdtemp(prefix="fw-pg-", dir="/tmp"))  # short: a socket's path holds 107 characters
    try:
        _start(home)
        yield f"postgresql://fifthwire@/%s?host={home}"
    finally:
        _as_postgres([_program("pg_ctl"), "-D", str(home / "data"), "-m", "immediate", "-w", "stop"], home)
        shutil.rmtree(home, ignore_errors=True)


def _start(home: Path) -> None:
    if os.geteuid() == 0:
        postgres = pwd.getpwnam("postgres")
        os.chown(home, postgres.pw_uid, postgres.pw_gid)
    data = str(home / "data")
    made = ["-D", data, "-U", "fifthwire", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync"]
    _as_postgres([_program("initdb"), *made], home, check=True)
    options = f"-k {home} -h '' -F -c synchronous_commit=off -c full_page_writes=off -c max_connections=200"
    _as_postgres(
        [_program("pg_ctl"), "-D", data, "-o", options, "-l", str(home / "log"), "-w", "start"],
        home,
        check=True,
    )


def _program(name: str) -> str:
    assert POSTGRESQL is not None
    return str(POSTGRESQL / name)


def _as_postgres(words: list[str], home: Path, *, check: bool = False) -> None:
    """Run a program of PostgreSQL, which refuses to run as root."""
    who = ["setpriv", "--reuid=postgres", "--regid=postgres", "--clear-groups"] if os.geteuid() == 0 else []
    ran = subprocess.run([*who, *words], cwd=home, stdin=subprocess.DEVNULL, capture_output=True, text=True)
    if check and ran.returncode:
        raise RuntimeError(f"{words[0]}: {ran.stdout}{ran.stderr}")


@pytest.fixture(scope="session")
def postgresql_template(postgresql_server: str) -> str:
    """Name of a database that holds an empty register."""
    with psycopg.connect(postgresql_server % "postgres", autocommit=True) as server:
        server.execute("CREATE DATABASE template_register")
    open_register(postgresql_server % "template_register").close()
    return "template_register"


@pytest.fixture(params=ENGINES)
def engine_name(request: pytest.FixtureRequest) -> str:
    """Each engine in turn."""
    return str(request.param)


@pytest.fixture
def register_url(engine_name: str, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """Where a fresh register is, on each engine in turn."""
    if engine_name == "sqlite":
        path = tmp_path / "register.sqlite"
        shutil.copyfile(request.getfixturevalue("sqlite_template"), path)
        yield str(path)
        return
    template, server = request.getfixturevalue("postgresql_template"), request.getfixturevalue("postgresql_server")
    yield from fresh_database(server, template)


def fresh_database(server: str, template: str) -> Iterator[str]:
    """The address of a copy of a database, which is dropped at the end."""
    name = f"r{os.urandom(6).hex()}"
    with psycopg.connect(server % "postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name} TEMPLATE {template} STRATEGY FILE_COPY")
    yield server % name
    with psycopg.connect(server % "postgres", autocommit=True) as connection:
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture
def register(register_url: str) -> Iterator[Register]:
    """A fresh register, open, on each engine in turn; its clock starts on 12 May 2026 and ticks."""
    opened = open_register(register_url, create=False, clock=Ticking())
    yield opened
    opened.close()


@pytest.fixture
def sqlite_register(sqlite_template: Path, tmp_path: Path) -> Iterator[Register]:
    """A fresh register on SQLite alone, for what has nothing to do with the engine."""
    path = tmp_path / "register.sqlite"
    shutil.copyfile(sqlite_template, path)
    opened = open_register(str(path), create=False, clock=Ticking())
    yield opened
    opened.close()
