"""The page of a report: whole, ordered, escaped, and saying what it must."""

import re
from dataclasses import replace
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest
from tests import report_visits as visits
from tests.judged_visits import priors

from fifthwire.assessment import assess, report_page
from fifthwire.assessment.marks import MARKS, mark_of
from fifthwire.assessment.summary import three_lines
from fifthwire.model.assessment import Assessment
from fifthwire.model.visit import Visit
from fifthwire.visitfile import read_visit

ROOT = Path(__file__).resolve().parents[3]
VISIT_FILES = sorted(path for folder in ("src", "docs", "tests") for path in (ROOT / folder).rglob("*.visit.toml"))

VOID = {"meta", "input", "col", "path", "rect", "circle"}


class Read(HTMLParser):
    """What a page holds: tags in order, ids, references, text."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.texts: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {key: value or "" for key, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {key: value or "" for key, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.texts.append(data)

    @property
    def text(self) -> str:
        return re.sub(r"\s+", " ", " ".join(self.texts).replace("\u2011", "-"))

    def attributes(self, name: str) -> list[str]:
        return [attrs[name] for _, attrs in self.tags if name in attrs]


CASES = {"every mark": visits.every_mark, "large": visits.a_large_system, "hostile": visits.hostile_names}


@pytest.fixture(params=CASES, scope="module")
def case(request) -> tuple[Visit, Assessment]:
    return CASES[request.param]()


def test_every_element_is_closed_and_every_reference_leads_somewhere(case):
    read = Read(report_page(*case))

    ids = read.attributes("id")
    assert read.open == []
    assert len(ids) == len(set(ids))
    wanted = [one.removeprefix("#") for one in read.attributes("href")]
    wanted += [one for listed in read.attributes("aria-labelledby") for one in listed.split()]
    assert set(wanted) <= set(ids)


def test_every_drawing_is_a_picture_with_a_title_and_a_description(case):
    page = report_page(*case)

    drawings = [dict(attrs) for tag, attrs in Read(page).tags if tag == "svg" and "mark" not in attrs.get("class", "")]
    assert drawings
    for attrs in drawings:
        assert attrs["role"] == "img"
        title, description = attrs["aria-labelledby"].split()
        assert f'<title id="{title}">' in page and f'<desc id="{description}">' in page


def test_headings_go_down_one_level_at_a_time(case):
    levels = [int(tag[1]) for tag, _ in Read(report_page(*case)).tags if re.fullmatch("h[1-6]", tag)]

    assert levels[0] == 1 and levels.count(1) == 1
    assert all(deeper - level <= 1 for level, deeper in pairwise(levels))


def test_the_page_needs_nothing_else(case):
    read = Read(report_page(*case))

    assert not [tag for tag, _ in read.tags if tag in ("script", "link", "img", "iframe", "object", "form")]
    assert read.attributes("src") == []
    assert all(one.startswith("#") for one in read.attributes("href"))
    assert not [attrs for _, attrs in read.tags if any(name.startswith("on") for name in attrs)]
    assert "url(" not in report_page(*case) and "@import" not in report_page(*case)


def test_every_valve_stands_in_the_table_once_with_its_mark_in_words():
    visit, assessment = visits.a_large_system()
    page = report_page(visit, assessment)
    table = page[page.index('<h2 id="valves"') : page.index("</section>")]

    for valve in assessment.valves:
        assert len(re.findall(rf">{valve.id}<", table)) == 1
    for mark in {mark_of(valve) for valve in assessment.valves}:
        assert mark.word in Read(table).text


def test_the_three_lines_come_first():
    visit, assessment = visits.every_mark()
    text = Read(report_page(visit, assessment)).text
    lines = three_lines(visit, assessment)

    places = [text.index(line) for line in (lines.wrong, lines.if_left, lines.decide)]
    assert places == sorted(places)
    assert places[-1] < text.index("State Valve Cause Do When Meanwhile")


def test_a_sheet_says_cause_why_caution_action_part_and_what_was_measured_with_what():
    text = Read(report_page(*visits.every_mark())).text

    for said in (
        "Open winding, wire 3: sure. Until it is done: hold the valve shut.",
        "Wire 3 is open from two wires; the other three windings agree within 0.2 Ω.",
        "Lock out every supply and prove dead before the head comes off.",
        "Replace the coil (now).",
        "Part: read the label on the old one first; it was not noted.",
        "64.7 ± 0.4 Ω",
        "62.0 ± 0.5 Ω",
        "62 Ω ± 10 % at 20 °C, manual of the outdoor unit, p. 212",
        "Limits 55.8 to 68.2 Ω at 20 °C, guard band 0.9 Ω: pass from 56.7 to 67.3 Ω.",
        "as found, at the head's own plug, with the meter handheld",
        "31 °C, within 3 K (clamp)",
        "should read 58.2 to 71.1 Ω at 31 °C",
        "Touch 2 and 5 and read.",
        "Note: Insulation torn at the elbow.",
        "serial A-117, ± (0.9 % of reading + 2 digits), leads 0.2 Ω, taken off",
        "a known 100 Ω read 100.3 Ω on this visit, calibrated 10 January 2026",
        "Struck out, not used.",
        "It was not seen to move.",
        "12 May 2026",
        "RT-14",
        "Fifthwire 0.1.0",
        "Received for the customer",
    ):
        assert said in text, said


def test_no_probability_stands_on_paper():
    text = Read(report_page(*visits.every_mark())).text

    assert not re.search(r"0\.\d{3,}", text)
    assert "0.99" not in text and "0.81" not in text


def test_the_cautions_stand_before_the_step_they_belong_to():
    page = report_page(*visits.every_mark())
    sheet = page[page.index("OU1-subcooler</bdi>: bad") :]

    assert sheet.index("Before you touch it") < sheet.index("Replace the coil")


def test_the_make_safe_order_stands_before_the_first_sheet_and_says_what_was_confirmed():
    text = Read(report_page(*visits.every_mark())).text

    assert text.index("Stop the system.") < text.index("Valves that need a word")
    assert "Never short it. (Confirmed, 3 V.)" in text
    assert "Stop the system. See that the compressors are off and cannot start again. (Not confirmed.)" in text


def test_good_valves_stay_a_line_each():
    small, large = (len(report_page(*visits.a_large_system(n_good))) for n_good in (10, 40))

    assert (large - small) / 30 < 1600  # bytes a good valve, both tables together


def test_what_was_not_checked_is_told_with_its_reason():
    visit, assessment = visits.every_mark()
    note = visits.Note(about="IU10-valve", text="Meeting in the room all day.")

    text = Read(report_page(replace(visit, notes=(*visit.notes, note)), assessment)).text

    assert "IU10-valve (Meeting in the room all day)" in text


def test_temperatures_turn_to_fahrenheit_and_ohms_stay():
    si, us = (Read(report_page(*visits.every_mark(), units=units)).text for units in ("si", "us"))

    assert "At 88 °F" in us and "at 68 °F" in us and "within 5 °F" in us
    assert "°C" not in us
    assert "62.0 ± 0.4 Ω at 68 °F, where the manual says 62 Ω" in us
    assert "64.7 ± 0.4 Ω" in si and "64.7 ± 0.4 Ω" in us


def test_text_from_people_is_escaped_and_cannot_turn_the_line():
    page = report_page(*visits.hostile_names())

    assert "<script" not in page
    assert "&lt;script&gt;alert(&#x27;x&#x27;)&lt;/script&gt;" in page
    assert "\u202e" not in page and "\x00" not in page and "\x07" not in page
    assert visits.HOSTILE["long"] in page


def test_struck_entries_are_shown_struck():
    page = report_page(*visits.every_mark())

    assert re.search(r'<tr role="row" class=.?struck.?>.*?Replaced head', page)
    assert "<s>Struck out, not used." in page


def test_readings_with_the_plug_on_are_kept_and_not_drawn():
    visit, assessment = visits.every_mark()
    valves = tuple(replace(one, plug_off=False) if one.id == "OU1-subcooler" else one for one in visit.valves)

    page = report_page(replace(visit, valves=valves), assessment)

    sheet = page[page.index("OU1-subcooler</bdi>: bad") : page.index("IU07-valve</bdi>: probable")]
    assert "With the plug on, not used." in sheet
    assert "<figure>" not in sheet


def test_a_head_without_a_spec_is_compared_with_itself_only():
    visit, assessment = visits.every_mark()
    valves = tuple(replace(one, spec=None) if one.id == "OU1-subcooler" else one for one in visit.valves)

    text = Read(report_page(replace(visit, valves=valves), assessment)).text

    assert "none given; the windings are compared with one another only" in text
    assert "No spec to compare with." in text


def test_an_assessment_of_one_valve_has_a_page():
    visit, assessment = visits.every_mark()

    text = Read(report_page(visit, replace(assessment, valves=assessment.valves[:1]))).text

    assert "OU1-main" in text and "OU2-main" not in text.replace("OU2-main Cleaned", "").split("Work done")[0]


def test_a_visit_without_valves_has_a_page():
    text = Read(report_page(visits.a_visit(()), visits.an_assessment())).text

    assert "The visit lists no valves." in text


def test_the_same_visit_gives_the_same_page():
    assert report_page(*visits.every_mark()) == report_page(*visits.every_mark())


def test_every_mark_that_is_used_is_explained():
    visit, assessment = visits.every_mark()
    page = report_page(visit, assessment)

    for mark in MARKS:
        is_used = mark in {mark_of(valve) for valve in assessment.valves}
        assert (f"{mark.word}: {mark.meaning}" in page) == is_used


def test_a_doubt_is_underlined_with_its_reason_on_focus():
    page = report_page(*visits.every_mark())

    assert page.count('class="doubt" tabindex="0"') == 1
    assert 'aria-describedby="doubt-3">not proven</span><span class="reason" id="doubt-3">In doubt: Meter' in page


def test_a_struck_out_valve_is_kept_and_shown_struck():
    visit, assessment = visits.every_mark()
    struck = visits.a_valve("IU77-valve", is_void=True)

    page = report_page(replace(visit, valves=(*visit.valves, struck)), assessment)

    assert "<s>Valve IU77-valve: struck out, not assessed.</s>" in page


def test_hundreds_of_readings_stay_a_picture_and_a_line():
    visit, assessment = visits.every_mark()
    many = visits.readings(tuple(("5", str(1 + at % 4), 64.0 + at / 1000) for at in range(400)))
    valves = [replace(one, measurements=()) if one.id == "OU1-subcooler" else one for one in visit.valves]
    valves = [replace(one, readings=many) if one.id == "OU1-subcooler" else one for one in valves]

    page = report_page(replace(visit, valves=tuple(valves)), assessment)

    sheet = page[page.index("OU1-subcooler</bdi>: bad") : page.index("IU07-valve</bdi>: probable")]
    assert sheet.count("64.396") == 3  # the last of its pair: drawn, described, and told in the line
    assert sheet.count("64.001") == 1  # told in the line
    heights = [int(one) for one in re.findall(r'viewBox="0 0 360 (\d+)"', sheet)]
    assert max(heights) < 400


@pytest.mark.parametrize("units", ["si", "us"])
def test_every_visit_that_the_program_reads_has_a_page(units):
    for path in VISIT_FILES:
        read = read_visit(path.read_bytes(), name=path.name, syntax="toml")
        page = report_page(read.visit, assess(read.visit, priors(), warnings=read.warnings), units=units)

        assert Read(page).open == [], path
        assert "{" not in Read(page).text, path  # no sentence with a value missing
