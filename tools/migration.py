"""Write the statements that make every table of the register, for each engine.

Run after changing a table, as long as no version with these tables is released:

    python tools/migration.py            write them
    python tools/migration.py --check    say whether they are current
"""

import sys
from pathlib import Path
from typing import Final

from sqlalchemy import Dialect
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.schema import CreateIndex, CreateTable

from fifthwire.register.tables import METADATA
from fifthwire.register.tables.schema import BY_HAND

VERSIONS: Final = Path(__file__).parent.parent / "src" / "fifthwire" / "register" / "migrations" / "versions"
DIALECTS: Final[dict[str, Dialect]] = {
    "sqlite": sqlite.dialect(),
    "postgresql": postgresql.dialect(),  # type: ignore[no-untyped-call]
}
HEAD: Final = "-- Written by tools/migration.py from the tables of the register. A blank line ends a statement."


def text_for(name: str) -> str:
    """The statements of one engine."""
    dialect = DIALECTS[name]
    made = [HEAD]
    for table in METADATA.sorted_tables:
        made.append(_statement(str(CreateTable(table).compile(dialect=dialect))))
        made += [
            _statement(str(CreateIndex(index).compile(dialect=dialect)))
            for index in sorted(table.indexes, key=lambda one: str(one.name))
        ]
    made += [_statement(one) for one in BY_HAND[name]]
    return "\n\n".join(made) + "\n"


def _statement(written: str) -> str:
    """Without blank lines, which would end it, and with one semicolon at its end."""
    lines = [line.rstrip() for line in written.expandtabs(4).splitlines() if line.strip()]
    return "\n".join(lines).rstrip("; ") + ";"


def main(words: list[str]) -> int:
    """Write or check both files."""
    is_check = "--check" in words
    stale = []
    for name in DIALECTS:
        path, text = VERSIONS / f"v0001.{name}.sql", text_for(name)
        if not path.exists() or path.read_text("utf-8") != text:
            stale.append(path.name)
            if not is_check:
                path.write_text(text, "utf-8")
    if is_check and stale:
        print(f"not current: {', '.join(stale)}; run python tools/migration.py", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
