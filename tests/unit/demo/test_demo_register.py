"""The demo register: four invented years, lived through by the program's own steps, with the truth beside them."""

import subprocess
import sys
import tomllib
from datetime import date
from pathlib import Path

import pytest

from fifthwire.assessment.history.series import valve_history
from fifthwire.demo.office_places import SYSTEMS, valves_of
from fifthwire.demo.office_story import DRIFTS, NOT_SIGNED, TROUBLES, VISITS
from fifthwire.demo.office_visits import visits
from fifthwire.demo.register import LEAD, open_demo_register
from fifthwire.visitfile import read_visit, visit_to_json
from fifthwire.workflow import manuals, photographs, places, search, todo, visits_kept

ROOT = Path(__file__).parent.parent.parent.parent
TRUTH = ROOT / "src" / "fifthwire" / "demo" / "invented-sites.truth.toml"


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    path = tmp_path_factory.mktemp("demo") / "demo.sqlite"
    told = []
    register = open_demo_register(str(path), progress=lambda count, of: told.append((count, of)))
    assert told[-1] == (len(VISITS), len(VISITS))
    assert [one.name for one in path.parent.iterdir() if "half" in one.name] == []
    yield register
    register.close()


def all_actions(demo, state):
    first = todo.list_actions(demo, LEAD, state=state)
    assert first.n_pages == 1
    return {(one.system, one.valve, one.since): one for one in first.rows}


def test_it_has_three_sites_six_systems_and_about_180_valves(demo):
    sites = places.list_sites(demo, LEAD).rows
    assert [(row.n_systems, row.n_valves) for row in sites] == [(2, 56), (2, 58), (2, 63)]
    assert all("(invented)" in row.site.name for row in sites)
    assert sum(len(valves_of(system)) for system in SYSTEMS) == 177
    assert visits_kept.list_visits(demo, LEAD).n_rows == len(VISITS) == 47


def test_what_was_written_down_is_the_same_whenever_it_is_made():
    for (plan, once), (_, again) in zip(visits(), visits(), strict=True):
        text = visit_to_json(once)
        assert text == visit_to_json(again), plan
        read = read_visit(text, name="demo", syntax="json")
        assert (read.visit, read.warnings) == (once, ()), plan


def test_every_fault_that_was_repaired_was_asked_for_and_closed_with_what_it_was(demo):
    closed = all_actions(demo, "closed")
    for trouble in (one for one in TROUBLES if one.repaired is not None):
        found = [
            action.found
            for (system, valve, since), action in closed.items()
            if (system, valve) == (trouble.system, trouble.valve) and trouble.since <= since <= trouble.repaired
        ]
        wanted = "nothing-wrong" if trouble.cause == "sound" else trouble.cause
        assert [(one.cause, one.date) for one in found] == [(wanted, trouble.repaired)], trouble


def test_every_fault_that_is_still_there_is_to_do_and_nothing_else_but_what_drifts(demo):
    still_there = {(one.system, one.valve) for one in TROUBLES if one.repaired is None}
    to_do = {(system, valve) for system, valve, _ in all_actions(demo, "open")}

    assert still_there <= to_do
    assert to_do - still_there <= set(DRIFTS)


def test_no_good_valve_is_called_bad_and_every_proven_fault_is(demo):
    bad = {(row.system.name, row.valve.label) for row in places.list_valves(demo, LEAD, mark="bad").rows}

    assert bad <= {(one.system, one.valve) for one in TROUBLES}
    assert {(one.system, one.valve) for one in TROUBLES if one.repaired is None} <= bad


def test_a_replaced_head_stands_beside_the_one_before(demo):
    (row,) = places.list_valves(demo, LEAD, text="HM 1 OU1 main2").rows
    new, old = places.valve_whole(demo, LEAD, row.valve.id).heads

    assert (new.since, new.part_label, new.is_present) == (date(2024, 4, 16), "M-150", True)
    assert (old.until, old.is_present) == (date(2024, 4, 16), False)


def test_a_drifting_winding_has_a_point_a_year(demo):
    (row,) = places.list_valves(demo, LEAD, text="HM 1 OU2 subcooler").rows
    points = places.valve_whole(demo, LEAD, row.valve.id).points
    drifting = [one.ohm_at_spec for one in points if one.wires == ("5", "2")]
    beside = [one.ohm_at_spec for one in points if one.wires == ("5", "1")]

    assert [str(one.date.year) for one in points if one.wires == ("5", "2")] == ["2023", "2024", "2025", "2026"]
    ratios = [a / b for a, b in zip(drifting, beside, strict=True)]
    assert ratios == sorted(ratios, reverse=True)
    assert ratios[0] - ratios[-1] > 0.02


def test_all_but_the_last_visits_are_signed_and_one_has_a_second_issue(demo):
    listed = visits_kept.list_visits(demo, LEAD).rows
    open_ones = {(one.system, one.date) for one in listed if not one.is_signed}

    assert open_ones == set(NOT_SIGNED)
    assert [one.system for one in listed if one.n_issues == 2] == ["HM-1"]


def test_a_misread_value_was_put_right_in_a_second_revision(demo):
    spec = manuals.spec_named(demo, LEAD, "grey-room")
    second, first = manuals.revisions(demo, LEAD, spec.spec_id)

    assert (first.spec.resistance_ohm, second.spec.resistance_ohm) == (250.0, 205.0)
    assert (first.by, second.by, second.checked_by) == ("L-1", "L-2", "L-1")


def test_every_value_of_the_manuals_has_a_picture_of_its_page(demo):
    listed = manuals.list_specs(demo, LEAD).rows

    assert len({one.photograph_sha256 for one in listed}) == len(listed) == 9
    for one in listed:
        assert photographs.photograph(demo, LEAD, one.photograph_sha256).content.startswith(b"\x89PNG")


def test_the_search_finds_rooms_notes_and_visits(demo):
    kinds = {hit.kind for hit in search.search(demo, LEAD, "saltmarsh").rows}
    assert {"site", "system", "unit"} <= kinds
    assert "note" in {hit.kind for hit in search.search(demo, LEAD, "caretaker").rows}
    assert search.search(demo, LEAD, "roof hatch key").n_rows == 1


def test_it_is_made_once_and_opened_after_that(tmp_path, demo):
    with open_demo_register(str(demo.where.path)) as again:
        assert places.list_sites(again, LEAD).n_rows == 3


def test_the_truth_that_is_shipped_is_that_of_the_story():
    ran = subprocess.run(
        [sys.executable, "tools/demo_register.py", "--check"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (ran.returncode, ran.stderr) == (0, "")
    read = tomllib.loads(TRUTH.read_text("utf-8"))
    assert (len(read["fault"]), len(read["drift"])) == (len(TROUBLES), len(DRIFTS))


def test_the_windings_that_drift_are_called_out_and_no_others(demo):
    called = {}
    for row in places.list_systems(demo, LEAD).rows:
        for valve in places.system_whole(demo, LEAD, row.system.id).valves:
            whole = places.valve_whole(demo, LEAD, valve.valve.id)
            history = valve_history(whole.points, whole.heads, whole.work, whole.spec.spec if whole.spec else None)
            for drift in (drift for head in history.heads for drift in head.drift.called):
                called[row.system.name, valve.valve.label] = drift

    assert called.keys() == DRIFTS.keys()
    for place, (winding, a_year, _) in DRIFTS.items():
        assert called[place].winding == f"5-{winding + 1}"
        assert called[place].per_year_frac == pytest.approx(a_year, abs=3 * called[place].u_per_year_frac)
