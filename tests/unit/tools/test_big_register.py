"""The generator of a big register: what it writes in bulk is what the program itself would have kept."""

import sys
from pathlib import Path

import pytest

from fifthwire.model.kept.people import Person
from fifthwire.register.whole import check
from fifthwire.workflow import places, search, todo, visits_kept

TOOLS = Path(__file__).parent.parent.parent.parent / "tools"
OWNER = Person(id="o", name="RT", role="owner")


@pytest.fixture
def filled(register, monkeypatch):
    monkeypatch.syspath_prepend(str(TOOLS))
    import big_register

    counts = big_register.fill(register, 0.005)
    yield register, counts
    for name in ("big_register", "big_register_rows"):
        sys.modules.pop(name, None)


def test_a_part_of_it_has_its_share_of_everything(filled):
    _, counts = filled

    assert (counts["sites"], counts["systems"], counts["valves"]) == (1, 10, 500)
    assert counts["winding_points"] == 500 * 5 * 4
    assert counts["visit_entries"] == 10 * 5 * (4 + 50 * 5), "20 readings a valve, and what stands around them"


def test_the_program_reads_it_as_its_own(filled):
    register, counts = filled
    (site,) = places.list_sites(register, OWNER).rows
    assert (site.n_systems, site.n_valves) == (10, 500)
    row = places.list_systems(register, OWNER).rows[0]
    assert (row.n_units, row.n_valves) == (42, 50)
    whole = places.system_whole(register, OWNER, row.system.id)
    assert all(one.now is not None for one in whole.valves)
    valve = places.valve_whole(register, OWNER, whole.valves[0].valve.id)
    assert (len(valve.points), len(valve.verdicts), len(valve.heads)) == (20, 5, 1)

    visit = visits_kept.list_visits(register, OWNER).rows[0]
    read = visits_kept.visit_of(register, OWNER, visit.id)
    assert (len(read.visit.valves), read.doubts, len(read.entries)) == (50, (), visit.n_entries)
    assert visits_kept.judge_visit(register, OWNER, visit.id).assessment["valves"]
    assert search.search(register, OWNER, "quay ou1 subcooler").n_rows > 0
    assert todo.list_actions(register, OWNER, state=None).n_rows >= counts["actions"]


def test_it_is_a_whole_register(filled, register_url):
    assert check(register_url).problems == ()
