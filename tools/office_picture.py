"""Takes the picture of the office's pages that README shows: a system at a desk, a valve on a phone.

`python tools/office_picture.py` takes it (needs Chromium, and some seconds for the demo register); with --check it only
says whether it is there, since pixels differ between machines.
"""

import io
import re
import sys
import tempfile
import urllib.request
from pathlib import Path
from threading import Event, Thread
from typing import Final

from PIL import Image, ImageOps
from playwright.sync_api import Browser, sync_playwright

from fifthwire.demo.register import open_demo_register
from fifthwire.model.kept.people import alone
from fifthwire.web.app import create_app
from fifthwire.web.serving import listening, serve
from fifthwire.web.settings import Settings
from fifthwire.workflow import places

ROOT: Final = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))
PICTURE: Final = ROOT / "docs" / "pictures" / "office.png"
DESK: Final = (1180, 1150)
PHONE: Final = (390, 1150)
COLOURS: Final = 200
GAP_PX: Final = 18


def main() -> int:
    """Take the picture, or say that it is missing."""
    if "--check" in sys.argv[1:]:
        return 0 if PICTURE.exists() else 1
    with tempfile.TemporaryDirectory() as folder, listening("127.0.0.1", 0) as at:
        register = open_demo_register(str(Path(folder) / "demo.sqlite"))
        app = create_app(register, alone=alone("office"), settings=Settings(is_demo=True))
        ready = Event()
        Thread(target=serve, args=(app, at), kwargs={"on_ready": ready.set}, daemon=True).start()
        ready.wait()
        address = f"http://127.0.0.1:{at.getsockname()[1]}"
        system = next(row for row in places.list_systems(register, alone("office")).rows if row.system.name == "HM-1")
        _take(address, f"/systems/{system.system.id}", _first_bad(address))
    return 0


def _first_bad(address: str) -> str:
    """The page of a valve that is bad."""
    with urllib.request.urlopen(f"{address}/valves?mark=bad") as answer:
        found = re.search(r'"(/valves/[0-9a-z]{26})"', answer.read().decode("utf-8"))
    if found is None:
        raise LookupError("the demo register has no bad valve")
    return found[1]


def _take(address: str, desk: str, phone: str) -> None:
    from chromium import LAUNCH_ARGS, chromium

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=list(LAUNCH_ARGS))
        shots = [_shot(browser, address + desk, DESK), _shot(browser, address + phone, PHONE)]
        browser.close()
    framed = [ImageOps.expand(shot, 1, "#63666a") for shot in shots]
    whole = Image.new("RGB", (sum(one.width for one in framed) + GAP_PX, framed[0].height), "#ffffff")
    whole.paste(framed[0], (0, 0))
    whole.paste(framed[1], (framed[0].width + GAP_PX, 0))
    whole.quantize(COLOURS).save(PICTURE, optimize=True)


def _shot(browser: Browser, address: str, size: tuple[int, int]) -> Image.Image:
    page = browser.new_page(viewport={"width": size[0], "height": size[1]})
    page.goto(address)
    return Image.open(io.BytesIO(page.screenshot())).convert("RGB")


if __name__ == "__main__":
    sys.exit(main())
