"""JSON on standard output, in what the output can print."""

import sys
from typing import Any


def show_as_json(value: Any) -> None:
    """Print a value as JSON and nothing else."""
    from json import dumps

    is_unicode = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
    sys.stdout.write(dumps(value, indent=2, ensure_ascii=not is_unicode, allow_nan=False) + "\n")
