"""`make bench`: runs every benchmark of this directory and writes what each printed into `benchmarks/results/`.

python -m benchmarks               all of them
python -m benchmarks whole_process one
"""

import os
import platform
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
RESULTS = HERE / "results"


def names() -> list[str]:
    """Every benchmark, by the name of its module."""
    return sorted(path.stem for path in HERE.glob("*.py") if not path.stem.startswith("_") and _has_main(path))


def _has_main(path: Path) -> bool:
    return '__name__ == "__main__"' in path.read_text("utf-8")


def run(name: str) -> int:
    """Run one benchmark; what it prints is shown and kept, with the command and the machine above it."""
    command = [sys.executable, "-m", f"benchmarks.{name}"]
    ran = subprocess.run(command, cwd=HERE.parent, capture_output=True, text=True, check=False)
    head = f"python -m benchmarks.{name}\n{machine()}\n\n"
    sys.stdout.write(head + ran.stdout + ran.stderr + "\n")
    if ran.returncode == 0:
        RESULTS.mkdir(exist_ok=True)
        (RESULTS / f"{name}.txt").write_text(head + ran.stdout, "utf-8")
    return ran.returncode


def machine() -> str:
    """The machine in a line."""
    return f"Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} cores"


def main() -> int:
    """Run the benchmarks named, or all."""
    asked = sys.argv[1:] or names()
    unknown = [name for name in asked if name not in names()]
    if unknown:
        sys.stderr.write(f"no benchmark {unknown[0]} (there are {', '.join(names())})\n")
        return 2
    return max(run(name) for name in asked)


if __name__ == "__main__":
    sys.exit(main())
