"""A disk that is full, may not be written, or a register that another program holds: a clear error, nothing lost."""

import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from tests.soak.killed_writer import visit_text

from fifthwire.model.errors import RegisterError
from fifthwire.model.kept.people import alone
from fifthwire.register import engines
from fifthwire.register.store import open_register
from fifthwire.workflow.register_place import check
from fifthwire.workflow.visits_kept import import_visit_file, list_visits, visit_of

OWNER = alone("rt")
ROOT = Path(__file__).parents[3]
ONE_IMPORT = """
import os
import sys
from fifthwire.model.errors import RegisterError
from fifthwire.register.store import open_register
from fifthwire.workflow.visits_kept import import_visit_file, list_visits
from fifthwire.model.kept.people import alone
from tests.soak.killed_writer import visit_text
if len(sys.argv) > 3:
    with open_register(sys.argv[3]) as scratch:  # loads everything while root's own files can be read
        import_visit_file(scratch, alone("rt"), visit_text(0), "a.visit.json")
    if os.geteuid() == 0:
        os.setuid(65534)  # root may write anywhere; nobody may not
try:
    with open_register(sys.argv[1], create=False) as register:
        for number in range(int(sys.argv[2]), 1000):
            import_visit_file(register, alone("rt"), visit_text(number), "a.visit.json")
except RegisterError as err:
    print(number if "number" in globals() else "-", "|", err.message, "|", err.hint)
"""


def taken_in(register, number):
    return import_visit_file(register, OWNER, visit_text(number), f"{number}.visit.json").kept


def test_a_full_disk_is_said_and_what_was_kept_before_is_there(sqlite_register):
    kept = taken_in(sqlite_register, 0)
    before = visit_of(sqlite_register, OWNER, kept.id)
    raw = sqlite_register._engine.raw_connection()  # the only connection of the pool: SQLite itself sets the limit
    pages = raw.cursor().execute("PRAGMA page_count").fetchone()[0]
    raw.cursor().execute(f"PRAGMA max_page_count = {pages + 2}")
    raw.close()

    with pytest.raises(RegisterError, match="The disk is full") as caught:
        for number in range(1, 50):
            taken_in(sqlite_register, number)

    assert "everything that was kept before is still there" in caught.value.hint
    assert "Make room" in caught.value.hint
    assert visit_of(sqlite_register, OWNER, kept.id) == before
    assert check(str(sqlite_register.where.path)).is_whole


def limited_size(limit_bytes):
    """Before the program starts: no file may grow beyond a size, and an attempt is an error, not a signal."""
    import resource

    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit_bytes, limit_bytes))


def test_a_file_that_may_not_grow_is_said_and_nothing_acknowledged_is_lost(sqlite_register):
    taken_in(sqlite_register, 0)
    path = sqlite_register.where.path
    limit = path.stat().st_size + path.with_name(path.name + "-wal").stat().st_size + 200_000

    ran = subprocess.run(
        [sys.executable, "-c", ONE_IMPORT, str(path), "1"],
        cwd=ROOT, capture_output=True, text=True, check=True, preexec_fn=lambda: limited_size(limit),
    )  # fmt: skip

    failed, message, hint = ran.stdout.strip().split(" | ")
    assert "cannot be read or written" in message or "The disk is full" in message
    assert "everything that was kept before" in hint
    assert list_visits(sqlite_register, OWNER).n_rows == int(failed) >= 1
    assert check(str(path)).is_whole


@pytest.fixture
def small_disk(tmp_path):
    """A disk of two megabytes, where this machine lets one be mounted."""
    at = tmp_path / "small"
    at.mkdir()
    ran = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", str(at)], capture_output=True, text=True)
    if ran.returncode:
        pytest.skip(f"no small disk can be mounted here ({ran.stderr.strip()}); the two tests above fill one otherwise")
    yield at
    subprocess.run(["umount", str(at)], check=True)


def test_a_disk_that_fills_up_is_said_and_every_visit_before_it_is_whole(small_disk, sqlite_template):
    path = small_disk / "register.sqlite"
    shutil.copyfile(sqlite_template, path)
    with open_register(str(path)) as register:
        number = 0
        with pytest.raises(RegisterError, match=r"full|cannot be read or written"):
            for number in range(1000):
                taken_in(register, number)

        assert list_visits(register, OWNER).n_rows == number > 0
        assert all(visit_of(register, OWNER, one.id).kept == one for one in list_visits(register, OWNER).rows)
    (small_disk / "register.sqlite-shm").unlink(missing_ok=True)
    assert check(str(path)).is_whole


def test_a_disk_that_may_not_be_written_is_said_and_nothing_is_changed(sqlite_template, tmp_path):
    home = Path(tempfile.mkdtemp(prefix="fw-ro-"))
    try:
        path = home / "register.sqlite"
        shutil.copyfile(sqlite_template, path)
        before = path.read_bytes()
        path.chmod(0o444)
        home.chmod(0o555)

        ran = subprocess.run(
            [sys.executable, "-c", ONE_IMPORT, str(path), "0", str(tmp_path / "scratch.sqlite")],
            cwd=ROOT, capture_output=True, text=True, check=True,
        )  # fmt: skip

        _, message, hint = ran.stdout.strip().split(" | ")
        assert "may not be written" in message or "cannot be opened" in message
        assert hint
        assert path.read_bytes() == before
    finally:
        home.chmod(0o755)
        shutil.rmtree(home)


def test_a_register_that_another_program_holds_is_said(sqlite_register, monkeypatch):
    monkeypatch.setattr(engines, "WAIT_S", 0.2)
    other = sqlite3.connect(sqlite_register.where.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        with open_register(str(sqlite_register.where.path)) as register:
            with pytest.raises(RegisterError, match="Another program is writing"):
                taken_in(register, 0)
            assert list_visits(register, OWNER).n_rows == 0
    finally:
        other.execute("ROLLBACK")
        other.close()
    assert taken_in(sqlite_register, 0).n_valves == 12


def test_a_lost_connection_is_said_with_what_to_do(register, engine_name):
    if engine_name == "sqlite":
        pytest.skip("a file has no connection to lose")
    from sqlalchemy import text

    with pytest.raises(RegisterError, match="cannot be reached") as caught, register.adding() as keep:
        keep.connection.execute(text("SELECT pg_terminate_backend(pg_backend_pid())"))

    assert "look whether it is there" in caught.value.hint
    assert list_visits(register, OWNER).n_rows == 0
