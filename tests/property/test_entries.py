"""A visit is the set of its entries: taken apart and put together it is the same, in any order, from any devices."""

import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.property.test_visitfile_round_trip import records
from tests.visit_texts import EVERY_KEY

from fifthwire.model.kept.visits import EntryDraft
from fifthwire.model.visit import Visit
from fifthwire.visitfile import read_visit, visit_to_json
from fifthwire.visitfile.entry_paths import kind_of
from fifthwire.visitfile.entry_sets import merged
from fifthwire.visitfile.putting_together import assemble, put_together
from fifthwire.visitfile.taking_apart import take_apart

VISITS = records(Visit)
START_UTC = datetime(2026, 5, 12, 9, 0, tzinfo=UTC)


@settings(max_examples=80)
@given(VISITS, st.randoms(use_true_random=False))
def test_a_visit_taken_apart_and_put_together_in_any_order_is_the_same(visit, chance):
    entries = list(take_apart(visit))
    chance.shuffle(entries)

    assert put_together(entries) == visit


@settings(max_examples=40)
@given(VISITS)
def test_the_same_visit_gives_the_same_entries_and_each_its_own_id(visit):
    entries = take_apart(visit)
    again = take_apart(read_visit(visit_to_json(visit), name="again", syntax="json").visit)

    assert again == entries
    assert len({one.id for one in entries}) == len(entries)
    assert all(kind_of(one.path) is not None for one in entries)


def test_every_key_of_the_format_survives():
    visit = read_visit(EVERY_KEY, name="every key", syntax="toml").visit

    assert put_together(reversed(take_apart(visit))) == visit


@st.composite
def additions(draw: st.DrawFn, known: tuple[EntryDraft, ...]) -> list[EntryDraft]:
    """What one device adds: notes, readings, singles said anew, and strikes of anything known or its own."""
    device = draw(st.sampled_from(["north", "south"]))
    made: list[EntryDraft] = []
    for n in range(draw(st.integers(0, 8))):
        at_utc = START_UTC + timedelta(seconds=draw(st.integers(0, 5)))
        pool = [*known, *made]
        what = draw(st.sampled_from(["note", "reading", "single", "strike"]))
        stamp = {"id": f"{device}-{n}", "at_utc": at_utc, "device": device, "position": n}
        if what == "note":
            made.append(EntryDraft(path="notes", body={"text": f"{device} {n}"}, **stamp))
        elif what == "reading":
            made.append(EntryDraft(path="valves/OU1-main/readings", body={"reading": ["5", "1", n]}, **stamp))
        elif what == "single":
            body = {"rust": draw(st.sampled_from(["none", "light", "heavy"]))}
            made.append(EntryDraft(path="valves/OU1-main/inspection", body=body, **stamp))
        else:
            struck = draw(st.sampled_from(pool)).id
            made.append(EntryDraft(path="notes", body={"text": "struck out"}, voids=struck, **stamp))
    return made


SMALL = read_visit(
    json.dumps(
        {
            "format": "fifthwire/visit/1",
            "visit": {"id": "v", "date": "2026-05-12", "site": "A", "system": "B"},
            "specs": {"clip": {"winding": "unipolar-5", "resistance": 46}},
            "valves": [
                {"id": "OU1-main", "unit": "OU1", "role": "main", "head": "clip-on", "spec": "clip"},
                {"id": "OU2-main", "unit": "OU2", "role": "main", "head": "clip-on", "spec": "clip",
                 "measurements": [{"when": "after-cleaning", "readings": [["5", "1", 46.0], ["5", "2", 46.1]]}]},
            ],
            "notes": [{"text": "first"}],
        }
    ),
    name="small", syntax="json",
).visit  # fmt: skip
KNOWN = take_apart(SMALL)


@settings(max_examples=150)
@given(st.data(), st.randoms(use_true_random=False))
def test_the_additions_of_two_devices_give_one_visit_in_any_order_and_any_split(data, chance):
    first, second = data.draw(additions(KNOWN)), data.draw(additions(KNOWN))
    second = [replace(one, id=f"2{one.id}") for one in second]
    everything = [*KNOWN, *first, *second]
    whole = assemble(merged(everything))
    shuffled = list(everything)
    chance.shuffle(shuffled)
    cut = chance.randrange(len(shuffled) + 1)

    here = merged(merged(shuffled[:cut]), shuffled[cut:])
    there = merged(shuffled[cut:], merged(KNOWN, shuffled[:cut]), shuffled)

    assert here == there
    assert assemble(here) == assemble(there) == whole


@settings(max_examples=60)
@given(st.lists(st.sampled_from(KNOWN), unique_by=lambda one: one.id))
def test_whatever_is_struck_out_the_visit_can_be_read_as_long_as_it_ever_had_a_header(struck):
    strikes = [
        EntryDraft(id=f"s{n}", path="notes", body={"text": "wrong"}, voids=one.id, at_utc=START_UTC)
        for n, one in enumerate(struck)
    ]

    found = assemble([*KNOWN, *strikes])

    assert found.standing.struck.keys() == {one.id for one in struck}
    live = {valve.id for valve in found.visit.valves if not valve.is_void}
    assert live == {
        one.body["id"] for one in KNOWN if one.path.count("/") == 1 and "unit" in one.body and one not in struck
    }
