"""The atlas: every valve at every position under several loads."""

import json
from dataclasses import replace

import numpy as np
import pytest
from pytest import approx
from tests.invented_plants import a_plant, stuck

from fifthwire.circuit.atlas import FULL, PART, Condition, atlas_conditions, make_atlas, on_pattern
from fifthwire.circuit.atlas_content import (
    atlas_page,
    atlas_to_json,
    begins_words,
    liquid_table,
    shown_rows,
    valve_page,
)
from fifthwire.circuit.scenario import scenarios_of
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve
from fifthwire.model.errors import InputError
from fifthwire.model.plant import Plant

PLANT = a_plant(12)
PLANT_NAMES = tuple(unit.id for unit in PLANT.units)


@pytest.fixture(scope="module")
def atlas():
    return make_atlas(PLANT)


def test_every_valve_that_works_is_asked_at_every_position_under_every_condition(atlas):
    assert atlas.valves == (*(f"IU{at:02d}" for at in range(1, 13)), "OU1/subcooler-bypass")
    assert atlas.positions[[0, 10, 20]] == approx([0.0, 0.5, 1.0])
    assert atlas.converged.shape == (13, 10, 21)
    assert atlas.converged.mean() > 0.99


def test_an_answer_is_that_of_the_one_case_solved_alone(atlas):
    plant = a_plant(12, faults=(stuck("IU06", 0.75),))
    alone = solve(circuit_of(plant), scenarios_of(plant))

    at = atlas.valves.index("IU06"), atlas.condition(FULL), 15
    assert atlas.suction_superheat_k[at] == approx(alone.suction_superheat_k[0, 0], abs=1e-4)
    assert atlas.discharge_superheat_k[at] == approx(alone.discharge_superheat_k[0, 0], abs=1e-4)
    healthy = solve(circuit_of(PLANT), scenarios_of(PLANT))
    assert atlas.lost_frac[at] == approx(1.0 - alone.capacity_kw[0] / healthy.capacity_kw[0], abs=1e-6)
    assert atlas.own_lost_frac[at] == approx(
        1.0 - alone.unit_capacity_kw[0, 5] / healthy.unit_capacity_kw[0, 5], abs=1e-5
    )
    assert atlas.healthy_frac[5, atlas.condition(FULL)] == approx(healthy.opening_frac[0, 5], abs=1e-6)


@pytest.mark.parametrize("load", [1.0, 0.6, 0.35])
@pytest.mark.parametrize("valve", range(13))
def test_a_part_load_runs_its_share_of_units_and_always_the_valves_own(load, valve):
    system = circuit_of(PLANT)

    running = on_pattern(system, system.valve(([*PLANT_NAMES, "subcooler-bypass"])[valve]), Condition(load, 35.0))
    stopped = on_pattern(system, valve, Condition(load, 35.0, is_stopped=True)) if valve < 12 else None

    assert running.sum() == round(load * 12)
    assert valve == 12 or running[valve]
    if stopped is not None:
        assert not stopped[valve]
        assert stopped.sum() == min(round(load * 12), 11)


def test_liquid_begins_earlier_at_part_load(atlas):
    full, part = (np.nan_to_num(atlas.liquid_from_frac[:, atlas.condition(load)], nan=2.0) for load in (FULL, PART))

    assert np.all(part < full)


def test_where_liquid_begins_the_suction_is_just_dry(atlas):
    at, condition = atlas.valves.index("OU1/subcooler-bypass"), atlas.condition(PART)
    begins = float(atlas.liquid_from_frac[at, condition])
    system = circuit_of(PLANT)
    on = on_pattern(system, system.valve("subcooler-bypass"), Condition(PART, 35.0))
    cases = scenarios_of(PLANT).repeated(2).with_(on=on)
    around = solve(system, cases.with_stuck(system.valve("subcooler-bypass"), [begins - 0.03, begins + 0.03]))

    assert around.liquid_to_compressor_g_s[:, 0] == approx([0.0, around.liquid_to_compressor_g_s[1, 0]])
    assert around.liquid_to_compressor_g_s[1, 0] > 0.0


def test_the_further_open_the_less_superheat_at_suction_once_it_is_past_its_need(atlas):
    condition = atlas.condition(PART)
    for at in range(len(atlas.valves)):
        past = atlas.positions > atlas.healthy_frac[at, condition] + 0.05
        superheat = atlas.suction_superheat_k[at, condition][past]
        assert np.all(np.diff(superheat) <= 1e-6), atlas.valves[at]


def test_a_shut_valve_loses_its_own_unit_and_an_open_one_moves_its_own_superheat(atlas):
    full = atlas.condition(FULL)

    assert atlas.own_lost_frac[:12, full, 0] == approx(1.0, abs=1e-3)
    assert atlas.moved["own-superheat"][:12, full, 0].all()
    assert atlas.moved["own-superheat"][:12, full, -1].all()
    assert atlas.moved["bypass-superheat"][12, full, -1]
    assert not atlas.moved["own-superheat"][12].any()


def test_where_it_is_needed_a_stuck_valve_hides(atlas):
    full = atlas.condition(FULL)
    at = int(np.abs(atlas.positions - atlas.healthy_frac[0, full]).argmin())

    moved = [name for name, flags in atlas.moved.items() if flags[0, full, at]]

    assert "suction-superheat" not in moved and "discharge" not in moved and "other-commands" not in moved


def test_the_faults_of_the_plant_are_left_out(atlas):
    other = make_atlas(a_plant(12, faults=(stuck("IU01", 1.0),)))

    assert np.array_equal(other.liquid_from_frac, atlas.liquid_from_frac, equal_nan=True)


def test_a_linear_indoor_valve_floods_earlier_than_a_concave_one(atlas):
    other = make_atlas(PLANT, curve="linear")

    part = atlas.condition(PART)
    concave, linear = (np.nan_to_num(one.liquid_from_frac[:12, part], nan=2.0) for one in (atlas, other))
    assert np.all(linear < concave)


def test_one_unit_has_no_part_load_and_two_have():
    assert {one.load_frac for one in atlas_conditions(a_plant(1))} == {1.0}
    assert not any(one.is_stopped for one in atlas_conditions(a_plant(1)))
    assert make_atlas(a_plant(1)).converged.any()
    assert any(one.is_stopped for one in atlas_conditions(a_plant(2)))


def test_settled_states_are_another_answer(atlas):
    settled = make_atlas(PLANT, closure="settled")

    open_bypass = 12, atlas.condition(PART), -1
    assert settled.liquid_g_s[open_bypass] < atlas.liquid_g_s[open_bypass]


def test_a_plant_without_units_is_refused():
    with pytest.raises(InputError, match="no indoor unit"):
        make_atlas(Plant(refrigerant="R410A"))


def test_the_page_has_four_maps_and_a_row_a_valve(atlas):
    other = make_atlas(PLANT, curve="linear")

    page = atlas_page(atlas, other)

    kinds = [block.kind for block in page.blocks]
    assert kinds.count("picture") == 4
    table = next(block for block in page.blocks if block.kind == "table")
    assert [row.cells[0] for row in table.rows] == [*PLANT_NAMES, "OU1 subcooler"]
    assert "nothing here was validated on a machine" in " ".join(page.limits)


def test_the_table_says_where_liquid_begins_as_the_atlas_does(atlas):
    row = liquid_table(atlas).rows[12].cells

    begins = atlas.liquid_from_frac[12, atlas.condition(PART)]
    assert f"{begins * 100.0:.0f}\N{NO-BREAK SPACE}%" in row


def test_too_many_valves_for_a_page_are_drawn_by_size():
    many = make_atlas(a_plant(30), conditions=(Condition(FULL, 35.0), Condition(PART, 35.0)), positions=5)

    places, names = shown_rows(many)

    assert len(places) == 5 + 1
    assert names[-1] == "OU1 subcooler"
    assert all("worst of" in name for name in names[:-1])


def test_one_valve_is_shown_at_every_position(atlas):
    page = valve_page(atlas, "subcooler-bypass")

    assert page.title.startswith("What OU1 subcooler does")
    assert all(len(block.rows) == 21 for block in page.blocks)
    with pytest.raises(InputError, match="no valve IU1"):
        valve_page(atlas, "IU1")


def test_the_json_has_every_case_and_nothing_that_is_no_number(atlas):
    written = atlas_to_json(atlas)

    text = json.dumps(written, allow_nan=False)
    assert json.loads(text)["format"] == "fifthwire/atlas/1"
    assert len(written["valves"]) == 13
    for valve in written["valves"]:
        assert [len(case["suction_superheat_k"]) for case in valve["cases"]] == [21] * 10


def test_a_case_without_a_state_has_no_figures_and_says_why():
    alone = make_atlas(a_plant(2))
    lost = np.argwhere(~alone.converged)

    assert len(lost)
    for at in map(tuple, lost):
        assert alone.why_not[at]
        assert np.isnan(alone.suction_superheat_k[at]) and np.isnan(alone.lost_frac[at])
        assert not any(flags[at] for flags in alone.moved.values())


def test_never_is_said_only_where_the_open_valve_has_a_state(atlas):
    full = atlas.condition(FULL)
    dry = next(at for at in range(12) if np.isnan(atlas.liquid_from_frac[at, full]))
    unknown = replace(atlas, converged=np.zeros_like(atlas.converged))

    assert begins_words(atlas, dry, full) == "never"
    assert begins_words(unknown, dry, full) == "–"
