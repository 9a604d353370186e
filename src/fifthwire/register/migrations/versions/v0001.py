"""The tables as first released, in the words of each engine: two files, written by `tools/migration.py`."""

from alembic import op

from fifthwire.register.migrations.statements import run_file

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make every table."""
    run_file(op.get_bind(), "v0001")
