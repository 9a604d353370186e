"""The circuit: whole, legible, in the order of the pipes, saying every state by shape and by word."""

import re
from collections import Counter
from dataclasses import replace
from itertools import combinations, pairwise
from xml.etree import ElementTree

import pytest
from tests.circuit_systems import a_system, a_unit, a_valve

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.marks import MARKS
from fifthwire.assessment.stave.on_page import circuit_on_page, circuit_widths
from fifthwire.assessment.stave.plan import Circuit
from fifthwire.assessment.stave.sheet import WIDTHS, circuit_document, circuit_element, circuit_picture
from fifthwire.model.kept.places import VALVE_MARKS

SVG = "{http://www.w3.org/2000/svg}"
SIZES_PX = {"d-name": 12.0, "d-label": 11.0, "d-word": 11.0, "d-rail": 11.0, "d-end": 9.5, "d-act": 8.5}
LETTER_FRAC = 0.58
"""Width of a letter over its height, in a wide sans and on the average of a word: common practice."""

SYSTEMS = {
    "8 units": a_system(n_indoor=8, mode="cooling"),
    "24 units, rooms": a_system(n_indoor=24, n_outdoor=2, has_rooms=True, mode="heating"),
    "64 units": a_system(n_indoor=64, n_outdoor=3),
    "heat recovery": a_system(n_indoor=24, n_outdoor=2, n_branch=3, mode="mixed"),
    "valves at the ports": a_system(n_indoor=8, n_branch=2, is_port_valved=True, mode="cooling"),
}
EVERY = [pytest.param(of, width, id=f"{name} at {width}") for name, of in SYSTEMS.items() for width in WIDTHS]


def page_of(valve) -> str:
    return f"/valves/{valve.id}"


def drawn(of: Circuit, width: float = WIDTHS[-1]) -> tuple[Picture, ElementTree.Element]:
    picture = circuit_picture(of, width=width, link=page_of)
    return picture, ElementTree.fromstring(circuit_element(picture))


def lettering_boxes(
    node: ElementTree.Element, x: float = 0.0, y: float = 0.0
) -> list[tuple[str, float, float, float, float]]:
    """Every text with the box it fills, in the drawing's own coordinates."""
    found = []
    for child in node:
        moved = re.match(r"translate\(([-\d.]+) ([-\d.]+)\)", child.attrib.get("transform", ""))
        if child.tag == f"{SVG}defs":
            continue
        if child.tag == f"{SVG}text":
            high = SIZES_PX[child.attrib["class"]]
            wide = LETTER_FRAC * high * len(child.text or "")
            left = float(child.attrib["x"]) - {"middle": wide / 2, "end": wide}.get(child.attrib["text-anchor"], 0.0)
            top = float(child.attrib["y"]) - 0.75 * high
            found.append((child.text or "", x + left, y + top, x + left + wide, y + top + 0.8 * high))
        dx, dy = (float(moved[1]), float(moved[2])) if moved else (0.0, 0.0)
        found += lettering_boxes(child, x + dx, y + dy)
    return found


@pytest.mark.parametrize(("of", "width"), EVERY)
def test_every_valve_stands_in_it_once_as_a_link_in_words(of, width):
    _, root = drawn(of, width)
    links = list(root.iter(f"{SVG}a"))

    assert sorted(one.attrib["href"] for one in links) == sorted(f"/valves/{row.valve.id}" for row in of.valves)
    said = {one.attrib["href"]: one.attrib["aria-label"] for one in links}
    for row in of.valves:
        mark = next(mark for mark in MARKS if mark.key == (row.now.mark if row.now else "not-checked"))
        assert said[f"/valves/{row.valve.id}"].startswith(f"{row.valve.label}: {mark.word}")


@pytest.mark.parametrize(("of", "width"), EVERY)
def test_no_lettering_runs_into_other_lettering_or_over_the_edge(of, width):
    picture, root = drawn(of, width)
    boxes = lettering_boxes(root)

    assert boxes
    for text, left, top, right, bottom in boxes:
        assert left >= 0 and top >= 0 and right <= picture.width and bottom <= picture.height, text
    for (one, *a), (other, *b) in combinations(boxes, 2):
        assert a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3], (one, other)


@pytest.mark.parametrize("width", WIDTHS)
def test_every_state_has_its_shape_and_its_word(width):
    of = a_system(n_indoor=6)
    rows = [a_valve(of.system, f"IU0{k + 1}", "indoor", None, mark) for k, mark in enumerate(VALVE_MARKS)]
    _, root = drawn(replace(of, valves=tuple(rows)), width)

    shapes = {key.attrib["id"].partition("mark-")[2] for key in root.iter(f"{SVG}g") if "mark-" in key.get("id", "")}
    used = {one.attrib["href"].partition("mark-")[2] for one in root.iter(f"{SVG}use") if "mark-" in one.attrib["href"]}
    words = {box[0].removesuffix(", now") for box in lettering_boxes(root)}
    assert shapes == used == set(VALVE_MARKS)
    assert {mark.word for mark in MARKS} <= words


def test_an_urgent_valve_says_now():
    of = a_system(n_indoor=24)
    _, root = drawn(of)
    urgent = [row for row in of.valves if row.now is not None and row.now.urgency == "now"]

    assert urgent
    assert sum("now" in box[0] for box in lettering_boxes(root)) == len(urgent)


@pytest.mark.parametrize(("of", "width"), EVERY)
def test_a_main_that_wraps_ends_and_goes_on_at_the_same_letter(of, width):
    _, root = drawn(of, width)
    lines = [node for node in root if node.tag == f"{SVG}g"]
    ends = []
    for node in lines:
        letters = [one for one in node if one.tag == f"{SVG}text" and one.attrib["class"] == "d-end"]
        middle = width / 2
        ends.append(
            (
                [one.text for one in letters if float(one.attrib["x"]) < middle],
                [one.text for one in letters if float(one.attrib["x"]) > middle],
            )
        )

    assert ends[0][0] == [] and ends[-1][1] == []
    for (_, right), (left, _) in pairwise(ends):
        assert right == left and right


def arrows(svg: str) -> Counter[str]:
    """How many arrows point each way; the first corner is the tip."""
    ways: Counter[str] = Counter()
    for tip, one, other in re.findall(r'<path class="d-full" d="M([^L]+)L([^L]+)L([^Z]+)Z', svg):
        (x, y), (x1, y1), (x2, y2) = ([float(part) for part in at.split()] for at in (tip, one, other))
        is_upright = y1 == y2
        ways[("up" if y < y1 else "down") if is_upright else ("left" if x < min(x1, x2) else "right")] += 1
    return ways


@pytest.mark.parametrize(("mode", "gas", "liquid"), [("cooling", "up", "down"), ("heating", "down", "up")])
def test_arrows_follow_the_mode(mode, gas, liquid):
    ways = arrows(circuit_picture(a_system(n_indoor=8, mode=mode), width=2000).svg)

    # eight units with a pipe each way, the outdoor unit's two the other way round, what the compressor delivers
    assert ways[gas] - (gas == "down") == 9 and ways[liquid] - (liquid == "down") == 9
    assert ways["left"] == ways["right"] > 0


@pytest.mark.parametrize("mode", [None, "off"])
def test_where_nothing_flows_there_are_no_arrows(mode):
    assert 'class="d-full" d="M' not in circuit_picture(a_system(n_indoor=8, mode=mode)).svg


def test_in_mixed_operation_only_what_is_certain_has_an_arrow():
    ways = arrows(circuit_picture(a_system(n_indoor=8, n_branch=1, mode="mixed"), width=1500).svg)

    # down: hot gas into the branch unit, suction into the outdoor unit, what the compressor delivers;
    # up: hot gas from the outdoor unit, suction from the branch unit's valve and from its subcooler
    assert (ways["down"], ways["up"]) == (3, 3)
    assert ways["right"] == ways["left"] > 0
    assert "arrows show mixed" in circuit_picture(a_system(n_indoor=8, n_branch=1, mode="mixed")).description


def test_tab_follows_the_pipes():
    of = a_system(n_indoor=6, n_branch=2)
    _, root = drawn(of)
    units = [one.attrib["href"].removeprefix("/valves/V-").partition("-")[0] for one in root.iter(f"{SVG}a")]

    seen = list(dict.fromkeys(units))
    assert seen == ["OU1", "BU1", "IU01", "IU02", "IU03", "BU2", "IU04", "IU05", "IU06"]


def test_units_that_hang_on_no_branch_unit_stand_among_the_others_by_position():
    of = a_system(n_indoor=5, n_branch=1)
    units = tuple(replace(unit, branch_unit=None) if unit.name == "IU01" else unit for unit in of.units)
    _, root = drawn(replace(of, units=units))

    names = [one.text for one in root.iter(f"{SVG}text") if one.attrib["class"] == "d-name"]
    assert names.index("IU01") < names.index("IU02")


def test_a_valve_of_a_role_that_its_unit_never_has_is_drawn_all_the_same():
    of = a_system(n_indoor=2, n_branch=1)
    strange = [
        a_valve(of.system, "OU1", "branch-liquid", None, "bad"),
        a_valve(of.system, "BU1", "main", None, "bad"),
        a_valve(of.system, "IU01", "injection", None, "bad"),
    ]
    _, root = drawn(replace(of, valves=(*of.valves, *strange)))

    there = {one.attrib["href"] for one in root.iter(f"{SVG}a")}
    assert {f"/valves/{row.valve.id}" for row in strange} <= there


def test_every_role_of_an_outdoor_unit_has_its_place():
    of = a_system(n_indoor=2)
    more = [a_valve(of.system, "OU1", "receiver"), a_valve(of.system, "OU1", "injection", 2)]
    circuit = replace(of, valves=(*of.valves, *more), n_compressors=2)
    _, root = drawn(circuit)

    assert len(list(root.iter(f"{SVG}a"))) == len(circuit.valves)
    boxes = lettering_boxes(root)
    for (one, *a), (other, *b) in combinations(boxes, 2):
        assert a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3], (one, other)


@pytest.mark.parametrize(
    "of",
    [
        replace(a_system(n_indoor=3), units=(), valves=()),
        a_system(n_indoor=0),
        a_system(n_indoor=3, n_outdoor=0),
        a_system(n_indoor=0, n_branch=1),
        replace(a_system(n_indoor=3), valves=()),
    ],
    ids=["empty", "no indoor unit", "no outdoor unit", "a branch unit alone", "no valve"],
)
def test_what_the_register_does_not_hold_yet_stops_no_drawing(of):
    picture, root = drawn(of)

    assert picture.height > 0 and root.find(f"{SVG}desc") is not None
    names = [one.text for one in root.iter(f"{SVG}text") if one.attrib["class"] == "d-name"]
    assert sorted(names) == sorted(unit.name for unit in of.units)


def test_branch_units_that_nothing_hangs_behind_do_not_run_into_each_other():
    of = a_system(n_indoor=6, n_branch=3)
    loose = tuple(replace(unit, branch_unit=None) for unit in of.units)
    picture, root = drawn(replace(of, units=loose))

    boxes = lettering_boxes(root)
    assert all(right <= picture.width for _, _, _, right, _ in boxes)
    for (one, *a), (other, *b) in combinations(boxes, 2):
        assert a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3], (one, other)


def test_what_people_typed_stays_text():
    of = a_system(n_indoor=1)
    units = (*of.units, a_unit('<script>"&', "indoor", 2, room="</svg><b>"))
    picture = circuit_picture(replace(of, units=units), link=page_of)

    assert "<script" not in picture.svg and "</svg>" not in picture.svg
    ElementTree.fromstring(circuit_element(picture))


def test_on_paper_it_has_no_links_and_carries_its_own_ink():
    document = circuit_document(circuit_picture(a_system(n_indoor=8)))
    root = ElementTree.fromstring(document)

    assert list(root.iter(f"{SVG}a")) == []
    classes = {name for one in root.iter() for name in one.attrib.get("class", "").split() if name.startswith("d-")}
    style = root.find(f"{SVG}style")
    assert style is not None
    for name in classes:
        assert f".{name}{{" in (style.text or ""), name


def test_it_is_named_and_described():
    _, root = drawn(SYSTEMS["heat recovery"])

    for attribute, tag in (("aria-labelledby", "title"), ("aria-describedby", "desc")):
        named = root.find(f"{SVG}{tag}")
        assert named is not None and named.attrib["id"] == root.attrib[attribute]
    said = root.find(f"{SVG}desc").text
    assert said.startswith("2 outdoor units, 3 branch units, 24 indoor units; 46 valves: ")
    assert sum(int(n) for n in re.findall(r"(\d+) (?:bad|probable|not|good)", said)) == 46


def test_a_page_holds_three_widths_with_ids_of_their_own_and_shows_one():
    html = circuit_on_page(a_system(n_indoor=8, n_branch=1), page_of)
    ids = re.findall(r' id="([^"]+)"', html)

    assert len(ids) == len(set(ids))
    assert set(re.findall(r'href="#([^"]+)"', html)) <= set(ids)
    for width in WIDTHS:
        assert f".c{width}" in circuit_widths() and f'class="circuit c{width}"' in html


def test_for_paper_every_line_is_a_drawing_of_its_own_with_every_valve_once():
    of = a_system(n_indoor=24, n_outdoor=2, n_branch=3)
    html = circuit_on_page(of, page_of)
    paper = ElementTree.fromstring(re.search(rf'<div class="circuit c{WIDTHS[1]}".*?</svg></div>', html)[0])
    lines = [one for one in paper if one.tag == "svg"]

    assert len(lines) > 3
    hrefs = [one.attrib["href"] for one in paper.iter("a")]
    assert sorted(hrefs) == sorted(f"/valves/{row.valve.id}" for row in of.valves)
    for one in lines:  # nothing stands under the end of its own drawing
        high = float(one.attrib["viewBox"].split()[3])
        rise = float(re.search(r"translate\(0 (-?[\d.]+)\)", one[0].attrib["transform"])[1])
        assert all(0 < float(text.attrib["y"]) + rise <= high for text in one[0] if text.tag == "text")
