"""Files in and out."""

import stat

import pytest

from fifthwire.model.errors import VisitFileError
from fifthwire.workflow import files
from fifthwire.workflow.files import LARGEST_FILE_BYTES, read_file, refuse_existing, write_file


def why(raised) -> str:
    return raised.value.problems[0].message


def test_a_missing_file_is_said_with_the_nearest_name_there_is(tmp_path):
    (tmp_path / "quayside.visit.toml").write_text("")

    with pytest.raises(VisitFileError) as raised:
        read_file(tmp_path / "quaside.visit.toml")

    assert why(raised) == "there is no such file"
    assert "quayside.visit.toml" in raised.value.problems[0].hint


def test_a_directory_is_no_file(tmp_path):
    with pytest.raises(VisitFileError) as raised:
        read_file(tmp_path)

    assert "is a directory" in why(raised)


def test_a_file_that_may_not_be_read_is_said(tmp_path, monkeypatch):
    def closed(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("builtins.open", closed)  # the superuser may read everything, so rights alone prove nothing
    with pytest.raises(VisitFileError) as raised:
        read_file(tmp_path / "closed")

    assert "may not be read" in why(raised)


@pytest.mark.parametrize("name", ["a\0b", "x" * 5000])
def test_a_name_that_no_file_can_have_is_said(name):
    with pytest.raises(VisitFileError):
        read_file(name)
    with pytest.raises(VisitFileError):
        write_file(name, b"x")


def test_a_file_larger_than_any_visit_is_refused_unread(tmp_path):
    large = tmp_path / "large"
    with large.open("wb") as stream:
        stream.truncate(LARGEST_FILE_BYTES * 50)

    with pytest.raises(VisitFileError) as raised:
        read_file(large)

    assert "larger than 10 MB" in why(raised)


def test_a_file_is_written_whole_and_nothing_is_left_beside_it(tmp_path):
    write_file(tmp_path / "a", b"whole")

    assert (tmp_path / "a").read_bytes() == b"whole"
    assert [path.name for path in tmp_path.iterdir()] == ["a"]


def test_a_file_that_is_there_is_left_alone_unless_told(tmp_path):
    there = tmp_path / "a"
    there.write_bytes(b"old")

    with pytest.raises(VisitFileError) as raised:
        write_file(there, b"new")
    assert (there.read_bytes(), "left alone" in why(raised)) == (b"old", True)

    write_file(there, b"new", overwrite=True)
    assert there.read_bytes() == b"new"


def test_an_empty_file_holds_nothing_to_lose(tmp_path):
    (tmp_path / "a").touch()

    write_file(tmp_path / "a", b"new")

    assert (tmp_path / "a").read_bytes() == b"new"


def test_a_failure_in_the_middle_leaves_the_old_file(tmp_path, monkeypatch):
    there = tmp_path / "a"
    there.write_bytes(b"old")

    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, "fsync", full)
    with pytest.raises(VisitFileError) as raised:
        write_file(there, b"new", overwrite=True)

    assert "no space left on device" in why(raised)
    assert there.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["a"]


def test_a_replaced_file_keeps_its_rights_and_a_link_keeps_its_target(tmp_path):
    there, link = tmp_path / "a", tmp_path / "link"
    there.write_bytes(b"old")
    there.chmod(0o640)
    link.symlink_to(there)

    write_file(link, b"new", overwrite=True)

    assert link.is_symlink()
    assert there.read_bytes() == b"new"
    assert stat.S_IMODE(there.stat().st_mode) == 0o640


def test_a_missing_directory_is_said_before_anything_is_done(tmp_path):
    with pytest.raises(VisitFileError) as raised:
        refuse_existing(tmp_path / "nowhere" / "a.pdf", overwrite=False)

    assert "no directory" in why(raised)
