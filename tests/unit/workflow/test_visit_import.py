"""Taking a visit file in: what it would do, what it did, and that the same file twice changes nothing."""

import pytest

from fifthwire.model.errors import InputError, NotAllowed, NotFound, VisitFileError
from fifthwire.model.kept.people import Person, alone
from fifthwire.workflow.visits_kept import (
    add_entry,
    import_visit_file,
    list_visits,
    preview_visit_file,
    visit_file,
    visit_of,
)

OWNER = alone("rt")
TECHNICIAN = Person(id="t", name="T", role="technician")
START = """format = "fifthwire/visit/1"
[visit]
date = 2026-05-12
site = "Quayside House"
system = "QH-1"
"""
VALVES = """[specs.clip]
winding = "unipolar-5"
resistance = "46 ohm"
[[valves]]
id = "OU1-main"
unit = "OU1"
role = "main"
head = "clip-on"
spec = "clip"
readings = [["5", "1", 46.0], ["5", "2", 46.1], ["5", "3", 46.2], ["5", "4", 46.1]]
[[valves]]
id = "IU01-valve"
unit = "IU01"
role = "indoor"
head = "clip-on"
readings = [["5", "1", 46.0], ["5", "2", "open"]]
"""


def taken_in(register, text, name="a.visit.toml", who=OWNER, **answers):
    return import_visit_file(register, who, text.encode(), name, answers=answers)


def looked_at(register, text, name="a.visit.toml", who=OWNER, **answers):
    return preview_visit_file(register, who, text.encode(), name, answers=answers)


def test_a_file_brings_its_site_system_units_valves_and_entries(register):
    done = taken_in(register, START + VALVES)

    whole = visit_of(register, OWNER, done.kept.id)
    assert (done.n_added, done.n_new_valves, done.n_struck) == (10, 2, 0)
    assert (done.kept.site, done.kept.system, done.kept.n_valves) == ("Quayside House", "QH-1", 2)
    assert [valve.id for valve in whole.visit.valves] == ["OU1-main", "IU01-valve"]
    assert whole.valve_ids.keys() == {"OU1-main", "IU01-valve"}


def test_the_same_file_twice_changes_nothing(register):
    first = taken_in(register, START + VALVES)
    before = visit_of(register, OWNER, first.kept.id)

    preview = looked_at(register, START + VALVES)
    second = taken_in(register, START + VALVES)

    assert preview.is_same
    assert (second.n_added, second.n_struck, second.kept) == (0, 0, first.kept)
    assert visit_of(register, OWNER, first.kept.id) == before
    assert list_visits(register, OWNER).n_rows == 1


def test_the_same_visit_as_json_changes_nothing_either(register):
    first = taken_in(register, START + VALVES)

    second = taken_in(register, visit_file(register, OWNER, first.kept.id, "json").decode(), "b.visit.json")

    assert (second.kept.id, second.n_added, second.n_struck) == (first.kept.id, 0, 0)


@pytest.mark.parametrize("syntax", ["toml", "json"])
def test_a_visit_that_was_added_to_on_the_page_comes_back_from_its_file_unchanged(register, syntax):
    done = taken_in(register, START + VALVES)
    id_ = done.kept.id
    add_entry(register, TECHNICIAN, id_, "valves/OU1-main/readings", {"reading": ["5", "1", 46.05]})
    add_entry(register, TECHNICIAN, id_, "valves/OU1-main/readings", {"reading": ["5", "2", 46]})
    add_entry(register, TECHNICIAN, id_, "valves/OU1-main/inspection", {"rust": "heavy"})
    add_entry(register, TECHNICIAN, id_, "system", {"refrigerant": "R410A", "mode": "cooling"})
    add_entry(register, TECHNICIAN, id_, "snapshot", {"suction_pressure": "118 psig", "ambient": "91 degF"})
    add_entry(register, TECHNICIAN, id_, "notes", {"about": "OU1-main", "text": "Insulation torn."})
    before = visit_of(register, OWNER, id_)

    again = taken_in(register, visit_file(register, OWNER, id_, syntax).decode(), f"b.visit.{syntax}")

    assert (again.kept.id, again.n_added, again.n_struck) == (id_, 0, 0)
    assert visit_of(register, OWNER, id_) == before


def test_a_changed_file_adds_what_is_new_and_strikes_out_what_is_gone(register):
    first = taken_in(register, START + VALVES)
    changed = START + VALVES.replace('["5", "1", 46.0], ["5", "2", 46.1]', '["5", "1", 47.0], ["5", "2", 46.1]')

    preview = looked_at(register, changed)
    done = taken_in(register, changed)

    assert [one.text for one in preview.added] == ["OU1-main, reading: 5 to 1, 47.0 Ω"]
    assert [one.text for one in preview.gone] == ["OU1-main, reading: 5 to 1, 46.0 Ω"]
    assert (done.kept.id, done.n_added, done.n_struck) == (first.kept.id, 1, 1)
    whole = visit_of(register, OWNER, first.kept.id)
    assert sorted(of.ohm for of in whole.visit.valves[0].readings) == [46.1, 46.1, 46.2, 47.0]
    (struck,) = [one for one in whole.entries if one.is_void]
    assert struck.body == {"reading": ["5", "1", 46.0]}
    assert next(one for one in whole.entries if one.id == struck.instead).body["text"].startswith("Not in a.visit.toml")


def test_what_was_added_on_the_page_is_not_gone_because_a_file_lacks_it(register):
    done = taken_in(register, START + VALVES)
    add_entry(register, OWNER, done.kept.id, "notes", {"text": "From the page."})

    again = taken_in(register, START + VALVES + '[[notes]]\ntext = "From the file."\n')

    assert (again.n_added, again.n_struck) == (1, 0)
    notes = [note.text for note in visit_of(register, OWNER, done.kept.id).visit.notes]
    assert sorted(notes) == ["From the file.", "From the page."]


def test_what_a_later_file_brings_back_counts_again(register):
    note = '[[notes]]\ntext = "Back again."\n'
    done = taken_in(register, START + VALVES + note)
    taken_in(register, START + VALVES)

    taken_in(register, START + VALVES + note + '[[notes]]\ntext = "And more."\n')

    notes = {one.text: one.is_void for one in visit_of(register, OWNER, done.kept.id).visit.notes}
    assert notes["Back again."] is False
    assert notes["And more."] is False


def test_a_header_of_a_later_file_counts(register):
    done = taken_in(register, START + VALVES)
    add_entry(register, OWNER, done.kept.id, "visit", {
        "date": "2026-05-12", "site": "Quayside House", "system": "QH-1", "technician": "page"})  # fmt: skip

    taken_in(register, START + 'technician = "file"\n' + VALVES)

    assert visit_of(register, OWNER, done.kept.id).visit.header.technician == "file"
    assert visit_of(register, OWNER, done.kept.id).kept.technician == "file"


def test_a_row_that_says_something_else_under_its_id_strikes_the_kept_one_out(register):
    row = '[[notes]]\nentry = "n1"\ntext = "first"\n'
    done = taken_in(register, START + row)

    again = taken_in(register, START + row.replace("first", "second"))

    notes = [(note.text, note.is_void) for note in visit_of(register, OWNER, done.kept.id).visit.notes]
    assert (again.n_added, again.n_struck) == (1, 0)
    assert sorted(notes) == [("first", True), ("second", False)]


def test_a_second_file_of_a_day_without_an_id_is_asked_about(register):
    first = taken_in(register, START + VALVES)
    other = START + 'technician = "B"\n[[notes]]\ntext = "another call"\n'

    (question,) = looked_at(register, other).questions
    with pytest.raises(InputError, match="the same visit"):
        taken_in(register, other)
    done = taken_in(register, other, visit="new")

    assert question.key == "visit"
    assert done.kept.id != first.kept.id
    assert taken_in(register, other).kept == done.kept


def test_a_visit_with_an_id_is_never_asked_about(register):
    first = taken_in(register, START + 'id = "v1"\n' + VALVES)
    other = taken_in(register, START + 'id = "v2"\n' + VALVES)

    assert (other.kept.id != first.kept.id, other.n_new_valves) == (True, 0)


def test_valves_are_known_by_their_place_then_by_their_label_else_it_asks(register):
    first = taken_in(register, START + VALVES)
    second = (
        START.replace("2026-05-12", "2027-05-12")
        + """[[valves]]
id = "main valve"
unit = "OU1"
role = "main"
head = "clip-on"
[[valves]]
id = "IU01-valve"
unit = "Office"
role = "indoor"
head = "clip-on"
[[valves]]
id = "bypass"
unit = "OU1"
role = "subcooler-bypass"
head = "clip-on"
"""
    )

    preview = looked_at(register, second)

    ids = visit_of(register, OWNER, first.kept.id).valve_ids
    assert [(one.how, one.valve_id) for one in preview.matches] == [
        ("place", ids["OU1-main"]), ("label", ids["IU01-valve"]), ("new", None),
    ]  # fmt: skip


def test_a_valve_that_might_be_one_of_several_is_asked_about_and_the_answer_counts(register):
    first = taken_in(register, START + VALVES)
    ids = visit_of(register, OWNER, first.kept.id).valve_ids
    second = START.replace("2026-05-12", "2027-05-12") + VALVES.replace("IU01", "Meeting room")

    (question,) = looked_at(register, second).questions
    answers = {question.key: ids["IU01-valve"]}
    done = import_visit_file(register, OWNER, second.encode(), "b.visit.toml", answers=answers)

    assert [choice.value for choice in question.choices] == [ids["IU01-valve"], "new"]
    assert visit_of(register, OWNER, done.kept.id).valve_ids["Meeting room-valve"] == ids["IU01-valve"]


def test_a_site_written_a_little_differently_is_asked_about(register):
    taken_in(register, START + VALVES)
    other = START.replace("Quayside House", "quayside house").replace("2026-05-12", "2027-05-12") + VALVES

    (question,) = looked_at(register, other).questions

    assert question.key == "site"
    assert [choice.words for choice in question.choices] == ["Quayside House", "a new site: quayside house"]


def test_a_spec_that_the_manuals_say_otherwise_is_shown_and_not_swapped_in(register):
    from fifthwire.model.visit import Spec
    from fifthwire.workflow.manuals import add_spec

    add_spec(register, OWNER, name="clip", spec=Spec(winding="unipolar-5", resistance_ohm=100.0))

    preview = looked_at(register, START + VALVES)
    done = taken_in(register, START + VALVES)

    assert [(one.in_file.resistance_ohm, one.in_manuals.resistance_ohm) for one in preview.specs] == [(46.0, 100.0)]
    assert visit_of(register, OWNER, done.kept.id).visit.specs["clip"].resistance_ohm == 46.0


def test_a_technician_may_add_a_visit_but_no_places(register):
    with pytest.raises(NotAllowed):
        taken_in(register, START + VALVES, who=TECHNICIAN)
    assert list_visits(register, OWNER).n_rows == 0

    taken_in(register, START + VALVES)
    assert taken_in(register, START.replace("05-12", "05-13") + VALVES, who=TECHNICIAN).n_added > 0


def test_a_site_of_others_is_not_there(register):
    done = taken_in(register, START + VALVES)
    stranger = Person(id="s", name="S", role="lead", site_ids=())

    with pytest.raises(NotFound):
        taken_in(register, START.replace("05-12", "05-13") + VALVES, who=stranger)
    with pytest.raises(NotFound):
        visit_of(register, stranger, done.kept.id)
    assert list_visits(register, stranger).n_rows == 0


def test_a_file_with_problems_leaves_nothing(register):
    with pytest.raises(VisitFileError):
        taken_in(register, START + VALVES.replace("clip-on", "clipon"))

    assert list_visits(register, OWNER).n_rows == 0
