"""Pictures of the pages of the invented manuals, as somebody might have photographed them. Drawn, not photographed."""

import io
from typing import Final

from fifthwire.demo.office_places import MANUALS, PAGES, SPECS
from fifthwire.model.visit import Spec

WIDTH_PX, HEIGHT_PX = 640, 480
PAPER: Final = (243, 241, 234)
INK: Final = (35, 35, 40)
LINE: Final = (150, 148, 140)
PINS: Final = {
    "unipolar-5": "1 2 3 4, common 5",
    "unipolar-6": "1-2-3, 4-5-6",
    "bipolar-4": "1-2, 3-4",
    "single-2": "1-2",
}


def page_picture(name: str) -> bytes:
    """The page of an invented manual, as PNG.

    Parameters
    ----------
    name : str
        A key of `office_places.SPECS`.
    """
    from PIL import Image, ImageDraw, ImageFont

    picture = Image.new("RGB", (WIDTH_PX, HEIGHT_PX), PAPER)
    draw = ImageDraw.Draw(picture)
    draw.text((40, 34), MANUALS[name], fill=INK, font=ImageFont.load_default(22))
    draw.line((40, 70, WIDTH_PX - 40, 70), fill=LINE, width=2)
    for row, (label, value) in enumerate(_rows(name, SPECS[name])):
        y = 110 + 52 * row
        draw.text((40, y), label, fill=INK, font=ImageFont.load_default(20))
        draw.text((300, y), value, fill=INK, font=ImageFont.load_default(20))
        draw.line((40, y + 38, WIDTH_PX - 40, y + 38), fill=LINE, width=1)
    draw.text((WIDTH_PX - 110, HEIGHT_PX - 40), f"page {PAGES[name]}", fill=INK, font=ImageFont.load_default(18))
    written = io.BytesIO()
    picture.save(written, "PNG")
    return written.getvalue()


def _rows(name: str, spec: Spec) -> list[tuple[str, str]]:
    assert spec.tolerance is not None, "every invented spec says its tolerance"
    assert spec.tolerance.frac is not None, "as a share"
    stroke = spec.full_stroke_pulses
    return [
        ("Head", name.partition("-")[2]),
        ("Pins", PINS[spec.winding]),
        ("Winding", f"{spec.resistance_ohm:g} ohm +/- {spec.tolerance.frac * 100:g} % at {spec.at_c:g} deg C"),
        ("Full stroke", "-" if stroke is None else f"{stroke:g} pulses"),
        ("Supply", "-" if spec.supply_volt is None else f"{spec.supply_volt:g} V DC"),
    ]
