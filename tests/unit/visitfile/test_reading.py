from datetime import UTC, date, datetime

import pytest
from tests.visit_texts import EVERY_KEY, START, VALVE, problems, read, the_problem

from fifthwire.model.errors import VisitFileError
from fifthwire.model.running import Opening
from fifthwire.model.valve import Insulation, PairReading
from fifthwire.model.visit import Accuracy, Tolerance
from fifthwire.visitfile import read_visit, visit_to_json


def test_every_key_of_the_format_is_read_into_the_units_of_the_names():
    visit = read("", EVERY_KEY)
    valve, spec, meter = visit.valves[0], visit.specs["outdoor-clip"], visit.meters["handheld"]

    assert visit.header.date == date(2026, 5, 12)
    assert visit.header.altitude_m == 40.0
    assert spec.tolerance == Tolerance(frac=0.1)
    assert (spec.resistance_ohm, spec.at_c, spec.full_stroke_pulses, spec.supply_volt) == (62.0, 20.0, 480.0, 12.0)
    assert meter.accuracy == Accuracy(of_reading_frac=0.9 / 100, digits=2.0)
    assert (meter.leads_ohm, meter.check_resistor_ohm) == (0.2, (100.0, 100.3))
    assert valve.last_removed == date(2021, 4, 2)
    assert (valve.head_temperature_c, valve.head_temperature_within_k, valve.common) == (31.0, 3.0, ("5",))
    assert valve.readings[:3:2] == (PairReading("5", "1", 64.9), PairReading("5", "3", None))
    assert valve.insulation == Insulation(mohm=120.0)
    assert valve.insulation_test == "500 V"
    assert valve.measurements[0].readings == (PairReading("5", "3", 64.7),)
    assert valve.board is not None and valve.board.pulses == {"1": True, "2": True, "3": True, "4": True}
    assert visit.step_tests[0].opening == (Opening(pulses=210.0), Opening(pulses=190.0))
    assert visit.step_tests[0].superheat_k == (5.1, 10.8)
    assert visit.curves["coil"].table[0] == (0.0, 32580.0)
    assert visit.sensors[0].reading_ohm == 13800.0
    assert visit.evidence[0].from_utc == datetime(2026, 4, 1, tzinfo=UTC)
    assert visit.evidence[0].log_likelihood == {"not-following": 0.0, "sound": -3.2}
    assert visit.snapshot is not None
    assert visit.snapshot.units["IU07"].opening == Opening(pulses=210.0)
    # 118 psig at 40 m above the sea: 118 x 6.894757 + 100.845 kPa (ISO 2533 at 40 m)
    assert visit.snapshot.outdoor["OU1"].suction_kpa_abs == pytest.approx(914.427, abs=0.002)


def test_a_visit_written_as_json_reads_back_equal():
    visit = read("", EVERY_KEY)

    assert read_visit(visit_to_json(visit), name="b", syntax="json").visit == visit


def test_what_is_left_out_takes_its_default():
    visit = read(VALVE)

    assert (visit.header.reason, visit.valves[0].kind, visit.valves[0].suspected) == ("planned", "eev", False)
    assert visit.valves[0].readings == ()
    assert visit.system.mode is None


def test_a_json_file_is_told_by_pointer_and_line():
    text = '{"format": "fifthwire/visit/1",\n "visit": {"date": "2026-05-12", "site": "S", "system": "1"},\n'
    text += (
        ' "valves": [{"id": "A", "unit": "U", "role": "main", "head": "clip-on",\n  "readings": [["5", "1", "OL"]]}]}'
    )

    found = the_problem("", text, "json")

    assert (found.place, found.line) == ("/valves/0/readings/0/2", 4)


def test_a_key_given_twice_in_json_is_a_problem_at_its_place():
    text = (
        '{"format": "fifthwire/visit/1",\n "visit": {"date": "2026-05-12", "site": "S",\n "site": "T", "system": "1"}}'
    )

    found = the_problem("", text, "json")

    assert (found.place, found.line) == ("/visit/site", 3)
    assert "twice" in found.message


@pytest.mark.parametrize(
    ("text", "syntax", "line"),
    [
        ("format = \n", "toml", 1),
        (START + "site = 'twice'\n", "toml", 6),
        (START + VALVE + 'readings = [["5", "1", 64.9\n', "toml", 11),
        ('{"format": "fifthwire/visit/1",\n "visit": {,}}', "json", 2),
        ("", "json", 1),
        (START + "date = 2026-02-31\n", "toml", 6),
    ],
)
def test_a_syntax_error_is_the_one_problem_with_its_line(text: str, syntax: str, line: int):
    assert the_problem("", text, syntax).line == line


def test_a_byte_order_mark_and_windows_line_ends_are_taken():
    content = b"\xef\xbb\xbf" + (START + VALVE).replace("\n", "\r\n").encode()

    assert read_visit(content, name="a", syntax="toml").visit == read(VALVE)


def test_a_file_that_is_not_utf8_says_its_line():
    with pytest.raises(VisitFileError) as caught:
        read_visit((START + "# caf\xe9\n").encode("latin-1"), name="a", syntax="toml")

    assert caught.value.problems[0].line == 6
    assert "0xe9" in caught.value.problems[0].message


def test_every_problem_is_told_at_once_in_the_order_of_the_file():
    found = problems(
        VALVE + 'head_temperature = "31"\nreadings = [["5", "1", "OL"],\n  ["5", "2", -1]]\n'
        '[meters.m]\nresolution = -0.1\n[specs.s]\nwindings = "unipolar-5"\n'
    )

    assert [(one.line, one.place) for one in found] == [
        (11, "valves[0].head_temperature"),
        (12, "valves[0].readings[0][2]"),
        (13, "valves[0].readings[1][2]"),
        (15, "meters.m.resolution"),
        (16, "specs.s.winding"),
        (17, "specs.s.windings"),
    ]
