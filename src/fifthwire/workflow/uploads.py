"""What people send in: taken for what its first bytes say it is, whatever it is called, and refused by name.

Nothing is unpacked or decoded before its size is known.
"""

import io
import zipfile
from typing import Final, Literal

from fifthwire.model.errors import InputError
from fifthwire.model.record import record

Kind = Literal["jpeg", "png", "webp", "zip", "text"]

LARGEST_UPLOAD_BYTES: Final[dict[Kind, int]] = {
    "jpeg": 20_000_000,
    "png": 20_000_000,
    "webp": 20_000_000,
    "zip": 20_000_000,
    "text": 10_000_000,
}
"""Our choice: a sharp photograph, a list of 100,000 valves, a visit of 1,000."""
LONGEST_FILE_NAME: Final = 200
MOST_ENTRIES: Final = 2_000
"""Files in a packed one.  Our choice."""
LARGEST_UNPACKED_BYTES: Final = 200_000_000
"""Our choice: a spreadsheet of 100,000 rows unpacks to about 40 MB."""
MOST_PACKED: Final = 200.0
"""Times smaller than unpacked; text packs to a tenth, a bomb to a thousandth.  [1]  Our choice."""
NOTHING_KEPT: Final = "Nothing of it was kept."


@record(kw_only=False)
class _Sign:
    """What a file begins with, and what it then is."""

    start: bytes
    is_a: str
    kind: Kind | None = None
    hint: str = ""
    at: int = 0


_AS_JPEG: Final = "Save it as JPEG, PNG or WebP."
_AS_LIST: Final = "Save it as CSV (UTF-8) or XLSX."
_SIGNS: Final = (
    _Sign(b"\xff\xd8\xff", "a JPEG picture", "jpeg"),
    _Sign(b"\x89PNG\r\n\x1a\n", "a PNG picture", "png"),
    _Sign(b"WEBP", "a WebP picture", "webp", at=8),
    _Sign(b"PK\x03\x04", "a packed file", "zip"),
    _Sign(b"PK\x05\x06", "an empty packed file"),
    _Sign(b"MZ", "a program"),
    _Sign(b"\x7fELF", "a program"),
    _Sign(b"\xfe\xed\xfa", "a program"),
    _Sign(b"\xce\xfa\xed\xfe", "a program"),
    _Sign(b"\xcf\xfa\xed\xfe", "a program"),
    _Sign(b"\xca\xfe\xba\xbe", "a program"),
    _Sign(b"\x00asm", "a program"),
    _Sign(b"#!", "a script that a computer would run"),
    _Sign(b"%PDF", "a PDF document", hint="Photograph or export the page as a picture."),
    _Sign(b"GIF8", "a GIF picture", hint=_AS_JPEG),
    _Sign(b"BM", "a BMP picture", hint=_AS_JPEG),
    _Sign(b"II*\x00", "a TIFF picture", hint=_AS_JPEG),
    _Sign(b"MM\x00*", "a TIFF picture", hint=_AS_JPEG),
    _Sign(b"ftyp", "a HEIC or AVIF picture, or a film", hint=_AS_JPEG, at=4),
    _Sign(b"\x1f\x8b", "a packed file of another kind"),
    _Sign(b"BZh", "a packed file of another kind"),
    _Sign(b"\xfd7zXZ", "a packed file of another kind"),
    _Sign(b"7z\xbc\xaf", "a packed file of another kind"),
    _Sign(b"Rar!", "a packed file of another kind"),
    _Sign(b"\xd0\xcf\x11\xe0", "a spreadsheet or document of an old kind", hint=_AS_LIST),
    _Sign(b"SQLite format 3", "a database", hint="A register is restored with: fifthwire register restore."),
)
"""The well-known first bytes of file formats.  From memory."""
_MARKUP: Final = ((b"<svg", "an SVG drawing, which may hold a script"), (b"<!doctype html", "a web page"),
                  (b"<html", "a web page"), (b"<script", "a script"), (b"<?xml", "an XML file"))  # fmt: skip


def checked_upload(name: str, content: bytes, *kinds: Kind) -> Kind:
    """What a file is, where that is one of the kinds asked for.

    Parameters
    ----------
    name : str
        As the person's device calls it.
    content : bytes
        The whole of it.
    *kinds : str
        What is taken: `jpeg`, `png`, `webp`, `zip` (XLSX is one), `text`.

    Returns
    -------
    str
        Which of them it is, by its content.

    Raises
    ------
    InputError
        If the name leads elsewhere, or the file is empty, too large, or something else than it should be.
    """
    return checked_content(checked_name(name), content, *kinds)


def checked_content(name: str, content: bytes, *kinds: Kind) -> Kind:
    """As `checked_upload`, for a file that a person named at the command line: its name may be a path.

    Raises
    ------
    InputError
        If the file is empty, too large, or something else than it should be.
    """
    if not content:
        raise _refused(name, "is empty", "Choose the file again; it may not have been copied whole.")
    is_a, kind, hint = _what(content)
    if kind not in kinds:
        raise _refused(name, f"is {is_a}, and cannot be used here", hint or f"Send {_wanted(kinds)}.")
    if len(content) > LARGEST_UPLOAD_BYTES[kind]:
        most = LARGEST_UPLOAD_BYTES[kind] // 1_000_000
        raise _refused(name, f"has {len(content) / 1e6:.0f} MB, more than {most} MB", "Send a smaller one.")
    if kind == "zip":
        _check_packed(name, content)
    return kind


def checked_name(name: str) -> str:
    """A file's name, unless it leads to another directory or hides what it is.

    Raises
    ------
    InputError
        If it does.
    """
    shown = "".join(letter if letter.isprintable() else "?" for letter in name)[:LONGEST_FILE_NAME]
    if not name.strip() or len(name) > LONGEST_FILE_NAME:
        raise _refused(f"A file called {shown!r}", "has no usable name", "Give it a short name.")
    if "/" in name or "\\" in name or name.strip() in (".", ".."):
        raise _refused(f"A file called {shown!r}", "has a name that leads to another directory", "Rename it.")
    if shown != name:
        raise _refused(f"A file called {shown!r}", "has signs in its name that nobody can see", "Rename it.")
    return name


def _what(content: bytes) -> tuple[str, Kind | None, str]:
    start = content[:64]
    for sign in _SIGNS:
        if start[sign.at :].startswith(sign.start) and not (sign.start == b"BM" and content[6:10] != bytes(4)):
            return sign.is_a, sign.kind, sign.hint
    text = content[:4096].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    for tag, is_a in _MARKUP:
        if text.startswith(tag) or (tag == b"<svg" and text.startswith(b"<?xml") and tag in text):
            return is_a, None, ""
    if b"\x00" in content and not content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "no text and no picture that is known here", None, ""
    return "text", "text", ""


def _check_packed(name: str, content: bytes) -> None:
    """Refuse what would unpack to more than it should, or elsewhere."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            entries = packed.infolist()
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError) as err:
        raise _refused(name, "is damaged: it cannot be unpacked", "Copy it again.") from err
    unpacked = sum(entry.file_size for entry in entries)
    if len(entries) > MOST_ENTRIES:
        raise _refused(name, f"holds {len(entries)} files, more than {MOST_ENTRIES}", "Send fewer at a time.")
    if unpacked > LARGEST_UNPACKED_BYTES or unpacked > MOST_PACKED * len(content) + 1_000_000:
        raise _refused(name, f"would unpack to {unpacked / 1e6:.0f} MB", "Send it unpacked, or in parts.")
    if sum(entry.compress_size for entry in entries) > len(content):
        raise _refused(name, "holds the same bytes under several names", "Pack it anew.")
    for entry in entries:
        _check_entry(name, entry)


def _check_entry(name: str, entry: zipfile.ZipInfo) -> None:
    inside = entry.orig_filename.replace("\\", "/")
    if inside.startswith("/") or ".." in inside.split("/") or ":" in inside.split("/")[0]:
        raise _refused(name, f"holds {inside[:80]!r}, which leads to another directory", "Pack it anew.")
    if entry.flag_bits & 1:
        raise _refused(name, "is locked with a password", "Save it without one.")


def _refused(name: str, why: str, hint: str) -> InputError:
    return InputError(f"{name} {why}. {NOTHING_KEPT}", hint=hint)


def _wanted(kinds: tuple[Kind, ...]) -> str:
    words = {"jpeg": "JPEG", "png": "PNG", "webp": "WebP", "zip": "XLSX", "text": "CSV, TOML or JSON"}
    return " or ".join(words[kind] for kind in kinds)
