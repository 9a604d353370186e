"""Take everything out in forms that other programs read: tables as CSV, visits as files, photographs."""

import csv
import io
import zipfile
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from re import sub
from tempfile import TemporaryFile
from typing import IO, Final

from fifthwire.model.errors import NotFound
from fifthwire.model.kept.people import Person
from fifthwire.register import audit, places, taking_out
from fifthwire.register.store import Register
from fifthwire.workflow import place_fields as field
from fifthwire.workflow.files import file_error, refuse_existing
from fifthwire.workflow.list_tables import neutral
from fifthwire.workflow.permission import require
from fifthwire.workflow.photographs import photograph
from fifthwire.workflow.visits_kept import visit_file

WHATS: Final = ("csv", "visits", "zip")
"""The tables; the visit files; both with the photographs."""
CHUNK_BYTES: Final = 1 << 20
ENDINGS: Final = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp"}
ABOUT_NAME: Final = "about.txt"
ABOUT: Final = """\
Taken out of a Fifthwire register.

tables/        one CSV a table, UTF-8, first line the names of the columns, units in the names, times in UTC.
               A cell that a spreadsheet would run begins with an apostrophe.
               tables/valves.csv can be imported again as a list of valves.
visits/        one file a visit, each whole: specs, meters, readings. Any register imports them.
photographs/   by the SHA-256 of what is in them; tables/photographs.csv says what each is about.
"""


def export_register(register: Register, who: Person, what: str, site_id: str | None = None) -> Iterator[bytes]:
    """A ZIP of what the person may see, in pieces that follow one another.

    Parameters
    ----------
    register : Register
        What is taken out.
    who : Person
        Who asks.
    what : str
        csv: the tables; visits: the visit files; zip: both with the photographs.
    site_id : str, optional
        Only of this site.

    Raises
    ------
    InputError
        If it is none of these.
    NotFound
        If the site is not one of the person's.
    """
    field.one_of(what, WHATS, "something to take out")
    require(who, "read", site_id=site_id)
    with register.reading() as keep:
        about = places.site(keep, site_id).name if site_id else "all of the person's sites"
    with register.adding() as keep:
        audit.write_down(keep, who, "exported", what, about)
    return _pieces(register, who, what, site_id)


def export_to_file(
    register: Register, who: Person, what: str, path: str, *, site_id: str | None = None, overwrite: bool = False
) -> None:
    """Write that ZIP to a file, whole or not at all.

    Raises
    ------
    VisitFileError
        If the file is there already, or cannot be written.
    InputError
        If it is nothing that can be taken out.
    NotFound
        If the site is not one of the person's.
    """
    refuse_existing(path, overwrite=overwrite)
    target = Path(path)
    half = target.with_name(f".{target.name}.half")
    pieces = export_register(register, who, what, site_id)
    try:
        with half.open("wb") as file:
            for piece in pieces:
                file.write(piece)
        half.replace(target)
    except (OSError, ValueError) as err:
        why = (getattr(err, "strerror", None) or str(err)).lower()
        raise file_error(path, f"cannot be written: {why}", "Name another place, or make room.") from err
    finally:
        half.unlink(missing_ok=True)


def _pieces(register: Register, who: Person, what: str, site_id: str | None) -> Iterator[bytes]:
    with TemporaryFile() as file:
        write_export(register, who, what, file, site_id=site_id)
        file.seek(0)
        while piece := file.read(CHUNK_BYTES):
            yield piece


def write_export(register: Register, who: Person, what: str, file: IO[bytes], *, site_id: str | None = None) -> None:
    """Write that ZIP into an open file, piece by piece.

    Raises
    ------
    RegisterError
        If the register cannot be read.
    """
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as packed:
        packed.writestr(ABOUT_NAME, ABOUT)
        if what in ("csv", "zip"):
            _pack_tables(register, who, packed, site_id)
        if what in ("visits", "zip"):
            _pack_visits(register, who, packed, site_id)
        if what == "zip":
            _pack_photographs(register, replace(who, site_ids=(site_id,)) if site_id else who, packed)


def _pack_tables(register: Register, who: Person, packed: zipfile.ZipFile, site_id: str | None) -> None:
    with register.reading() as keep:
        for table in taking_out.tables(keep, site_id, who.site_ids):
            with packed.open(f"tables/{table.name}.csv", "w", force_zip64=True) as raw:
                text = io.TextIOWrapper(raw, "utf-8-sig", newline="")
                writer = csv.writer(text, quoting=csv.QUOTE_ALL)
                writer.writerow(table.headings)
                writer.writerows([neutral(cell) for cell in row] for row in table.rows)
                text.flush()
                text.detach()


def _pack_visits(register: Register, who: Person, packed: zipfile.ZipFile, site_id: str | None) -> None:
    with register.reading() as keep:
        listed = taking_out.visits_at(keep, site_id, who.site_ids)
    for visit_id, site, system, day in listed:
        name = f"visits/{_safe(site)}/{_safe(system)}/{day.isoformat()}-{visit_id}.visit.json"
        packed.writestr(name, visit_file(register, who, visit_id, "json"))


def _pack_photographs(register: Register, who: Person, packed: zipfile.ZipFile) -> None:
    with register.reading() as keep:
        hashes = taking_out.photograph_hashes(keep)
    for sha256, media_type in hashes:
        with suppress(NotFound):  # of somebody else's sites
            content = photograph(register, who, sha256).content
            packed.writestr(zipfile.ZipInfo(f"photographs/{sha256}{ENDINGS.get(media_type, '')}"), content)


def _safe(name: str) -> str:
    """A name that is one step of a path on any machine.

    >>> _safe("../Quayside: House?")
    'Quayside House'
    """
    return sub(r"[^\w .()-]+", "", name).strip(". ") or "unnamed"
