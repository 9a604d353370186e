"""Photographs are decoded, cleaned of what they tell of place and device, and made small."""

import io
import struct
import zlib

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from fifthwire.model.errors import InputError
from fifthwire.workflow.pictures import picture_of

WHERE = b"SECRET-PLACE"


def a_picture(width=640, height=480, mode="RGB"):
    """A smooth picture with a bright corner, top left."""
    across, down = np.meshgrid(np.linspace(0, 200, width), np.linspace(0, 120, height))
    pixels = np.stack([across, down, across / 2], axis=-1).astype(np.uint8)
    pixels[: height // 8, : width // 8] = 255
    return Image.fromarray(pixels).convert(mode)


def exif(orientation=1):
    told = Image.Exif()
    told[0x0112] = orientation
    told[0x010F] = WHERE.decode()
    told[0x8825] = {1: "N", 2: (51.0, 30.0, 26.5), 3: "W", 4: (0.0, 7.0, 39.9)}
    return told


def sent(image, kind, **more):
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def opened(content):
    return Image.open(io.BytesIO(content))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_nothing_of_place_and_device_is_kept(kind):
    more = {"comment": WHERE} if kind == "JPEG" else {}
    content = sent(a_picture(), kind, exif=exif(), xmp=b"<x>" + WHERE + b"</x>", **more) + WHERE
    picture = picture_of("x", content)

    assert WHERE in content
    assert WHERE not in picture.content
    assert WHERE not in picture.thumbnail
    for kept in (opened(picture.content), opened(picture.thumbnail)):
        assert dict(kept.getexif()) == {}
        assert not {"exif", "xmp", "comment"} & set(kept.info)


def test_the_words_of_a_png_are_not_kept():
    from PIL.PngImagePlugin import PngInfo

    words = PngInfo()
    words.add_text("Location", WHERE.decode())
    words.add_itxt("More", WHERE.decode())
    picture = picture_of("x", sent(a_picture(), "PNG", pnginfo=words))

    assert WHERE not in picture.content


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_picture_stands_upright_however_the_camera_was_held(kind, orientation):
    turned = {2: 0, 3: 3, 4: 1, 5: 5, 6: 2, 7: 6, 8: 4}  # the turn that undoes each orientation, in Pillow's numbers
    image = a_picture()
    given = image if orientation == 1 else image.transpose(turned[orientation])
    picture = picture_of("x", sent(given, kind, exif=exif(orientation)))
    shown = opened(picture.content).convert("RGB")

    assert shown.size == (picture.width_px, picture.height_px) == (640, 480)
    assert min(shown.getpixel((10, 10))) > 240  # the bright corner is top left again
    assert max(shown.getpixel((630, 470))) < 215


@pytest.mark.parametrize("quality", [60, 85, 97])
def test_a_jpeg_loses_next_to_nothing_and_does_not_grow(quality):
    content = sent(a_picture(1600, 1200), "JPEG", quality=quality, exif=exif())
    picture = picture_of("x", content)
    difference = np.asarray(opened(content)).astype(int) - np.asarray(opened(picture.content)).astype(int)

    assert abs(difference).mean() < 0.5
    assert len(picture.content) < 1.05 * len(content)


def test_a_png_loses_nothing():
    image = a_picture(mode="RGBA")
    picture = picture_of("x", sent(image, "PNG"))

    assert np.array_equal(np.asarray(opened(picture.content)), np.asarray(image))


@pytest.mark.parametrize(
    ("mode", "kind"),
    [("L", "JPEG"), ("CMYK", "JPEG"), ("1", "PNG"), ("L", "PNG"), ("LA", "PNG"), ("P", "PNG"), ("I;16", "PNG"),
     ("RGBA", "PNG"), ("RGBA", "WEBP")],
)  # fmt: skip
def test_every_kind_of_colour_is_kept_as_a_screen_shows_it(mode, kind):
    image = a_picture() if mode == "RGB" else a_picture(mode="L" if mode == "I;16" else "RGB").convert(mode)
    picture = picture_of("x", sent(image, kind))

    assert opened(picture.content).mode in ("RGB", "RGBA", "L")
    assert opened(picture.thumbnail).size == (320, 240)


def test_a_second_picture_in_the_file_is_not_kept():
    content = sent(a_picture(), "MPO", save_all=True, append_images=[a_picture(200, 100)], exif=exif())
    picture = picture_of("x", content)

    assert opened(content).n_frames == 2
    assert opened(picture.content).format == "JPEG"
    assert getattr(opened(picture.content), "n_frames", 1) == 1


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_of_a_moving_picture_the_first_is_kept(kind):
    content = sent(a_picture(), kind, save_all=True, append_images=[a_picture(mode="L").convert("RGB")], duration=50)

    assert getattr(opened(picture_of("x", content).content), "n_frames", 1) == 1


def test_the_same_photograph_is_the_same_whoever_sends_it():
    content = sent(a_picture(), "JPEG", exif=exif(6))

    assert picture_of("a.jpg", content) == picture_of("b.jpg", content)


def a_png_of(width, height):
    """A PNG whose header promises a size, with next to nothing in it."""

    def chunk(name, body):
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(bytes(1000))) + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize("size", [(7_100, 7_100), (10_000, 9_000), (60_000, 60_000), (2_000_000, 10), (16_001, 1)])
def test_a_picture_of_too_many_pixels_is_refused_before_it_is_decoded(size):
    content = a_png_of(*size)

    assert len(content) < 200
    with pytest.raises(InputError, match=r"^bomb\.png has .* pixels; 50 million and 16000 on a side"):
        picture_of("bomb.png", content)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_half_a_picture_is_refused(kind):
    content = sent(a_picture(), kind)

    with pytest.raises(InputError, match=r"half\.jpg is damaged"):
        picture_of("half.jpg", content[: len(content) // 2])


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@given(data=st.data())
def test_a_damaged_picture_is_kept_clean_or_refused(kind, data):
    content = bytearray(sent(a_picture(40, 30), kind, exif=exif()))
    for _ in range(data.draw(st.integers(1, 4))):
        content[data.draw(st.integers(12, len(content) - 1))] = data.draw(st.integers(0, 255))
    try:
        picture = picture_of("x", bytes(content))
    except InputError as refused:
        assert refused.message.startswith("x ")
        return
    assert WHERE not in picture.content
