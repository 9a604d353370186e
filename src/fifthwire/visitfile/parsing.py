"""Text of a file into plain tables, arrays and values, refusing at once what no visit can be.

A file comes from anywhere: a phone, a mail, a broken disk. Whatever it holds, the answer is a tree or one error with
its line, in a time that does not run away.
"""

import tomllib
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Final

from fifthwire.model.errors import VisitFileError
from fifthwire.model.units import LONGEST_NUMBER
from fifthwire.visitfile.places import Steps, shortened
from fifthwire.visitfile.problems import Problems, the_one_problem

if TYPE_CHECKING:
    from json import JSONDecodeError

LARGEST_FILE: Final = 10_000_000
"""Bytes of a file; a visit of a hundred valves has some 100 kB.  Our choice."""
MOST_VALUES: Final = 120_000
"""Commas, equals signs, colons and brackets of a file, about its values: a hundred valves have 10,000.  Our choice."""
DEEPEST: Final = 32
"""Tables and arrays inside one another; a visit needs 6.  Our choice."""
_DEEP: Final = f"tables and arrays stand more than {DEEPEST} deep inside one another"
_UTF16: Final = (b"\xff\xfe", b"\xfe\xff")


class BadNumber(str):
    """A number that is too long or not finite, kept as it was written until its place is known."""

    __slots__ = ()


class _Twice(dict[str, Any]):
    """A JSON object with a key that stands in it more than once."""

    keys_twice: tuple[str, ...] = ()


def decode(content: str | bytes, name: str) -> str:
    """The text of a file, whose line ends are as they were.

    Raises
    ------
    VisitFileError
        If it is too large or no UTF-8 text.
    """
    if len(content) > LARGEST_FILE:
        raise _too_large(name)
    text = content if isinstance(content, str) else _from_bytes(content, name)
    if not text.isascii() and isinstance(content, str):
        _require_whole_characters(content, name)
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        raise the_one_problem(name, "a NUL character: this is no text file", "save it as UTF-8 text", line=line)
    return text.removeprefix("\N{ZERO WIDTH NO-BREAK SPACE}")


def _too_large(name: str) -> VisitFileError:
    return the_one_problem(
        name, f"larger than {LARGEST_FILE // 1_000_000} MB: no visit is", "keep pictures beside the file, not in it."
    )


def _from_bytes(content: bytes, name: str) -> str:
    if content.startswith(_UTF16):
        raise the_one_problem(name, "UTF-16 text, where UTF-8 is needed", "save it as UTF-8", line=1)
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as err:
        line = content.count(b"\n", 0, err.start) + 1
        what = f"byte 0x{content[err.start]:02x} is not UTF-8 text"
        raise the_one_problem(name, what, "save the file as UTF-8", line=line) from err


def _require_whole_characters(text: str, name: str) -> None:
    try:
        size = len(text.encode("utf-8"))
    except UnicodeEncodeError as err:
        line = text.count("\n", 0, err.start) + 1
        raise the_one_problem(name, "half a character", "save the file as UTF-8", line=line) from err
    if size > LARGEST_FILE:
        raise _too_large(name)


def parse(text: str, name: str, syntax: str) -> dict[str, Any]:
    """The tree of a file.

    Raises
    ------
    VisitFileError
        With the one syntax error and its line.
    """
    if len(text) > MOST_VALUES and sum(map(text.count, ",=:[{")) > MOST_VALUES:
        raise the_one_problem(name, f"more than {MOST_VALUES} values: no visit has them", "is this the right file?")
    try:
        tree = _parse_json(text, name) if syntax == "json" else _parse_toml(text, name)
    except RecursionError as err:
        raise the_one_problem(name, _DEEP, "a visit is never this deep") from err
    if not isinstance(tree, dict):
        raise the_one_problem(name, "the file does not hold a table of keys", 'start with {"format": ...}.', line=1)
    return tree


def _parse_toml(text: str, name: str) -> Any:
    text = text.replace("\r\n", "\n")
    if any(line.count(".") > DEEPEST for line in text.split("\n")):
        _refuse_deep_keys(text, name)
    try:
        return tomllib.loads(text, parse_float=_toml_float)
    except tomllib.TOMLDecodeError as err:
        message, line = _place_of(str(err), text)
        raise the_one_problem(name, message, _toml_hint(message, text, line), line=line) from err
    except ValueError as err:  # a whole number with thousands of digits
        raise the_one_problem(name, f"a number has more than {LONGEST_NUMBER} characters", "write fewer") from err


def _toml_float(written: str) -> float | BadNumber:
    if len(written) > LONGEST_NUMBER:
        return BadNumber(written)
    value = float(written)
    return value if value - value == 0.0 else BadNumber(written)


def _place_of(message: str, text: str) -> tuple[str, int]:
    """A message of the TOML parser without its place, and the line in it."""
    what, _, where = message.rpartition(" (at ")
    if not what:
        return message, 1
    digits = where.removeprefix("line ").partition(",")[0]
    return what, int(digits) if digits.isdigit() else max(1, text.rstrip("\n").count("\n") + 1)


def _toml_hint(message: str, text: str, line: int) -> str:
    shown = text.split("\n")[line - 1].strip() if line <= text.count("\n") + 1 else ""
    if "overwrite" in message or "twice" in message:
        return f"this key or table stands in the file before: {shortened(shown)}"
    return f"look at: {shortened(shown)}" if shown else ""


def _refuse_deep_keys(text: str, name: str) -> None:
    from fifthwire.visitfile.toml_lines import deep_key_line  # only for files that look like this

    line = deep_key_line(text, DEEPEST)
    if line is not None:
        raise the_one_problem(name, _DEEP, "a visit is never this deep.", line=line)


def _parse_json(text: str, name: str) -> Any:
    import json  # most files are TOML

    try:
        return json.loads(
            text,
            object_pairs_hook=_json_object,
            parse_float=_toml_float,
            parse_int=_json_int,
            parse_constant=BadNumber,
        )
    except json.JSONDecodeError as err:
        raise the_one_problem(name, f"{err.msg} (column {err.colno})", _json_hint(err), line=err.lineno) from err


def _json_hint(err: "JSONDecodeError") -> str:
    if not err.doc.strip():
        return "the file is empty"
    return f"look at: {shortened(err.doc.split(chr(10))[err.lineno - 1].strip())}"


def _json_int(written: str) -> int | BadNumber:
    return int(written) if len(written) <= LONGEST_NUMBER else BadNumber(written)


def _json_object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    plain = dict(pairs)
    if len(plain) == len(pairs):
        return plain
    found = _Twice(plain)
    once: set[str] = set()
    found.keys_twice = tuple(dict.fromkeys(key for key, _ in pairs if key in once or once.add(key)))  # type: ignore[func-returns-value]
    return found


def check_tree(tree: dict[str, Any], problems: Problems) -> None:
    """Every number too long or not finite, key given twice, text that cannot be shown and table too deep, by place."""
    for steps, value in _walk((), tree):
        if isinstance(value, BadNumber):
            _add_bad_number(steps, value, problems)
        elif isinstance(value, str):
            _check_text(steps, value, problems)
        elif isinstance(value, _Twice):
            for key in value.keys_twice:
                problems.add((*steps, key), "the same key stands here twice", "keep one of them")
        elif type(value) is int and abs(value) >= 10**LONGEST_NUMBER:
            problems.add(steps, f"a number has more than {LONGEST_NUMBER} characters", "write fewer digits")
        elif len(steps) > DEEPEST and isinstance(value, dict | list):
            problems.add(steps[:DEEPEST], _DEEP, "a visit is never this deep")


def _add_bad_number(steps: Steps, written: str, problems: Problems) -> None:
    if len(written) > LONGEST_NUMBER:
        problems.add(steps, f"a number has more than {LONGEST_NUMBER} characters", "write fewer digits")
    else:
        problems.add(steps, f"{written} is not a finite number", "leave the key out where nothing was measured")


def _check_text(steps: Steps, value: str, problems: Problems) -> None:
    if value.isprintable():
        return
    for sign in value:
        if (sign < " " and sign not in "\t\n\r") or "\ud800" <= sign <= "\udfff" or "\x7f" <= sign < "\xa0":
            problems.add(steps, f"the character U+{ord(sign):04X} cannot be shown", "take it out")
            return


def _walk(steps: Steps, value: Any) -> Iterator[tuple[Steps, Any]]:
    yield steps, value
    if len(steps) > DEEPEST:
        return
    if isinstance(value, dict):
        for key, inner in value.items():
            if not key.isprintable():
                yield (*steps, key), key
            yield from _walk((*steps, key), inner)
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _walk((*steps, index), inner)
