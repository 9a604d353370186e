"""What a new visit takes over."""

from datetime import date

import pytest

from fifthwire.model.errors import VisitFileError
from fifthwire.visitfile import read_visit
from fifthwire.workflow.carrying import carried_over, listed_valves

TODAY = date(2027, 5, 11)
LAST = """
format = "fifthwire/visit/1"
[visit]
date = 2026-05-12
technician = "RT-14"
site = "Quayside House"
system = "QH-1"
reason = "comfort"
altitude = "40 m"
[system]
refrigerant = "R410A"
installed = 2014
mode = "cooling"
service_state = true
[specs.clip]
winding = "unipolar-5"
resistance = "62 ohm"
[meters.handheld]
accuracy = "0.9 % + 2 digits"
check_resistor = ["100.0 ohm", "100.3 ohm"]
leads = "0.2 ohm"
[[valves]]
id = "measured"
unit = "OU1"
role = "subcooler-bypass"
head = "clip-on"
spec = "clip"
meter = "handheld"
common = "5"
suspected = true
head_temperature = "31 degC"
last_removed = "never"
readings = [["5", "1", 64.9]]
[valves.inspection]
rust = "light"
[[valves]]
id = "untouched"
unit = "IU01"
role = "indoor"
head = "clip-on"
last_removed = 2021-04-02
[[valves]]
id = "renewed"
unit = "IU02"
role = "indoor"
head = "clip-on"
part_label = "A"
head_installed = 2014-06-01
[[work]]
valve = "renewed"
done = "replaced-head"
part = "B"
[[notes]]
text = "wet"
"""


def next_visit():
    return carried_over(read_visit(LAST, name="last", syntax="toml").visit, TODAY)


def test_the_site_the_manuals_and_the_meters_stay():
    visit = next_visit()

    assert (visit.header.site, visit.header.system, visit.header.technician) == ("Quayside House", "QH-1", "RT-14")
    assert visit.specs["clip"].resistance_ohm == 62.0
    assert visit.meters["handheld"].accuracy is not None
    assert (visit.system.refrigerant, visit.system.installed) == ("R410A", 2014)


def test_what_belongs_to_the_day_is_left_behind():
    visit = next_visit()
    valve = visit.valves[0]

    assert (visit.header.date, visit.header.reason, visit.system.service_state) == (TODAY, "planned", None)
    assert (valve.readings, valve.inspection, valve.head_temperature_c, valve.suspected) == ((), None, None, False)
    assert (visit.meters["handheld"].check_resistor_ohm, visit.meters["handheld"].leads_ohm) == (None, None)
    assert (visit.work, visit.notes) == ((), ())


def test_a_valve_keeps_its_place_its_head_and_its_common():
    valve = next_visit().valves[0]

    assert (valve.id, valve.unit, valve.role, valve.head, valve.spec, valve.common) == (
        "measured", "OU1", "subcooler-bypass", "clip-on", "clip", ("5",),
    )  # fmt: skip


def test_a_head_that_was_measured_came_off_that_day():
    removed = {valve.id: valve.last_removed for valve in next_visit().valves}

    assert removed["measured"] == date(2026, 5, 12)
    assert removed["untouched"] == date(2021, 4, 2)


def test_a_replaced_head_was_new_that_day_and_has_the_new_label():
    renewed = next_visit().valves[2]

    assert (renewed.head_installed, renewed.part_label) == (date(2026, 5, 12), "B")


def test_a_list_gives_valves_a_row_each():
    text = 'id,Unit,role,head,number\n"IU01-valve",IU01,indoor,clip-on,\n\nOU1-main,OU1,main,bolt-on,2\n'

    visit = listed_valves(text.encode(), "valves.csv", TODAY)

    assert [(of.id, of.unit, of.role, of.head, of.number) for of in visit.valves] == [
        ("IU01-valve", "IU01", "indoor", "clip-on", None),
        ("OU1-main", "OU1", "main", "bolt-on", 2),
    ]


def test_a_list_of_a_spreadsheet_may_be_parted_by_semicolons_and_begin_with_a_mark():
    text = "\ufeffid;unit;role;head;last removed\r\na;OU1;main;bolt-on;never\r\n"

    assert listed_valves(text.encode(), "valves.csv", TODAY).valves[0].last_removed == "never"


def problems(text: str | bytes):
    with pytest.raises(VisitFileError) as raised:
        listed_valves(text if isinstance(text, bytes) else text.encode(), "valves.csv", TODAY)
    return [(of.line, of.place, of.message) for of in raised.value.problems]


def test_an_unknown_column_is_named_with_the_nearest_known_one():
    with pytest.raises(VisitFileError) as raised:
        listed_valves(b"id,unit,rolle,head\n", "valves.csv", TODAY)

    assert "role" in raised.value.problems[0].hint
    assert (1, "", "column role is missing") in [(of.line, of.place, of.message) for of in raised.value.problems]


def test_every_problem_of_a_list_is_said_with_its_line():
    found = problems("id,unit,role,head,number\na,OU1,main,bolt-on,two\nb,OU1,main,bolt-on\nb,OU2,main,bolt-on\n")

    assert [line for line, _, _ in found] == [2, 4]


def test_a_list_is_checked_by_the_rules_of_a_visit():
    found = problems("id,unit,role,head\na,OU1,main,bolt-on\nb,OU2,mian,bolt-on\nc,OU1,main,bolt-on\n")

    assert [line for line, _, _ in found] == [3, 4]
    assert found[0][1] == "role"
    assert "in line 2" in found[1][2]


@pytest.mark.parametrize("content", [b"", b"\n\n", b"\xff\xfe\x00i", b"\x00\x01\x02", b'id,unit,role\n"a,b\n'])
def test_what_is_no_list_is_refused(content):
    assert problems(content)
