"""What pages load: the style sheet and scripts of ours and of others, kept by the browser until they change."""

from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import Final

from fastapi import APIRouter, HTTPException
from fastapi.responses import Response

import fifthwire.web
from fifthwire.web.style import style_sheet

STYLE: Final = "office.css"
_TYPES: Final[dict[str, str]] = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
}
_KEEP: Final = {"Cache-Control": "public, max-age=31536000, immutable"}

router = APIRouter(include_in_schema=False)


@cache
def _contents() -> dict[str, bytes]:
    """Every file that may be asked for, by its path."""
    static = files(fifthwire.web) / "static"
    found = {STYLE: style_sheet().encode("utf-8")}
    for folder, prefix in ((static, ""), (static / "vendor", "vendor/")):
        for one in folder.iterdir():
            kept = (".js", ".svg", ".txt", ".css") if prefix else (".js", ".svg")  # our own sheets are parts of one
            if one.is_file() and one.name.endswith(kept):
                found[prefix + one.name] = one.read_bytes()
    return found


@cache
def static_url(path: str) -> str:
    """The address of a file, which changes when the file does."""
    return f"/static/{path}?v={sha256(_contents()[path]).hexdigest()[:12]}"


@router.get("/static/{path:path}")
def static_file(path: str) -> Response:
    """One of the files that pages load."""
    content = _contents().get(path)
    if content is None:
        raise HTTPException(status_code=404)
    return Response(content, media_type=_TYPES[path[path.rindex(".") :]], headers=_KEEP)
