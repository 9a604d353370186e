"""Find what the tests of pages and prints look with: Chromium, and poppler's pdftoppm and pdftotext.

Run by `make check` before the tests. What is missing is installed where that is possible without asking (Debian or a
relative of it, as root); else it is named, and the tests that need it are skipped with that reason.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Final

CHROMIUM_NAMES: Final = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome", "chrome")
POPPLER_NAMES: Final = ("pdftoppm", "pdftotext", "pdfinfo", "pdffonts")
LAUNCH_ARGS: Final = (
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
"""Headless, as root in a container, without asking anything of a network."""


def chromium() -> str | None:
    """Path of Chromium: `CHROMIUM` of the environment first, then the search path."""
    named = os.environ.get("CHROMIUM")
    if named:
        return shutil.which(named)
    return next((path for name in CHROMIUM_NAMES if (path := shutil.which(name))), None)


def has_poppler() -> bool:
    """Whether the PDF tools are there."""
    return all(shutil.which(name) for name in POPPLER_NAMES)


def missing() -> list[str]:
    """Debian packages that the tests could use and that are not there."""
    return [name for name, is_there in (("chromium", chromium()), ("poppler-utils", has_poppler())) if not is_there]


def can_install() -> bool:
    """Whether packages can be installed without asking: apt, and root."""
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    return is_root and shutil.which("apt-get") is not None and Path("/etc/debian_version").exists()


def install(packages: list[str]) -> None:
    """Install Debian packages; a failure is told and left to `missing`."""
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (["apt-get", "update", "-qq"], ["apt-get", "install", "-y", "-qq", "--no-install-recommends"]):
        with_packages = command if command[1] == "update" else [*command, *packages]
        done = subprocess.run(with_packages, env=quiet, capture_output=True, text=True, check=False)
        if done.returncode:
            print(f"{' '.join(with_packages)}: {done.stderr.strip()[-400:]}", file=sys.stderr)
            return


def main() -> int:
    """Say what is there; always 0, since the tests that lack something are skipped by name."""
    lacking = missing()
    if lacking and can_install():
        print(f"installing {' and '.join(lacking)} for the tests of pages and prints")
        install(lacking)
        lacking = missing()
    if lacking:
        print(f"not here: {' and '.join(lacking)}. The tests that need them are skipped and say so.")
        print(f"On Debian: apt-get install {' '.join(lacking)}. Another Chromium: CHROMIUM=/path/to/it make check")
    else:
        print(f"pages are looked at with {chromium()}, prints with poppler")
    return 0


if __name__ == "__main__":
    sys.exit(main())
