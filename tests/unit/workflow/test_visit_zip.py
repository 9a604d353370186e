"""A visit with its pictures in one file: taken in whole, once, and taken out again."""

import io
import zipfile
from hashlib import sha256

import pytest
from PIL import Image

from fifthwire.model.errors import InputError, VisitFileError
from fifthwire.model.kept.people import alone
from fifthwire.workflow.photographs import photograph
from fifthwire.workflow.valves import valve_whole
from fifthwire.workflow.visits_kept import import_visit_file, list_visits, preview_visit_file, visit_file, visit_of

OWNER = alone("rt")
VISIT = """format = "fifthwire/visit/1"
[visit]
id = "v1"
date = 2026-05-12
site = "Quayside House"
system = "QH-1"
[[valves]]
id = "OU1-main"
unit = "OU1"
role = "main"
head = "clip-on"
"""


def a_picture(shade: int = 90) -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (60, 40), (shade, 20, 20)).save(file, "PNG")
    return file.getvalue()


def zipped(**files: bytes) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as into:
        for name, content in files.items():
            into.writestr(name, content)
    return file.getvalue()


def named(picture: bytes) -> bytes:
    return (VISIT + f'[[photographs]]\nabout = "OU1-main"\nsha256 = "{sha256(picture).hexdigest()}"\n').encode()


def test_a_visit_comes_with_its_pictures_and_they_hang_on_the_visit_and_the_valve(register):
    picture = a_picture()
    content = zipped(**{"a.visit.toml": named(picture), "pictures/one.png": picture})

    preview = preview_visit_file(register, OWNER, content, "a.visit.zip")
    done = import_visit_file(register, OWNER, content, "a.visit.zip")

    whole = visit_of(register, OWNER, done.kept.id)
    assert preview.site == "Quayside House"
    (kept,) = whole.photographs
    assert (kept.width_px, kept.height_px) == (60, 40)
    assert photograph(register, OWNER, kept.sha256).content.startswith(b"\x89PNG")
    assert valve_whole(register, OWNER, whole.valve_ids["OU1-main"]).photographs == (kept,)


def test_the_same_packed_file_twice_changes_nothing(register):
    content = zipped(**{"a.visit.toml": named(a_picture()), "one.png": a_picture()})
    first = import_visit_file(register, OWNER, content, "a.visit.zip")
    before = visit_of(register, OWNER, first.kept.id)

    assert import_visit_file(register, OWNER, content, "a.visit.zip").n_added == 0
    assert visit_of(register, OWNER, first.kept.id) == before
    assert list_visits(register, OWNER).n_rows == 1


def test_a_visit_goes_out_with_its_pictures_and_comes_back_unchanged(register):
    content = zipped(**{"a.visit.toml": named(a_picture()), "one.png": a_picture(), "two.png": a_picture(200)})
    kept = import_visit_file(register, OWNER, content, "a.visit.zip").kept
    before = visit_of(register, OWNER, kept.id)

    out = visit_file(register, OWNER, kept.id, "zip")
    again = import_visit_file(register, OWNER, out, "b.visit.zip")

    with zipfile.ZipFile(io.BytesIO(out)) as packed:
        assert sorted(name.rpartition(".")[2] for name in packed.namelist()) == ["png", "png", "toml"]
    assert (again.n_added, again.n_struck) == (0, 0)
    assert visit_of(register, OWNER, kept.id) == before


@pytest.mark.parametrize(
    ("files", "said"),
    [
        ({"one.png": a_picture()}, "holds no visit file"),
        ({"a.visit.toml": VISIT.encode(), "b.visit.json": b"{}"}, "holds 2 visits"),
        ({"a.visit.toml": b""}, "is empty"),
        ({"a.visit.toml": a_picture()}, "a PNG picture"),
        ({"a.visit.toml": VISIT.encode(), "one.png": b"MZ a program"}, "a program"),
        ({"a.visit.toml": VISIT.encode(), "one.jpg": b"\xff\xd8\xff damaged"}, "one.jpg"),
        ({"../a.visit.toml": VISIT.encode()}, "leads to another directory"),
        ({"a.visit.toml": VISIT.encode() * 3000 + b"#" * 12_000_000}, "larger than 10 MB"),
    ],
)
def test_what_is_no_visit_with_pictures_is_refused_and_nothing_is_kept(sqlite_register, files, said):
    with pytest.raises(InputError, match=said):
        import_visit_file(sqlite_register, OWNER, zipped(**files), "a.visit.zip")

    assert list_visits(sqlite_register, OWNER).n_rows == 0


def test_a_damaged_or_problematic_packed_file_leaves_nothing(sqlite_register):
    whole = zipped(**{"a.visit.toml": named(a_picture()), "one.png": a_picture()})
    broken = bytearray(whole)
    broken[60] ^= 0xFF

    with pytest.raises(InputError):
        import_visit_file(sqlite_register, OWNER, bytes(broken), "a.visit.zip")
    with pytest.raises(InputError):
        import_visit_file(sqlite_register, OWNER, whole[:-30], "a.visit.zip")
    with pytest.raises(VisitFileError, match="problem"):
        wrong = zipped(**{"a.visit.toml": VISIT.replace("clip-on", "clipon").encode()})
        import_visit_file(sqlite_register, OWNER, wrong, "a.visit.zip")

    assert list_visits(sqlite_register, OWNER).n_rows == 0
