"""The drawings: whole, inside their frame, saying in words what they show."""

import re
from xml.etree import ElementTree

import pytest

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.drawing_marks import SIZE, mark_strokes
from fifthwire.assessment.drawing_plug import PairRead, plug_picture
from fifthwire.assessment.drawing_windings import Band, WindingBar, winding_picture
from fifthwire.assessment.marks import MARKS

SVG = "{http://www.w3.org/2000/svg}"


def drawn(picture: Picture) -> ElementTree.Element:
    return ElementTree.fromstring(f'<svg xmlns="http://www.w3.org/2000/svg">{picture.svg}</svg>')


def coordinates(root: ElementTree.Element) -> list[tuple[float, float]]:
    """Every point that a stroke, a box, a dot or a text stands on."""
    points = []
    for one in root.iter():
        if one.tag == f"{SVG}path":
            points += [(float(x), float(y)) for x, y in re.findall(r"[ML]([\d.-]+) ([\d.-]+)", one.attrib["d"])]
        elif one.tag == f"{SVG}rect":
            x, y, width, height = (float(one.attrib[key]) for key in ("x", "y", "width", "height"))
            points += [(x, y), (x + width, y + height)]
        elif one.tag in (f"{SVG}text",):
            points.append((float(one.attrib["x"]), float(one.attrib["y"])))
    return points


def is_inside(picture: Picture) -> bool:
    return all(0 <= x <= picture.width and 0 <= y <= picture.height for x, y in coordinates(drawn(picture)))


def a_bar(name: str, ohm: float | None, zone: str = "pass", figure: str = "") -> WindingBar:
    return WindingBar(name=name, ohm=ohm, half_width_ohm=0.7, figure=figure or f"{ohm}", zone=zone)


BAND = Band(low_ohm=58.2, high_ohm=71.1, words="58.2 to 71.1 Ω at 31 °C")


def test_a_winding_that_passes_lies_inside_the_band():
    picture = winding_picture([a_bar("5-1", 64.7)], BAND, "Windings", "V: its windings")

    band, ring = drawn(picture).find(f"{SVG}rect[@class='d-soft']"), drawn(picture).find(f"{SVG}circle")
    assert band is not None and ring is not None
    left, width = float(band.attrib["x"]), float(band.attrib["width"])
    assert left < float(ring.attrib["cx"]) < left + width


def test_a_winding_at_a_third_of_the_band_stands_at_a_third_of_its_drawing():
    picture = winding_picture([a_bar("5-1", 62.5)], BAND, "Windings", "V: its windings")

    band, ring = drawn(picture).find(f"{SVG}rect[@class='d-soft']"), drawn(picture).find(f"{SVG}circle")
    assert band is not None and ring is not None
    share = (float(ring.attrib["cx"]) - float(band.attrib["x"])) / float(band.attrib["width"])
    assert share == pytest.approx((62.5 - 58.2) / (71.1 - 58.2), abs=0.005)


def test_pass_fail_and_not_proven_differ_in_shape():
    shapes = set()
    for zone in ("pass", "fail", "not-proven", ""):
        picture = winding_picture([a_bar("5-1", 64.7, zone)], BAND, "Windings", "V")
        kinds = [f"{one.tag} {one.attrib.get('class')}" for one in drawn(picture).iter()]
        shapes.add(tuple(kinds))

    assert len(shapes) == 4


def test_an_open_winding_is_a_broken_line_and_a_word():
    picture = winding_picture([a_bar("5-3", None, "", "open")], BAND, "Windings", "V")

    assert drawn(picture).find(f"{SVG}path[@class='d-broken']") is not None
    assert "5-3: open" in picture.description


def test_what_was_not_read_is_not_drawn_as_open():
    picture = winding_picture([a_bar("5-3", None, "", "not read")], BAND, "Windings", "V")

    assert drawn(picture).find(f"{SVG}path[@class='d-broken']") is None
    assert "not read" in picture.description


@pytest.mark.parametrize("ohm", [0.4, 3.0, 47.0, 153.4, 884.0, 20e3, 4.7e6])
def test_any_value_stays_inside_the_frame(ohm):
    bars = [a_bar("5-1", 64.7), a_bar("5-2", ohm, "fail")]

    assert is_inside(winding_picture(bars, BAND, "Windings", "V"))


def test_windings_without_a_spec_have_no_band():
    picture = winding_picture([a_bar("5-1", 64.7, "")], None, "Windings", "V")

    assert drawn(picture).find(f"{SVG}rect[@class='d-soft']") is None
    assert picture.description.startswith("No spec to compare with.")


def every_pair(pins: list[str]) -> list[PairRead]:
    return [PairRead(a, b, "129.8") for at, a in enumerate(pins) for b in pins[at + 1 :]]


@pytest.mark.parametrize("n_pins", [2, 4, 5, 6])
def test_every_pair_of_a_plug_stays_inside_the_frame(n_pins):
    pins = [str(pin) for pin in range(1, n_pins + 1)]

    assert is_inside(plug_picture(pins, every_pair(pins), (pins[0], pins[-1]), "Plug", "V: its plug"))


def test_lines_of_one_level_do_not_overlap():
    pins = [str(pin) for pin in range(1, 7)]
    root = drawn(plug_picture(pins, every_pair(pins), None, "Plug", "V"))
    spans: dict[str, list[tuple[float, float]]] = {}
    for one in root.findall(f"{SVG}path[@class='d-ink']"):
        (left, y), *_, (right, end) = re.findall(r"[ML]([\d.-]+) ([\d.-]+)", one.attrib["d"])
        if y == end:
            spans.setdefault(y, []).append((float(left), float(right)))

    for on_level in spans.values():
        for (_, right), (left, _) in zip(sorted(on_level), sorted(on_level)[1:], strict=False):
            assert left > right


def test_the_next_two_pins_are_filled_and_joined():
    root = drawn(plug_picture(["1", "2", "3", "4", "5"], [], ("2", "5"), "Plug", "V"))

    assert len(root.findall(f"{SVG}rect[@class='d-accent']")) == 2
    assert len(root.findall(f"{SVG}path[@class='d-here']")) == 1


def test_an_open_pair_is_a_broken_line_and_one_with_ohms_is_not():
    pairs = [PairRead("5", "1", "64.9"), PairRead("5", "2", "open")]
    root = drawn(plug_picture(["1", "2", "5"], pairs, None, "Plug", "V"))

    assert len(root.findall(f"{SVG}path[@class='d-broken']")) == 1
    assert "open" in [one.text for one in root.findall(f"{SVG}text")]


def test_a_plug_says_in_words_what_was_read_and_what_is_next():
    picture = plug_picture(
        ["1", "2", "5"], [PairRead("5", "1", "64.9"), PairRead("5", "2", "open")], ("1", "2"), "", ""
    )

    assert picture.description == "Read: 5 to 1: 64.9 Ω; 5 to 2: open. Touch 1 and 2 next."


def test_names_of_wires_cannot_close_the_drawing():
    picture = plug_picture(["</svg><script>", "b&b"], [PairRead("</svg><script>", "b&b", "64.9")], None, "", "")

    assert "<script" not in picture.svg
    assert drawn(picture) is not None


def test_marks_stay_inside_their_square():
    for mark in MARKS:
        root = ElementTree.fromstring(f'<svg xmlns="http://www.w3.org/2000/svg">{mark_strokes(mark.key)}</svg>')
        assert all(0 <= x <= SIZE and 0 <= y <= SIZE for x, y in coordinates(root))
