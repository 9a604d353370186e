"""What other programs send: texts, numbers and files within the limits that the register holds."""

from typing import Annotated, Any, Final

from fastapi import Body, Depends, Query, Request
from pydantic import AfterValidator, Field

from fifthwire.model.errors import InputError
from fifthwire.web.posted import LARGEST_UPLOAD

LONGEST: Final = 10_000
"""Characters of a text.  As the pages allow."""
LARGEST_WHOLE: Final = 1_000_000_000


def _kept_text(text: str) -> str:
    """Refuse what no database keeps: half characters and NUL."""
    if "\0" in text or any("\ud800" <= sign <= "\udfff" for sign in text):
        raise ValueError("holds characters that cannot be kept")
    return text


def _kept_table(table: dict[str, Any]) -> dict[str, Any]:
    _look_through(table)
    return table


def _look_through(value: Any) -> None:
    if isinstance(value, str):
        _kept_text(value)
    elif isinstance(value, dict):
        for key, one in value.items():
            _kept_text(key)
            _look_through(one)
    elif isinstance(value, list):
        for one in value:
            _look_through(one)


Text = Annotated[str, Field(max_length=LONGEST), AfterValidator(_kept_text)]
Whole = Annotated[int, Field(ge=-LARGEST_WHOLE, le=LARGEST_WHOLE)]
Table = Annotated[dict[str, Any], AfterValidator(_kept_table)]
"""The keys of a table of a visit file, with units as people write them."""

InBody = Body()
"""A key of the JSON object that is sent."""
Version = Annotated[int, Field(ge=1, le=LARGEST_WHOLE, description="of the record as it was read"), Body()]
PageNumber = Annotated[int, Query(ge=1, le=1_000_000, description="from 1; a page has 50 rows")]
Words = Annotated[Text | None, Query()]


async def _raw(request: Request) -> bytes:
    content = b""
    async for piece in request.stream():
        content += piece
        if len(content) > LARGEST_UPLOAD:
            raise InputError("What was sent is too large. Nothing of it was kept.", "Send a smaller file.")
    return content


RawFile = Annotated[bytes, Depends(_raw)]
"""The body of a request as it is."""


def takes_file(*media_types: str) -> dict[str, Any]:
    """What the OpenAPI says of a request whose body is a file."""
    schema = {"schema": {"type": "string", "format": "binary"}}
    return {"requestBody": {"required": True, "content": dict.fromkeys(media_types, schema)}}


def gives_file(*media_types: str) -> dict[int | str, dict[str, Any]]:
    """What the OpenAPI says of an answer that is a file."""
    bytes_, tables = {"type": "string", "format": "binary"}, {"type": "object"}
    content = {of: {"schema": tables if of == "application/json" else bytes_} for of in media_types}
    return {200: {"description": "The file.", "content": content}}
