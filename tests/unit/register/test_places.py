"""Sites, systems, units, valves and heads on both engines."""

from dataclasses import replace
from datetime import date

import pytest

from fifthwire.model.errors import Conflict, InputError, NotFound
from fifthwire.model.kept.places import HeadInstance, Site, SystemPlace, UnitPlace, ValvePlace
from fifthwire.register import place_changes, places, valves
from fifthwire.register.search import search

SITE = Site(id="site", name="Quayside House", time_zone="Europe/London", altitude_m=40.0, address="2 Quay Row")
SYSTEM = SystemPlace(id="system", site_id="site", name="QH-1", refrigerant="R410A", installed=2014)
UNIT = UnitPlace(id="unit", system_id="system", name="IU07", kind="indoor", position=7, room="Reading room")
VALVE = ValvePlace(
    id="valve", system_id="system", unit_id="unit", unit="IU07", role="indoor", label="IU07-valve", head="clip-on"
)


@pytest.fixture
def kept(register):
    """A register that holds one of each."""
    with register.adding() as keep:
        places.add_site(keep, SITE)
        places.add_system(keep, SYSTEM)
        valves.add_unit(keep, UNIT)
        valves.add_valve(keep, VALVE)
    return register


def found(register, asked, **more):
    with register.reading() as keep:
        return [(hit.kind, hit.title) for hit in search(keep, asked, **more).rows]


def test_every_place_comes_back_as_it_was_kept(kept):
    with kept.reading() as keep:
        assert places.site(keep, "site") == places.site_named(keep, "Quayside House") == SITE
        assert places.system(keep, "system") == places.system_named(keep, "site", "QH-1") == SYSTEM
        assert valves.units_of(keep, "system") == (UNIT,)
        assert valves.valve(keep, "valve") == VALVE
        assert valves.valves_of(keep, "system") == (VALVE,)


def test_what_is_not_kept_is_not_found(kept):
    with kept.reading() as keep:
        for read in (places.site, places.system, valves.unit, valves.valve):
            with pytest.raises(NotFound, match="nowhere"):
                read(keep, "nowhere")


def test_of_two_who_change_one_site_the_second_is_shown_both(kept):
    with kept.adding() as keep:
        place_changes.change_site(keep, replace(SITE, address="3 Quay Row"))

    with pytest.raises(Conflict) as refused, kept.adding() as keep:
        place_changes.change_site(keep, replace(SITE, address="4 Quay Row"))

    assert (refused.value.theirs.address, refused.value.yours.address) == ("3 Quay Row", "4 Quay Row")
    assert refused.value.theirs.version == 2


def test_a_renamed_site_is_found_with_its_valves_under_the_new_name_alone(kept):
    with kept.adding() as keep:
        place_changes.change_site(keep, replace(SITE, name="Harbour House"))

    assert found(kept, "quayside") == []
    assert found(kept, "harbour iu07") == [("unit", "IU07"), ("valve", "IU07-valve")]


def test_a_renamed_system_is_found_under_the_new_name(kept):
    with kept.adding() as keep:
        place_changes.change_system(keep, replace(SYSTEM, name="North"))

    assert found(kept, "north") == [("system", "North"), ("unit", "IU07"), ("valve", "IU07-valve")]


def test_a_valve_is_found_by_the_start_of_any_of_its_words(kept):
    assert found(kept, "iu07 val") == [("valve", "IU07-valve")]
    assert found(kept, "READ") == [("unit", "IU07"), ("valve", "IU07-valve")]
    assert found(kept, "iu07 zebra") == []


def test_signs_of_the_search_engines_are_read_as_text(kept):
    for asked in ("", "  ", '"', "a* OR b", "NEAR(", "kind:valve", "'; drop", "!&|<->", "ß\0é"):
        found(kept, asked)


def test_who_looks_after_other_sites_finds_nothing(kept):
    assert found(kept, "iu07", site_ids=("other",)) == []
    assert found(kept, "iu07", site_ids=("site",)) != []


def test_two_valves_of_one_role_need_numbers(kept):
    with pytest.raises(InputError, match="IU07 has a"), kept.adding() as keep:
        valves.add_valve(keep, replace(VALVE, id="second", label="another"))
    with kept.adding() as keep:
        valves.add_valve(keep, replace(VALVE, id="second", label="another", number=2))
        assert valves.valve(keep, "second").number == 2


def test_a_label_stands_once_in_a_system(kept):
    with pytest.raises(InputError, match="labelled IU07-valve"), kept.adding() as keep:
        valves.add_valve(keep, replace(VALVE, id="second", number=2))


def test_a_name_that_is_taken_is_refused_by_name(kept):
    with pytest.raises(InputError, match="Quayside House"), kept.adding() as keep:
        places.add_site(keep, replace(SITE, id="second"))
    with pytest.raises(InputError, match="QH-1"), kept.adding() as keep:
        places.add_system(keep, replace(SYSTEM, id="second"))
    with pytest.raises(InputError, match="IU07"), kept.adding() as keep:
        valves.add_unit(keep, replace(UNIT, id="second"))


def test_the_head_that_is_on_a_valve_stands_before_those_that_came_off(kept):
    old = HeadInstance(id="old", valve_id="valve", since=date(2014, 6, 1), until=date(2024, 4, 2), is_present=False)
    new = HeadInstance(id="new", valve_id="valve", since=date(2024, 4, 2), part_label="C-205")
    with kept.adding() as keep:
        valves.add_heads(keep, [old, new])

    with kept.reading() as keep:
        assert valves.heads_of(keep, "valve") == (new, old)
        assert valves.present_heads(keep, ["valve"]) == {"valve": new}
