from datetime import UTC, datetime
from math import inf

import pytest
from tests.visit_texts import START, VALVE, read, the_problem

from fifthwire.model.running import Opening
from fifthwire.model.valve import Insulation, PairReading
from fifthwire.model.visit import Accuracy, Tolerance


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        ("head_temperature_within = \"9 degF\"", "temperature, where a temperature difference", 'write "9 delta_degF"'),
        ('head_temperature = "9 delta_degF"', "difference, where a temperature", 'write "9 degF"'),
        ('head_temperature = "300 K"', "difference, where a temperature", "write degC or degF"),
        ('head_temperature = "31"', "no unit", '"31 degC"'),
        ('head_temperature = "31 degrees"', "no unit known here", "write degC or degF"),
        ('head_temperature = "-300 degC"', "below -60", "check"),
        ('head_temperature = "hot"', "does not start with a number", "write"),
        ('head_temperature = true', "true is not a temperature", "write"),
        ("head_temperature = inf", "not a finite number", "leave"),
        ('readings = [["5", "1", -3]]', "below 0 ohm", "zero"),
        ('readings = [["5", "1", "OL"]]', "no resistance", '"open"'),
        ('readings = [["5", "1", "inf"]]', "no resistance", '"open"'),
        ('readings = [["5", "5", 60]]', "the same wire twice", "two wires"),
        ('readings = [["5", 5, 60]]', "the same wire twice", "two wires"),
        ('readings = [["5", "1"]]', "not wire, wire, ohms", "write"),
        ('readings = ["5", "1", 60]', "outer brackets", 'write [["5", "1", 60]]'),
        ('readings = [["5", "1", "64,9 ohm"]]', "comma", "point"),
        ('readings = [["5", "", 64.9]]', "no wire", "pin number"),
        ('common = ["1", "2", "3"]', "more than two", "name one"),
        ('common = ["1", "1"]', "twice", "two wires"),
        ('insulation = "-1 Mohm"', "below 0", "120 Mohm"),
        ('insulation = "OL"', "no resistance", ">100 Mohm"),
        ('insulation = "120 mohm"', "a thousandth or a million", "Mohm"),
        ('insulation_test = "high"', "no test voltage", '"500 V"'),
        ('insulation_test = "0 V"', "not above 0 V", '"500 V"'),
        ('last_removed = "once"', "no date", '"never"'),
        ('last_removed = "2021-02-30"', "no day of the calendar", '"never"'),
        ("head_installed = 2014-06-01T10:00:00", "a time, where a date", "2014-06-01"),
        ('plug_off = "yes"', "neither true nor false", "true or false"),
        ('access = "stairs"', "not known here", "easy, ladder"),
        ("number = 0", "below 1", "check"),
        ("number = 1.5", "no whole number", "digits"),
        ('part_label = 17', "no text", 'write "17"'),
        ("inspection = 3", "where a table is needed", "[inspection]"),
        ("measurements = {}", "array of tables", "[[measurements]]"),
    ],
)  # fmt: skip
def test_a_value_that_cannot_be_is_a_problem_with_what_to_write(text: str, message: str, hint: str):
    found = the_problem(VALVE + text + "\n")

    assert message in found.message
    assert hint in found.hint
    assert found.line == 11


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('[specs.a]\nwinding = "unipolar5"', "not known here"),
        ('[specs.a]\nwinding = "unipolar-5"\nresistance = "-62 ohm"', "not above 0 ohm"),
        ('[specs.a]\nwinding = "unipolar-5"\ntolerance = "0 %"', "not between 0 and 100 %"),
        ('[specs.a]\nwinding = "unipolar-5"\ntolerance = "-6 ohm"', "not above 0 ohm"),
        ("[meters.a]\nresolution = -0.1", "not above 0 ohm"),
        ("[meters.a]\nresolution = 0", "not above 0 ohm"),
        ('[meters.a]\naccuracy = "2 digits"', "percentage"),
        ('[meters.a]\naccuracy = "0.9 % + 2"', "does not end in digits"),
        ('[meters.a]\naccuracy = "-0.9 % + 2 digits"', "negative"),
        ("[meters.a]\naccuracy = 0.9", "no accuracy"),
        ('[meters.a]\ncheck_resistor = ["100 ohm"]', "not an array of 2"),
        ('[meters.a]\ncheck_resistor = ["100 ohm", "-1 ohm"]', "not above 0 ohm"),
        ('[snapshot]\nsuction_pressure = "118 psi"', "neither gauge nor absolute"),
        ("[snapshot]\nsuction_pressure = -3", "below 0 kPa"),
        ('[snapshot]\nsuction_pressure = "-20 psig"', "below 0 kPa"),
        ('[snapshot.valves.a]\nopening = "120 %"', "between 0 and 100 %"),
        ("[snapshot.valves.a]\nopening = -1", "below 0 pulses"),
        (
            '[curves.c]\ntable = [["0 degC", 30e3], ["10 degC", 20e3], ["5 degC", 10e3]]',
            "temperatures do not go one way",
        ),
        (
            '[curves.c]\ntable = [["0 degC", 30e3], ["10 degC", 20e3], ["15 degC", 25e3]]',
            "resistances do not go one way",
        ),
        ('[curves.c]\ntable = [["0 degC", 30e3], ["10 degC", 30e3]]', "resistances do not go one way"),
        ('[curves.c]\ntable = [["0 degC", 30e3]]', "two points"),
        ('[curves.c]\nr25 = "10 kohm"', "beta is missing"),
        ('[[evidence]]\nfrom = "log"\nvalve = "a"\nlog_likelihood = { stuck = 0.0 }', "not known here"),
        ('[[evidence]]\nfrom = "log"\nvalve = "a"\nlog_likelihood = {}', "names no cause"),
        ('[[photographs]]\nsha256 = "abc"', "no SHA-256"),
        ('[[notes]]\ntext = "x"\nat = 2026-05-12T10:00:00', "does not say its offset"),
        ('[[notes]]\ntext = "x"\nat = "soon"', "no date and time"),
        ('[system]\ninstalled = "2014"', "no whole number"),
    ],
)
def test_more_values_that_cannot_be(text: str, message: str):
    assert message in the_problem(text + "\n").message


@pytest.mark.parametrize(
    ("written", "ohm"),
    [("64.9", 64.9), ('"64.9 ohm"', 64.9), ('"1.2 kohm"', 1200.0), ('"64.9Ω"', 64.9), ('"64.9 \u2126"', 64.9),
     ('"1.2 k"', 1200.0), ('"open"', None), ('"OPEN"', None), ("0", 0.0)],
)  # fmt: skip
def test_a_reading_may_be_written_in_many_ways(written: str, ohm: float | None):
    visit = read(VALVE + f"readings = [[5, 1, {written}]]\n")

    assert visit.valves[0].readings == (PairReading("5", "1", ohm),)


@pytest.mark.parametrize(
    "written", ["0.9 % + 2 digits", "0.9%+2digits", "± 0.9 % + 2 dgt", "+-0.9 % + 2 digit", "±(0.9 % + 2 digits)"]
)
def test_an_accuracy_may_be_written_in_many_ways(written: str):
    visit = read(f'[meters.a]\naccuracy = "{written}"\n')

    assert visit.meters["a"].accuracy == Accuracy(of_reading_frac=0.9 / 100, digits=2.0)


def test_small_grammars_take_all_their_forms():
    visit = read(
        VALVE
        + 'common = 5\nlast_removed = "never"\ninsulation = "> 100 MΩ"\ninsulation_test = "meter"\n'
        + "[valves.board]\npulses = true\n"
        + '[[sensors]]\nid = "s"\nreading = "open"\n'
        + '[meters.a]\naccuracy = "0.5 %"\n[specs.b]\nwinding = "single-2"\ntolerance = "6 ohm"\n'
        + '[snapshot.valves.v]\nopening = "44 %"\n'
    )
    valve = visit.valves[0]

    assert (valve.common, valve.last_removed, valve.insulation_test) == (("5",), "never", "meter")
    assert valve.insulation == Insulation(mohm=100.0, is_at_least=True)
    assert valve.board is not None and valve.board.pulses is True
    assert visit.sensors[0].reading_ohm == inf
    assert visit.meters["a"].accuracy == Accuracy(of_reading_frac=0.005)
    assert visit.specs["b"].tolerance == Tolerance(ohm=6.0)
    assert visit.snapshot is not None and visit.snapshot.valves["v"].opening == Opening(frac=0.44)


def test_gauge_pressures_are_read_with_the_barometer_wherever_it_stands():
    snapshot = '[snapshot]\nsuction_pressure = "8 barg"\ndischarge_pressure = "2500 kPa"\n'

    at_sea = read(snapshot).snapshot
    in_the_hills = read(snapshot, START + 'barometer = "900 hPa"\n').snapshot

    assert at_sea is not None and at_sea.suction_kpa_abs == pytest.approx(901.325)
    assert in_the_hills is not None and in_the_hills.suction_kpa_abs == pytest.approx(890.0)
    assert in_the_hills.discharge_kpa_abs == 2500.0


def test_times_without_offset_are_of_the_visits_time_zone():
    zone = 'time_zone = "Europe/London"\n'

    visit = read('[[notes]]\ntext = "x"\nat = 2026-05-12T10:00:00\n', START + zone)

    assert visit.notes[0].entered_utc == datetime(2026, 5, 12, 9, 0, tzinfo=UTC)


def test_an_unknown_time_zone_is_a_problem_that_offers_the_nearest():
    found = the_problem("", START + 'time_zone = "Europe/Lodnon"\n')

    assert found.hint == 'did you mean "Europe/London"?'


@pytest.mark.parametrize("zone", ["Europe", "../x", "/etc/passwd", "", "a" * 300])
def test_a_time_zone_that_is_a_path_is_a_problem(zone: str):
    assert the_problem("", START + f'time_zone = "{zone}"\n').place == "visit.time_zone"


def test_nothing_in_json_is_named_as_json_writes_it():
    text = '{"format": "fifthwire/visit/1", "visit": {"date": "2026-05-12", "site": "a", "system": "b"}, "valves": ['
    text += '{"id": "v", "unit": "u", "role": "main", "head": null}]}'

    found = the_problem("", text, "json")

    assert found.message == "null is not known here"
