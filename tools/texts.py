"""Writes the catalogue of the pages' texts, `web/locale/fifthwire.pot`. With --check it says whether it is current.

A translation begins as a copy of it: `web/locale/LANGUAGE.po`. Languages that are there are brought up to date: texts
that are new stand in them untranslated, texts that are gone are taken out.
"""

import sys
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Final

from babel.messages import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

ROOT: Final = Path(__file__).resolve().parent.parent
WEB: Final = ROOT / "src" / "fifthwire" / "web"
LOCALE: Final = WEB / "locale"
SOURCES: Final = [("**/templates/**.html", "jinja2.ext:babel_extract"), ("**.py", "python")]
OPTIONS: Final = {"**/templates/**.html": {"trimmed": "true", "encoding": "utf-8"}}
KEYWORDS: Final = {"_": None, "ngettext": (1, 2)}
WHEN: Final = datetime(2026, 1, 1, tzinfo=UTC)
"""The same for every run, so that the file changes only with its texts."""


def catalogue() -> Catalog:
    """Every text of the pages with the files that it stands in."""
    made = Catalog(
        project="Fifthwire",
        version="1",
        creation_date=WHEN,
        revision_date=WHEN,
        last_translator="nobody yet",
        language_team="nobody yet",
        msgid_bugs_address="none",
        fuzzy=False,
    )
    made.header_comment = "# Texts of the pages of Fifthwire. Apache-2.0. Written by tools/texts.py."
    found = extract_from_dir(
        str(WEB), method_map=SOURCES, options_map=OPTIONS, keywords={"_": None, "ngettext": (1, 2)}
    )
    for name, _line, message, _comments, _context in sorted(found, key=lambda one: (one[0], one[1])):
        made.add(message, locations=[(Path(name).as_posix(), 0)])
    return made


def written(of: Catalog) -> bytes:
    """A catalogue as a file."""
    out = BytesIO()
    write_po(out, of, width=110, sort_output=True, include_lineno=False, omit_header=False)
    return out.getvalue()


def files() -> dict[Path, bytes]:
    """What the files of the catalogue and of every language should hold."""
    made = catalogue()
    out = {LOCALE / "fifthwire.pot": written(made)}
    for path in sorted(LOCALE.glob("*.po")):
        translation = read_po(BytesIO(path.read_bytes()), locale=path.stem)
        translation.update(made, no_fuzzy_matching=True, update_creation_date=False)
        translation.obsolete.clear()
        out[path] = written(translation)
    return out


def main() -> int:
    """Write what is not current, or with --check name it; 1 where something was not."""
    stale = {path: content for path, content in files().items() if not path.exists() or path.read_bytes() != content}
    if "--check" in sys.argv[1:]:
        for path in stale:
            print(f"{path.relative_to(ROOT)} is not current: make docs", file=sys.stderr)
        return 1 if stale else 0
    LOCALE.mkdir(exist_ok=True)
    for path, content in stale.items():
        path.write_bytes(content)
    return 0


if __name__ == "__main__":
    sys.exit(main())
