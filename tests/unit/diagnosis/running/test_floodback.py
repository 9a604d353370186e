"""Floodback is told by discharge superheat against the dry one, with a second sign where that may have another reason.

Sources beside the tests; "computed" is a steady-state calculation of a circuit of 24 units, not a measurement.
"""

from dataclasses import replace

import pytest

from fifthwire.diagnosis.running.floodback import floodback, is_shell_cold, signs, worst_of
from fifthwire.diagnosis.running.states import CompressorSeen, compressor_seen
from fifthwire.model.reasons import REASONS, say
from fifthwire.model.running import OutdoorReadings
from fifthwire.physics.compression import discharge_superheat_k
from fifthwire.physics.refrigerants import refrigerant


def seen(
    discharge_k: float | None = 30.0,
    suction_k: float | None = 5.0,
    *,
    name: str = "R410A",
    boils_c: float = 7.0,
    condenses_c: float = 45.0,
    excuses: tuple[str, ...] = (),
    **more: float | str,
) -> CompressorSeen:
    of = refrigerant(name)
    outdoor = OutdoorReadings(
        suction_kpa_abs=of.dew_kpa_abs(boils_c),
        discharge_kpa_abs=of.dew_kpa_abs(condenses_c),
        suction_temperature_c=None if suction_k is None else boils_c + suction_k,
        discharge_temperature_c=None if discharge_k is None else condenses_c + discharge_k,
        **more,
    )
    return compressor_seen(of, "OU1/C1", outdoor, outdoor, has_outdoor_condenser=True, excuses=excuses).seen


def test_a_healthy_compressor_is_unlikely_to_get_liquid():
    # Computed: 24 units, R410A, 35 °C outside: discharge superheat 28.9 K, suction superheat 4.8 K.
    assert floodback(seen(28.9, 4.8)) == "unlikely"
    assert floodback(seen(45.3, 4.8, name="R32")) == "unlikely"


@pytest.mark.parametrize(
    ("discharge_k", "condenses_c"),
    [(14.6, 45.0), (15.1, 45.0), (13.2, 45.0), (11.1, 40.0), (3.4, 40.0), (0.0, 40.0)],
)
def test_each_flooding_case_of_the_steady_circuit_is_likely(discharge_k, condenses_c):
    # Computed: suction quality 0.955 and less, R410A; suction superheat reads 0.
    assert floodback(seen(discharge_k, 0.0, condenses_c=condenses_c)) == "likely"


@pytest.mark.parametrize(("discharge_k", "quality"), [(20.9, 0.985), (22.1, 0.991)])
def test_a_trace_of_liquid_is_at_least_possible(discharge_k, quality):
    # Computed: one indoor valve wide open; the accumulator holds most of it back.
    assert floodback(seen(discharge_k, 0.0)) in ("possible", "likely"), quality


def test_no_fixed_number_tells():
    # Computed: R32 condensing at 50 °C with 14 K has a suction quality of 0.90, R410A at 35 °C with 16.5 K is just dry.
    assert floodback(seen(14.0, 0.0, name="R32", condenses_c=50.0)) == "likely"
    assert floodback(seen(14.0, None, name="R32", condenses_c=50.0)) == "likely"
    assert floodback(seen(22.0, 5.0, condenses_c=35.0)) == "unlikely"


@pytest.mark.parametrize("excuse", ["injection", "start", "oil-return", "defrost", "protection"])
def test_an_excused_low_discharge_superheat_alone_is_possible(excuse):
    assert floodback(seen(8.0, 6.0, excuses=(excuse,))) == "possible"
    assert floodback(seen(8.0, None, excuses=(excuse,))) == "possible"


@pytest.mark.parametrize("excuse", ["injection", "start", "oil-return", "defrost", "protection"])
def test_with_a_second_sign_it_is_likely_all_the_same(excuse):
    assert floodback(seen(8.0, 0.5, excuses=(excuse,))) == "likely"
    cold = {"shell_temperature_c": 46.0, "shell": "high-side"}
    assert floodback(seen(8.0, 6.0, excuses=(excuse,), **cold)) == "likely"


def test_a_shell_is_cold_for_its_kind():
    # From memory: a sump stays 10 K above saturated suction; a high-side shell stands near discharge.
    assert is_shell_cold(seen(shell_temperature_c=9.0, shell="low-side"))
    assert not is_shell_cold(seen(shell_temperature_c=25.0, shell="low-side"))
    assert is_shell_cold(seen(shell_temperature_c=47.0, shell="high-side"))
    assert not is_shell_cold(seen(shell_temperature_c=68.0, shell="high-side"))
    assert is_shell_cold(seen(shell_temperature_c=9.0))
    assert not is_shell_cold(seen(shell_temperature_c=47.0))


def test_frost_alone_is_not_floodback():
    # A trade text: frost only says that a surface is under 0 °C. Evaporating at -12 °C with 8 K every line is frosted.
    assert floodback(seen(45.0, 8.0, boils_c=-12.0, condenses_c=40.0)) == "unlikely"


def test_nothing_that_tells_is_unknown():
    assert floodback(CompressorSeen(id="OU1/C1")) == "unknown"
    assert floodback(seen(None, None)) == "unknown"
    assert floodback(seen(None, 2.0)) == "unknown"


def test_a_wet_suction_without_a_discharge_temperature_is_possible():
    assert floodback(seen(None, 0.3)) == "possible"
    assert floodback(seen(None, 7.0)) == "unlikely"  # 6 to 8 K at the compressor is normal (refrigeration press)


@pytest.mark.parametrize("name", ["R410A", "R32", "R22", "R407C", "R134a", "R454B", "R290", "R404A"])
@pytest.mark.parametrize("efficiency", [0.62, 0.70, 0.78])
@pytest.mark.parametrize("quality", [0.85, 0.90, 0.95, 0.97, 0.985])
@pytest.mark.parametrize(("boils_c", "condenses_c"), [(7.0, 35.0), (7.0, 50.0), (-10.0, 42.0)])
@pytest.mark.parametrize("suction_k", [None, 0.0, 1.4])
def test_a_flooding_compressor_never_comes_out_unlikely(name, efficiency, quality, boils_c, condenses_c, suction_k):
    of = refrigerant(name)
    suction, discharge = of.dew_kpa_abs(boils_c), of.dew_kpa_abs(condenses_c)
    over = discharge_superheat_k(of, suction, discharge, quality=quality, efficiency=efficiency)
    told = floodback(seen(over, suction_k, name=name, boils_c=boils_c, condenses_c=condenses_c))

    assert told in ("possible", "likely")
    assert told == "likely" or quality >= 0.95


@pytest.mark.parametrize("name", ["R410A", "R32", "R22", "R407C", "R134a", "R454B"])
@pytest.mark.parametrize("efficiency", [0.62, 0.70, 0.78])
@pytest.mark.parametrize("superheat_k", [3.5, 6.0, 12.0])
def test_a_dry_compressor_never_comes_out_likely(name, efficiency, superheat_k):
    of = refrigerant(name)
    over = discharge_superheat_k(
        of, of.dew_kpa_abs(7.0), of.dew_kpa_abs(45.0), superheat_k=superheat_k, efficiency=efficiency
    )

    assert floodback(seen(over, superheat_k, name=name)) != "likely"
    assert floodback(seen(over, superheat_k, name=name)) == "unlikely"


def test_less_superheat_is_never_told_as_less_liquid():
    order = ("unlikely", "possible", "likely")
    for suction_k in (0.0, 2.0, 5.0):
        told = [order.index(floodback(seen(over / 2.0, suction_k))) for over in range(100, -1, -1)]
        assert told == sorted(told)


def test_only_the_compressor_that_gets_the_liquid_is_blamed_for_a_wet_suction():
    dry = seen(38.0, 0.4)

    assert floodback(dry) == "possible"
    assert floodback(dry, is_suction_explained=True) == "unlikely"
    assert floodback(seen(24.0, 0.4), is_suction_explained=True) == "possible"


def test_a_discharge_colder_than_it_condenses_cannot_be():
    assert floodback(seen(-9.0, 6.0)) == "possible"
    assert floodback(seen(-9.0, 0.2)) == "likely"


def test_pressures_that_contradict_the_temperatures_make_nothing_sure():
    assert floodback(replace(seen(30.0, 5.0), is_contradicted=True)) == "unknown"
    assert floodback(replace(seen(5.0, 0.0), is_contradicted=True)) == "possible"


def test_a_compressor_that_stands_still_tells_nothing():
    assert floodback(replace(seen(0.0, 0.0), stands_still=True)) == "unknown"


def test_the_worst_comes_first():
    assert worst_of(("unlikely", "possible", "unknown")) == "possible"
    assert worst_of(()) == "unknown"


def test_the_signs_say_what_the_verdict_rests_on():
    wet = seen(9.0, 0.2, excuses=("injection",), shell_temperature_c=46.0, shell="high-side")
    said = [say(REASONS, one.code, one.values) for one in signs(wet, floodback(wet))]

    assert said[0] == "OU1/C1: liquid likely reaches this compressor."
    assert "discharge superheat is 9.0 K; dry suction gives from " in said[1]
    assert any("suction superheat is 0.2 K" in one for one in said)
    assert any("cold for a shell at discharge pressure" in one for one in said)
    assert any("injection or hot-gas valve is open" in one for one in said)


@pytest.mark.parametrize(
    "one",
    [
        seen(),
        seen(22.0, 2.0),
        seen(6.0),
        seen(-9.0),
        seen(None, None),
        seen(None, 0.2),
        CompressorSeen(id="C"),
        replace(seen(), stands_still=True),
        replace(seen(6.0, excuses=("defrost", "oil-return", "start", "protection")), is_contradicted=True),
        seen(shell_temperature_c=9.0),
    ],
)
def test_every_sign_has_its_sentence(one):
    found = signs(one, floodback(one))

    assert len(found) >= 2
    assert all(say(REASONS, of.code, of.values).endswith(".") for of in found)
