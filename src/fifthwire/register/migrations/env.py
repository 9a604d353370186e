"""Run by Alembic: the migrations go through the connection, and inside the transaction, that the program holds."""

from alembic import context

from fifthwire.register.tables.schema import METADATA
from fifthwire.register.upgrading import VERSION_TABLE

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    version_table=VERSION_TABLE,
    transactional_ddl=False,  # the program's own transaction holds all of it
)
context.run_migrations()
