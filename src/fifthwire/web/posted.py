"""What a form posted: texts without spaces around them, and files within their limits."""

import re
from datetime import date
from typing import Annotated, Final

from fastapi import Depends, Request
from starlette.datastructures import UploadFile

from fifthwire.model.errors import InputError
from fifthwire.model.record import record
from fifthwire.workflow.uploads import checked_name

MOST_FIELDS: Final = 2_000
"""Fields of a form.  Our choice: a mapping of a large list has some hundred."""
MOST_FILES: Final = 20
LARGEST_WHOLE: Final = 1_000_000_000
"""Of a number in a form.  Our choice; both engines hold it."""
LONGEST_TEXT: Final = 200_000
"""Bytes of one field that is no file.  Our choice."""
LARGEST_UPLOAD: Final = 50_000_000
"""Bytes of one file; the reader of each kind has a smaller limit of its own.  Our choice."""


@record(kw_only=False)
class PostedFile:
    """A file that came with a form."""

    name: str
    """Without any folder."""
    content: bytes


class Posted:
    """The fields of a form."""

    def __init__(self, texts: dict[str, list[str]], files: dict[str, list[PostedFile]]) -> None:
        self.texts = texts
        self._files = files

    def text(self, name: str) -> str:
        """A field without spaces around it; empty where it is not there."""
        return self.texts.get(name, [""])[0].strip()

    def given(self, name: str) -> str | None:
        """A field, None where it is empty."""
        return self.text(name) or None

    def many(self, name: str) -> tuple[str, ...]:
        """Every value of a field that stands more than once, without the empty ones."""
        return tuple(one.strip() for one in self.texts.get(name, []) if one.strip())

    def is_set(self, name: str) -> bool:
        """Whether a box was ticked."""
        return bool(self.text(name))

    def needed(self, name: str, label: str) -> str:
        """A field that cannot be left out.

        Raises
        ------
        InputError
            If it is empty.
        """
        value = self.text(name)
        if not value:
            raise InputError(f"{label} is empty. Nothing was kept.", "Fill it in, then send the form again.")
        return value

    def whole(self, name: str, label: str) -> int | None:
        """A whole number, None where the field is empty.

        Raises
        ------
        InputError
            If it is no whole number.
        """
        value = self.text(name)
        if not value:
            return None
        try:
            number = int(value[:20])
        except ValueError as err:
            shown = f"{value[:40]!r}"
            raise InputError(f"{label}: {shown} is no whole number. Nothing was kept.", "Write digits only.") from err
        if abs(number) > LARGEST_WHOLE:
            raise InputError(f"{label}: {value[:40]!r} is too large. Nothing was kept.", "Write a smaller number.")
        return number

    def day(self, name: str, label: str) -> date:
        """A day as browsers send it.

        Raises
        ------
        InputError
            If it is empty or no day.
        """
        written = self.needed(name, label)
        try:
            return date.fromisoformat(written)
        except ValueError as err:
            hint = "Write year, month and day: 2026-05-12."
            raise InputError(f"{label}: {written[:40]!r} is no day. Nothing was kept.", hint) from err

    def back(self) -> str:
        """The page of ours that the form stood on; the first page where it names another place."""
        path = self.text("back")
        return path if re.fullmatch(r"(/[A-Za-z0-9_-]+)+", path) else "/"

    def version(self) -> int:
        """Which version of a record the form was made of.

        Raises
        ------
        InputError
            If the form does not say.
        """
        version = self.whole("version", "The version")
        if version is None:
            raise InputError("The form does not say what it changes. Nothing was kept.", "Open the page again.")
        return version

    def file(self, name: str) -> PostedFile | None:
        """A file, None where none was chosen."""
        return next(iter(self._files.get(name, [])), None)

    def files(self, name: str) -> tuple[PostedFile, ...]:
        """All files of a field."""
        return tuple(self._files.get(name, []))


async def posted(request: Request) -> Posted:
    """The form of a request.

    Raises
    ------
    InputError
        If a file is too large, its name leads elsewhere, or a text holds what cannot be kept.
    """
    texts: dict[str, list[str]] = {}
    files: dict[str, list[PostedFile]] = {}
    async with request.form(max_files=MOST_FILES, max_fields=MOST_FIELDS, max_part_size=LONGEST_TEXT) as form:
        for name, value in form.multi_items():
            if isinstance(value, UploadFile):
                if value.filename:
                    files.setdefault(name, []).append(await _file(value))
            else:
                texts.setdefault(name, []).append(value.replace("\0", ""))
    return Posted(texts, files)


def _kept_text(value: str) -> str:
    """A text, unless it holds what no database keeps."""
    if "\0" in value:
        raise InputError("The form holds characters that cannot be kept. Nothing was kept.", "Type it anew.")
    return value


async def _file(upload: UploadFile) -> PostedFile:
    name = checked_name(upload.filename or "")
    content = await upload.read(LARGEST_UPLOAD + 1)
    if len(content) > LARGEST_UPLOAD:
        raise InputError(
            f"{name} is larger than {LARGEST_UPLOAD // 1_000_000} MB. Nothing of it was kept.",
            "Send a smaller file, or several.",
        )
    return PostedFile(name, content)


PostedForm = Annotated[Posted, Depends(posted)]
"""Annotation of a route's parameter."""
