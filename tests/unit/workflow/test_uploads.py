"""What is sent in is taken for what it is, and refused by name."""

import io
import zipfile

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fifthwire.model.errors import InputError
from fifthwire.workflow.uploads import LARGEST_UPLOAD_BYTES, checked_name, checked_upload


def packed(entries, **more):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as into:
        for name, content in entries.items():
            into.writestr(name, content)
    return out.getvalue()


def a_spreadsheet():
    out = io.BytesIO()
    book = openpyxl.Workbook()
    for at in range(2000):
        book.active.append([f"OU{at}", "main", at])
    book.save(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "is_a"),
    [
        (b"MZ\x90\x00" + bytes(100), "a program"),
        (b"\x7fELF\x02\x01\x01" + bytes(100), "a program"),
        (b"\xcf\xfa\xed\xfe" + bytes(100), "a program"),
        (b"\xca\xfe\xba\xbe" + bytes(100), "a program"),
        (b"#!/bin/sh\necho hello\n", "a script"),
        (b"%PDF-1.7\n", "a PDF document"),
        (b"GIF89a" + bytes(50), "a GIF picture"),
        (b"BM\x36\x00\x00\x00\x00\x00\x00\x00\x36", "a BMP picture"),
        (b"\x00\x00\x00\x18ftypheic", "a HEIC or AVIF picture"),
        (b"PK\x03\x04" + bytes(50), "a packed file"),
        (b"\x1f\x8b\x08" + bytes(50), "a packed file of another kind"),
        (b'<svg onload="alert(1)">', "an SVG drawing, which may hold a script"),
        (b'\xef\xbb\xbf<?xml version="1.0"?>\n<!-- x -->\n<SVG xmlns="x"><script/></SVG>', "an SVG drawing"),
        (b"<!DOCTYPE html><script>alert(1)</script>", "a web page"),
        (b"  \n<script>alert(1)</script>", "a script"),
        (b"SQLite format 3\x00" + bytes(50), "a database"),
        (b"unit,role\nOU1,main\n", "text"),
        (bytes(range(256)) * 4, "no text and no picture"),
    ],
)
def test_what_is_no_picture_is_refused_by_its_name_and_what_it_is(content, is_a):
    with pytest.raises(InputError, match=r"^valve\.jpg is " + is_a) as refused:
        checked_upload("valve.jpg", content, "jpeg", "png", "webp")
    assert "Nothing of it was kept" in refused.value.message
    assert refused.value.hint


@pytest.mark.parametrize(
    "content",
    [b"MZ\x90\x00" + bytes(100), b"\x7fELF" + bytes(100), b"#!/bin/sh\n", b"<svg></svg>", b"a\x00b", b"%PDF-1"],
)
def test_what_is_no_text_is_refused_where_a_list_is_wanted(content):
    with pytest.raises(InputError, match=r"^valves\.csv is "):
        checked_upload("valves.csv", content, "text", "zip")


@pytest.mark.parametrize(
    ("content", "kinds", "kind"),
    [
        (b"unit,role\n", ("text", "zip"), "text"),
        ("unit,role\nBÜ1,main\n".encode("utf-8-sig"), ("text",), "text"),
        ("unit,role\n".encode("utf-16"), ("text",), "text"),
        (b"BMW,role\n1,2\n", ("text",), "text"),
        (b"\xff\xd8\xff\xe0" + bytes(20), ("jpeg", "png"), "jpeg"),
        (b"\x89PNG\r\n\x1a\n" + bytes(20), ("jpeg", "png"), "png"),
        (b"RIFF\x10\x00\x00\x00WEBPVP8 ", ("webp",), "webp"),
        (packed({"a.toml": b"x = 1"}), ("zip",), "zip"),
    ],
)
def test_what_it_is_counts_and_not_what_it_is_called(content, kinds, kind):
    assert checked_upload("anything.exe", content, *kinds) == kind


def test_a_spreadsheet_of_many_rows_is_no_bomb():
    assert checked_upload("valves.xlsx", a_spreadsheet(), "text", "zip") == "zip"


def test_an_empty_file_is_refused():
    with pytest.raises(InputError, match=r"valves\.csv is empty"):
        checked_upload("valves.csv", b"", "text")


@pytest.mark.parametrize("kind", ["text", "jpeg"])
def test_a_file_that_is_too_large_is_refused(kind):
    start = b"a,b\n" if kind == "text" else b"\xff\xd8\xff"
    with pytest.raises(InputError, match=r"big has \d+ MB, more than"):
        checked_upload("big", start + b"a" * LARGEST_UPLOAD_BYTES[kind], kind)


@pytest.mark.parametrize(
    "name", ["../valves.csv", "..\\..\\valves.csv", "/etc/passwd", "a/b.csv", "..", ".", "C:\\valves.csv"]
)
def test_a_name_that_leads_elsewhere_is_refused(name):
    with pytest.raises(InputError, match="leads to another directory"):
        checked_upload(name, b"a,b\n", "text")


@pytest.mark.parametrize("name", ["", "   ", "a" * 201])
def test_a_name_that_is_none_is_refused(name):
    with pytest.raises(InputError, match="no usable name"):
        checked_name(name)


@pytest.mark.parametrize("name", ["valves\x00.csv", "valves\n.csv", "gpj\u202e.exe", "a\x1b[31m.csv"])
def test_a_name_with_hidden_signs_is_refused_and_not_shown_as_it_is(name):
    with pytest.raises(InputError, match="signs in its name that nobody can see") as refused:
        checked_name(name)
    assert refused.value.message.isprintable()


@pytest.mark.parametrize("name", ["IMG_2026 (1).jpg", "Ventile Büro 3.csv", "弁.png", ".hidden", "a..b.csv"])
def test_an_ordinary_name_is_taken(name):
    assert checked_name(name) == name


def test_a_bomb_is_refused_before_it_is_unpacked():
    bomb = packed({"xl/worksheets/sheet1.xml": bytes(300_000_000)})
    assert len(bomb) < 400_000
    with pytest.raises(InputError, match=r"valves\.xlsx would unpack to 300 MB"):
        checked_upload("valves.xlsx", bomb, "zip")


def test_a_small_bomb_is_refused_by_how_much_it_is_packed():
    with pytest.raises(InputError, match="would unpack to 50 MB"):
        checked_upload("valves.xlsx", packed({"x": bytes(50_000_000)}), "zip")


def test_thousands_of_files_are_refused():
    with pytest.raises(InputError, match="holds 2001 files"):
        checked_upload("x.zip", packed({f"{at}": b"" for at in range(2001)}), "zip")


def test_entries_that_share_their_bytes_are_refused():
    one = packed({"aa": bytes(range(256)) * 40})
    with zipfile.ZipFile(io.BytesIO(one)) as read:
        start = read.start_dir
    directory = one[start : one.index(b"PK\x05\x06", start)]
    end = bytearray(one[one.index(b"PK\x05\x06", start) :])
    end[8:12] = (200).to_bytes(2, "little") * 2
    end[12:16] = (len(directory) * 200).to_bytes(4, "little")
    with pytest.raises(InputError, match="same bytes under several names"):
        checked_upload("x.zip", one[:start] + directory * 200 + bytes(end), "zip")


@pytest.mark.parametrize("inside", ["../evil", "/etc/passwd", "a/../../evil", "..\\evil", "C:/evil"])
def test_a_packed_file_that_leads_elsewhere_is_refused(inside):
    with pytest.raises(InputError, match="leads to another directory"):
        checked_upload("x.zip", packed({inside: b"x"}), "zip")


def test_a_damaged_packed_file_is_refused():
    with pytest.raises(InputError, match="cannot be unpacked"):
        checked_upload("x.xlsx", packed({"a": b"b"})[:-10], "zip")


@given(st.binary(max_size=400), st.sampled_from([b"", b"PK\x03\x04", b"RIFF", b"\xff\xd8\xff"]))
def test_any_bytes_are_told_or_refused(content, start):
    try:
        assert checked_upload("x", start + content, "jpeg", "png", "webp", "zip", "text")
    except InputError as refused:
        assert refused.message.startswith("x ")
