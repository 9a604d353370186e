"""Writes the example visit of an invented site and the truth about each of its valves, with a fixed seed.

    python tools/demo_site.py            writes src/fifthwire/demo/invented-site.visit.toml and .truth.toml
    python tools/demo_site.py --check    says whether they are current

Every head is drawn by the laws of the shipped priors: batch, winding and bobbin scatter, temperature, the meter's
gain, digits and resolution, leads and touch. Which fault a valve has, and what was looked at, is written here by hand.
"""

import sys
from pathlib import Path
from random import Random

from demo_draw import BOLT6, CLIP4, CLIP5, ROOM5, SOLENOID, Head, readings, resistances
from demo_running import running_text

SEED = 20260317
DEMO = Path(__file__).parent.parent / "src" / "fifthwire" / "demo"
SOUND_COIL = '[valves.inspection]\nrust = "none"\nseated = true\nconnector = "dry"'
SOUND_MOTOR = (
    '[valves.inspection]\ncracks = false\nconnector = "dry"\n\n'
    '[valves.movement]\nstem = "retracted"\nstem_mm = 0.3\nfelt = "steps"'
)


def outdoor() -> list[Head]:
    """Two outdoor units with five valves each."""
    return [
        Head("OU1-main1", "OU1", "main", BOLT6, number=1, tables=(SOUND_MOTOR,)),
        Head(
            "OU1-main2",
            "OU1",
            "main",
            BOLT6,
            number=2,
            truth="head-jammed",
            shows="replace-head",
            comment="All windings good, but the stem stands out with every valve driven open, and it only rocks.",
            tables=(
                '[valves.inspection]\ncracks = false\nconnector = "dry"\n\n'
                '[valves.movement]\nstem = "part-way"\nstem_mm = 6.5      # how far it stands out\nfelt = "rocking"\n\n'
                '[valves.board]\nwhen = "commanded"\nsupply = "12.1 V"\n'
                'pulses = { "1" = true, "3" = true, "4" = true, "6" = true }',
            ),
        ),
        Head(
            "OU1-subcooler",
            "OU1",
            "subcooler-bypass",
            CLIP5,
            truth="winding",
            shows="replace-head",
            fault={"open": "3"},
            comment="Wire 3 was tried from two other wires.",
            pairs=(("5", "1"), ("5", "2"), ("5", "3"), ("5", "4"), ("1", "3")),
            tables=(SOUND_COIL,),
        ),
        Head(
            "OU1-injection",
            "OU1",
            "injection",
            CLIP5,
            truth="head-unseated",
            shows="clean",
            comment="Rust under the coil, and it did not sit home.",
            tables=('[valves.inspection]\nrust = "heavy"\npitted = false\nseated = false\nconnector = "dry"',),
        ),
        Head(
            "OU1-hotgas",
            "OU1",
            "hot-gas-bypass",
            SOLENOID,
            tables=('[valves.inspection]\nrust = "none"\nseated = true\nconnector = "dry"',),
        ),
        Head(
            "OU2-main1",
            "OU2",
            "main",
            BOLT6,
            number=1,
            truth="head-cracked",
            shows="replace-head",
            comment="Cracked along the seam, and water in the plug.",
            tables=('[valves.inspection]\ncracks = true\nconnector = "wet"',),
        ),
        Head("OU2-main2", "OU2", "main", BOLT6, number=2, tables=(SOUND_MOTOR,)),
        Head(
            "OU2-subcooler",
            "OU2",
            "subcooler-bypass",
            CLIP5,
            temperature_c=61.0,
            comment="In the sun and just stopped: hot, so it reads high and is good.",
            tables=(SOUND_COIL + '\n\n[valves.movement]\nhand_magnet = "moves"',),
        ),
        Head(
            "OU2-injection",
            "OU2",
            "injection",
            CLIP5,
            truth="plug-or-harness",
            shows="repair-plug-or-harness",
            fault={"contact": {"2": 21.0}},
            comment="Pin 2 is green.",
            pairs=(("5", "1"), ("5", "2"), ("5", "3"), ("5", "4"), ("1", "2"), ("1", "3"), ("2", "3")),
            tables=('[valves.inspection]\nrust = "light"\nseated = true\nconnector = "corroded"',),
        ),
        Head(
            "OU2-hotgas",
            "OU2",
            "hot-gas-bypass",
            SOLENOID,
            shows="check-more",
            is_read=False,
            comment="Not measured: it sits behind the panel that would not come off.",
        ),
    ]


def indoor() -> list[Head]:
    """Twenty-four indoor units with one valve each."""
    special = {
        3: Head("", "", "", ROOM5, truth="board-output", shows="check-board",
                comment="Two like plugs exchanged at the board: the fault stayed at this output.",
                tables=(SOUND_COIL + '\n\n[valves.movement]\nfelt = "nothing"\nplug_swap = "fault-stays"\n\n'
                        '[valves.board]\nwhen = "commanded"\nsupply = "12.0 V"\n'
                        'pulses = { "1" = true, "2" = false, "3" = true, "4" = true }',)),
        5: Head("", "", "", ROOM5, is_common_known=False,
                pairs=(("1", "2"), ("3", "5"), ("4", "5"), ("1", "5"), ("2", "4")),
                comment="No page of the manual for the plug: nobody knew which wire is the common.",
                tables=(SOUND_COIL,)),
        8: Head("", "", "", ROOM5, truth="body-stuck-closed", shows="replace-body check-more check-refrigerant-side",
                comment="Good coil; neither the manual opening magnet nor a good coil moves the body.",
                tables=(SOUND_COIL + '\n\n[valves.movement]\nhand_magnet = "stuck"\nknown_good_head = "stuck"\n\n'
                        '[valves.board]\nwhen = "commanded"\npulses = true',)),
        9: Head("", "", "", ROOM5, truth="plug-or-harness", shows="repair-plug-or-harness",
                comment="Good at its own plug; through the harness wire 4 is open.", tables=(SOUND_COIL,)),
        12: Head("", "", "", ROOM5, shows="check-more", is_read=False, comment="Not measured: the room was in use."),
        14: Head("", "", "", ROOM5, truth="winding", shows="replace-head", fault={"shorted": {"2": 0.24}},
                 pairs=(("5", "1"), ("5", "2"), ("5", "3"), ("5", "4"), ("1", "2")), tables=(SOUND_COIL,)),
        17: Head("", "", "", ROOM5, shows="check-more", pairs=(("5", "1"), ("5", "2")),
                 comment="Called away after two readings.", tables=(SOUND_COIL,)),
        18: Head("", "", "", ROOM5, shows="keep watch", fault={"contact": {"3": 34.0}},
                 comment="Poor contact as found; good after the pin was cleaned.",
                 tables=('[valves.inspection]\nrust = "none"\nseated = true\nconnector = "dry"',)),
        20: Head("", "", "", ROOM5, truth="wrong-head", shows="check-more", fault={"scale": 0.62},
                 comment="Balanced, but far from the page.", tables=(SOUND_COIL,)),
        22: Head("", "", "", ROOM5, shows="check-more", fault={"missed": ("5", "4")},
                 comment="One open, tried once: it may be a missed probe.", tables=(SOUND_COIL,)),
        24: Head("", "", "", ROOM5, truth="sensor", shows="check-sensor",
                 comment="Its liquid-pipe sensor reads low; the coil and the valve are good.", tables=(SOUND_COIL,)),
    }  # fmt: skip
    heads = []
    for room in range(1, 25):
        head = special.get(room) or Head("", "", "", ROOM5, tables=(SOUND_COIL,))
        head.id, head.unit, head.role = f"IU{room:02d}-valve", f"IU{room:02d}", "indoor"
        head.temperature_c, head.temperature_from = 23.0, "air-after-1h"
        heads.append(head)
    return heads


def branches() -> list[Head]:
    """Three heat-recovery branch units with four valves each."""
    heads = []
    for unit in ("BU1", "BU2", "BU3"):
        for role, word in (("branch-liquid", "liquid"), ("branch-hot-gas", "hotgas"), ("branch-suction", "suction")):
            heads.append(Head(f"{unit}-{word}", unit, role, CLIP4, temperature_c=24.0, tables=(SOUND_COIL,)))
        heads.append(
            Head(f"{unit}-subcooler", unit, "branch-subcooler", ROOM5, temperature_c=24.0, tables=(SOUND_COIL,))
        )
    by_id = {head.id: head for head in heads}
    by_id["BU1-hotgas"].truth, by_id["BU1-hotgas"].shows = "winding", "replace-head"
    by_id["BU1-hotgas"].fault = {"open": "2"}
    by_id["BU1-hotgas"].pairs = (("1", "2"), ("3", "4"), ("1", "2"), ("1", "3"), ("2", "3"))
    by_id["BU1-hotgas"].comment = "Four wires; the pair 1 and 2 was read twice."
    six = by_id["BU2-suction"]
    six.kind, six.is_common_known = BOLT6, False
    six.comment = "Six wires, commons not known."
    six.pairs = (("1", "2"), ("2", "3"), ("1", "3"), ("4", "5"), ("5", "6"), ("4", "6"), ("1", "4"))
    six.tables = (SOUND_MOTOR,)
    return heads


HEADER = """\
# Example visit of Fifthwire. The site, the system, the units, the people and every number are INVENTED;
# the readings are drawn by the laws of the priors that the program ships. Any likeness to a real place is chance.
# What is really wrong with each valve stands beside this file, in invented-site.truth.toml.

format = "fifthwire/visit/1"

[visit]
id = "INVENTED-0001"
date = 2026-03-17
time_zone = "Europe/London"
technician = "T-3"
site = "Hollowmere Library (invented)"
system = "HM-1"
reason = "planned"
altitude = "55 m"

[system]
refrigerant = "R410A"
installed = 2014
mode = "off"
service_state = true            # every valve driven open, compressors off, and given time, before heads came off
service_state_minutes = 12

# What the service manuals say (all invented).

[specs.outdoor-coil]
winding = "unipolar-5"
resistance = "64 ohm"
tolerance = "10 %"
at = "20 degC"
full_stroke = 500
min_opening = 40
supply = "12 V"
source = "manual of the outdoor unit (invented), p. 41"

[specs.outdoor-motor]
winding = "unipolar-6"
resistance = "150 ohm"
tolerance = "10 %"
at = "20 degC"
full_stroke = 2000
supply = "12 V"
source = "manual of the outdoor unit (invented), p. 42"

[specs.indoor-coil]
winding = "unipolar-5"
resistance = "205 ohm"
tolerance = "10 %"
at = "20 degC"
full_stroke = 1000
supply = "12 V"
source = "manual of the indoor units (invented), p. 17"

[specs.branch-coil]
winding = "bipolar-4"
resistance = "92 ohm"
tolerance = "8 %"
at = "20 degC"
full_stroke = 1000
supply = "12 V"
source = "manual of the branch units (invented), p. 9"

[specs.gas-solenoid]
winding = "single-2"
resistance = "880 ohm"
tolerance = "8 %"
at = "20 degC"
source = "manual of the outdoor unit (invented), p. 43"

[meters.yellow]
ranges = [
  { to = "600 ohm", accuracy = "0.9 % + 2 digits", resolution = "0.1 ohm" },
  { to = "6 kohm", accuracy = "0.9 % + 2 digits", resolution = "1 ohm" },
]
leads = "0.2 ohm"               # probes shorted
check_resistor = ["100.0 ohm", "100.4 ohm"]
calibrated = 2025-11-03
"""
FOOTER = """
# Make safe: each step by the person who did it.

[[confirmations]]
what = "compressors-stopped"
by = "T-3"

[[confirmations]]
what = "valves-open-for-service"
by = "T-3"

[[confirmations]]
what = "locked-out"
value = "outdoor units, indoor units and branch units"
by = "T-3"

[[confirmations]]
what = "proved-dead"
by = "T-3"

[[confirmations]]
what = "bus-measured"
value = "2 V"
by = "T-3"

[[work]]
valve = "IU18-valve"
done = "repaired-plug-or-harness"

[[notes]]
about = "OU2-hotgas"
text = "Panel seized; bring a second pair of hands."

[[notes]]
about = "IU12-valve"
text = "Meeting in the room all day."
"""
TITLES = {"OU1": "Outdoor unit 1", "OU2": "Outdoor unit 2", "IU01": "Indoor units", "BU1": "Heat-recovery branch units"}


def visit_text() -> str:
    """The visit file."""
    parts, seen = [HEADER], set()
    for at, head in enumerate(outdoor() + indoor() + branches()):
        if head.unit in TITLES and head.unit not in seen:
            parts.append(f"\n# {TITLES[head.unit]}\n")
        seen.add(head.unit)
        parts.append(valve_text(head, Random(SEED + at)))
    return "".join([*parts, running_text(), FOOTER])


def valve_text(head: Head, draw: Random) -> str:
    """One valve's tables."""
    windings = resistances(head, draw)
    lines = ["", "[[valves]]"] + ([f"# {head.comment}"] if head.comment else [])
    lines += [f'id = "{head.id}"', f'unit = "{head.unit}"'] + ([f"number = {head.number}"] if head.number else [])
    lines.append(f'role = "{head.role}"')
    lines.append(f'head = "{head.kind.head}"' if head.kind.head else 'kind = "solenoid"')
    lines += [f'spec = "{head.kind.spec}"', 'meter = "yellow"', "head_installed = 2014-06-01"]
    if head.is_read:
        lines += [
            f'head_temperature = "{head.temperature_c:g} degC"',
            f'head_temperature_from = "{head.temperature_from}"',
        ]
        if head.is_common_known and head.kind.arrangement.startswith("unipolar"):
            lines.append('common = "5"' if head.kind.arrangement == "unipolar-5" else 'common = ["2", "5"]')
        lines += ["plug_off = true", *reading_lines("readings", readings(head, windings, draw)), *head.lines]
    lines += ["", *head.tables] if head.tables else []
    return "\n".join(lines + further(head, windings, draw)) + "\n"


def reading_lines(key: str, rows: list[str]) -> list[str]:
    """An array of readings, one a line where they are many."""
    if len(", ".join(rows)) < 84:
        return [f"{key} = [{', '.join(rows)}]"]
    return [f"{key} = [", *(f"  {row}," for row in rows), "]"]


def further(head: Head, windings: dict[tuple[str, str], float], draw: Random) -> list[str]:
    """Further measurements of two heads: through the harness, and after cleaning."""
    if head.id == "IU09-valve":
        head.fault, measured = {"open": "4"}, 'measured_at = "through-harness"'
        head.pairs = (("5", "1"), ("5", "2"), ("5", "3"), ("5", "4"), ("1", "4"))
    elif head.id == "IU18-valve":
        head.fault, measured = {}, 'when = "after-cleaning"'
    else:
        return []
    return ["", "[[valves.measurements]]", measured, *reading_lines("readings", readings(head, windings, draw))]


def truth_text() -> str:
    """What is really wrong with each valve, and what the visit's evidence is enough for."""
    lines = [
        "# The truth about each valve of the invented site.",
        "# cause: what is really wrong, in the words of an assessment.",
        "# action: what a careful technician does with the evidence of this visit; more than one may be right.",
        "",
    ]
    for head in outdoor() + indoor() + branches():
        actions = ", ".join(f'"{action}"' for action in head.shows.split())
        lines.append(f'"{head.id}" = {{ cause = "{head.truth}", action = [{actions}] }}')
    return "\n".join(lines) + "\n"


def main() -> int:
    """Write the files, or say whether they are current."""
    made = {DEMO / "invented-site.visit.toml": visit_text(), DEMO / "invented-site.truth.toml": truth_text()}
    if "--check" in sys.argv[1:]:
        stale = [path.name for path, text in made.items() if not path.exists() or path.read_text("utf-8") != text]
        if stale:
            sys.stderr.write(f"not current: {', '.join(stale)}\n")
        return 1 if stale else 0
    for path, text in made.items():
        path.write_text(text, "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
