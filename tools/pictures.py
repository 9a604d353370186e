"""Draws the picture of the report that README shows: two pages of the invented site's, side by side.

`python tools/pictures.py` writes it; with --check it only says whether it is there (pixels may differ between
machines, so they are not compared).
"""

import io
import sys
from pathlib import Path
from typing import Final

from PIL import Image, ImageOps

from fifthwire.assessment import report_content
from fifthwire.demo.site import assess_demo
from fifthwire.reports.pdf import page_images

PICTURE: Final = Path(__file__).resolve().parent.parent / "docs" / "pictures" / "report.png"
PAGES: Final = (0, 3)
"""The first, and one with sheets of valves."""
PPI: Final = 92.0
COLOURS: Final = 96
GAP_PX: Final = 14


def main() -> int:
    """Write the picture, or say that it is missing."""
    if "--check" in sys.argv[1:]:
        return 0 if PICTURE.exists() else 1
    assessed = assess_demo()
    pages = page_images(report_content(assessed.visit, assessed.assessment), ppi=PPI)
    framed = [ImageOps.expand(Image.open(io.BytesIO(pages[at])).convert("RGB"), 1, "#63666a") for at in PAGES]
    width = sum(page.width for page in framed) + GAP_PX * (len(framed) - 1)
    whole = Image.new("RGB", (width, framed[0].height), "#ffffff")
    left = 0
    for page in framed:
        whole.paste(page, (left, 0))
        left += page.width + GAP_PX
    PICTURE.parent.mkdir(parents=True, exist_ok=True)
    whole.quantize(COLOURS).save(PICTURE, optimize=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
