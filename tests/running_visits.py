"""Visits of a running system in a few lines: a healthy one, and what is changed of it."""

from collections.abc import Mapping
from typing import Any

from fifthwire.physics.refrigerants import refrigerant

TE_C, TC_C, ROOM_C, STROKE = 7.0, 44.0, 25.0, 480
HEAD = """
format = "fifthwire/visit/1"
[visit]
date = 2026-07-14
site = "Invented House"
system = "S-1"
reason = "{reason}"
[system]
refrigerant = "{fluid}"
installed = 2014
mode = "{mode}"
[specs.in]
winding = "unipolar-5"
resistance = "47 ohm"
full_stroke = 480
min_opening = 40
[specs.out]
winding = "unipolar-5"
resistance = "62 ohm"
full_stroke = 480
min_opening = 40
"""
GOOD_WINDINGS = (
    'readings = [["5","1",47.1],["5","2",47.0],["5","3",47.2],["5","4",47.1],["1","2",94.1],["3","4",94.2]]\n'
)


def running_visit(
    units: Mapping[str, Mapping[str, Any]] | None = None,
    *,
    n: int = 8,
    outdoor: Mapping[str, Mapping[str, Any]] | None = None,
    mode: str = "cooling",
    fluid: str = "R410A",
    reason: str = "comfort",
    snapshot: str = "",
    valves: Mapping[str, str] | None = None,
    more_valves: str = "",
    after: str = "",
    defaults: Mapping[str, Any] | None = None,
    tc: float = TC_C,
    ambient: float = 34.0,
    service: bool = False,
) -> str:
    """A visit's text.

    `units`: IU1.. -> held (superheat or subcooling, K), cmd (share), on, off_minutes, air (K), or any key of a unit as
    written; `outdoor`: OU1.. -> sc, ssh, dsh, bypass (share), outlet (K), main (share), text; `valves`: id -> lines.
    """
    of = refrigerant(fluid)
    outdoor = outdoor or {"OU1": {}}
    named = [f"IU{i + 1}" for i in range(n)]
    text = HEAD.format(reason=reason, fluid=fluid, mode=mode)
    if service:
        text = text.replace(
            "installed = 2014\n", "installed = 2014\nservice_state = true\nservice_state_minutes = 10\n"
        )
    lines = valves or {}
    for one in named:
        text += f'[[valves]]\nid = "{one}-v"\nunit = "{one}"\nrole = "indoor"\nhead = "bolt-on"\nspec = "in"\n'
        text += lines.get(f"{one}-v", "")
    for one in outdoor:
        for name, role in (("bypass", "subcooler-bypass"), ("main", "main")):
            text += (
                f'[[valves]]\nid = "{one}-{name}"\nunit = "{one}"\nrole = "{role}"\nhead = "clip-on"\nspec = "out"\n'
            )
            text += lines.get(f"{one}-{name}", "")
    text += more_valves
    text += f"[snapshot]\nambient = {ambient}\n{snapshot}\n"
    suction, discharge = of.dew_kpa_abs(TE_C), of.dew_kpa_abs(tc)
    bubble_c = of.bubble_c(discharge)
    for one, given in outdoor.items():
        seen = {"sc": 9.0, "ssh": 5.0, "dsh": 30.0, "bypass": 0.3, "outlet": 5.0, "main": 1.0, **given}
        if mode == "heating":
            seen = {**seen, "main": given.get("main", 0.4)}
        text += f"[snapshot.outdoor.{one}]\nsuction_pressure = {suction:.3f}\ndischarge_pressure = {discharge:.3f}\n"
        text += f"suction_temperature = {TE_C + seen['ssh']:.2f}\n"
        text += "" if mode == "heating" else f"liquid_temperature = {bubble_c - seen['sc']:.2f}\n"
        text += f"discharge_temperature = {tc + seen['dsh']:.2f}\n{given.get('text', '')}\n"
        text += f"[snapshot.valves.{one}-main]\nopening = {seen['main'] * STROKE:.0f}\n"
        text += f"[snapshot.valves.{one}-bypass]\nopening = {seen['bypass'] * STROKE:.0f}\n"
        text += "" if seen["outlet"] is None else f"outlet = {TE_C + seen['outlet']:.2f}\n"
    for i, one in enumerate(named):
        text += _unit(one, i, {**(defaults or {}), **(units or {}).get(one, {})}, mode, bubble_c)
    return text + after


def _unit(name: str, i: int, given: Mapping[str, Any], mode: str, bubble_c: float) -> str:
    """One unit; its command and what it holds scatter a little, as healthy ones do."""
    own = dict(given)
    is_on, is_heating = own.pop("on", True), own.get("mode", mode) == "heating"
    held = own.pop("held", (6.0 if is_heating else 5.0) + 0.4 * ((i * 5) % 3 - 1))
    cmd, air = own.pop("cmd", 0.40 + 0.02 * (i % 4)), own.pop("air", 11.0)
    inlet = TE_C + 0.8
    room = own.pop("room", 21.0 if is_heating else ROOM_C)
    keys: dict[str, Any] = {"valve": f'"{name}-v"', "opening": f"{cmd * STROKE:.0f}", "return_air": room}
    if not is_on:
        keys |= {"on": "false", "off_minutes": 60, "opening": 0, "liquid_pipe": room - 0.6, "gas_pipe": room - 0.2}
    elif is_heating:
        keys |= {"on": "true", "liquid_pipe": f"{bubble_c - held:.2f}", "gas_pipe": 65.0, "supply_air": room + 18.0}
    else:
        keys |= {"on": "true", "liquid_pipe": f"{inlet:.2f}", "gas_pipe": f"{inlet + held:.2f}"}
        keys |= {"supply_air": f"{room - air:.2f}", "target_superheat": '"5 K"'}
    if "mode" in own:
        own["mode"] = f'"{own["mode"]}"'
    keys |= own
    return f"[snapshot.units.{name}]\n" + "".join(f"{key} = {value}\n" for key, value in keys.items() if value != "")
