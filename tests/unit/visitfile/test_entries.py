"""Entries of a visit: what counts, what is struck, and what cannot stand together."""

from datetime import UTC, datetime

import pytest
from tests.visit_texts import VALVE, read

from fifthwire.model.canonical import is_derived
from fifthwire.model.errors import VisitFileError
from fifthwire.model.kept.visits import EntryDraft
from fifthwire.visitfile.entry_paths import kind_of
from fifthwire.visitfile.putting_together import assemble, put_together
from fifthwire.visitfile.taking_apart import identity_of, take_apart

SPEC = '[specs.clip]\nwinding = "unipolar-5"\nresistance = "46 ohm"\n'
NINE_UTC, TEN_UTC = (datetime(2026, 5, 12, hour, tzinfo=UTC) for hour in (9, 10))


def an_entry(id_, path, at_utc=NINE_UTC, voids=None, **body):
    return EntryDraft(id=id_, path=path, body=body, at_utc=at_utc, voids=voids)


def entries_of(more):
    return take_apart(read(more))


def test_a_table_is_an_entry_and_so_is_a_reading():
    paths = [one.path for one in entries_of(SPEC + VALVE + 'readings = [["5", "1", 46.0], ["5", "2", 46.1]]\n')]

    assert paths == ["visit", "specs/clip", "valves/OU1-main", *["valves/OU1-main/readings"] * 2]


def test_the_same_reading_twice_is_two_entries():
    twice = entries_of(VALVE + 'readings = [["5", "1", 46.0], ["5", "1", 46.0]]\n')

    assert len({one.id for one in twice}) == len(twice) == 4
    assert len(put_together(twice).valves[0].readings) == 2


def test_a_table_that_names_its_entry_keeps_that_id_and_two_of_one_id_are_both_kept():
    found = entries_of('[[notes]]\nentry = "n1"\ntext = "a"\n[[notes]]\nentry = "n1"\ntext = "b"\n')

    assert found[1].id == "n1"
    assert is_derived(found[2].id)
    assert [note.text for note in put_together(found).notes] == ["a", "b"]


def test_of_a_single_table_the_latest_addition_counts_whatever_the_order():
    early = an_entry("b", "valves/OU1-main/inspection", rust="light")
    late = an_entry("a", "valves/OU1-main/inspection", TEN_UTC, rust="heavy")

    for order in ((early, late), (late, early)):
        found = assemble([*entries_of(VALVE), *order])
        assert found.visit.valves[0].inspection.rust == "heavy"
        assert found.standing.instead_of("b") == "a"


def test_of_two_additions_of_one_moment_the_greater_id_counts():
    both = [an_entry(id_, "valves/OU1-main/inspection", rust=rust) for id_, rust in (("b", "heavy"), ("a", "none"))]

    assert assemble([*entries_of(VALVE), *both]).visit.valves[0].inspection.rust == "heavy"


def test_when_the_latest_is_struck_out_the_one_before_counts_again():
    early = an_entry("a", "valves/OU1-main/inspection", rust="light")
    late = an_entry("b", "valves/OU1-main/inspection", TEN_UTC, rust="heavy")
    strike = an_entry("c", "notes", TEN_UTC, voids="b", text="the wrong valve")

    found = assemble([*entries_of(VALVE), early, late, strike])

    assert found.visit.valves[0].inspection.rust == "light"
    assert found.standing.instead_of("b") == "c"


def test_a_struck_strike_strikes_nothing():
    strike = an_entry("c", "notes", voids="n1", text="wrong")
    again = an_entry("d", "notes", TEN_UTC, voids="c", text="it was right")
    found = assemble([*entries_of('[[notes]]\nentry = "n1"\ntext = "a"\n'), strike, again])

    assert [(note.text, note.is_void) for note in found.visit.notes] == [
        ("a", False), ("wrong", True), ("it was right", False),
    ]  # fmt: skip


def test_a_valve_that_is_struck_out_is_shown_void_with_what_was_read_of_it():
    held = entries_of(VALVE + 'readings = [["5", "1", 46.0]]\n')
    own = next(one for one in held if one.path == "valves/OU1-main")

    (valve,) = assemble([*held, an_entry("s", "notes", voids=own.id, text="not this unit")]).visit.valves

    assert valve.is_void
    assert len(valve.readings) == 1


def test_a_valve_whose_spec_is_struck_out_is_compared_with_itself_and_a_doubt_says_so():
    held = entries_of(SPEC + VALVE + 'spec = "clip"\n')
    spec = next(one for one in held if one.path == "specs/clip")

    found = assemble([*held, an_entry("s", "notes", voids=spec.id, text="wrong page")])

    assert found.visit.valves[0].spec is None
    assert len(found.doubts) == 1
    assert '"clip" is not in [specs]' in found.doubts[0].words


def test_the_same_valve_added_under_two_labels_counts_once_and_a_doubt_says_so():
    again = an_entry("v2", "valves/main", id="main", unit="OU1", role="main", head="clip-on")

    found = assemble([*entries_of(VALVE), again])

    assert [valve.id for valve in found.visit.valves] == ["OU1-main"]
    assert "not used" in found.doubts[0].words


def test_the_same_valve_added_on_two_devices_under_one_label_is_one():
    again = an_entry("v2", "valves/OU1-main", TEN_UTC, id="OU1-main", unit="OU1", role="main", head="bolt-on")

    (valve,) = assemble([*entries_of(VALVE), again]).visit.valves

    assert valve.head == "bolt-on"


def test_a_reading_added_to_a_further_measurement_joins_its_state():
    held = entries_of(VALVE + '[[valves.measurements]]\nwhen = "after-cleaning"\nreadings = [["5", "1", 46.0]]\n')
    path = next(one.path for one in held if one.path.endswith("/readings"))

    (valve,) = assemble([*held, an_entry("r", path, reading=["5", "2", 46.2])]).visit.valves

    assert [of.ohm for of in valve.measurements[0].readings] == [46.0, 46.2]


def test_of_two_notes_alike_of_which_one_is_struck_out_the_file_still_knows_which():
    held = entries_of('[[notes]]\ntext = "a"\n[[notes]]\ntext = "a"\n')
    for struck, other in (held[1:], held[:0:-1]):
        visit = put_together([*held, an_entry("s", "notes", voids=struck.id, text="twice")])

        again = {one.id for one in take_apart(visit)}

        assert {struck.id, other.id, "s"} <= again
        assert len(again) == len(held) + 1


def test_a_strike_of_what_no_file_can_name_is_a_plain_note_in_the_file_and_warns_of_nothing():
    held = entries_of(VALVE + 'readings = [["5", "1", 46.0]]\n')
    found = assemble([*held, an_entry("s", "notes", voids=held[-1].id, text="the wrong plug")])

    assert found.visit.valves[0].readings == ()
    assert [(note.text, note.voids) for note in found.visit.notes] == [("the wrong plug", None)]
    assert found.warnings == assemble(held).warnings


def test_entries_without_a_header_are_no_visit():
    with pytest.raises(VisitFileError):
        put_together([an_entry("n", "notes", text="lost")])


@pytest.mark.parametrize("path", ["", "/", "visits", "specs", "specs/a/b", "valves", "valves/A/b", "valves/A/work"])
def test_nothing_stands_at_a_path_that_no_visit_has(path):
    assert kind_of(path) is None


def test_a_visit_without_an_id_is_known_by_where_and_when_it_was():
    first, again, other = read(), read(VALVE), read('[system]\nmode = "off"\n', '''format = "fifthwire/visit/1"
[visit]
date = 2026-05-13
site = "Quayside House"
system = "QH-1"
''')  # fmt: skip

    assert identity_of(first.header) == identity_of(again.header) != identity_of(other.header)
