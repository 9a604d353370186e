"""A photograph as it may be kept: decoded once to prove that it is one, without what it tells of place and device.

The camera writes where it stood into the file. The picture is written anew from its pixels, so that nothing else of
what was sent comes along: no place, no device, no hidden second picture, nothing after its end.
"""

import io
from hashlib import sha256
from threading import BoundedSemaphore
from typing import Any, Final

from PIL import Image, ImageOps
from PIL.JpegImagePlugin import get_sampling

from fifthwire.model.errors import InputError
from fifthwire.model.record import record
from fifthwire.workflow.uploads import NOTHING_KEPT, Kind, checked_content

MOST_PIXELS: Final = 50_000_000
"""Our choice: the largest cameras of phones, and 200 MB while it is decoded."""
LONGEST_SIDE: Final = 16_000
"""Our choice; a WebP holds 16,383."""
THUMBNAIL_PX: Final = 320
QUALITY: Final = 92
"""Of a WebP, and of a JPEG in other colours than a screen shows.  Our choice: small print stays legible."""
MEDIA_TYPES: Final[dict[str, str]] = {"jpeg": "image/jpeg", "png": "image/png", "webp": "image/webp"}
AT_ONCE: Final = BoundedSemaphore(2)
"""A large picture takes 200 MB while it is decoded: no more than two at once."""
ORIENTATION: Final = 0x0112
"""EXIF tag: how the camera was held.  EXIF 2.32, from memory."""


@record
class Picture:
    """A photograph ready to be kept."""

    sha256: str
    """Of `content`."""
    media_type: str
    width_px: int
    height_px: int
    content: bytes
    thumbnail: bytes
    """JPEG, 320 px at most on its longer side."""


def picture_of(name: str, content: bytes) -> Picture:
    """A photograph that was sent in, upright and without anything but its pixels and their colours.

    Parameters
    ----------
    name : str
        As the person's device calls it.
    content : bytes
        JPEG, PNG or WebP; 20 MB and 50 million pixels at most.

    Raises
    ------
    InputError
        If it is something else, too large, or damaged.
    """
    kind = checked_content(name, content, "jpeg", "png", "webp")
    with AT_ONCE:
        try:
            return _written_anew(name, content, kind)
        except InputError:
            raise
        except Exception as err:  # a damaged picture fails in a decoder in more ways than can be named
            raise InputError(
                f"{name} is damaged: it cannot be decoded as a picture. {NOTHING_KEPT}",
                hint="Open it on the device that took it, save it again, or take it again.",
            ) from err


def _written_anew(name: str, content: bytes, kind: Kind) -> Picture:
    with _opened(name, content, kind) as given:
        _refuse_size(name, *given.size)
        given.load()
        colours = given.info.get("icc_profile")
        is_turned = given.getexif().get(ORIENTATION, 1) != 1
        upright = ImageOps.exif_transpose(given) if is_turned else given
        upright.info = {}
        shown = upright if upright.mode in ("RGB", "RGBA", "L") else upright.convert(_mode(upright))
        written = _encoded(shown, kind, colours, _as_fine_as(given) if shown is upright else {})
        return Picture(
            sha256=sha256(written).hexdigest(),
            media_type=MEDIA_TYPES[kind],
            width_px=shown.width,
            height_px=shown.height,
            content=written,
            thumbnail=_thumbnail(shown),
        )


def _opened(name: str, content: bytes, kind: Kind) -> Image.Image:
    """The picture with its header read and nothing decoded yet."""
    try:
        return Image.open(io.BytesIO(content), formats=(kind.upper(),))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as err:
        raise _too_many(name, "hundreds of millions of") from err


def _refuse_size(name: str, width_px: int, height_px: int) -> None:
    if width_px * height_px > MOST_PIXELS or max(width_px, height_px) > LONGEST_SIDE:
        raise _too_many(name, f"{width_px} × {height_px}")


def _too_many(name: str, pixels: str) -> InputError:
    return InputError(
        f"{name} has {pixels} pixels; {MOST_PIXELS // 1_000_000} million and {LONGEST_SIDE} on a side are the most. "
        f"{NOTHING_KEPT}",
        hint="Save it smaller, or photograph a part of it.",
    )


def _mode(image: Image.Image) -> str:
    """Colours that all three formats can hold."""
    if image.mode in ("LA", "PA", "RGBa", "La") or "transparency" in image.info:
        return "RGBA"
    return "L" if image.mode in ("1", "I", "I;16", "F") else "RGB"


def _as_fine_as(given: Image.Image) -> dict[str, Any]:
    """How a JPEG was coded, so that it is coded neither worse nor larger when it is written anew."""
    tables = getattr(given, "quantization", None)
    return {"qtables": tables, "subsampling": get_sampling(given)} if tables else {}


def _encoded(image: Image.Image, kind: Kind, colours: bytes | None, fineness: dict[str, Any]) -> bytes:
    out = io.BytesIO()
    if kind == "jpeg":
        image.save(out, "JPEG", icc_profile=colours, **(fineness or {"quality": QUALITY}))
    elif kind == "png":
        image.save(out, "PNG", icc_profile=colours, compress_level=3)
    else:
        image.save(out, "WEBP", quality=QUALITY, icc_profile=colours or b"")
    return out.getvalue()


def _thumbnail(image: Image.Image) -> bytes:
    small = image.copy()
    small.thumbnail((THUMBNAIL_PX, THUMBNAIL_PX))
    if small.mode == "RGBA":
        paper = Image.new("RGB", small.size, "white")
        paper.paste(small, mask=small.getchannel("A"))
        small = paper
    out = io.BytesIO()
    small.save(out, "JPEG", quality=80)
    return out.getvalue()
