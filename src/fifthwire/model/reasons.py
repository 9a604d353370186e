"""Every sentence the program says of a valve, as a code with values: the English stands here and nowhere else.

The terminal, the report, the phone and a translation all render the same codes. A text may name values in braces;
a value whose name begins with `n_` is a count and is spelled out, a list is read as "1, 2 and 4".
"""

from collections.abc import Mapping
from typing import Any, Final

from fifthwire.model.cautions import CAUTIONS, MAKE_SAFE, RISKS
from fifthwire.model.checks import CHECKS
from fifthwire.model.facts import FACTS
from fifthwire.model.failure import FAILURE
from fifthwire.model.running_words import RUNNING
from fifthwire.model.warnings import WARNINGS
from fifthwire.model.words import word

__all__ = ["CAUTIONS", "CHECKS", "MAKE_SAFE", "REASONS", "RISKS", "WARNINGS", "say", "spoken"]

REASONS: Final[dict[str, str]] = {**FACTS, **FAILURE, **RUNNING}
"""Facts: why a cause is more or less probable, and what was not looked at. Code -> sentence."""

CAUSE_VALUES: Final = ("leading", "before")
"""Names of values that hold the key of a cause."""

NAME_VALUES: Final = ("{valve}", "{id}", "{place}")
"""Values that are labels from the file: a sentence that begins with one keeps it as it is written there."""

NUMBER_WORDS: Final = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)


def say(table: Mapping[str, str], code: str, values: Mapping[str, Any] | None = None) -> str:
    """The sentence of a code with its values put in, its first letter a capital unless it belongs to a label.

    >>> say(FACTS, "winding.open", {"wire": "3", "n_from": 2, "n_others": 3, "spread_ohm": 0.2})
    'Wire 3 is open from two wires; the other three windings agree within 0.2 Ω.'
    """
    sentence = table[code]
    text = sentence.format(**{name: spoken(name, value) for name, value in (values or {}).items()})
    return text if sentence.startswith(NAME_VALUES) else text[:1].upper() + text[1:]


def spoken(name: str, value: Any) -> Any:
    """A value as a sentence reads it: counts spelled out, lists joined, causes in words.

    >>> spoken("wires", ["1", "2", "4"]), spoken("n_from", 2)
    ('1, 2 and 4', 'two')
    """
    if name in CAUSE_VALUES:
        return word(value)
    if name.startswith("n_") and isinstance(value, int) and 0 <= value < len(NUMBER_WORDS):
        return _all_of(value) if name == "n_windings" else NUMBER_WORDS[value]
    if isinstance(value, list | tuple):
        items = [str(item) for item in value]
        return " and ".join([", ".join(items[:-1]), items[-1]]) if len(items) > 1 else "".join(items)
    return value


def _all_of(count: int) -> str:
    return "both" if count == 2 else f"all {NUMBER_WORDS[count]}"
