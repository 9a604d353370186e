"""Find what tests need beside Python: Chromium, poppler's pdftoppm and pdftotext, and PostgreSQL's programs.

Run by `make check` before the tests. What is missing is installed where that is possible without asking (Debian or a
relative of it, as root); else it is named. The tests of pages and prints are then skipped with that reason; those of
the register on PostgreSQL fail, unless FIFTHWIRE_WITHOUT_POSTGRESQL=1 says that they are to be left out.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Final

CHROMIUM_NAMES: Final = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome", "chrome")
POPPLER_NAMES: Final = ("pdftoppm", "pdftotext", "pdfinfo", "pdffonts")
POSTGRESQL_HOMES: Final = ("/usr/lib/postgresql/15/bin", "/usr/pgsql-15/bin", "/opt/homebrew/opt/postgresql@15/bin")
"""Where PostgreSQL 15 keeps the programs that start a cluster."""
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


def postgresql() -> Path | None:
    """Directory of initdb and pg_ctl: `POSTGRESQL_BIN` of the environment first, then where packages put them."""
    named = os.environ.get("POSTGRESQL_BIN")
    places = (named,) if named else POSTGRESQL_HOMES
    return next((Path(place) for place in places if (Path(place) / "initdb").exists()), None)


def missing() -> list[str]:
    """Debian packages that the tests could use and that are not there."""
    wanted: dict[str, object] = {"chromium": chromium(), "poppler-utils": has_poppler()}
    if os.environ.get("FIFTHWIRE_WITHOUT_POSTGRESQL") != "1":
        wanted["postgresql-15"] = postgresql()
    return [name for name, is_there in wanted.items() if not is_there]


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
    """Say what is there; always 0, since the tests that lack something are skipped or fail by name."""
    lacking = missing()
    if lacking and can_install():
        print(f"installing {' and '.join(lacking)} for the tests")
        install(lacking)
        lacking = missing()
    if lacking:
        print(
            f"not here: {' and '.join(lacking)}. The tests of pages and prints that need them are skipped and say so."
        )
        print(f"On Debian: apt-get install {' '.join(lacking)}. Another Chromium: CHROMIUM=/path/to/it make check")
    else:
        print(f"pages are looked at with {chromium()}, prints with poppler")
    if "postgresql-15" in lacking:
        print("The tests of the register on PostgreSQL will fail. Another place: POSTGRESQL_BIN=/path make check")
        print("To leave them out: FIFTHWIRE_WITHOUT_POSTGRESQL=1 make check")
    return 0


if __name__ == "__main__":
    sys.exit(main())
