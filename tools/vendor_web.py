"""Fetch the two scripts of others that the pages load, at pinned versions, with their licences.

Run `python tools/vendor_web.py` to fetch them again (needs npm). Every file is checked against the digest written here.
"""

import hashlib
import subprocess
import sys
import tarfile
import tempfile
from pathlib import Path
from typing import Final

VENDOR: Final = Path(__file__).resolve().parent.parent / "src" / "fifthwire" / "web" / "static" / "vendor"
PACKAGES: Final[dict[str, dict[str, tuple[str, str]]]] = {
    "htmx.org@2.0.11": {
        "dist/htmx.min.js": ("htmx.min.js", "d6fdc75f204e6bdefa99b69bf1e6d4ac69b8a364f77929f45c13476b4000f717"),
        "LICENSE": ("htmx.LICENSE.txt", "d3d2456f76414f2456104660ebd65aff1c04cd7966b942bdabd63f3cdb316a38"),
    },
    "uplot@1.6.32": {
        "dist/uPlot.iife.min.js": (
            "uPlot.iife.min.js",
            "19c8d4c6ad88929a79f4ae49d6f7161566dfd0ba3d15cc495e974f787eb78f1f",
        ),
        "dist/uPlot.min.css": ("uPlot.min.css", "df630c6a8d6f8eeaff264b50f73ce5b114f646ffd9a0bb74f049b0a00135fa04"),
        "LICENSE": ("uPlot.LICENSE.txt", "8f989229699b4fe2f1a0432d0e9edc338a8a911e250e2d1b01ecd770a5f5b1bd"),
    },
}
"""Package at its version -> file in it -> (name here, SHA-256)."""


def fetched(package: str, names: tuple[str, ...]) -> dict[str, bytes]:
    """Files of a package by their path in it."""
    with tempfile.TemporaryDirectory() as folder:
        packed = subprocess.run(
            ["npm", "pack", "--silent", package], cwd=folder, check=True, capture_output=True, text=True
        )
        with tarfile.open(Path(folder) / packed.stdout.strip().splitlines()[-1]) as archive:
            return {name: _content(archive, name) for name in names}


def _content(archive: tarfile.TarFile, name: str) -> bytes:
    opened = archive.extractfile(f"package/{name}")
    if opened is None:
        raise FileNotFoundError(name)
    return opened.read()


def main() -> int:
    """Fetch, check, write; 1 where a digest is another, and then nothing is written."""
    found: dict[str, bytes] = {}
    for package, kept in PACKAGES.items():
        for path, content in fetched(package, tuple(kept)).items():
            name, digest = kept[path]
            is_digest = hashlib.sha256(content).hexdigest()
            if is_digest != digest:
                print(f"{path} of {package} has the digest {is_digest}, not {digest}: nothing written", file=sys.stderr)
                return 1
            found[name] = content
    VENDOR.mkdir(parents=True, exist_ok=True)
    for name, content in found.items():
        (VENDOR / name).write_bytes(content)
    (VENDOR / "VERSIONS").write_text("".join(f"{package}, unchanged\n" for package in PACKAGES), encoding="utf-8")
    print(f"{', '.join(PACKAGES)} written to {VENDOR}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
