"""Statements that lie beside a migration as `NAME.ENGINE.sql`; a blank line ends one."""

from importlib.resources import files

from sqlalchemy import Connection

VERSIONS = "fifthwire.register.migrations.versions"


def run_file(connection: Connection, name: str) -> None:
    """Run every statement of the file for this connection's engine."""
    text = files(VERSIONS).joinpath(f"{name}.{connection.dialect.name}.sql").read_text("utf-8")
    for statement in statements(text):
        connection.exec_driver_sql(statement)


def statements(text: str) -> list[str]:
    """The statements of a file, its comments left out.

    >>> statements("-- made\\n\\nA;\\n\\nB\\nC;\\n")
    ['A;', 'B\\nC;']
    """
    return [one.strip() for one in text.split("\n\n") if one.strip() and not one.startswith("--")]
