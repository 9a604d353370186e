"""Running visits written by hand, each with what a careful technician accepts of it.

A visit a line, so that they can be read down the page.
"""

# ruff: noqa: E501

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from tests.running_visits import GOOD_WINDINGS, running_visit

HEADS = ("head-jammed", "head-cracked", "head-unseated", "winding", "board-output", "plug-or-harness")
OPEN = (*HEADS, "body-stuck-open")
SHUT = (*HEADS, "body-stuck-closed", "refrigerant-side")
ANY_STUCK = (*HEADS, "body-stuck-open", "body-stuck-closed")
LOOK_FURTHER = ("check-more",)
NOT_BLAMED = ("sound", "refrigerant-side")
NO_WORRY = ("check-more", "watch", "keep")

INJECTION = '[[valves]]\nid = "OU1-inj"\nunit = "OU1"\nrole = "injection"\nhead = "clip-on"\nspec = "out"\n'


def step(valve: str, opening: str, superheat: str, minutes: float = 8) -> str:
    return f'[[step_tests]]\nvalve = "{valve}"\nopening = {opening}\nsuperheat = {superheat}\nminutes = {minutes}\n'


def log(valve: str, likelihood: str, days: str = "2026-06-01T00:00:00Z") -> str:
    sha = "0" * 64
    return (
        f'[[evidence]]\nfrom = "log"\nsha256 = "{sha}"\nfrom_utc = {days}\nto_utc = 2026-07-01T00:00:00Z\n'
        f'valve = "{valve}"\nlog_likelihood = {{ {likelihood} }}\n'
    )


@dataclass(frozen=True)
class Runs:
    """A running visit and what is accepted of it."""

    name: str
    text: str
    told: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]] = field(default_factory=dict)
    """Valve -> leading causes and actions; every other valve must not be blamed."""
    system: tuple[str, ...] = ("fine",)
    check: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    floodback: tuple[str, ...] = ()
    warning: str = ""
    others: tuple[str, ...] = ("sound",)
    because: Mapping[str, str] = field(default_factory=dict)
    urgency: Mapping[str, str] = field(default_factory=dict)


def v(**units: Mapping[str, Any]) -> dict[str, Mapping[str, Any]]:
    return dict(units)


JAMMED = """[valves.movement]
stem = "extended"
stem_mm = 6
[valves.board]
when = "commanded"
pulses = { "1" = true, "2" = true, "3" = true, "4" = true }
"""
LATER = """
[[snapshots]]
at = 2026-07-14T15:00:00Z
[snapshots.units.IU3]
on = true
valve = "IU3-v"
opening = 130
liquid_pipe = 7.9
gas_pipe = 13.0
target_superheat = "5 K"
"""
STARVED = {"held": 16.0, "cmd": 1.0, "air": 4.0}
FLOODED = {"held": 0.1, "cmd": 40 / 480, "air": 12.5}
DEEP = {"held": 14.0, "cmd": 1.0, "air": 7.0}

# fmt: off
MATRIX = (
    # cooling, one unit
    Runs("nothing wrong", running_visit(), {"IU1-v": (("sound",), NO_WORRY)}, check={"IU1-v": ("step-test",)},
         floodback=("unlikely",), because={"IU1-v": "would look the same"}),
    Runs("superheat 0, command at its minimum", running_visit(v(IU3=FLOODED)), {"IU3-v": (OPEN, LOOK_FURTHER)},
         urgency={"IU3-v": "now"}),
    Runs("the same, and liquid reaches the compressor", running_visit(v(IU3=FLOODED), outdoor={"OU1": {"ssh": 0.2, "dsh": 9.0}}),
         {"IU3-v": (OPEN, LOOK_FURTHER)}, floodback=("likely",)),
    Runs("high superheat, command at its maximum", running_visit(v(IU3=STARVED)), {"IU3-v": (SHUT, ("check-more", "check-refrigerant-side"))}),
    Runs("the same with good windings: the strainer before a body", running_visit(v(IU3=STARVED), valves={"IU3-v": GOOD_WINDINGS}),
         {"IU3-v": (SHUT, ("check-more", "check-refrigerant-side"))}, check={"IU3-v": ("strainer-drop", "feel-under-command", "step-test")}),
    Runs("superheat 0, command at its maximum", running_visit(v(IU3={"held": 0.2, "cmd": 1.0})), {"IU3-v": (("sensor",), ("check-sensor", "check-more"))},
         check={"IU3-v": ("compare-sensors",)}),
    Runs("gas pipe colder than its own liquid pipe", running_visit(v(IU3={"gas_pipe": 2.0, "cmd": 0.083})), {"IU3-v": (("sensor",), ("check-sensor", "check-more"))}),
    Runs("gas pipe 4.8 K under its own inlet, command as usual", running_visit(v(IU3={"gas_pipe": 3.0})), {"IU3-v": (("sensor",), ("check-sensor",))}),
    Runs("liquid pipe under what evaporates", running_visit(v(IU3={"liquid_pipe": 2.5, "gas_pipe": 7.5})), {"IU3-v": (("sensor",), ("check-sensor", "check-more"))}),
    Runs("command low, air cools much, superheat on target", running_visit(v(IU3={"cmd": 0.24, "air": 15.8})), {"IU3-v": (("refrigerant-side",), ("check-refrigerant-side", "check-more"))}),
    Runs("superheat by pressure only, high, command at its maximum", running_visit(v(IU3={**STARVED, "liquid_pipe": ""})), {"IU3-v": (SHUT, ("check-more", "check-refrigerant-side"))}),
    Runs("a little off its target", running_visit(v(IU3={"held": 7.2})), {"IU3-v": (("sound",), NO_WORRY)}),
    Runs("two units flooded", running_visit(v(IU3=FLOODED, IU6=FLOODED), outdoor={"OU1": {"ssh": 0.0, "dsh": 6.0}}),
         {"IU3-v": (OPEN, LOOK_FURTHER), "IU6-v": (OPEN, LOOK_FURTHER)}, floodback=("likely",)),
    Runs("nothing is known of commands", running_visit(defaults={"opening": ""}, units=v(IU3={"held": 0.1})), {"IU3-v": (("sound", *OPEN), NO_WORRY)}),
    # stopped units
    Runs("off for an hour, pipes cold", running_visit(v(IU5={"on": False, "liquid_pipe": 7.8, "gas_pipe": 8.4})), {"IU5-v": (("leaks-when-shut", *OPEN), LOOK_FURTHER)}),
    Runs("off for an hour, pipes warm", running_visit(v(IU5={"on": False})), {"IU5-v": (("sound",), NO_WORRY)}),
    Runs("off for ten minutes, pipes cold", running_visit(v(IU5={"on": False, "off_minutes": 10, "liquid_pipe": 7.8, "gas_pipe": 8.4})), {"IU5-v": (("sound",), NO_WORRY)}),
    Runs("off, nobody says for how long, pipes cold", running_visit(v(IU5={"on": False, "off_minutes": "", "liquid_pipe": 7.8, "gas_pipe": 8.4})), {"IU5-v": (("sound",), NO_WORRY)}),
    Runs("off and held open by command, pipes cold", running_visit(v(IU5={"on": False, "opening": 60, "liquid_pipe": 7.8, "gas_pipe": 8.4})), {"IU5-v": (("sound",), NO_WORRY)}),
    # the bypass
    Runs("bypass: wet outlet, command low, discharge low, units fine", running_visit(outdoor={"OU1": {"ssh": 0.1, "dsh": 10.0, "bypass": 0.083, "outlet": 0.0}}),
         {"OU1-bypass": (OPEN, LOOK_FURTHER)}, floodback=("likely",), urgency={"OU1-bypass": "now"}),
    Runs("bypass: hot outlet, command wide, little subcooling", running_visit(outdoor={"OU1": {"sc": 3.0, "bypass": 1.0, "outlet": 27.0}}),
         {"OU1-bypass": (SHUT, ("check-more", "check-refrigerant-side"))}),
    Runs("bypass commanded shut, outlet warm", running_visit(outdoor={"OU1": {"bypass": 0.0, "outlet": 20.0}}), {"OU1-bypass": (("sound",), NO_WORRY)}),
    Runs("bypass open long ago: commands wide, no subcooling, discharge LOW", running_visit(defaults={"cmd": 0.86},
         outdoor={"OU1": {"sc": 0.4, "ssh": 0.0, "dsh": 11.0, "bypass": 0.083, "outlet": 0.0}}), {"OU1-bypass": (OPEN, LOOK_FURTHER)}, floodback=("likely",)),
    # the whole system
    Runs("charge low, valves still hold", running_visit(defaults={"cmd": 0.85}, outdoor={"OU1": {"sc": 0.6, "dsh": 33.0}}), system=("charge-low",), others=NOT_BLAMED),
    Runs("charge low, valves wide open", running_visit(defaults=DEEP, outdoor={"OU1": {"sc": 0.0, "ssh": 13.0, "dsh": 45.0, "bypass": 1.0}}), system=("charge-low",), others=NOT_BLAMED,
         told={"IU2-v": (("refrigerant-side",), ("check-refrigerant-side",))}),
    Runs("charge low and one valve stuck open", running_visit({**{f"IU{i}": DEEP for i in range(1, 9)}, "IU4": FLOODED}, outdoor={"OU1": {"sc": 0.2, "ssh": 11.0, "dsh": 42.0, "bypass": 1.0}}),
         {"IU4-v": (OPEN, LOOK_FURTHER)}, system=("charge-low",), others=NOT_BLAMED),
    Runs("too much charge", running_visit(defaults={"cmd": 0.17}, tc=48.0, outdoor={"OU1": {"sc": 20.0}}), system=("charge-high",)),
    Runs("outdoor coil dirty", running_visit(tc=60.0, outdoor={"OU1": {"sc": 6.0, "dsh": 38.0}}), system=("outdoor-airflow",)),
    Runs("liquid line restricted", running_visit(defaults=DEEP, outdoor={"OU1": {"sc": 15.0, "ssh": 12.0, "dsh": 45.0}}), system=("line-restriction",), others=NOT_BLAMED),
    # several outdoor units
    Runs("two outdoor units, one bypass open", running_visit(outdoor={"OU1": {}, "OU2": {"ssh": 0.1, "dsh": 9.0, "bypass": 0.083, "outlet": 0.1}}),
         {"OU2-bypass": (OPEN, LOOK_FURTHER)}, floodback=("likely",)),
    # heating
    Runs("heating, nothing wrong", running_visit(mode="heating", ambient=7.0), {"IU1-v": (("sound",), NO_WORRY)}),
    Runs("heating: no subcooling, command at its minimum", running_visit(v(IU2={"held": 0.2, "cmd": 0.083}), mode="heating", ambient=7.0), {"IU2-v": (OPEN, LOOK_FURTHER)}),
    Runs("heating: much subcooling, command at its maximum", running_visit(v(IU2={"held": 19.0, "cmd": 1.0}), mode="heating", ambient=7.0),
         {"IU2-v": (SHUT, ("check-more", "check-refrigerant-side"))}),
    Runs("heating: a stopped unit is warm and open a crack", running_visit(v(IU2={"on": False, "opening": 60, "gas_pipe": 55.0, "liquid_pipe": 35.0}), mode="heating", ambient=7.0),
         {"IU2-v": (("sound",), NO_WORRY)}),
    Runs("heating: one outdoor main valve floods its own coil", running_visit(mode="heating", ambient=7.0,
         outdoor={"OU1": {"main": 0.4}, "OU2": {"main": 0.083, "ssh": -0.2, "dsh": 6.0}}), {"OU2-main": (OPEN, LOOK_FURTHER)}, floodback=("likely",)),
    Runs("heating: charge low, no unit has subcooling", running_visit(mode="heating", ambient=7.0, defaults={"held": 0.2, "cmd": 0.083}, outdoor={"OU1": {"main": 1.0, "ssh": 12.0, "dsh": 42.0}}),
         system=("charge-low",), others=NOT_BLAMED),
    Runs("heating: too much charge, every unit has much subcooling", running_visit(mode="heating", ambient=7.0, defaults={"held": 17.0, "cmd": 1.0, "target_subcooling": '"6 K"'}),
         system=("charge-high",), others=NOT_BLAMED),
    # mixed
    Runs("mixed: the gas pipe of a heating unit is hot", running_visit(v(IU2={"mode": "heating", "held": 6.0}), mode="mixed", ambient=15.0), {"IU2-v": (("sound",), NO_WORRY)}),
    # moments that judge nothing
    Runs("oil return", running_visit(v(IU3=FLOODED), snapshot='state = "oil-return"', outdoor={"OU1": {"ssh": 4.0, "dsh": 5.0}}), {"IU3-v": (("sound",), NO_WORRY)},
         warning="oil-return", floodback=("possible",)),
    Runs("defrost", running_visit(v(IU3=FLOODED), mode="heating", snapshot='state = "defrost"'), {"IU3-v": (("sound",), NO_WORRY)}, warning="defrost"),
    Runs("eight minutes after the start", running_visit(v(IU3=FLOODED), snapshot="minutes_running = 8"), {"IU3-v": (("sound",), NO_WORRY)}, warning="not steady"),
    Runs("standstill", running_visit(mode="off", defaults={"liquid_pipe": 25.1, "gas_pipe": 24.8}), {"IU3-v": (("sound",), NO_WORRY)}),
    # injection open: discharge superheat alone says nothing
    Runs("injection open, discharge low, suction dry", running_visit(outdoor={"OU1": {"dsh": 12.0}}, more_valves=INJECTION), {"OU1-bypass": (("sound",), NO_WORRY)}, floodback=("possible",)),
    # sensors
    Runs("its gas sensor checked and off", running_visit(after='[curves.c]\nr25 = "10 kohm"\nbeta = "3950 K"\n[[sensors]]\nid = "IU3-gas"\nunit = "IU3"\ncurve = "c"\nreading = "10 kohm"\ntrue_temperature = 19.0\ntrue_within = "0.5 K"\n'),
         {"IU3-v": (("sensor",), ("check-sensor", "check-more"))}),
    # a blend that glides, few units, openings in per cent, no spec
    Runs("R407C, nothing wrong", running_visit(fluid="R407C", defaults={"liquid_pipe": 3.8, "gas_pipe": 12.0}), {"IU1-v": (("sound",), NO_WORRY)}),
    Runs("R407C, one coil wet through", running_visit(v(IU3={"gas_pipe": 7.0, "cmd": 0.083}), fluid="R407C", defaults={"liquid_pipe": 3.8, "gas_pipe": 12.0}), {"IU3-v": (OPEN, LOOK_FURTHER)}),
    Runs("two units, one flooded", running_visit(v(IU2=FLOODED), n=2, outdoor={"OU1": {"ssh": 0.3, "dsh": 12.0}}), {"IU2-v": (OPEN, LOOK_FURTHER)}),
    Runs("openings in per cent", running_visit(v(IU3={**STARVED, "opening": '"100 %"'})), {"IU3-v": (SHUT, ("check-more", "check-refrigerant-side"))}),
    # looks beside what runs
    Runs("jammed by its stem though it runs on target", running_visit(valves={"IU3-v": GOOD_WINDINGS + JAMMED}, service=True), {"IU3-v": (("head-jammed", "head-cracked"), ("replace-head",))}),
    Runs("on target at two clearly different commands, windings good", running_visit(valves={"IU3-v": GOOD_WINDINGS}, after=LATER), {"IU3-v": (("sound",), ("keep",))}),
    Runs("no target is stated, all wide open and starved, subcooling good", running_visit(n=8, defaults={"held": 13.0, "cmd": 0.98, "target_superheat": ""}, outdoor={"OU1": {"sc": 9.0, "ssh": 12.0, "dsh": 40.0, "bypass": 0.6}}),
         system=("line-restriction",), others=("sound", "refrigerant-side"), told={"IU2-v": (("refrigerant-side",), ("check-refrigerant-side",))}),
    Runs("mixed: a unit that does not say that it heats", running_visit(mode="mixed", units=v(IU3={"gas_pipe": 66.0, "liquid_pipe": 38.0, "supply_air": 40.0})), {"IU3-v": (("sound",), NO_WORRY)}),
    # step tests
    Runs("a step answered the wrong way by less than was due", running_visit(after=step("IU3-v", "[210, 150]", '["5.0 K", "1.0 K"]'), valves={"IU3-v": GOOD_WINDINGS}), {"IU3-v": (("sound",), NO_WORRY)}, because={"IU3-v": "Take it again"}),
    Runs("a step that was answered, windings good", running_visit(after=step("IU3-v", "[210, 186]", '["5.1 K", "10.8 K"]'), valves={"IU3-v": GOOD_WINDINGS}), {"IU3-v": (("sound",), ("keep",))}),
    Runs("a step that was not answered", running_visit(after=step("IU3-v", "[210, 162]", '["5.1 K", "5.2 K"]'), valves={"IU3-v": GOOD_WINDINGS}), {"IU3-v": (ANY_STUCK, LOOK_FURTHER)}),
    Runs("a step too small to be answered", running_visit(after=step("IU3-v", "[210, 206]", '["5.1 K", "5.3 K"]')), {"IU3-v": (("sound",), NO_WORRY)}, because={"IU3-v": "proves nothing"}),
    Runs("opened further though flooded already", running_visit(after=step("IU3-v", "[210, 260]", '["0.2 K", "0.1 K"]')), {"IU3-v": (("sound",), NO_WORRY)}, because={"IU3-v": "proves nothing"}),
    # logs
    Runs("a log says it does not follow", running_visit(after=log("IU3-v", "not-following = 0.0, sound = -9.0")), {"IU3-v": (ANY_STUCK, LOOK_FURTHER)}),
    Runs("a log says it passes when shut", running_visit(after=log("IU3-v", "passes-when-shut = 0.0, sound = -9.0")), {"IU3-v": (("leaks-when-shut", *OPEN), LOOK_FURTHER)}),
    Runs("a log says it hunts", running_visit(after=log("IU3-v", "hunting = 0.0, sound = -4.0")), {"IU3-v": (("sound",), ("watch",))}),
    # compressor failure
    Runs("a compressor failed, windings good", running_visit(reason="compressor-failure", mode="off", defaults={"liquid_pipe": "", "gas_pipe": ""}, valves={"OU1-bypass": ""}), {}, floodback=("unknown",)),
)
# fmt: on
"""All of them."""
