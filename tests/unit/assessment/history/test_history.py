"""A valve's history: heads kept apart, the drawing whole, table and chart made of the same figures."""

import re
from dataclasses import replace
from datetime import date
from xml.etree import ElementTree

import pytest
from pytest import approx
from tests.valve_histories import SPEC, SPRINGS, WIRES, a_drifting_valve, a_steady_valve, some_points

from fifthwire.assessment.history.picture import WIDTHS, history_picture, shape_strokes
from fifthwire.assessment.history.said import drift_sentences
from fifthwire.assessment.history.series import SHAPES, ValveHistory, valve_history
from fifthwire.assessment.history.table import chart_data, history_rows
from fifthwire.assessment.stave.sheet import circuit_document
from fifthwire.model.followup import Work
from fifthwire.model.kept.places import HeadInstance
from fifthwire.model.kept.whole import WorkPoint
from fifthwire.model.visit import Tolerance

SVG = "{http://www.w3.org/2000/svg}"
ONE_DAY = valve_history(some_points("H1", SPRINGS[:1]), [], [], SPEC)
EVERY = {"drifting": a_drifting_valve(), "steady": a_steady_valve(), "one day": ONE_DAY}


def root_of(history: ValveHistory, width: float = WIDTHS[-1]) -> ElementTree.Element:
    return ElementTree.fromstring(circuit_document(history_picture(history, width=width)))


def test_a_new_head_begins_a_new_series():
    history = a_drifting_valve()

    assert [head.head.id for head in history.heads if head.head] == ["H1", "H2"]
    assert [len(head.days) for head in history.heads] == [2, 4]


def test_drift_is_sought_in_one_head_and_said_of_that_head():
    first, second = a_drifting_valve().heads

    assert first.drift.called == ()
    assert [drift.winding for drift in second.drift.called] == ["5-3"]
    said = " ".join(drift_sentences(second.drift))
    assert "Winding 5-3 drifts: it has risen by 4." in said and "fewer than 1 good head in" in said


def test_a_head_that_does_not_drift_is_said_not_to():
    (head,) = a_steady_valve().heads

    assert drift_sentences(head.drift) == (
        "No winding drifts: over 6 days in 5.0 years none moved against the others beyond chance.",
    )


def test_two_days_are_said_to_be_too_few():
    first, _ = a_drifting_valve().heads

    assert "three days" in drift_sentences(first.drift)[0]


def test_readings_without_a_head_temperature_are_said_not_to_compare():
    points = [replace(point, ohm_at_spec=None, u_ohm=None) for point in some_points("H1", SPRINGS)]
    (head,) = valve_history(points, [], [], SPEC).heads

    assert "on three days" in drift_sentences(head.drift)[0]  # of those with a value there are none
    assert next(row.cells for row in history_rows(head)) == ("no head temperature",) * 4


def test_a_winding_without_a_value_beside_others_that_have_one_is_open():
    first, _ = a_drifting_valve().heads

    assert next(row.cells[1] for row in history_rows(first)) == "open"
    assert "5-2 open" in [one.text for one in root_of(a_drifting_valve()).iter(f"{SVG}text")]


@pytest.mark.parametrize("name", EVERY)
@pytest.mark.parametrize("width", WIDTHS)
def test_every_reading_has_its_dot_inside_the_frame(name, width):
    history = EVERY[name]
    picture = history_picture(history, width=width)
    root = ElementTree.fromstring(circuit_document(picture))

    drawn = dict.fromkeys(SHAPES, 0)
    for winding in (winding for head in history.heads for winding in head.windings):
        drawn[winding.shape] += sum(spot.ohm is not None for spot in winding.spots)
    names = {winding.name for head in history.heads for winding in head.windings}
    assert len(list(root.iter(f"{SVG}circle"))) == drawn["ring"] + 1  # and the legend's
    assert names <= {one.text for one in root.iter(f"{SVG}text")}
    for x, y in re.findall(r"[ML]([\d.-]+) ([\d.-]+)", picture.svg):
        assert 0 <= float(x) <= picture.width and 0 <= float(y) <= picture.height
    for text in root.iter(f"{SVG}text"):
        assert 0 <= float(text.attrib["x"]) <= picture.width and 0 < float(text.attrib["y"]) <= picture.height


def test_a_dot_stands_at_its_share_of_the_band():
    history = a_steady_valve()
    root = root_of(history)
    band = root.find(f"{SVG}rect[@class='d-soft']")
    assert band is not None and history.band_ohm is not None
    low, high = history.band_ohm
    rings = list(root.iter(f"{SVG}circle"))[1:]
    first = history.heads[0].windings[0]

    for ring, spot in zip(rings, first.spots, strict=True):
        share = 1.0 - (float(ring.attrib["cy"]) - float(band.attrib["y"])) / float(band.attrib["height"])
        assert share == approx(((spot.ohm or 0.0) - low) / (high - low), abs=0.003)


def test_the_band_is_that_of_the_spec_in_share_or_in_ohms():
    in_ohms = replace(SPEC, tolerance=Tolerance(ohm=5.0))

    assert valve_history([], [], [], SPEC).band_ohm == approx((184.5, 225.5))
    assert valve_history([], [], [], in_ohms).band_ohm == approx((200.0, 210.0))
    assert valve_history([], [], [], None).band_ohm is None


def test_shapes_differ():
    assert len({shape_strokes(shape, 10, 10) for shape in SHAPES}) == len(SHAPES)


def test_work_stands_under_the_day_it_was_done_and_void_work_does_not():
    head = HeadInstance(id="H1", valve_id="V")
    done = WorkPoint(date=SPRINGS[2], visit_id="T", work=Work(valve="V", done="cleaned"))
    void = WorkPoint(date=SPRINGS[3], visit_id="T", work=Work(valve="V", done="reseated", is_void=True))
    history = valve_history(some_points("H1", SPRINGS), [head], [done, void], SPEC)
    texts = [one.text for one in root_of(history).iter(f"{SVG}text")]

    assert "cleaned" in texts and "reseated" not in texts


@pytest.mark.parametrize("name", EVERY)
def test_table_chart_and_records_hold_the_same_figures(name):
    history = EVERY[name]
    data = chart_data(history)

    assert data["days"] and len(data["at"]) == len(data["days"])
    for number, head in enumerate(history.heads, start=1):
        rows = {row.day: row for row in history_rows(head)}
        for at, winding in enumerate(head.windings):
            series = next(one for one in data["series"] if (one["head"], one["label"]) == (number, winding.name))
            for spot in winding.spots:
                place = sorted({on for of in history.heads for on in of.days}).index(spot.day)
                assert series["ohm"][place] == spot.ohm
                assert series["shown"][place] == rows[spot.day].cells[at]


def test_the_description_says_the_latest_value_of_every_winding():
    picture = history_picture(a_steady_valve())

    for wires in WIRES:
        assert f"{'-'.join(wires)}: 20" in picture.description
    assert "8 April 2026" not in picture.description and "6 April 2026" in picture.description


def test_a_head_that_nobody_knows_keeps_its_readings():
    history = valve_history(some_points("gone", SPRINGS[:3]), [], [], None)

    assert [head.head for head in history.heads] == [None]
    assert not history.is_empty and history.heads[0].days[0] == date(2021, 4, 8)


def test_nothing_read_is_empty():
    assert valve_history([], [], [], SPEC).is_empty
