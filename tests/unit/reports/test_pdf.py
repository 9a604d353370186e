"""The print: tagged, whole, the same bytes for the same visit, nothing cut off."""

import re
import shutil
import subprocess
import sys
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from tests import report_visits as visits
from tools.chromium import has_poppler

from fifthwire.reports import pdf_report

ROOT = Path(__file__).resolve().parents[3]

needs_poppler = pytest.mark.skipif(not has_poppler(), reason="poppler-utils is not here: apt-get install poppler-utils")


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    return tmp_path_factory.mktemp("prints")


def printed(folder: Path, name: str, pdf: bytes) -> Path:
    path = folder / f"{name}.pdf"
    path.write_bytes(pdf)
    return path


def text_of(path: Path) -> str:
    """Its text on one line, soft places to break taken out."""
    done = subprocess.run(["pdftotext", path, "-"], check=True, capture_output=True, text=True)
    return re.sub(r"\s+", " ", done.stdout.replace("\u200b", "").replace("\u2011", "-"))


def info_of(path: Path) -> str:
    return subprocess.run(["pdfinfo", path], check=True, capture_output=True, text=True).stdout


def grey_pages(path: Path, dpi: int = 50) -> list[tuple[int, int, bytes]]:
    """Each page as width, height and its grey values."""
    for old in path.parent.glob(f"{path.stem}-*.pgm"):
        old.unlink()
    subprocess.run(["pdftoppm", "-gray", "-r", str(dpi), path, path.with_suffix("")], check=True, capture_output=True)
    pages = []
    for image in sorted(path.parent.glob(f"{path.stem}-*.pgm")):
        header = re.match(rb"P5\s(\d+)\s(\d+)\s255\s", image.read_bytes())
        assert header is not None
        pages.append((int(header[1]), int(header[2]), image.read_bytes()[header.end() :]))
    return pages


def test_the_same_visit_gives_the_same_bytes():
    assert pdf_report(*visits.every_mark()) == pdf_report(*visits.every_mark())


@needs_poppler
def test_it_is_tagged_titled_and_dated_by_the_visit(folder):
    path = printed(folder, "tagged", pdf_report(*visits.every_mark()))
    info = info_of(path)

    assert re.search(r"Tagged:\s+yes", info)
    assert re.search(r"Title:\s+Quayside House, QH-1: expansion valves, 12 May 2026", info)
    assert re.search(r"CreationDate:\s+Tue May 12 00:00:00 2026", info)
    assert b"pdfuaid:part>1<" in path.read_bytes()
    assert b"/Lang (en)" in path.read_bytes() or b"/Lang(en)" in path.read_bytes()


@needs_poppler
def test_every_valve_and_every_word_of_a_sheet_is_there(folder):
    visit, assessment = visits.every_mark()
    text = text_of(printed(folder, "whole", pdf_report(visit, assessment)))

    for valve in assessment.valves:
        assert valve.id in text
    for said in (
        "What is wrong",
        "If it is left",
        "What we need you to decide",
        "Open winding, wire 3: sure",
        "Stop the system.",
        "Lock out every supply and prove dead",
        "64.7 ± 0.4 Ω",
        "guard band 0.9 Ω",
        "touch 2 and 5",
        "manual of the outdoor unit, p. 212",
        "It was not seen to move.",
        "Received for the customer",
        "page 1 of",
    ):
        assert said in text, said


@needs_poppler
def test_a_system_of_48_valves_is_a_few_pages(folder):
    pages = re.search(r"Pages:\s+(\d+)", info_of(printed(folder, "large", pdf_report(*visits.a_large_system()))))

    assert pages is not None
    assert int(pages[1]) <= 7


@needs_poppler
@pytest.mark.parametrize("name", ["every_mark", "a_large_system", "hostile_names"])
@pytest.mark.parametrize("units", ["si", "us"])
def test_nothing_is_cut_off_at_the_edge_of_the_paper(folder, name, units):
    path = printed(folder, f"{name}-{units}", pdf_report(*getattr(visits, name)(), units=units))

    for width, height, grey in grey_pages(path):
        margin = int(10 / 25.4 * 50)  # 10 mm at 50 dots an inch; the text keeps 15
        rows = [grey[at * width : (at + 1) * width] for at in range(height)]
        edge = b"".join(row[:margin] + row[-margin:] for row in rows)
        assert min(edge) == 255
        assert min(b"".join(rows[:margin])) == 255
        assert min(b"".join(rows[-margin // 2 :])) == 255
        assert min(grey) < 128  # and the page is not empty


@needs_poppler
def test_a_filled_square_is_dark_in_grey_too(folder):
    path = printed(folder, "grey", pdf_report(*visits.every_mark()))
    width, _, grey = grey_pages(path, dpi=150)[0]
    rows = [grey[at : at + width] for at in range(0, len(grey), width)]
    left = int(16 / 25.4 * 150)
    marks = [row[left : left + 22] for row in rows]

    solid = max(sum(1 for value in row if value < 110) for row in marks)
    assert solid >= 15  # a whole side of the filled square, dark from end to end


@needs_poppler
def test_hostile_names_are_printed_as_text_and_nothing_is_run(folder):
    text = text_of(printed(folder, "hostile", pdf_report(*visits.hostile_names())))

    assert "<script>alert('x')</script>" in text
    assert visits.HOSTILE["long"] in text.replace(" ", "")
    assert "#set text(99pt)" in text and "$a_b$" in text
    assert "Roof" in text


@needs_poppler
def test_a_character_that_no_font_has_stands_as_its_code_point(folder):
    visit, assessment = visits.every_mark()
    unassigned = "\u0378"  # no character has this code point, so no font draws it
    header = replace(visit.header, site=f"Site {unassigned} A")

    text = text_of(printed(folder, "missing", pdf_report(replace(visit, header=header), assessment)))

    assert "Site [U+0378] A" in text


@needs_poppler
def test_us_prints_on_letter_paper_and_si_on_a4(folder):
    si, us = (info_of(printed(folder, units, pdf_report(*visits.every_mark(), units=units))) for units in ("si", "us"))

    assert "(A4)" in si
    assert "(letter)" in us


def test_a_visit_without_valves_has_a_print():
    assert pdf_report(visits.a_visit(()), visits.an_assessment()).startswith(b"%PDF-")


@needs_poppler
def test_the_fonts_are_those_that_the_printer_brings(folder):
    path = printed(folder, "fonts", pdf_report(*visits.every_mark()))
    done = subprocess.run(["pdffonts", path], check=True, capture_output=True, text=True)

    names = set(re.findall(r"^[A-Z]{6}\+([A-Za-z]+)", done.stdout, re.MULTILINE))
    assert names == {"LibertinusSerif", "DejaVuSansMono"}
    assert not re.search(r"\sno\s+\w+\s+\w+\s+\d+\s+\d$", done.stdout, re.MULTILINE)  # every one embedded


def test_the_wheel_brings_the_template(tmp_path):
    source = tmp_path / "source"
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        source.mkdir(exist_ok=True)
        shutil.copy(ROOT / name, source / name)
    shutil.copytree(ROOT / "src", source / "src", ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
    build = "import os, sys, uv_build; os.chdir(sys.argv[1]); print(uv_build.build_wheel(sys.argv[2]))"
    path = f"{Path(sys.executable).parent}:/usr/bin:/bin"

    done = subprocess.run(
        [sys.executable, "-c", build, source, tmp_path], check=False, capture_output=True, text=True, env={"PATH": path}
    )

    assert done.returncode == 0, done.stderr
    (wheel,) = tmp_path.glob("*.whl")
    held = zipfile.ZipFile(wheel).namelist()
    assert "fifthwire/reports/report.typ" in held
    assert "fifthwire/diagnosis/priors.toml" in held
