"""Places, manuals, meters, notes, actions and the search as a person uses them, on both engines."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from fifthwire.model.errors import Conflict, InputError, NotAllowed, NotFound, VisitFileError
from fifthwire.model.kept.people import Person
from fifthwire.register import todo as kept_todo
from fifthwire.register.tables.visits import VISITS
from fifthwire.workflow import manuals, meters, notes, places, search, todo

OWNER = Person(id="o", name="RT", role="owner")
LEAD = Person(id="l", name="LE", role="lead")
TECHNICIAN = Person(id="t", name="TE", role="technician")
READER = Person(id="r", name="RE", role="reader")
SPEC = {"winding": "unipolar-5", "resistance": "62 ohm", "tolerance": "10 %"}


class Kept:
    """A register with one valve."""

    def __init__(self, register):
        self.register = register
        self.site = places.add_site(register, OWNER, name="Quayside House", time_zone="Europe/London", altitude_m=40.0)
        self.system = places.add_system(register, LEAD, site_id=self.site.id, name="QH-1", refrigerant="R410A")
        self.unit = places.add_unit(register, LEAD, system_id=self.system.id, name="OU1", kind="outdoor")
        self.spec = manuals.add_spec(register, LEAD, name="outdoor-clip", spec=SPEC, title="Manual", page="212")
        self.valve = places.add_valve(
            register, LEAD, unit_id=self.unit.id, role="subcooler-bypass", label="OU1-subcooler", head="clip-on",
            spec_id=self.spec.spec_id, part_label="C-62",
        )  # fmt: skip

    def visit(self, id_="visit", day=date(2026, 5, 12)):
        """A visit's row, with nothing in it."""
        row = {
            "id": id_, "system_id": self.system.id, "identity": id_, "date": day, "reason": "planned",
            "is_signed": False, "n_issues": 0, "n_valves": 0, "n_entries": 0, "version": 1,
            "added_utc": datetime(2026, 5, 12, tzinfo=UTC), "added_by": "RT",
        }  # fmt: skip
        with self.register.adding() as keep:
            keep.connection.execute(VISITS.insert().values(row))
        return id_

    def action(self, day=date(2026, 5, 12), *, visit="visit", **more):
        """An action at the valve."""
        wanted = kept_todo.Wanted(
            valve_id=self.valve.id, site_id=self.site.id, system_id=self.system.id,
            **{"action": "replace-head", "why": ("Wire 3 is open.",), "urgency": "now", **more},
        )  # fmt: skip
        with self.register.adding() as keep:
            return kept_todo.want(keep, visit, day, [wanted])[0]


@pytest.fixture
def kept(register):
    return Kept(register)


def test_a_valve_is_shown_whole(kept):
    whole = places.valve_whole(kept.register, READER, kept.valve.id)

    assert (whole.valve, whole.unit, whole.system, whole.site) == (kept.valve, kept.unit, kept.system, kept.site)
    assert whole.spec == kept.spec
    assert [(head.part_label, head.is_present) for head in whole.heads] == [("C-62", True)]
    assert (whole.now, whole.verdicts, whole.points, whole.work) == (None, (), (), ())


def test_lists_count_what_stands_below(kept):
    (row,) = places.list_sites(kept.register, READER).rows
    assert (row.site, row.n_systems, row.n_valves, row.n_open, row.last_visit) == (kept.site, 1, 1, 0, None)
    (row,) = places.list_systems(kept.register, READER).rows
    assert (row.system, row.site, row.n_units, row.n_valves, row.worst) == (kept.system, kept.site, 1, 1, None)
    (row,) = places.list_valves(kept.register, READER, mark="not-checked", text="subc quay").rows
    assert (row.valve, row.system, row.now) == (kept.valve, kept.system, None)
    assert places.list_valves(kept.register, READER, mark="bad").n_rows == 0
    assert places.list_valves(kept.register, READER, text="zebra").n_rows == 0


def test_a_valve_without_a_label_is_called_after_its_unit_and_role(kept):
    made = places.add_valve(kept.register, LEAD, unit_id=kept.unit.id, role="injection", head="clip-on")

    assert made.label == "OU1-injection"


def test_units_stand_behind_the_others_of_their_kind(kept):
    made = places.add_unit(kept.register, LEAD, system_id=kept.system.id, name="OU2", kind="outdoor")

    assert made.position == 2
    assert places.list_units(kept.register, READER, kept.system.id) == (kept.unit, made)


def test_another_head_takes_the_place_of_the_one_before(kept):
    places.fit_head(kept.register, LEAD, kept.valve.id, since=date(2026, 5, 12), part_label="C-62b")

    new, old = places.valve_whole(kept.register, READER, kept.valve.id).heads
    assert (new.part_label, new.since, new.is_present) == ("C-62b", date(2026, 5, 12), True)
    assert (old.part_label, old.until, old.is_present) == ("C-62", date(2026, 5, 12), False)


def test_of_two_who_change_one_valve_the_second_is_shown_both(kept):
    given = {"version": 1, "unit_id": kept.unit.id, "role": "subcooler-bypass", "head": "clip-on"}
    places.change_valve(kept.register, LEAD, kept.valve.id, label="theirs", **given)

    with pytest.raises(Conflict) as refused:
        places.change_valve(kept.register, LEAD, kept.valve.id, label="yours", **given)

    assert (refused.value.theirs.label, refused.value.yours.label) == ("theirs", "yours")
    assert places.valve(kept.register, READER, kept.valve.id).label == "theirs"


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"name": " ", "time_zone": "Europe/London"}, "empty"),
        ({"name": "x" * 300, "time_zone": "Europe/London"}, "300 characters"),
        ({"name": "a\0b", "time_zone": "Europe/London"}, "do not print"),
        ({"name": "A", "time_zone": "Europe/Londn"}, "no time zone"),
        ({"name": "A", "time_zone": "../etc/passwd"}, "no time zone"),
        ({"name": "A", "time_zone": "Europe/London", "altitude_m": 12000.0}, "12000 m cannot be"),
        ({"name": "A", "time_zone": "Europe/London", "altitude_m": float("nan")}, "cannot be"),
        ({"name": "Quayside House", "time_zone": "Europe/London"}, "Quayside House"),
    ],
)
def test_a_site_that_cannot_be_is_refused_and_nothing_kept(kept, given, said):
    with pytest.raises(InputError, match=said):
        places.add_site(kept.register, OWNER, **given)

    assert places.list_sites(kept.register, OWNER).n_rows == 1


def test_a_reader_reads_and_changes_nothing(kept):
    register = kept.register
    for refused in (
        lambda: places.add_site(register, READER, name="A", time_zone="UTC"),
        lambda: places.add_system(register, READER, site_id=kept.site.id, name="A"),
        lambda: places.add_unit(register, READER, system_id=kept.system.id, name="A", kind="indoor"),
        lambda: places.add_valve(register, READER, unit_id=kept.unit.id, role="main", head="clip-on"),
        lambda: places.fit_head(register, TECHNICIAN, kept.valve.id, since=date(2026, 5, 12)),
        lambda: manuals.add_spec(register, TECHNICIAN, name="A", spec=SPEC),
        lambda: manuals.check_spec(register, READER, kept.spec.id),
        lambda: meters.add_meter(register, TECHNICIAN, serial="A", meter={}),
        lambda: notes.add_note(register, READER, about_kind="valve", about_id=kept.valve.id, text="A"),
    ):
        with pytest.raises(NotAllowed, match="Nothing was changed"):
            refused()


def test_what_is_at_another_site_does_not_exist_for_this_person(kept):
    register, stranger = kept.register, Person(id="s", name="ST", role="lead", site_ids=("other",))
    visit = kept.visit()
    action = kept.action(visit=visit)
    for hidden in (
        lambda: places.site(register, stranger, kept.site.id),
        lambda: places.find_site(register, stranger, "Quayside House"),
        lambda: places.find_system(register, stranger, "QH-1"),
        lambda: places.system_whole(register, stranger, kept.system.id),
        lambda: places.unit(register, stranger, kept.unit.id),
        lambda: places.valve_whole(register, stranger, kept.valve.id),
        lambda: places.list_valves(register, stranger, system_id=kept.system.id),
        lambda: places.list_systems(register, stranger, site_id=kept.site.id),
        lambda: todo.action(register, stranger, action),
        lambda: notes.list_notes(register, stranger, about_kind="visit", about_id=visit),
    ):
        with pytest.raises(NotFound):
            hidden()
    assert places.list_sites(register, stranger).n_rows == places.list_valves(register, stranger).n_rows == 0
    assert todo.list_actions(register, stranger).n_rows == 0
    assert search.search(register, stranger, "OU1").n_rows == 0
    assert search.search(register, stranger, "outdoor-clip").n_rows == 1, "the manuals belong to no site"


def test_each_revision_of_the_manual_is_kept_with_who_and_when(kept):
    revised = manuals.revise_spec(
        kept.register, OWNER, kept.spec.spec_id, revision=1, name="outdoor-clip", spec={**SPEC, "resistance": "64 ohm"}
    )

    second, first = manuals.revisions(kept.register, READER, kept.spec.spec_id)
    assert (second, first) == (revised, kept.spec)
    assert (first.by, first.spec.resistance_ohm, second.by, second.spec.resistance_ohm) == ("LE", 62.0, "RT", 64.0)
    assert manuals.spec(kept.register, READER, kept.spec.spec_id) == revised
    assert manuals.spec_named(kept.register, READER, "outdoor-clip") == revised


def test_of_two_who_revise_one_spec_the_second_is_shown_both(kept):
    given = {"revision": 1, "name": "outdoor-clip"}
    manuals.revise_spec(kept.register, OWNER, kept.spec.spec_id, spec={**SPEC, "resistance": "64 ohm"}, **given)

    with pytest.raises(Conflict) as refused:
        manuals.revise_spec(kept.register, LEAD, kept.spec.spec_id, spec={**SPEC, "resistance": "66 ohm"}, **given)

    assert refused.value.theirs.spec.resistance_ohm == 64.0
    assert refused.value.yours.spec.resistance_ohm == 66.0


def test_only_a_second_person_checks_a_page(kept):
    with pytest.raises(InputError, match="LE entered it"):
        manuals.check_spec(kept.register, LEAD, kept.spec.id)

    checked = manuals.check_spec(kept.register, TECHNICIAN, kept.spec.id)

    assert (checked.checked_by, checked.checked_at_utc is not None) == ("TE", True)
    assert manuals.spec(kept.register, READER, kept.spec.spec_id) == checked
    with pytest.raises(InputError, match="TE has checked it"):
        manuals.check_spec(kept.register, OWNER, kept.spec.id)


def test_a_spec_that_cannot_be_is_refused_by_its_key(kept):
    with pytest.raises(VisitFileError) as refused:
        manuals.add_spec(kept.register, LEAD, name="A", spec={"winding": "unipolar-5", "resistance": "62 volt"})

    assert [problem.place for problem in refused.value.problems] == ["resistance"]


def test_a_meter_is_known_by_its_serial_number(kept):
    given = {"accuracy": "0.9 % + 2 digits", "resolution": "0.1 ohm"}
    made = meters.add_meter(kept.register, LEAD, serial=" A1234 ", meter=given, name="yellow")

    assert (made.serial, made.meter.serial, made.meter.resolution_ohm) == ("A1234", "A1234", 0.1)
    assert meters.meter(kept.register, READER, made.id) == made
    assert meters.list_meters(kept.register, READER).rows == (made,)
    with pytest.raises(InputError, match="A1234"):
        meters.add_meter(kept.register, LEAD, serial="A1234", meter=given)
    with pytest.raises(Conflict):
        meters.change_meter(kept.register, LEAD, made.id, version=7, serial="A1234", meter=given)


def test_a_note_is_found_by_its_text_and_tag_until_it_is_struck_out(kept):
    given = {"about_kind": "valve", "about_id": kept.valve.id}
    note = notes.add_note(
        kept.register, TECHNICIAN, text="Insulation torn at the elbow.", tags=["#Roof", "roof"], **given
    )

    assert note.tags == ("roof",)
    for asked in ("elbow", "roof torn"):
        (hit,) = search.search(kept.register, READER, asked).rows
        assert (hit.kind, hit.id, hit.title) == ("note", note.id, "OU1-subcooler")
        assert (hit.about_kind, hit.about_id) == ("valve", kept.valve.id)
        assert hit.where == "Quayside House · QH-1"
    with pytest.raises(NotAllowed):
        notes.void_note(kept.register, Person(id="u", name="UV", role="technician"), note.id)
    notes.void_note(kept.register, TECHNICIAN, note.id)
    assert search.search(kept.register, READER, "elbow").rows == ()
    (kept_note,) = notes.list_notes(kept.register, READER, **given)
    assert (kept_note.text, kept_note.is_void) == (note.text, True)


def test_notes_stand_on_anything_that_is_kept(kept):
    visit = kept.visit()
    action = kept.action(visit=visit)
    meter = meters.add_meter(kept.register, LEAD, serial="A1", meter={})
    about = {
        "site": kept.site.id, "system": kept.system.id, "unit": kept.unit.id, "valve": kept.valve.id, "visit": visit,
        "action": action, "spec": kept.spec.spec_id, "meter": meter.id,
    }  # fmt: skip
    for kind, id_ in about.items():
        notes.add_note(kept.register, TECHNICIAN, about_kind=kind, about_id=id_, text=f"on the {kind}")
        assert [one.text for one in notes.list_notes(kept.register, READER, kind, id_)] == [f"on the {kind}"]
        with pytest.raises(NotFound):
            notes.add_note(kept.register, TECHNICIAN, about_kind=kind, about_id="nowhere", text="A")


def test_an_action_stays_open_since_the_day_it_was_first_asked_for(kept):
    first, second = kept.visit("first", date(2025, 5, 1)), kept.visit("second", date(2026, 5, 12))
    asked = kept.action(date(2025, 5, 1), visit=first, urgency="planned")
    again = kept.action(date(2026, 5, 12), visit=second, urgency="now")
    kept.action(date(2025, 5, 1), visit=first, urgency="none")

    (action,) = todo.list_actions(kept.register, READER).rows
    assert asked == again == action.id
    assert (action.since, action.urgency, action.visit_id) == (date(2025, 5, 1), "now", "second")
    assert (action.site, action.system, action.unit, action.valve) == (
        "Quayside House",
        "QH-1",
        "OU1",
        "OU1-subcooler",
    )
    (row,) = places.list_sites(kept.register, READER).rows
    assert (row.n_open, row.n_open_now, row.last_visit) == (1, 1, date(2026, 5, 12))


def test_what_was_found_closes_the_action_and_a_second_finding_stands_beside_it(kept):
    action = kept.action(visit=kept.visit())
    found = todo.new_finding(cause="winding", seen_by="RT-14", how="measured", day=date(2026, 5, 12))

    closed = todo.add_finding(kept.register, TECHNICIAN, action, found)
    again = todo.add_finding(kept.register, LEAD, action, replace(found, cause="nothing-wrong", how="seen"))

    assert (closed.state, closed.found.cause, closed.found.by, closed.found.seen_by) == (
        "closed",
        "winding",
        "TE",
        "RT-14",
    )
    assert (again.found, [one.cause for one in again.later_found]) == (closed.found, ["nothing-wrong"])
    assert todo.list_actions(kept.register, READER).n_rows == 0
    assert todo.list_actions(kept.register, READER, state="closed").rows == (again,)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"cause": "sound"}, "sound is not a cause"),
        ({"cause": "gremlins"}, "gremlins"),
        ({"seen_by": " "}, "empty"),
        ({"how": "guessed"}, "guessed"),
        ({"how": "proved-by-repair"}, "only where its proof passed"),
        ({"proof_kind": "stem-travel"}, "half given"),
        ({"how": "proved-by-repair", "proof_kind": "stem-travel", "proof_result": "failed"}, "only where"),
        ({"day": date(2027, 1, 1)}, "yet to come"),
        ({"day": date(2026, 5, 11)}, "2026-05-11 is before 2026-05-12"),
    ],
)
def test_a_finding_that_does_not_say_who_saw_what_and_how_is_refused(kept, given, said):
    action = kept.action(visit=kept.visit())
    whole = {"cause": "winding", "seen_by": "RT-14", "how": "measured", "day": date(2026, 5, 12)}

    with pytest.raises(InputError, match=said):
        todo.add_finding(kept.register, TECHNICIAN, action, todo.new_finding(**{**whole, **given}))

    assert todo.action(kept.register, READER, action).state == "open"


def test_who_does_what_stands_in_the_audit_list(kept):
    from fifthwire.register.audit import audit_page

    with kept.register.reading() as keep:
        rows = [(row.what, row.about, row.by) for row in audit_page(keep).rows]

    assert ("place-added", "Quayside House", "RT") in rows
    assert ("manual-changed", "outdoor-clip", "LE") in rows


def test_a_visit_that_did_not_look_at_a_valve_says_nothing_new_of_it(kept):
    from fifthwire.model.kept.places import ValveNow
    from fifthwire.model.kept.visits import Judgement
    from fifthwire.register import judgements

    for day, mark in ((date(2024, 5, 1), "bad"), (date(2025, 5, 1), "good"), (date(2026, 5, 1), "not-checked")):
        visit_id = kept.visit(f"visit-{day.year}", day)
        now = ValveNow(valve_id=kept.valve.id, visit_id=visit_id, date=day, mark=mark, word_code="sound")
        with kept.register.adding() as keep:
            made = Judgement(
                id=f"j{day.year}", visit_id=visit_id, at_utc=keep.now_utc, by="RT", program="0", priors_sha256="0",
                inputs_sha256="0", assessment={},
            )  # fmt: skip
            judgements.add_judgement(keep, made)
            judgements.put_verdicts(keep, visit_id, made.id, [now])

    whole = places.valve_whole(kept.register, READER, kept.valve.id)
    assert (whole.now.mark, whole.now.visit_id) == ("good", "visit-2025")
    assert [one.mark for one in whole.verdicts] == ["not-checked", "good", "bad"]
    assert places.list_systems(kept.register, READER).rows[0].worst == "good"
    assert places.list_valves(kept.register, READER, mark="good").n_rows == 1
