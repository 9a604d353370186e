import pytest
from tests.visit_texts import VALVE, problems, read, the_problem


def test_every_required_key_that_is_missing_is_named():
    found = problems("[specs.a]\n[[valves]]\n[[work]]\n", 'format = "fifthwire/visit/1"\n[visit]\n')

    assert {one.place for one in found} == {
        "visit.date", "visit.site", "visit.system", "specs.a.winding", "valves[0].id", "valves[0].unit",
        "valves[0].role", "valves[0].head", "work[0].valve", "work[0].done",
    }  # fmt: skip


def test_a_solenoid_needs_no_head():
    visit = read(VALVE.replace('head = "clip-on"', 'kind = "solenoid"'))

    assert visit.valves[0].head is None


@pytest.mark.parametrize(
    ("text", "place"),
    [
        (VALVE + 'spec = "outdor"\n[specs.outdoor]\nwinding = "unipolar-5"\n', "valves[0].spec"),
        (VALVE + 'meter = "m"\n', "valves[0].meter"),
        (VALVE + '[[valves.measurements]]\nmeter = "m"\n', "valves[0].measurements[0].meter"),
        ('[[sensors]]\nid = "s"\ncurve = "c"\n', "sensors[0].curve"),
        ('[[sensors]]\nid = "s"\nmeter = "c"\n', "sensors[0].meter"),
    ],
)
def test_a_spec_meter_or_curve_that_is_not_in_the_file_is_a_problem(text: str, place: str):
    found = the_problem(text)

    assert found.place == place
    assert "is not in [" in found.message


def test_the_nearest_spec_is_offered():
    text = VALVE + 'spec = "outdor"\n[specs.outdoor]\nwinding = "unipolar-5"\n'

    assert the_problem(text).hint == 'did you mean "outdoor"?'


def test_units_and_valves_named_elsewhere_need_not_stand_in_the_list():
    read('[[work]]\nvalve = "IU99"\ndone = "cleaned"\n[snapshot.units.IU50]\non = true\n')


def test_two_valves_with_one_id_are_a_problem():
    found = the_problem(VALVE + VALVE.replace('role = "main"', 'role = "injection"'))

    assert (found.place, found.line) == ("valves[1].id", 12)
    assert "valves[0]" in found.message


def test_two_valves_at_one_place_are_a_problem_unless_numbered():
    twin = VALVE.replace("OU1-main", "OU1-other")

    found = the_problem(VALVE + twin)

    assert '"OU1-other" is the same valve as "OU1-main"' in found.message
    assert len(read(VALVE + "number = 1\n" + twin + "number = 2\n").valves) == 2


@pytest.mark.parametrize(("to_utc", "is_right"), [("2026-05-01", False), ("2026-06-01", True), ("2026-07-01", True)])
def test_a_log_that_ends_before_it_starts_is_a_problem(to_utc: str, is_right: bool):
    text = (
        f'[[evidence]]\nfrom = "log"\nsha256 = "{"0" * 64}"\nvalve = "v"\nlog_likelihood = {{ sound = -3.2 }}\n'
        f"from_utc = 2026-06-01T00:00:00Z\nto_utc = {to_utc}T00:00:00Z\n"
    )

    if is_right:
        read(text)
    else:
        assert (the_problem(text).place, the_problem(text).message) == (
            "evidence[0].to_utc",
            "the log ends before it starts",
        )
