"""Every sentence the program says of a valve, as a code with values: the English stands here and nowhere else.

The terminal, the report, the phone and a translation all render the same codes. A text may name values in braces.
"""

from collections.abc import Mapping
from typing import Any, Final

REASONS: Final[dict[str, str]] = {}
"""Facts: why a cause is more or less probable. Code -> sentence."""

CHECKS: Final[dict[str, str]] = {}
"""What to check next. Code -> sentence, verb first."""

RISKS: Final[dict[str, str]] = {}
"""What a check or a step risks. Code -> sentence."""

CAUTIONS: Final[dict[str, str]] = {}
"""Cautions, shown where the step is taken. Code -> sentence."""

WARNINGS: Final[dict[str, str]] = {}
"""Contradictions and doubts in what was given. Code -> sentence."""


def say(table: Mapping[str, str], code: str, values: Mapping[str, Any] | None = None) -> str:
    """The sentence of a code with its values put in."""
    return table[code].format(**(values or {}))
