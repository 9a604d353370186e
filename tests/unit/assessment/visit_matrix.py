# ruff: noqa: E501 - one visit a line is read like a list
"""Visits of one valve as a technician would judge them: what was found, and what is right to do about it.

All are invented. The judgement is common practice; where two answers are right, both stand.
"""

from dataclasses import dataclass, field

from tests.judged_visits import ALL_OPEN, GOOD_FIVE, HIGH_ONE, OPEN_ONCE, OPEN_THREE

OPEN_FOR_SERVICE = "installed = 2014\nservice_state = true\nservice_state_minutes = 10"
SWINGS = '[valves.board]\nwhen = "commanded"\nsupply = "12.1 V"\npulses = true'
MISSING = '[valves.board]\nwhen = "commanded"\npulses = { "1" = true, "2" = false, "3" = true, "4" = true }'
GOOD = f"readings = {GOOD_FIVE}"


@dataclass(frozen=True)
class Told:
    """One visit and what it should come to."""

    name: str
    valve: str
    action: tuple[str, ...]
    leading: tuple[str, ...]
    verdict: str = "sound"
    head: str = "clip-on"
    system: str = "installed = 2014"
    meter: str = ""
    after: str = ""
    urgency: str | None = None
    check: str | None = None
    because: str | None = None
    warning: str | None = None
    more: dict[str, str] = field(default_factory=dict)


def inspection(text: str) -> str:
    return f"{GOOD}\n[valves.inspection]\n{text}"


def movement(text: str) -> str:
    return f"{GOOD}\n[valves.movement]\n{text}"


# fmt: off
MATRIX = (
    # a good valve
    Told("good motor, stem back with all valves open", movement('stem = "retracted"\nstem_mm = 0.5'), ("keep",), ("sound",), head="bolt-on", system=OPEN_FOR_SERVICE, urgency="none"),
    Told("good motor felt stepping", movement('felt = "steps"') + "\n" + SWINGS, ("keep",), ("sound",), head="bolt-on"),
    Told("good coil, no rust, latched", inspection('rust = "none"\nseated = true'), ("keep",), ("sound",)),
    Told("good coil, body moved by the magnet", movement('hand_magnet = "moves"'), ("keep",), ("sound",)),
    Told("good windings of a motor and nothing else", GOOD, ("check-more",), ("sound",), head="bolt-on", system=OPEN_FOR_SERVICE, check="stem-in-service-state", urgency="none"),
    Told("good windings of a coil and nothing else", GOOD, ("check-more",), ("sound",), urgency="none"),
    Told("a coil that hums is driven, not seen to move", movement('felt = "steps"'), ("check-more",), ("sound",), because="does not prove movement"),
    Told("only the plug was looked at", inspection('connector = "dry"'), ("check-more",), ("sound",)),
    # a stem
    Told("stem back, but outside the service state", movement('stem = "retracted"'), ("check-more",), ("sound",), head="bolt-on", because="proves nothing"),
    Told("stem out, outside the service state", movement('stem = "extended"\nstem_mm = 8'), ("check-more",), ("sound",), head="bolt-on", because="proves nothing"),
    Told("stem out in the service state, no pulses measured", movement('stem = "extended"\nstem_mm = 6'), ("check-more",), ("head-jammed",), head="bolt-on", system=OPEN_FOR_SERVICE, check="pulses-at-board"),
    Told("stem out in the service state, every phase swings", movement('stem = "extended"\nstem_mm = 6') + "\n" + SWINGS, ("replace-head",), ("head-jammed",), head="bolt-on", system=OPEN_FOR_SERVICE, urgency="planned"),
    Told("stem part-way by word alone, every phase swings", movement('stem = "part-way"') + "\n" + SWINGS, ("replace-head",), ("head-jammed",), head="bolt-on", system=OPEN_FOR_SERVICE),
    Told("stem out, service state a minute old", movement('stem = "extended"\nstem_mm = 6') + "\n" + SWINGS, ("check-more",), ("sound",), head="bolt-on", system="installed = 2014\nservice_state = true\nservice_state_minutes = 1", because="proves nothing", warning="1 min"),
    Told("stem out, minutes not written", movement('stem = "extended"\nstem_mm = 6') + "\n" + SWINGS, ("replace-head",), ("head-jammed",), head="bolt-on", system="installed = 2014\nservice_state = true", warning="long"),
    Told("stem out while the board was at rest", movement('stem = "extended"\nstem_mm = 6') + '\n[valves.board]\nwhen = "at-rest"\npulses = false', ("check-more",), ("head-jammed",), head="bolt-on", system=OPEN_FOR_SERVICE, because="at rest"),
    Told("a stem written of a coil", movement('stem = "extended"\nstem_mm = 6'), ("check-more",), ("sound",), system=OPEN_FOR_SERVICE, warning="stem"),
    # rocking
    Told("rocking, windings pass, every phase swings", movement('felt = "rocking"') + "\n" + SWINGS, ("replace-head", "check-more"), ("head-jammed",), head="bolt-on"),
    Told("rocking, a phase is missing at the board", movement('felt = "rocking"') + "\n" + MISSING, ("check-board", "check-more"), ("board-output",), head="bolt-on"),
    Told("rocking, a winding is open", f"readings = {OPEN_THREE}\n[valves.movement]\nfelt = \"rocking\"\n{SWINGS}", ("replace-head",), ("winding",), verdict="faulty", head="bolt-on"),
    Told("rocking, the board not measured", movement('felt = "rocking"'), ("check-more",), ("head-jammed",), head="bolt-on"),
    Told("nothing felt at a board at rest", movement('felt = "nothing"') + '\n[valves.board]\nwhen = "at-rest"\npulses = false', ("check-more",), ("sound",), head="bolt-on", because="at rest"),
    # cracks
    Told("cracked motor, dry, works", inspection('cracks = true\nconnector = "dry"') + '\n[valves.movement]\nstem = "retracted"\nfelt = "steps"', ("replace-head",), ("head-cracked",), head="bolt-on", system=OPEN_FOR_SERVICE, urgency="planned"),
    Told("cracked motor, wet", inspection('cracks = true\nconnector = "wet"'), ("replace-head",), ("head-cracked",), head="bolt-on", urgency="now"),
    Told("cracked motor, not measured", "[valves.inspection]\ncracks = true", ("replace-head",), ("head-cracked",), verdict="not-measured", head="bolt-on", urgency="planned"),
    Told("cracks written of a coil", inspection("cracks = true"), ("check-more",), ("sound",), warning="cracks"),
    # rust
    Told("heavy rust under a coil", inspection('rust = "heavy"'), ("clean",), ("sound", "head-unseated")),
    Told("rust, cleaned, moves", inspection('rust = "heavy"') + '\n[valves.movement]\nafter_cleaning = "moves"', ("keep",), ("sound",)),
    Told("rust, cleaned, still stuck", inspection('rust = "heavy"') + '\n[valves.movement]\nafter_cleaning = "stuck"', ("check-more",), ("head-unseated",)),
    Told("rust, cleaned, only a good coil moves it", inspection('rust = "heavy"') + '\n[valves.movement]\nafter_cleaning = "stuck"\nknown_good_head = "moves"\nold_head_again = "stuck"', ("replace-head",), ("head-unseated",)),
    Told("not cleaned, only a good coil moves it", movement('known_good_head = "moves"\nold_head_again = "stuck"'), ("clean",), ("head-unseated",)),
    Told("pitted can", inspection('rust = "heavy"\npitted = true'), ("replace-body",), ("body-stuck-open", "body-stuck-closed", "leaks-when-shut")),
    Told("rusty can on a stuck body: clean first", inspection('rust = "heavy"') + '\n[valves.movement]\nhand_magnet = "stuck"\nknown_good_head = "stuck"', ("clean",), ("body-stuck-open", "body-stuck-closed")),
    # seat, body, heads exchanged
    Told("coil not latched", inspection("seated = false"), ("reseat",), ("head-unseated",)),
    Told("coil not latched, seated again, a step test passed", inspection("seated = false"), ("keep",), ("sound",), after='[[work]]\nvalve = "V1"\ndone = "reseated"\n[[proofs]]\nvalve = "V1"\nkind = "step-response"\nresult = "passed"'),
    Told("magnet and good head both stuck", movement('hand_magnet = "stuck"\nknown_good_head = "stuck"'), ("replace-body",), ("body-stuck-open", "body-stuck-closed")),
    Told("magnet alone stuck", movement('hand_magnet = "stuck"'), ("check-more",), ("sound", "body-stuck-open", "body-stuck-closed")),
    Told("a good motor moves it, its own does not", movement('known_good_head = "moves"\nold_head_again = "stuck"'), ("replace-head",), ("head-jammed",), head="bolt-on"),
    Told("the opening magnet written of a motor", movement('hand_magnet = "stuck"'), ("check-more",), ("sound",), head="bolt-on", warning="hand_magnet"),
    Told("stem out, and yet the hand feels it step", movement('stem = "extended"\nstem_mm = 6\nfelt = "steps"') + "\n" + SWINGS, ("check-more",), ("head-cracked", "head-jammed"), head="bolt-on", system=OPEN_FOR_SERVICE),
    Told("stem out, and its own head put back moves it", movement('stem = "extended"\nstem_mm = 6\nknown_good_head = "moves"\nold_head_again = "moves"') + "\n" + SWINGS, ("check-more",), ("head-cracked", "head-jammed"), head="bolt-on", system=OPEN_FOR_SERVICE),
    Told("stem out, pulses at the board, windings not measured", '[valves.movement]\nstem = "extended"\nstem_mm = 6\n' + SWINGS, ("check-more",), ("head-jammed",), verdict="not-measured", head="bolt-on", system=OPEN_FOR_SERVICE),
    Told("stem out, and a good head on the same plug moves", movement('stem = "extended"\nstem_mm = 6\nknown_good_head = "moves"'), ("replace-head",), ("head-jammed",), head="bolt-on", system=OPEN_FOR_SERVICE),
    Told("a coil that stays stuck between two goes of a good one", f'{GOOD}\n[valves.inspection]\nrust = "none"\nseated = true\n[valves.movement]\nknown_good_head = "moves"\nold_head_again = "stuck"', ("replace-head",), ("head-unseated",)),
    Told("cracked and wet, whatever the meter is worth", inspection('cracks = true\nconnector = "wet"'), ("replace-head",), ("head-cracked",), verdict="undecided", head="bolt-on", meter='check_resistor = ["100 ohm", "106 ohm"]', urgency="now"),
    # windings
    Told("two windings joined, as one reading alone has it", 'common = "5"\nreadings = [["5","1",62.2],["2","3",62.2]]', ("check-more",), ("winding",), verdict="faulty", check="measure-pair"),
    Told("two windings joined, as several readings have it", 'common = "5"\nreadings = [["5","1",31.2],["5","2",31.1],["5","3",62.3],["5","4",62.2],["1","2",0.2]]', ("replace-head",), ("winding",), verdict="faulty"),
    Told("one winding low, as one reading alone has it", 'common = "5"\nreadings = [["5","1",62.3],["5","2",62.2],["5","3",62.4],["5","4",32.6]]', ("check-more",), ("winding",), verdict="faulty", check="measure-pair"),
    Told("one winding low, the same pair read again", 'common = "5"\nreadings = [["5","1",62.3],["5","2",62.2],["5","3",62.4],["5","4",32.6],["5","4",32.5]]', ("replace-head",), ("winding",), verdict="faulty"),
    Told("open winding from two wires", f"readings = {OPEN_THREE}", ("replace-head",), ("winding",), verdict="faulty", because="Wire 3 is open from two wires; the other three windings agree within 0.1 Ω."),
    Told("a missed probe, and the same pair read twice again", 'readings = [["5","1","open"],["5","1",62.3],["5","1",62.2],["5","2",62.2],["5","3",62.4],["5","4",62.3],["1","2",124.4]]\n[valves.inspection]\nrust = "none"', ("keep",), ("sound",), warning="missed probe"),
    Told("a slipped probe, and the same pair read twice again", 'readings = [["5","1",70.1],["5","1",62.3],["5","1",62.2],["5","2",62.2],["5","3",62.4],["5","4",62.3],["1","2",124.4]]\n[valves.inspection]\nrust = "none"', ("keep",), ("sound",), warning="slipped"),
    Told("a missed probe, read again once", 'readings = [["5","1","open"],["5","1",62.3],["5","2",62.2],["5","3",62.4],["5","4",62.3],["1","2",124.4]]', ("check-more",), ("sound",), verdict="undecided"),
    Told("open from one wire", f"readings = {OPEN_ONCE}", ("check-more",), ("winding",), verdict="undecided", check="measure-pair"),
    Told("one wire high throughout", f"readings = {HIGH_ONE}", ("repair-plug-or-harness",), ("plug-or-harness",), verdict="faulty", check="clean-pin", because="Clean the pin, seat the probe, measure again."),
    Told("every pair open", f"readings = {ALL_OPEN}", ("check-more",), ("plug-or-harness", "sound"), verdict="undecided", check="seat-plug-and-probes"),
    Told("the wrong page", 'readings = [["5","1",150.3],["5","2",150.2],["5","3",150.4],["5","4",150.3],["1","2",300.4],["3","4",300.5]]', ("check-more",), ("wrong-head",), verdict="faulty", check="read-label"),
    Told("a hot good head", 'head_temperature_from = "clamp"\nreadings = [["5","1",72.5],["5","2",72.4],["5","3",72.6],["5","4",72.5],["1","2",144.7]]\n[valves.inspection]\nrust = "none"\nseated = true', ("keep",), ("sound",), because="no fault", more={"head_temperature": "62 degC"}),
    Told("not measured", "", ("check-more",), ("sound",), verdict="not-measured", check="measure-windings"),
    Told("the plug left on", f"plug_off = false\n{GOOD}", ("check-more",), ("sound",), verdict="not-measured", check="unplug-and-measure", because="plug was left on"),
    Told("the meter misreads its resistor", f"{GOOD}\n[valves.inspection]\nrust = \"none\"\nseated = true", ("check-more",), ("sound",), verdict="undecided", meter='check_resistor = ["100.0 ohm", "108.0 ohm"]', check="prove-meter", warning="handheld"),
    Told("readings of a struck-out measurement", 'readings = []\n[[valves.measurements]]\nentry = "e1"\nreadings = ' + OPEN_THREE + '\n[[valves.measurements]]\nvoids = "e1"\nreadings = ' + GOOD_FIVE + '\n[valves.inspection]\nrust = "none"', ("keep",), ("sound",)),
    # head, harness and board
    Told("good at the head, open through the harness", GOOD + '\n[[valves.measurements]]\nmeasured_at = "through-harness"\nreadings = [["5","1",62.5],["5","2","open"]]', ("repair-plug-or-harness",), ("plug-or-harness",)),
    Told("same ohms at both ends of the harness", f"readings = {OPEN_THREE}\n[[valves.measurements]]\nmeasured_at = \"board-plug\"\nreadings = {OPEN_THREE}", ("replace-head",), ("winding",), verdict="faulty"),
    Told("common open, measured at the board only", '[[valves.measurements]]\nmeasured_at = "board-plug"\nreadings = [["5","1","open"],["5","2","open"],["5","3","open"],["5","4","open"],["1","2",124.4],["3","4",124.5]]', ("repair-plug-or-harness",), ("plug-or-harness",), verdict="faulty", more={"common": "5"}),
    Told("common open at the head's own plug", 'common = "5"\nreadings = [["5","1","open"],["5","2","open"],["5","3","open"],["5","4","open"],["1","2",124.4],["3","4",124.5]]', ("replace-head",), ("winding",), verdict="faulty"),
    Told("plugs exchanged, the fault stays", movement('plug_swap = "fault-stays"'), ("check-board",), ("board-output",)),
    Told("plugs exchanged, the fault moves (motor)", movement('plug_swap = "fault-moves"'), ("check-more",), ("head-jammed", "plug-or-harness"), head="bolt-on"),
    Told("plugs exchanged, the fault moves (coil)", movement('plug_swap = "fault-moves"'), ("check-more", "reseat"), ("head-unseated", "plug-or-harness")),
    Told("a phase missing at the board", GOOD + "\n" + MISSING, ("check-board", "check-more"), ("board-output",)),
    Told("the common does not swing, and need not", f'common = "5"\n{GOOD}\n[valves.inspection]\nrust = "none"\n[valves.board]\nwhen = "commanded"\npulses = {{ "1" = true, "2" = true, "3" = true, "4" = true, "5" = false }}', ("keep",), ("sound",)),
    Told("plug wet, nothing else wrong", inspection('rust = "none"\nseated = true\nconnector = "wet"'), ("clean",), ("sound", "plug-or-harness")),
    # insulation
    Told("insulation suspect", f'insulation = "0.4 Mohm"\ninsulation_test = "500 V"\n{GOOD}\n[valves.inspection]\nrust = "none"', ("check-more",), ("sound",), check="dry-and-test-insulation", because="500 V"),
    Told("insulation bad before drying", f'insulation = "0.02 Mohm"\ninsulation_test = "500 V"\n{GOOD}', ("check-more",), ("sound",), check="dry-and-test-insulation"),
    Told("insulation still bad after drying", f'insulation = "0.02 Mohm"\ninsulation_test = "500 V"\n{GOOD}', ("replace-head",), ("winding",), after='[[work]]\nvalve = "V1"\ndone = "cleaned"', because="500 V"),
    # a solenoid
    Told("solenoid's coil as its page says", 'readings = [["1","2",905.0]]\n[valves.inspection]\nrust = "none"', ("keep",), ("sound",), head="solenoid"),
    Told("solenoid, pulses written", 'readings = [["1","2",905.0]]\n[valves.board]\nwhen = "commanded"\npulses = false', ("check-more",), ("sound",), head="solenoid", warning="pulses"),
    # work and proofs
    Told("head replaced, measured, proved", f"readings = {OPEN_THREE}\n[[valves.measurements]]\nwhen = \"after-replacement\"\nreadings = {GOOD_FIVE}", ("keep",), ("sound",), after='[[work]]\nvalve = "V1"\ndone = "replaced-head"\n[[proofs]]\nvalve = "V1"\nkind = "step-response"\nresult = "passed"'),
    Told("head replaced and measured, not proved", f"readings = {OPEN_THREE}\n[[valves.measurements]]\nwhen = \"after-replacement\"\nreadings = {GOOD_FIVE}", ("check-more",), ("sound",), after='[[work]]\nvalve = "V1"\ndone = "replaced-head"'),
    Told("head replaced, new one not measured", f"readings = {OPEN_THREE}", ("check-more",), ("sound",), verdict="faulty", after='[[work]]\nvalve = "V1"\ndone = "replaced-head"', check="measure-new-head"),
    Told("head replaced, proof failed", f"readings = {OPEN_THREE}\n[[valves.measurements]]\nwhen = \"after-replacement\"\nreadings = {GOOD_FIVE}", ("check-more",), ("sound", "plug-or-harness", "head-unseated"), after='[[work]]\nvalve = "V1"\ndone = "replaced-head"\n[[proofs]]\nvalve = "V1"\nkind = "step-response"\nresult = "failed"'),
    Told("jammed motor replaced, measured, stem seen to travel", movement('stem = "extended"\nstem_mm = 6') + "\n" + SWINGS + f"\n[[valves.measurements]]\nwhen = \"after-replacement\"\nreadings = {GOOD_FIVE}", ("keep",), ("sound",), head="bolt-on", system=OPEN_FOR_SERVICE, after='[[work]]\nvalve = "V1"\ndone = "replaced-head"\n[[proofs]]\nvalve = "V1"\nkind = "stem-travel"\nresult = "passed"'),
    Told("body replaced, shut-off proved", movement('hand_magnet = "stuck"\nknown_good_head = "stuck"'), ("keep",), ("sound",), after='[[work]]\nvalve = "V1"\ndone = "replaced-body"\n[[proofs]]\nvalve = "V1"\nkind = "shut-off"\nresult = "passed"'),
    Told("bad pin cleaned, measured good", f"readings = {HIGH_ONE}\n[[valves.measurements]]\nwhen = \"after-cleaning\"\nreadings = {GOOD_FIVE}\n[valves.inspection]\nrust = \"none\"", ("keep",), ("sound",), after='[[work]]\nvalve = "V1"\ndone = "repaired-plug-or-harness"', because="the readings after it count"),
    Told("bad pin repaired, not measured again", f"readings = {HIGH_ONE}", ("check-more",), ("sound",), verdict="faulty", after='[[work]]\nvalve = "V1"\ndone = "repaired-plug-or-harness"', check="measure-after-repair"),
)
# fmt: on
"""All of them."""
