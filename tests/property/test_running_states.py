"""Whatever a snapshot holds, it is assessed and reported without a fault, and the windings are judged all the same."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.judged_visits import GOOD_FIVE, priors, visit_text

from fifthwire.assessment import assess, assessment_to_json, report_content
from fifthwire.model import choices
from fifthwire.model.running import CompressorReadings, Opening, OutdoorReadings, Snapshot, UnitReadings, ValveReadings
from fifthwire.visitfile import read_visit

BASE = read_visit(visit_text(f"readings = {GOOD_FIVE}"), name="made.visit.toml", syntax="toml").visit
TEMPERATURES = st.none() | st.floats(-80.0, 200.0) | st.sampled_from([7.0, 12.0, 45.0, 75.0])
PRESSURES = st.none() | st.floats(0.0, 9000.0) | st.sampled_from([990.0, 2650.0])
COMPRESSORS = st.builds(
    CompressorReadings,
    discharge_temperature_c=TEMPERATURES,
    shell_temperature_c=TEMPERATURES,
    shell=st.sampled_from([None, *choices.SHELLS]),
    speed_hz=st.sampled_from([None, 0.0, 60.0]),
)
OUTDOOR = st.builds(
    OutdoorReadings,
    discharge_temperature_c=TEMPERATURES,
    suction_kpa_abs=PRESSURES,
    discharge_kpa_abs=PRESSURES,
    suction_temperature_c=TEMPERATURES,
    liquid_temperature_c=TEMPERATURES,
    compressors=st.dictionaries(st.sampled_from(["C1", "C2"]), COMPRESSORS, max_size=2),
)
UNITS = st.builds(
    UnitReadings,
    on=st.sampled_from([None, True, False]),
    off_minutes=st.sampled_from([None, 10.0, 60.0]),
    opening=st.sampled_from([None, Opening(pulses=200.0), Opening(frac=0.4)]),
    liquid_pipe_c=TEMPERATURES,
    gas_pipe_c=TEMPERATURES,
    return_air_c=TEMPERATURES,
    supply_air_c=TEMPERATURES,
    mode=st.sampled_from([None, "cooling", "heating"]),
    target_superheat_k=st.sampled_from([None, 0.0, 5.0]),
)
SNAPSHOTS = st.builds(
    Snapshot,
    minutes_running=st.sampled_from([None, 5.0, 60.0]),
    state=st.sampled_from([None, *choices.SNAPSHOT_STATES]),
    mode=st.sampled_from([None, *choices.MODES]),
    ambient_c=TEMPERATURES,
    suction_kpa_abs=PRESSURES,
    outdoor=st.dictionaries(st.sampled_from(["OU1", "OU2"]), OUTDOOR, max_size=2),
    subcooler=st.none() | st.builds(ValveReadings, outlet_c=TEMPERATURES),
    units=st.dictionaries(st.sampled_from([f"IU{n}" for n in range(1, 7)]), UNITS, max_size=6),
)


@settings(max_examples=120, deadline=None)
@given(
    snapshots=st.lists(SNAPSHOTS, min_size=1, max_size=2), refrigerant=st.sampled_from([None, *choices.REFRIGERANTS])
)
def test_any_snapshot_is_assessed_and_reported(snapshots, refrigerant):
    visit = replace(BASE, system=replace(BASE.system, refrigerant=refrigerant), snapshots=tuple(snapshots))
    assessment = assess(visit, priors())
    out = assessment_to_json(assessment)

    assert out["valves"][0]["winding"]["verdict"] == "sound"
    assert {one["floodback"] for one in out["compressors"]} <= {"unlikely", "possible", "likely", "unknown"}
    assert len({one["id"] for one in out["compressors"]}) == len(out["compressors"])
    assert len({one["id"] for one in out["units"]}) == len(out["units"])
    assert not any(
        one["floodback"] == "unlikely" and (one["suction_quality"] or 1.0) < 0.98 for one in out["compressors"]
    )
    for units in ("si", "us"):
        assert report_content(visit, assessment, units=units).sections


@settings(max_examples=60, deadline=None)
@given(snapshot=SNAPSHOTS, seed=st.randoms(use_true_random=False))
def test_the_order_of_units_and_compressors_changes_no_figure(snapshot, seed):
    def shuffled(of: dict) -> dict:
        names = list(of)
        seed.shuffle(names)
        return {name: of[name] for name in names}

    other = replace(snapshot, units=shuffled(snapshot.units), outdoor=shuffled(snapshot.outdoor))
    system = replace(BASE.system, refrigerant="R410A", mode="cooling")
    one, two = (
        assessment_to_json(assess(replace(BASE, system=system, snapshot=of), priors())) for of in (snapshot, other)
    )

    for key in ("compressors", "units", "sensors"):
        assert {row["id"]: row for row in one[key]} == {row["id"]: row for row in two[key]}
    assert one["compressor"]["floodback"] == two["compressor"]["floodback"]
