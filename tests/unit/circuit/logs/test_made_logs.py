"""Made logs: what they say, and what is true."""

import csv
import io
import tomllib
from datetime import datetime

import numpy as np
import pytest
from pytest import approx
from tests.invented_plants import a_plant, stuck, two_outdoor

from fifthwire.circuit.logs.clock import LogPlan
from fifthwire.circuit.logs.faults import begun_faults, cases_in_time
from fifthwire.circuit.logs.make import MadeLog, make_log
from fifthwire.circuit.logs.points import wet_steps
from fifthwire.model.plant import Fault

FAULTS = (
    stuck("IU03", 0.2),
    stuck("subcooler-bypass", 0.9),
    Fault(valve="IU05", leaks_frac=0.3),
    Fault(sensor="IU02/gas_pipe", offset_k=4.0),
)


def a_log(plant=None, *, days=2.0, seed=3, **other) -> MadeLog:
    plan = LogPlan(days=days, seed=seed, **other)
    return make_log(plant or a_plant(8, faults=FAULTS), plan, name="QH-1")


@pytest.fixture(scope="module")
def made() -> MadeLog:
    return a_log(begins_days=1.0)


def columns_of(made: MadeLog) -> dict[str, np.ndarray]:
    rows = list(csv.DictReader(io.StringIO(made.table().decode())))
    as_number = lambda text: float(text) if text else np.nan  # noqa: E731
    return {
        name: np.array([row[name] if name in ("time", "mode") else as_number(row[name]) for row in rows])
        for name in rows[0]
    }


@pytest.fixture(scope="module")
def columns(made):
    return columns_of(made)


def names_in(value, units, outdoor) -> set[str]:
    """Every column that a map names."""
    if isinstance(value, dict):
        return names_in(value["column"], units, outdoor) if "column" in value else set()
    return {value.format(unit=unit, outdoor=one) for unit in units for one in outdoor}


@pytest.mark.parametrize("outdoor", [(), two_outdoor()])
def test_every_column_that_the_map_names_is_in_the_table_and_no_other(outdoor):
    made = a_log(a_plant(4, outdoor=outdoor), days=0.3)
    map_of = tomllib.loads(made.map().decode())
    table = set(next(csv.reader(io.StringIO(made.table().decode()))))

    places = map_of.get("outdoor", {}).get("names", [""])
    keys = {"names", "full_stroke", "valve"}
    values = [map_of["log"]["time"], map_of["log"]["mode"], *map_of["columns"].values()]
    values += [value for key, value in map_of["units"].items() if key not in keys]
    values += [value for key, value in map_of.get("outdoor", {}).items() if key not in keys]
    named = set().union(*(names_in(value, map_of["units"]["names"], places) for value in values))
    assert map_of["format"] == "fifthwire/log-map/1"
    assert named == table


def test_the_same_seed_gives_the_same_bytes_and_another_one_others():
    plant = a_plant(3, faults=(stuck("IU01", 0.9),))
    first, again, other = (a_log(plant, days=0.4, seed=seed) for seed in (1, 1, 2))

    assert (first.table(), first.map(), first.truth()) == (again.table(), again.map(), again.truth())
    assert first.table() != other.table()


def test_the_truth_has_every_valve_with_its_cause_and_its_beginning(made):
    truth = made.truth()

    causes = {one["id"]: (one["true"], one["since"]) for one in truth["valves"] if one["true"] != "sound"}
    began = "2026-07-07T00:00:00Z"
    assert causes == {
        "IU03-valve": ("not-following", began),
        "OU1-subcooler": ("not-following", began),
        "IU05-valve": ("passes-when-shut", began),
        "IU02-valve": ("sensor", began),
    }
    assert len(truth["valves"]) == 9
    assert truth["rows"] == len(made.table().decode().splitlines()) - 1
    assert 0 < truth["wet_minutes"] == wet_steps(made.moving).sum()


def after(columns, name, *, hours: tuple[float, float]) -> np.ndarray:
    start = datetime.fromisoformat("2026-07-06T00:00:00+00:00")
    at = np.array([(datetime.fromisoformat(one) - start).total_seconds() / 3600.0 for one in columns["time"]])
    return columns[name][(at >= hours[0]) & (at < hours[1])]


def running(columns, unit, name, hours):
    on = after(columns, f"{unit}/on", hours=hours)
    long_on = np.convolve(on, np.ones(30), mode="full")[: on.size] == 30.0
    return after(columns, f"{unit}/{name}", hours=hours)[long_on]


def test_before_its_fault_a_unit_holds_its_target_and_after_it_a_starved_one_does_not(columns):
    before = running(columns, "IU03", "tg", (8, 18)) - running(columns, "IU03", "tl", (8, 18))
    starved = running(columns, "IU03", "tg", (32, 42)) - running(columns, "IU03", "tl", (32, 42))

    assert np.nanmedian(before) == approx(5.0, abs=1.5)
    assert np.nanmedian(starved) > 10.0


def test_the_controller_drives_a_valve_that_starves_to_its_end(columns):
    before, later = (running(columns, "IU03", "eev", hours) for hours in ((8, 18), (33, 42)))

    assert np.nanmedian(before) < 0.6 * 480
    assert np.nanmedian(later) > 0.95 * 480


def test_a_sensor_that_reads_high_lets_its_unit_hold_less_than_it_shows(made, columns):
    shown = running(columns, "IU02", "tg", (33, 42)) - running(columns, "IU02", "tl", (33, 42))
    moving, hour = made.moving, made.moving.time_s[made.moving.runs] / 3600.0
    is_on = moving.rooms.on[moving.runs, 1] & (hour > 33.0) & (hour < 42.0)
    true = moving.states.superheat_k[is_on, 1]

    assert np.nanmedian(shown) == approx(5.0, abs=2.5)
    assert np.nanmedian(true) < np.nanmedian(shown) - 3.0
    assert np.nanmedian(true) < 4.0


def test_a_leaking_valve_keeps_the_coil_of_a_stopped_unit_cold(columns):
    tight, leaks = (
        after(columns, "IU05/tl", hours=hours)[
            (after(columns, "IU05/on", hours=hours) == 0.0) & (after(columns, "rps", hours=hours) > 20.0)
        ]
        for hours in ((8, 18), (32, 42))
    )

    assert np.nanmedian(tight) > 20.0
    assert np.nanmedian(leaks) < 12.0


def test_at_rest_everything_comes_to_the_air_around_it(columns):
    night = slice(120, 240)

    assert np.nanmax(columns["rps"][night]) == 0.0
    assert set(columns["mode"][night]) == {"0"}
    assert np.nanmedian(columns["IU01/tg"][night] - columns["IU01/tr"][night]) == approx(0.0, abs=1.0)
    assert columns["Ps"][night] == approx(columns["Pd"][night], abs=80.0, nan_ok=True)


def test_a_log_of_heating_has_defrost_and_hot_pipes():
    made = a_log(a_plant(6, mode="heating", ambient_c=0.0), days=1.0)
    columns, truth = columns_of(made), made.truth()

    assert truth["defrosts"]
    assert truth["from"].startswith("2026-01-12")
    assert np.nanmedian(running(columns | {"time": shifted(columns["time"])}, "IU01", "tg", (9, 18))) > 40.0
    assert "H" in set(columns["mode"])


def shifted(times):
    """The same times as if the log had begun on the day of the others."""
    return np.array([one.replace("2026-01-12", "2026-07-06").replace("2026-01-13", "2026-07-07") for one in times])


def test_a_fault_changes_the_cases_from_its_beginning_on_and_nothing_else():
    plant = a_plant(3, faults=(stuck("IU02", 0.7), Fault(charge_frac=0.8)))
    plan = LogPlan(days=1.0, seed=1)
    begun = begun_faults(plant, plan, rng=np.random.default_rng(1))
    time_s = plan.steps_s()

    cases = cases_in_time(plant, begun, time_s)

    assert np.isnan(cases.stuck_frac[time_s < begun[0].begins_s]).all()
    assert (cases.stuck_frac[time_s >= begun[0].begins_s, 1] == 0.7).all()
    assert np.isnan(cases.stuck_frac[:, [0, 2]]).all()
    assert (cases.charge_frac == np.where(time_s >= begun[1].begins_s, 0.8, 1.0)).all()


def test_faults_begin_inside_the_log_each_at_a_time_of_its_own():
    plan = LogPlan(days=10.0, seed=1)

    begins = [one.begins_s for one in begun_faults(a_plant(8, faults=FAULTS), plan, rng=np.random.default_rng(4))]

    assert len(set(begins)) == 4
    assert all(0.2 * 10 * 86400.0 < one < 0.7 * 10 * 86400.0 for one in begins)


def test_a_night_on_which_nothing_runs_is_a_log_too():
    made = a_log(a_plant(2), days=0.1)

    assert not made.moving.runs.any()
    assert len(made.table().decode().splitlines()) > 100
    assert made.truth()["starts"] == 0


def test_few_moments_have_no_steady_state(made):
    assert made.moving.is_held.sum() < 0.02 * made.moving.runs.sum()
