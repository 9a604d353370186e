"""Writes the generated parts of the documentation: `make docs`. With --check it only says whether they are current.

The option tables of the command pages come from the parser; the invented site and the format pages from their own
generators.
"""

import argparse
import subprocess
import sys
from pathlib import Path

from fifthwire.cli.parser import COMMANDS, build_parser

ROOT = Path(__file__).parent.parent
PAGES = ROOT / "docs" / "commands"
BEGIN, END = "<!-- options: written by make docs -->", "<!-- end of options -->"
GENERATORS = ("tools/demo_site.py", "tools/formats.py", "tools/verdict_page.py", "tools/texts.py")
"""Each writes its own files, and with --check says whether they are current."""


def option_table(command: str) -> str:
    """The arguments and options of a command as a table."""
    parser = build_parser()
    commands = next(action for action in parser._actions if isinstance(action, argparse._SubParsersAction))
    rows = ["| write | for |", "|---|---|"]
    for action in commands.choices[command]._actions:
        says = (action.help or "").replace("%%", "%").replace("|", "\\|")
        rows.append(f"| {_names(action)} | {says} |")
    return "\n".join(rows)


def _names(action: argparse.Action) -> str:
    metavars = action.metavar if isinstance(action.metavar, tuple) else (action.metavar,) if action.metavar else ()
    value = " ".join(metavars) or "\\|".join(str(choice) for choice in action.choices or ())
    if not action.option_strings:
        return f"`{value}`"
    shown = f" {value}" if value and action.nargs != 0 else ""
    return ", ".join(f"`{name}{shown}`" for name in action.option_strings)


def page_with_table(text: str, command: str) -> str:
    """A command's page with its table written anew."""
    before, _, rest = text.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}\n{option_table(command)}\n{END}{after}"


def main() -> int:
    """Write what is generated, or say what is not current."""
    is_check = "--check" in sys.argv[1:]
    stale = []
    for command in COMMANDS:
        page = PAGES / f"{command}.md"
        text = page.read_text("utf-8")
        new = page_with_table(text, command)
        if new != text:
            stale.append(str(page.relative_to(ROOT)))
            if not is_check:
                page.write_text(new, "utf-8")
    for generator in GENERATORS:
        if not (ROOT / generator).exists():
            continue
        ran = subprocess.run([sys.executable, generator, *(["--check"] if is_check else [])], cwd=ROOT, check=False)
        if ran.returncode:
            stale.append(generator)
    for name in stale if is_check else ():
        sys.stderr.write(f"not current: {name}\n")
    return 1 if is_check and stale else 0


if __name__ == "__main__":
    sys.exit(main())
