"""Fetch axe-core, the accessibility checker of the browser tests, at a pinned version, with its licence.

Run `python tools/vendor_axe.py` to fetch it again (needs npm). The file is checked against the digest written here.
"""

import hashlib
import subprocess
import sys
import tarfile
import tempfile
from pathlib import Path
from typing import Final

VERSION: Final = "4.14.1"
SHA256: Final = "29348999450cdf2849a8e70b7912fc2da85a849da39c0d0d5394f51d4a9ed95c"
"""Of axe.min.js."""
VENDOR: Final = Path(__file__).resolve().parent.parent / "tests" / "browser" / "vendor" / "axe-core"
KEPT: Final = ("axe.min.js", "LICENSE", "LICENSE-3RD-PARTY.txt")


def fetched() -> dict[str, bytes]:
    """The files of the package that are kept, by name."""
    with tempfile.TemporaryDirectory() as folder:
        packed = subprocess.run(
            ["npm", "pack", "--silent", f"axe-core@{VERSION}"], cwd=folder, check=True, capture_output=True, text=True
        )
        with tarfile.open(Path(folder) / packed.stdout.strip().splitlines()[-1]) as package:
            return {name: _content(package, name) for name in KEPT}


def _content(package: tarfile.TarFile, name: str) -> bytes:
    opened = package.extractfile(f"package/{name}")
    if opened is None:
        raise FileNotFoundError(name)
    return opened.read()


def main() -> int:
    """Fetch, check, write; 1 where the digest is another."""
    files = fetched()
    digest = hashlib.sha256(files["axe.min.js"]).hexdigest()
    if digest != SHA256:
        print(f"axe.min.js of {VERSION} has the digest {digest}, not {SHA256}: nothing written", file=sys.stderr)
        return 1
    VENDOR.mkdir(parents=True, exist_ok=True)
    for name in KEPT:
        (VENDOR / name).write_bytes(files[name])
    (VENDOR / "VERSION").write_text(f"axe-core {VERSION}, MPL-2.0, unchanged\n", encoding="utf-8")
    print(f"axe-core {VERSION} written to {VENDOR}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
