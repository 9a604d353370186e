import tomllib

from tests.visit_texts import EVERY_KEY, START, VALVE, read

from fifthwire.model.fields import describe
from fifthwire.model.valve import Valve
from fifthwire.visitfile import read_visit, template


def filled(text: str) -> str:
    return text.replace('site = ""', 'site = "S"').replace('system = ""', 'system = "1"').replace("#date", "date")


def unlocked(text: str) -> str:
    """Every key that waits behind its sign, used."""
    return "\n".join(line[1:] if line[:1] == "#" and line[:2] != "# " else line for line in text.split("\n"))


def test_a_blank_visit_reads_once_its_three_keys_are_filled():
    found = read_visit(filled(template()), name="new", syntax="toml")

    assert (found.visit.header.site, found.visit.valves, found.warnings) == ("S", (), ())


def test_a_blank_visit_says_what_is_needed_before_it_is_filled():
    text = template()

    assert "# needed: the day of the visit" in text
    assert tomllib.loads(text)["visit"] == {"site": "", "system": ""}


def test_every_key_that_a_blank_visit_offers_reads_without_a_problem():
    used = read_visit(unlocked(filled(template())), name="new", syntax="toml").visit

    assert used.valves[0].inspection is not None
    assert used.valves[0].inspection.pitted is False
    assert used.snapshot is not None
    assert used.snapshot.outdoor["OU1"].compressors["C1"].speed_hz == 62.0
    assert used.specs["outdoor-clip"].at_c == 20.0


def test_a_blank_visit_offers_every_key_of_a_valve():
    text = template()

    for note in describe(Valve):
        if note.key not in ("entry", "device", "at", "by", "voids"):
            assert f"#{note.key} = " in text or f"valves.{note.key}]" in text


def test_a_known_visit_is_written_so_that_it_reads_back_equal():
    visit = read("", EVERY_KEY)

    assert read_visit(template(visit), name="again", syntax="toml").visit == visit


def test_a_known_valve_is_ready_for_its_readings():
    visit = read(VALVE + VALVE.replace("main", "injection").replace("clip-on", "bolt-on"))

    text = template(visit)

    clip_on, bolt_on = text.split("[[valves]]")[1:3]
    assert "#readings = " in clip_on
    assert "stem" not in clip_on
    assert "hand_magnet" in clip_on
    assert "stem = " in bolt_on
    assert "hand_magnet" not in bolt_on
    used = read_visit(unlocked(text.split("# -- step tests")[0]), name="used", syntax="toml")
    assert [len(valve.readings) for valve in used.visit.valves] == [2, 2]


def test_what_looks_like_a_formula_or_ends_a_string_is_just_text():
    start = START.replace("Quayside House", '=1+1\\"\\n[valves] # \\u0007'.replace("\\u0007", "x"))
    visit = read(VALVE.replace("OU1-main", "@SUM(A1)"), start)

    assert read_visit(template(visit), name="again", syntax="toml").visit == visit


def test_no_line_of_a_template_is_too_long_to_read():
    assert max(map(len, template().split("\n"))) <= 120
