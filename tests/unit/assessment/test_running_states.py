"""The states of a visit: which moment tells, which compressor is blamed, what is warned of; never a traceback."""

import pytest
from pytest import approx
from tests.judged_visits import GOOD_FIVE, assessed_json
from tests.running_visits import running_visit

HEAD = """
format = "fifthwire/visit/1"
[visit]
date = 2026-05-12
site = "Invented House"
system = "S-1"
altitude = "40 m"
[system]
{system}
"""
READINGS = """
suction_pressure = "118 psig"
discharge_pressure = "385 psig"
suction_temperature = 12.4
liquid_temperature = 34.0
discharge_temperature = {discharge}
"""
COOLS = 'refrigerant = "R410A"\nmode = "cooling"'


def visit(snapshot: str, system: str = COOLS, valves: str = "") -> str:
    return HEAD.format(system=system) + valves + snapshot


def flat(discharge: float = 78.0, more: str = "") -> str:
    return f"[snapshot]\nambient = 33.0\n{READINGS.format(discharge=discharge)}{more}"


def valve(name: str, role: str) -> str:
    return f'[[valves]]\nid = "{name}"\nunit = "OU1"\nrole = "{role}"\nhead = "clip-on"\n'


def test_the_keys_of_one_outdoor_unit_may_stand_in_the_snapshot_itself():
    own = (
        '[snapshot]\nambient = 33.0\n[snapshot.outdoor.OU1]\nsuction_pressure = "118 psig"\n'
        'discharge_pressure = "385 psig"\nsuction_temperature = 12.4\nliquid_temperature = 34.0\n'
        "[snapshot.outdoor.OU1.compressors.C1]\ndischarge_temperature = 78.0\n"
    )
    between = f"[snapshot]\nambient = 33.0\n{READINGS.format(discharge=78.0)}[snapshot.outdoor.OU1]\n"
    rows = [assessed_json(visit(text))["compressors"] for text in (flat(), own, between)]

    assert rows[0] == rows[1] == rows[2]
    assert rows[0][0] == {
        "id": "OU1/C1",
        "suction_superheat_k": approx(8.1, abs=0.05),
        "discharge_superheat_k": approx(32.5, abs=0.06),
        "dry_discharge_superheat_k": approx(26.8, abs=0.06),
        "subcooling_k": approx(11.3, abs=0.06),
        "suction_quality": 1.0,
        "u_quality": approx(0.015, abs=0.006),
        "floodback": "unlikely",
    }


def test_the_worst_compressor_is_that_of_the_system_and_only_the_guilty_one_is_blamed():
    text = visit(
        f"[snapshot]\n[snapshot.outdoor.OU1]\n{READINGS.format(discharge=78.0)}"
        "[snapshot.outdoor.OU1.compressors.C1]\ndischarge_temperature = 79.0\n"
        '[snapshot.outdoor.OU1.compressors.C2]\ndischarge_temperature = 55.0\nshell = "high-side"\n'
        "shell_temperature = 46.0\n"
        f"[snapshot.outdoor.OU2]\n{READINGS.format(discharge=80.0)}"
    )
    out = assessed_json(text)

    assert {one["id"]: one["floodback"] for one in out["compressors"]} == {
        "OU1/C1": "unlikely",
        "OU1/C2": "likely",
        "OU2/C1": "unlikely",
    }
    assert out["compressor"]["floodback"] == "likely"
    assert out["compressor"]["discharge_superheat_k"] == out["compressors"][1]["discharge_superheat_k"]


def test_a_compressor_at_rest_is_not_the_worst():
    text = visit(
        f"[snapshot]\n[snapshot.outdoor.OU1]\n{READINGS.format(discharge=78.0)}"
        '[snapshot.outdoor.OU1.compressors.C1]\ndischarge_temperature = 79.0\nspeed = "62 Hz"\n'
        '[snapshot.outdoor.OU1.compressors.C2]\ndischarge_temperature = 40.0\nspeed = "0 Hz"\n'
    )
    out = assessed_json(text)

    assert [one["floodback"] for one in out["compressors"]] == ["unlikely", "unknown"]
    assert out["compressor"]["floodback"] == "unlikely"


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("", "likely"),
        ("minutes_running = 14\n", "possible"),
        ("minutes_running = 15\n", "likely"),
        ('state = "oil-return"\n', "possible"),
        ('state = "defrost"\n', "possible"),
        ('state = "protection"\n', "possible"),
        ('state = "start"\n', "possible"),
    ],
)
def test_what_else_lowers_a_discharge_superheat_is_heard(more, told):
    assert assessed_json(visit(flat(50.0, more)))["compressor"]["floodback"] == told


@pytest.mark.parametrize(
    ("opening", "told"),
    [
        ("", "possible"),
        ("opening = 120\n", "possible"),
        ('opening = "30 %"\n', "possible"),
        ("opening = 0\n", "likely"),
    ],
)
@pytest.mark.parametrize("role", ["injection", "hot-gas-bypass"])
def test_an_injection_or_hot_gas_valve_counts_where_it_exists_and_is_open_or_unknown(role, opening, told):
    read = f"[snapshot.valves.OU1-x]\n{opening}" if opening else ""
    text = visit(flat(50.0) + read, valves=valve("OU1-x", role))

    assert assessed_json(text)["compressor"]["floodback"] == told


def test_good_windings_alone_leave_floodback_unknown():
    out = assessed_json(visit("", valves=f"{valve('OU1-main', 'main')}readings = {GOOD_FIVE}\n"))

    assert out["compressor"] == {
        "suction_superheat_k": None,
        "discharge_superheat_k": None,
        "subcooling_k": None,
        "floodback": "unknown",
    }
    assert out["compressors"] == []


def moments(*texts: str) -> str:
    return visit("".join(f"[[snapshots]]\nambient = 33.0\n{one}" for one in texts))


def test_a_moment_in_which_liquid_comes_is_not_outweighed_by_one_in_which_it_does_not():
    wet, dry = READINGS.format(discharge=50.0), READINGS.format(discharge=78.0)

    assert assessed_json(moments(wet, dry))["compressor"]["floodback"] == "likely"
    assert assessed_json(moments(dry, wet))["compressor"]["floodback"] == "likely"


def test_a_start_or_an_oil_return_does_not_outweigh_a_steady_moment():
    text = moments(READINGS.format(discharge=78.0), 'state = "oil-return"\n' + READINGS.format(discharge=50.0))
    out = assessed_json(text)

    assert out["compressor"]["floodback"] == "unlikely"


def test_a_standstill_after_the_run_takes_nothing_away():
    running = READINGS.format(discharge=78.0) + "[snapshots.units.IU1]\ngas_pipe = 13.0\nliquid_pipe = 8.0\n"
    rest = 'mode = "off"\n[snapshots.units.IU1]\ngas_pipe = 25.2\nliquid_pipe = 25.0\nreturn_air = 25.1\n'
    out = assessed_json(moments(running, rest))

    assert out["compressor"]["floodback"] == "unlikely"
    assert out["units"][0]["superheat_k"] == 5.0
    assert {one["id"]: one["verdict"] for one in out["sensors"]} == {
        "IU1/liquid_pipe": "good",
        "IU1/gas_pipe": "good",
        "IU1/return_air": "good",
    }


def test_the_table_of_the_subcooler_is_that_of_the_only_bypass():
    text = running_visit(outdoor={"OU1": {"bypass": 0.083, "outlet": 0.0, "ssh": 0.1, "dsh": 10.0}})
    lines = text.replace("[snapshot.valves.OU1-bypass]", "[snapshot.subcooler]")
    one, other = (
        {v["id"]: v["causes"][0]["cause"] for v in assessed_json(made)["valves"]}["OU1-bypass"]
        for made in (text, lines)
    )

    assert one == other != "sound"


@pytest.mark.parametrize(
    ("snapshot", "system", "words"),
    [
        (flat().replace("118 psig", "400 psig"), COOLS, "suction pressure is not under its discharge pressure"),
        (flat(), 'mode = "cooling"', "Pressures without a refrigerant"),
        (flat(), 'refrigerant = "R744"\nmode = "cooling"', "does not go with -8.6 °C"),
        (flat(), 'refrigerant = "R134a"\nmode = "cooling"', "lies outside"),
        (flat().replace("34.0", "52.0"), COOLS, "the liquid line at 52 °C does not go with 45"),
        (flat(), 'refrigerant = "R32"\nmode = "cooling"', ""),  # next to R410A: no pressure tells the two apart
        (flat(780.0), COOLS, "discharge temperature 780 °C cannot be"),
        (flat(more="[snapshot.units.IU1]\nreturn_air = 298\n"), COOLS, "return air 298 °C cannot be"),
        (
            flat(more='[snapshot.units.IU1]\nvalve = "V"\n[snapshot.units.IU2]\nvalve = "V"\n'),
            COOLS,
            "V is named as the valve of IU1 and IU2",
        ),
    ],
)
def test_bad_input_is_warned_of_by_name_and_the_windings_are_judged_all_the_same(snapshot, system, words):
    out = assessed_json(visit(snapshot, system, f"{valve('OU1-main', 'main')}readings = {GOOD_FIVE}\n"))

    assert out["valves"][0]["winding"]["verdict"] == "sound"
    assert not words or any(words in one for one in out["warnings"]), out["warnings"]


@pytest.mark.parametrize("value", ["1e-9", "0.5", "1e9", "101.3"])
@pytest.mark.parametrize("key", ["suction_pressure", "discharge_pressure"])
@pytest.mark.parametrize("refrigerant", ["R410A", "R744", "R454B", "R22"])
def test_no_pressure_brings_a_traceback(key, value, refrigerant):
    out = assessed_json(
        visit(f"[snapshot]\n{key} = {value}\nsuction_temperature = 10.0\n", f'refrigerant = "{refrigerant}"')
    )

    assert out["compressor"]["floodback"] in ("unknown", "possible", "unlikely")


def test_each_mode_claims_only_what_it_can_tell():
    readings = "gas_pipe = 61.0\nliquid_pipe = 36.0\nreturn_air = 22.0\nsupply_air = 40.0\n"
    unit = f"[snapshot.units.IU1]\n{readings}"
    for mode, own, superheat, subcooling in (
        ("mixed", "", False, False),
        ("mixed", 'mode = "heating"\n', False, True),
        ("heating", "", False, True),
        ("off", "", False, False),
    ):
        out = assessed_json(visit(flat(more=unit + own), f'refrigerant = "R410A"\nmode = "{mode}"'))
        row = out["units"][0]
        assert (row["superheat_k"] is not None, row["subcooling_k"] is not None) == (superheat, subcooling), (mode, own)
        assert mode == "off" or out["sensors"] == []


def test_a_sensor_that_cannot_be_right_is_a_row():
    out = assessed_json(running_visit({"IU3": {"liquid_pipe": 2.5, "gas_pipe": 7.5}}))
    rows = {one["id"]: one for one in out["sensors"]}

    assert rows["IU3/liquid_pipe"] == {
        "id": "IU3/liquid_pipe",
        "reads_c": 2.5,
        "off_by_k": None,
        "u_k": None,
        "verdict": "off",
    }


INDOOR = '[[valves]]\nid = "IU1-valve"\nunit = "IU1"\nrole = "indoor"\nhead = "clip-on"\nspec = "indoor"\n'
STROKE = '[specs.indoor]\nwinding = "unipolar-5"\nfull_stroke = 480\n'


def test_a_command_beyond_the_stroke_is_warned_of_by_name():
    units = '[snapshot.units.IU1]\nvalve = "IU1-valve"\nopening = {}\ngas_pipe = 13.0\nliquid_pipe = 8.0\n'
    beyond, full = (assessed_json(visit(flat() + units.format(n), valves=STROKE + INDOOR)) for n in (900, 480))

    assert beyond["warnings"] == ["IU1-valve: 900 pulses are more than its full stroke of 480; taken as wide open."]
    assert full["warnings"] == []


def test_a_system_written_as_off_that_runs_is_warned_of_and_its_sensors_are_not_held_against_the_air():
    units = "[snapshot.units.IU1]\nliquid_pipe = 8.0\ngas_pipe = 13.0\nreturn_air = 26.0\n"
    off = COOLS.replace("cooling", "off")
    runs, rests = (
        assessed_json(visit(f'[snapshot]\nspeed = "{n} Hz"\n{units}', off))  # a coil that cools, and the same at rest
        for n in (62, 0)
    )

    assert any("a compressor turns" in one for one in runs["warnings"])
    assert runs["sensors"] == []
    assert rests["warnings"] == []
    assert {one["id"] for one in rests["sensors"] if one["verdict"] == "off"}


def test_in_a_mixed_system_a_unit_that_does_not_say_how_it_runs_is_judged_only_where_its_pipes_say():
    units = (
        '[snapshot.units.IU1]\non = {on}\noff_minutes = 60\nopening = 0\nvalve = "IU1-valve"\nreturn_air = 20.0\n'
        "gas_pipe = {gas}\nliquid_pipe = {liquid}\n"
    )
    mixed = COOLS.replace("cooling", "mixed")

    def first(on: str, gas: float, liquid: float) -> dict:
        text = flat() + units.format(on=on, gas=gas, liquid=liquid)
        return assessed_json(visit(text, mixed, STROKE + INDOOR))["valves"][0]

    heats, stopped, passes = first("true", 66.0, 38.0), first("false", 60.0, 30.0), first("false", 6.0, 5.0)

    assert all("superheat" not in one and "evaporates" not in one for one in heats["because"])
    assert all("tight" not in one for one in stopped["because"])
    assert any("it passes" in one for one in passes["because"])
