"""Writes the truth about the valves of the three invented sites, as the demo register is made from it.

python tools/demo_register.py            writes src/fifthwire/demo/invented-sites.truth.toml
python tools/demo_register.py --check    says whether it is current
"""

import sys
from pathlib import Path

from fifthwire.demo.office_places import SYSTEMS
from fifthwire.demo.office_story import DRIFTS, TROUBLES, Trouble

TRUTH = Path(__file__).parent.parent / "src" / "fifthwire" / "demo" / "invented-sites.truth.toml"
HEAD = """\
# The truth about the valves of three invented sites, 2023 to 2026. Written by tools/demo_register.py.
# A valve that stands in no table was good all the time. cause: in the words of an assessment; "sound": a false alarm.
# since: when it began. repaired: when it ended; left out: it is still there. drift: share a year of one winding.
"""


def truth_text() -> str:
    """The file."""
    sites = {system.name: system.site for system in SYSTEMS}
    parts = [HEAD, *(_fault(one, sites[one.system]) for one in TROUBLES)]
    for (system, valve), (winding, a_year, since) in DRIFTS.items():
        parts.append(
            f'[[drift]]\nsite = "{sites[system]}"\nsystem = "{system}"\nvalve = "{valve}"\n'
            f"winding = {winding + 1}\na_year = {a_year}\nsince = {since}\n"
        )
    return "\n".join(parts)


def _fault(one: Trouble, site: str) -> str:
    lines = [
        "[[fault]]",
        f'site = "{site}"',
        f'system = "{one.system}"',
        f'valve = "{one.valve}"',
        f'cause = "{one.cause}"',
        f"since = {one.since}",
        *([f"repaired = {one.repaired}"] if one.repaired else []),
    ]
    return "\n".join(lines) + "\n"


def main() -> int:
    """Write the file, or say whether it is current."""
    text = truth_text()
    if "--check" in sys.argv[1:]:
        is_current = TRUTH.exists() and TRUTH.read_text("utf-8") == text
        if not is_current:
            sys.stderr.write(f"not current: {TRUTH.name}\n")
        return 0 if is_current else 1
    TRUTH.write_text(text, "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
