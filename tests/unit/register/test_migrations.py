"""The tables that a migration makes are those that the program describes, on both engines."""

import subprocess
import sys
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import inspect
from tests.register_fixtures import fresh_database

from fifthwire.register.engines import engine_for
from fifthwire.register.migrations import HEAD, KNOWN
from fifthwire.register.store import open_register
from fifthwire.register.tables import METADATA
from fifthwire.register.upgrading import VERSION_TABLE, run_to
from fifthwire.register.wheres import where_of

ROOT = Path(__file__).parents[3]
BY_HAND = ("search_index", "word_vector")
"""What tables cannot say: the full-text index, and the column that PostgreSQL works out for it."""


def is_of_metadata(_object, name, _kind, is_reflected, _other):
    return not (is_reflected and name is not None and name.startswith(BY_HAND))


def test_a_new_register_has_exactly_the_tables_that_the_program_describes(register):
    with register.reading() as keep:
        options = {"version_table": VERSION_TABLE, "include_object": is_of_metadata, "compare_type": True}
        context = MigrationContext.configure(keep.connection, opts=options)

        assert compare_metadata(context, METADATA) == []


def test_a_table_that_differs_is_noticed(register):
    """The check above can fail: without it, it would say nothing."""
    from sqlalchemy import text

    with register.adding() as keep:
        keep.connection.execute(text("ALTER TABLE notes ADD COLUMN more TEXT"))
    with register.reading() as keep:
        context = MigrationContext.configure(keep.connection, opts={"include_object": is_of_metadata})

        assert [change[0] for change in compare_metadata(context, METADATA) if change[0] == "remove_column"]


def test_the_statements_are_those_that_the_tool_writes():
    ran = subprocess.run(
        [sys.executable, "tools/migration.py", "--check"], cwd=ROOT, capture_output=True, text=True, check=False
    )

    assert (ran.returncode, ran.stderr) == (0, "")


def test_the_versions_that_are_named_are_those_that_there_are():
    config = Config()
    config.set_main_option("script_location", "fifthwire.register:migrations")
    scripts = ScriptDirectory.from_config(config)

    assert scripts.get_heads() == [HEAD]
    assert tuple(reversed([script.revision for script in scripts.walk_revisions()])) == KNOWN


@pytest.mark.parametrize("version", KNOWN)
def test_a_register_of_every_version_is_brought_up(version, engine_name, tmp_path, request):
    if engine_name == "sqlite":
        places = iter([str(tmp_path / "old.sqlite")])
    else:
        places = fresh_database(request.getfixturevalue("postgresql_server"), "template0")
    where = next(places)
    engine = engine_for(where_of(where))
    with engine.connect() as connection, connection.begin():
        run_to(connection, version)
    engine.dispose()

    with open_register(where, create=False) as register, register.reading() as keep:
        context = MigrationContext.configure(
            keep.connection, opts={"version_table": VERSION_TABLE, "include_object": is_of_metadata}
        )
        assert (compare_metadata(context, METADATA), context.get_current_revision()) == ([], HEAD)
    next(places, None)


def test_opening_again_changes_nothing_and_needs_no_alembic(register_url):
    code = (
        "import sys; from fifthwire.register.store import open_register; "
        f"open_register({register_url!r}).close(); print('alembic' in sys.modules)"
    )

    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert ran.stdout.strip() == "False"


def test_a_register_that_is_made_twice_at_once_is_made_once(tmp_path):
    path = str(tmp_path / "r.sqlite")
    code = f"from fifthwire.register.store import open_register; open_register({path!r}).close()"

    running = [subprocess.Popen([sys.executable, "-c", code]) for _ in range(4)]

    assert [one.wait(120) for one in running] == [0, 0, 0, 0]
    with open_register(path, create=False) as register, register.reading() as keep:
        assert len(inspect(keep.connection).get_table_names()) > len(METADATA.tables)


@pytest.mark.parametrize("name", sorted(METADATA.tables))
def test_every_table_has_a_key(name):
    assert METADATA.tables[name].primary_key.columns
