"""Kept visits: begun, added to, struck out of, judged and signed."""

from dataclasses import replace
from datetime import date

import pytest

from fifthwire.model.errors import Conflict, InputError, NotAllowed, NotFound
from fifthwire.model.kept.people import Person, alone
from fifthwire.model.visit import Spec
from fifthwire.workflow.laws import load_priors
from fifthwire.workflow.manuals import add_spec
from fifthwire.workflow.places import system_whole
from fifthwire.workflow.todo import list_actions
from fifthwire.workflow.valves import valve_whole
from fifthwire.workflow.visits_kept import (
    add_entry,
    import_visit_file,
    issue_report,
    judge_visit,
    new_visit,
    sign_off,
    take_manual_spec,
    visit_of,
    void_entry,
)

OWNER = alone("rt")
TECHNICIAN = Person(id="t", name="T", role="technician")
READER = Person(id="r", name="R", role="reader")
FILE = """format = "fifthwire/visit/1"
[visit]
date = 2025-05-12
site = "Quayside House"
system = "QH-1"
[system]
service_state = true
[specs.clip]
winding = "unipolar-5"
resistance = "46 ohm"
tolerance = "10 %"
at = "20 degC"
[meters.m]
accuracy = "0.9 % + 2 digits"
resolution = "0.1 ohm"
serial = "M1"
[[valves]]
id = "OU1-main"
unit = "OU1"
role = "main"
head = "clip-on"
spec = "clip"
meter = "m"
head_temperature = "20 degC"
common = "5"
plug_off = true
head_installed = 2020-01-01
part_label = "H-1"
readings = [["5", "1", 46.0], ["5", "2", "open"], ["5", "3", 46.2], ["5", "4", 46.1], ["1", "2", "open"]]
[[valves]]
id = "IU01-valve"
unit = "IU01"
role = "indoor"
head = "clip-on"
spec = "clip"
meter = "m"
head_temperature = "20 degC"
plug_off = true
readings = [["5", "1", 46.0], ["5", "2", 46.1], ["5", "3", 46.2], ["5", "4", 46.1]]
"""


@pytest.fixture
def kept(register):
    return import_visit_file(register, OWNER, FILE.encode(), "a.visit.toml").kept


def valve_id(register, kept, label="OU1-main"):
    return visit_of(register, OWNER, kept.id).valve_ids[label]


def test_a_reading_is_added_with_who_and_when_and_counts(register, kept):
    added = add_entry(register, TECHNICIAN, kept.id, "valves/IU01-valve/readings", {"reading": ["1", "2", 92.1]})

    whole = visit_of(register, OWNER, kept.id)
    assert (added.by, added.at_utc is not None, added.is_void) == ("T", True, False)
    assert [of.ohm for of in whole.visit.valves[1].readings][-1] == 92.1
    assert whole.kept.version == kept.version + 1 == whole.kept.n_entries


def test_what_a_person_says_of_a_valve_that_the_visit_lacks_is_refused_with_the_nearest(register):
    visit_id = import_visit_file(register, OWNER, FILE.encode(), "v.visit.toml").kept.id
    before = len(visit_of(register, OWNER, visit_id).entries)

    with pytest.raises(InputError, match="no valve OU1-mian") as refused:
        add_entry(register, OWNER, visit_id, "valves/OU1-mian/readings", {"reading": ["1", "3", 92.1]})

    assert refused.value.hint == "Did you mean OU1-main?"
    assert len(visit_of(register, OWNER, visit_id).entries) == before
    sent = add_entry(register, OWNER, visit_id, "valves/OU9/readings", {"reading": ["1", "3", 92.1]}, entry="d1")
    assert sent.id == "d1", "a device may send a valve after what is said of it"


def test_the_same_entry_twice_is_one(register, kept):
    once = add_entry(register, OWNER, kept.id, "notes", {"text": "a"}, entry="n1")
    again = add_entry(register, OWNER, kept.id, "notes", {"text": "a"}, entry="n1")

    assert once == again
    with pytest.raises(Conflict, match="says something else"):
        add_entry(register, OWNER, kept.id, "notes", {"text": "b"}, entry="n1")


def test_what_was_said_before_stays_and_is_shown_struck(register, kept):
    path = "valves/OU1-main/inspection"
    first = add_entry(register, TECHNICIAN, kept.id, path, {"rust": "light"})
    second = add_entry(register, TECHNICIAN, kept.id, path, {"rust": "heavy"})

    whole = visit_of(register, OWNER, kept.id)
    assert whole.visit.valves[0].inspection.rust == "heavy"
    (struck,) = [one for one in whole.entries if one.is_void]
    assert (struck.id, struck.instead) == (first.id, second.id)


def test_the_second_of_two_who_say_the_same_table_is_shown_both(register, kept):
    path = "valves/OU1-main/inspection"
    add_entry(register, TECHNICIAN, kept.id, path, {"rust": "light"}, expected_version=kept.version)

    with pytest.raises(Conflict, match="T has written the same thing") as caught:
        add_entry(register, OWNER, kept.id, path, {"rust": "heavy"}, expected_version=kept.version)

    assert caught.value.theirs.body == {"rust": "light"}
    assert caught.value.yours.body == {"rust": "heavy"}
    assert visit_of(register, OWNER, kept.id).visit.valves[0].inspection.rust == "light"


@pytest.mark.parametrize(
    ("path", "body", "said"),
    [
        ("valves/OU1-main/readings", {"reading": ["5", "5", 46.0]}, "the same wire twice"),
        ("valves/OU1-main/readings", {}, "not wire, wire, ohms"),
        ("valves/OU1-main/movement", {"felt": "nothing at all"}, "nothing at all"),
        ("valves/OU1-main", {"id": "OU1-main", "unit": "OU1", "role": "main"}, "head is missing"),
        ("valves/new", {"id": "IU01-valve", "unit": "X", "role": "main", "head": "clip-on"}, "already the id"),
        ("meters/m", {"accuracy": "often"}, "often"),
        ("wrk", {"valve": "OU1-main", "done": "cleaned"}, "is no place in a visit"),
        ("work", {"valve": "OU1-main", "done": "hit"}, "hit"),
    ],
)
def test_what_cannot_be_is_refused_with_the_reason_and_nothing_is_kept(register, kept, path, body, said):
    with pytest.raises(InputError, match=said):
        add_entry(register, OWNER, kept.id, path, body)

    assert visit_of(register, OWNER, kept.id).kept == kept


def test_a_struck_reading_is_not_used_and_the_reason_is_a_note(register, kept):
    reading = visit_of(register, OWNER, kept.id).entries[-1]

    note = void_entry(register, TECHNICIAN, kept.id, reading.id, "the wrong plug")

    whole = visit_of(register, OWNER, kept.id)
    assert len(whole.visit.valves[1].readings) == 3
    assert (note.voids, note.body) == (reading.id, {"about": "IU01-valve", "text": "the wrong plug"})
    with pytest.raises(InputError, match="does not count any more"):
        void_entry(register, TECHNICIAN, kept.id, reading.id, "again")
    with pytest.raises(InputError, match="needs a reason"):
        void_entry(register, TECHNICIAN, kept.id, note.id, " ")
    with pytest.raises(NotFound):
        void_entry(register, TECHNICIAN, kept.id, "nothing", "why")


def test_who_only_reads_adds_nothing_and_a_technician_signs_nothing(register, kept):
    with pytest.raises(NotAllowed):
        add_entry(register, READER, kept.id, "notes", {"text": "a"})
    with pytest.raises(NotAllowed):
        judge_visit(register, READER, kept.id)
    with pytest.raises(NotAllowed):
        sign_off(register, TECHNICIAN, kept.id)


def test_a_judgement_says_what_is_known_of_each_valve_now_and_opens_what_is_to_do(register, kept):
    judgement = judge_visit(register, TECHNICIAN, kept.id)

    whole = valve_whole(register, OWNER, valve_id(register, kept))
    assert (whole.now.mark, whole.now.word_code, whole.now.action) == ("bad", "open-winding", "replace-head")
    assert {point.wires: point.ohm_at_spec is None for point in whole.points} == {
        ("5", "1"): False, ("5", "2"): True, ("5", "3"): False, ("5", "4"): False,
    }  # fmt: skip
    assert {point.meter_serial for point in whole.points} == {"M1"}
    assert {point.head_id for point in whole.points} == {whole.heads[0].id}
    (action,) = [one for one in list_actions(register, OWNER).rows if one.valve == "OU1-main"]
    assert (action.action, action.since, action.parts) == ("replace-head", date(2025, 5, 12), "H-1 · clip")
    assert judgement.assessment["valves"][0]["action"] == "replace-head"


def test_the_same_judgement_twice_is_one_and_another_program_s_stands_beside_it(register, kept):
    first = judge_visit(register, OWNER, kept.id)

    assert judge_visit(register, OWNER, kept.id) == first
    other = judge_visit(register, OWNER, kept.id, priors=replace(load_priors(), sha256="0" * 64))

    assert visit_of(register, OWNER, kept.id).judgements == (other, first)


def test_what_is_known_now_is_of_the_latest_visit_whatever_the_order_of_import(register, kept):
    judge_visit(register, OWNER, kept.id)
    later = FILE.replace("2025-05-12", "2026-05-12").replace('["5", "2", "open"]', '["5", "2", 46.1]')
    earlier = FILE.replace("2025-05-12", "2024-05-12")
    for text in (later, earlier):
        done = import_visit_file(register, OWNER, text.encode(), "b.visit.toml")
        judge_visit(register, OWNER, done.kept.id)

    whole = valve_whole(register, OWNER, valve_id(register, kept))

    assert whole.now.date == date(2026, 5, 12)
    assert [one.date.year for one in whole.verdicts] == [2026, 2025, 2024]
    assert len(whole.points) == 12
    of_system = {one.valve.label: one.now for one in system_whole(register, OWNER, kept.system_id).valves}
    assert of_system["OU1-main"] == whole.now


def test_a_replaced_head_starts_a_new_one_and_the_trend_breaks_there(register, kept):
    judge_visit(register, OWNER, kept.id)
    later = FILE.replace("2025-05-12", "2026-05-12").replace("head_installed = 2020-01-01\n", "").replace(
        'readings = [["5", "1", 46.0], ["5", "2", "open"]',
        'measurements = [{ when = "after-replacement", readings = [["5", "1", 46.3], ["5", "2", 46.2]] }]\n'
        'readings = [["5", "1", 46.0], ["5", "2", "open"]',
    ) + '[[work]]\nvalve = "OU1-main"\ndone = "replaced-head"\npart = "H-2"\n'  # fmt: skip
    done = import_visit_file(register, OWNER, later.encode(), "b.visit.toml")
    judge_visit(register, OWNER, done.kept.id)

    whole = valve_whole(register, OWNER, valve_id(register, kept))

    assert [(one.part_label, one.since, one.until, one.is_present) for one in whole.heads] == [
        ("H-2", date(2026, 5, 12), None, True),
        ("H-1", date(2020, 1, 1), date(2026, 5, 12), False),
    ]
    by_year = {point.date.year: point.head_id for point in whole.points}
    assert by_year == {2025: whole.heads[1].id, 2026: whole.heads[0].id}


def test_a_signed_issue_stays_as_it_is_and_what_is_added_opens_the_next(register, kept):
    first = sign_off(register, OWNER, kept.id)
    page = issue_report(register, OWNER, kept.id, 1, ".html")
    assert visit_of(register, OWNER, kept.id).kept.is_signed

    add_entry(register, TECHNICIAN, kept.id, "notes", {"text": "The tenant called."})
    assert not visit_of(register, OWNER, kept.id).kept.is_signed
    second = sign_off(register, OWNER, kept.id, why="A note came in.")

    assert (first.number, first.changes, second.number) == (1, (), 2)
    (change,) = second.changes
    assert (change.what, change.why, change.by) == ("note: The tenant called. (added)", "A note came in.", "T")
    assert issue_report(register, OWNER, kept.id, 1, ".html") == page
    assert b"What changed since issue 1" in issue_report(register, OWNER, kept.id, 2, ".html")
    assert issue_report(register, OWNER, kept.id, 2, ".pdf").startswith(b"%PDF")
    assert first.inputs_sha256 != second.inputs_sha256


def test_a_print_that_was_put_off_is_made_once_by_the_program_that_signed(register, kept):
    sign_off(register, OWNER, kept.id, with_print=False)

    first = issue_report(register, READER, kept.id, 1, ".pdf")

    assert first.startswith(b"%PDF")
    assert issue_report(register, READER, kept.id, 1, ".pdf") == first
    other = replace(load_priors(), sha256="0" * 64)
    add_entry(register, OWNER, kept.id, "notes", {"text": "a"})
    sign_off(register, OWNER, kept.id, why="Other priors.", priors=other, with_print=False)
    with pytest.raises(NotFound, match="without its"):
        issue_report(register, READER, kept.id, 2, ".pdf")
    assert b"issue 2" in issue_report(register, READER, kept.id, 2, ".html")


def test_a_print_made_later_is_the_print_that_was_put_off(sqlite_register):
    kept = import_visit_file(sqlite_register, OWNER, FILE.encode(), "a.visit.toml").kept
    sign_off(sqlite_register, OWNER, kept.id)
    now = issue_report(sqlite_register, OWNER, kept.id, 1, ".pdf")
    with sqlite_register.adding() as keep:
        keep.connection.exec_driver_sql("DELETE FROM issue_files WHERE suffix = '.pdf'")

    assert issue_report(sqlite_register, OWNER, kept.id, 1, ".pdf") == now


def test_an_issue_says_what_was_struck_out_and_why(register, kept):
    sign_off(register, OWNER, kept.id)
    reading = visit_of(register, OWNER, kept.id).entries[-1]
    void_entry(register, TECHNICIAN, kept.id, reading.id, "the wrong plug")

    changes = sign_off(register, OWNER, kept.id, why="A reading was wrong.").changes

    assert [(one.what, one.why) for one in changes] == [
        ("note: IU01-valve, the wrong plug (added)", "A reading was wrong."),
        ("IU01-valve, reading: 5 to 4, 46.1 Ω (no longer counts)", "the wrong plug"),
    ]  # fmt: skip


def test_nothing_is_signed_twice_and_a_further_issue_gives_its_reason(register, kept):
    sign_off(register, OWNER, kept.id)

    with pytest.raises(InputError, match="Nothing has changed"):
        sign_off(register, OWNER, kept.id, why="Once more.")
    add_entry(register, OWNER, kept.id, "notes", {"text": "a"})
    with pytest.raises(InputError, match="says why"):
        sign_off(register, OWNER, kept.id)
    with pytest.raises(NotFound):
        issue_report(register, OWNER, kept.id, 2, ".pdf")
    with pytest.raises(InputError, match="odt"):
        issue_report(register, OWNER, kept.id, 1, ".odt")


def test_a_revised_page_of_the_manuals_is_shown_and_taken_over_only_when_told(register, kept):
    first = judge_visit(register, OWNER, kept.id)
    add_spec(register, OWNER, name="clip", spec=Spec(winding="unipolar-5", resistance_ohm=100.0, at_c=20.0))

    (differs,) = visit_of(register, OWNER, kept.id).specs
    assert (differs.in_file.resistance_ohm, differs.in_manuals.resistance_ohm) == (46.0, 100.0)
    assert judge_visit(register, OWNER, kept.id) == first

    take_manual_spec(register, TECHNICIAN, kept.id, "clip")
    second = judge_visit(register, OWNER, kept.id)

    whole = visit_of(register, OWNER, kept.id)
    assert whole.visit.specs["clip"].resistance_ohm == 100.0
    assert (whole.specs, whole.judgements) == ((), (second, first))
    assert [one.is_void for one in whole.entries if one.path == "specs/clip"] == [True, False]
    with pytest.raises(InputError, match="says the same"):
        take_manual_spec(register, TECHNICIAN, kept.id, "clip")
    with pytest.raises(NotFound, match="do not say"):
        take_manual_spec(register, TECHNICIAN, kept.id, "other")


def test_a_new_visit_lists_every_valve_with_what_its_head_should_measure(register, kept):
    begun = new_visit(register, TECHNICIAN, kept.system_id, date(2026, 5, 12))

    whole = visit_of(register, OWNER, begun.id)
    assert [(valve.id, valve.spec, valve.head) for valve in whole.visit.valves] == [
        ("OU1-main", "clip", "clip-on"), ("IU01-valve", "clip", "clip-on"),
    ]  # fmt: skip
    assert whole.visit.specs["clip"].resistance_ohm == 46.0
    assert whole.visit.valves[0].readings == ()
    assert whole.visit.valves[0].last_removed == date(2025, 5, 12)
    assert (whole.visit.header.technician, whole.kept.n_valves) == ("T", 2)
    assert whole.valve_ids == visit_of(register, OWNER, kept.id).valve_ids
    with pytest.raises(InputError, match="curiosity"):
        new_visit(register, TECHNICIAN, kept.system_id, date(2026, 5, 12), reason="curiosity")


def test_a_visit_at_a_site_of_others_is_not_there(register, kept):
    stranger = Person(id="s", name="S", role="owner", site_ids=())

    for act in (
        lambda: visit_of(register, stranger, kept.id),
        lambda: add_entry(register, stranger, kept.id, "notes", {"text": "a"}),
        lambda: judge_visit(register, stranger, kept.id),
        lambda: sign_off(register, stranger, kept.id),
        lambda: new_visit(register, stranger, kept.system_id, date(2026, 5, 12)),
    ):
        with pytest.raises(NotFound):
            act()
