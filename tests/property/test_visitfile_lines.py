"""The line of every place, against the parser of the standard library: whatever it sees, we find where it stands."""

import json
import tomllib
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from fifthwire.visitfile.json_lines import json_lines
from fifthwire.visitfile.toml_lines import toml_lines

BARE = st.text("abcXYZ019_-", min_size=1, max_size=4)
PLAIN = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=6)
BLANKS = st.text(" \t", max_size=2)
COMMENTS = st.one_of(st.just(""), st.just("  # [x] = \"'{}"), st.just("#"))


def quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=True).replace("\\/", "/")  # JSON's escapes are TOML's, but for \u pairs


@st.composite
def keys(draw: st.DrawFn) -> str:
    name = draw(BARE)
    style = draw(st.integers(0, 3))
    if style == 0:
        return f'"{name} ."'
    if style == 1:
        return f"'{name}#]'"
    if style == 2:
        return f'"\\u0041{name}\\""'
    return name


@st.composite
def dotted(draw: st.DrawFn) -> str:
    parts = draw(st.lists(keys(), min_size=1, max_size=3))
    return draw(st.sampled_from([".", " . ", "\t."])).join(parts)


LONG_TEXT = st.lists(st.sampled_from(["a", "\n", "''", '\\"', "\\\\", "# no", "[x]\n", "y = 1\n"]), max_size=6).map(
    "".join
)
SCALARS = st.one_of(
    st.integers(-(10**9), 10**9).map(str),
    st.sampled_from(
        ["0x1F", "1_000", "true", "false", "1979-05-27", "1979-05-27 07:32:00", "07:32:00", "-0.5e3", "inf"]
    ),
    PLAIN.filter(lambda text: ord(max(text, default="a")) < 0x10000).map(quoted),
    PLAIN.map(lambda text: "'" + text.replace("'", "") + "'"),
    LONG_TEXT.map(lambda text: '"""' + text + '"""'),
    LONG_TEXT.map(lambda text: '"""\n' + text + 'b"""""'),
    LONG_TEXT.map(lambda text: "'''" + text.replace("'", "") + "'''"),
    LONG_TEXT.map(lambda text: "'''" + text.replace("'", "") + "x''''"),
)


@st.composite
def arrays(draw: st.DrawFn, inner: st.SearchStrategy[str]) -> str:
    parts = draw(st.lists(inner, max_size=3))
    gap = draw(st.sampled_from(["", "\n", " # [1,\n  ", "\n\n"]))
    last = draw(st.sampled_from(["", ","])) if parts else ""
    return f"[{gap}" + f",{gap}".join(parts) + f"{gap}{last}{gap}]"


@st.composite
def inline_tables(draw: st.DrawFn, inner: st.SearchStrategy[str]) -> str:
    pairs = draw(st.lists(st.tuples(keys(), inner), max_size=3, unique_by=lambda pair: pair[0]))
    return "{ " + ", ".join(f"{key}={draw(BLANKS)}{value}" for key, value in pairs) + " }"


VALUES = st.recursive(SCALARS, lambda inner: st.one_of(arrays(inner), inline_tables(inner)), max_leaves=6)


@st.composite
def statements(draw: st.DrawFn) -> list[str]:
    lines = []
    for _ in range(draw(st.integers(0, 8))):
        kind = draw(st.integers(0, 5))
        if kind == 0:
            lines.append(f"{draw(BLANKS)}[{draw(BLANKS)}{draw(dotted())}{draw(BLANKS)}]{draw(COMMENTS)}")
        elif kind == 1:
            lines.append(f"[[{draw(dotted())}]]{draw(COMMENTS)}")
        elif kind == 2:
            lines.append(draw(COMMENTS))
        else:
            lines.append(f"{draw(BLANKS)}{draw(dotted())}{draw(BLANKS)}={draw(BLANKS)}{draw(VALUES)}{draw(COMMENTS)}")
    return lines


@st.composite
def valid_documents(draw: st.DrawFn) -> tuple[str, dict[str, Any]]:
    """A document made of those statements that the standard library accepts one after another."""
    end = draw(st.sampled_from(["\n", "\r\n"]))
    kept = ""
    for statement in draw(statements()):
        longer = kept + statement + end
        try:
            tomllib.loads(longer)
        except tomllib.TOMLDecodeError:
            continue
        kept = longer
    return kept, tomllib.loads(kept)


def places(steps: tuple[Any, ...], value: Any) -> list[tuple[tuple[Any, ...], Any]]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    found = [((*steps, step), held) for step, held in inner]
    return found + [deeper for at, held in found for deeper in places(at, held)]


@settings(max_examples=400, deadline=None)
@given(valid_documents())
def test_every_place_that_the_standard_library_sees_has_a_line_where_it_stands(document: tuple[str, dict[str, Any]]):
    text, tree = document
    rows = text.replace("\r\n", "\n").split("\n")

    lines = toml_lines(text)

    seen = places((), tree)
    assert set(lines) == {steps for steps, _ in seen}
    for steps, value in seen:
        row = rows[lines[steps] - 1]
        if isinstance(value, bool):
            assert str(value).lower() in row
        elif isinstance(value, int):
            assert str(value) in row.replace("_", "") or "0x1F" in row
        elif isinstance(value, str) and value.isalnum() and value.isascii() and len(value) < 3 and "\n" not in text:
            assert value in row
        elif isinstance(value, dict) and "{" not in row:
            last = next(step for step in reversed(steps) if isinstance(step, str))
            assert last.strip('A"#]. ')[:1] in row


@settings(max_examples=200, deadline=None)
@given(valid_documents(), st.integers(0, 40))
def test_a_marked_value_is_found_on_its_own_line(document: tuple[str, dict[str, Any]], pick: int):
    text, _ = document
    marker = 'zzz = ["first", \n  { here = "marker-7" },\n]'
    rows = text.split("\n")
    for at in range(pick % (len(rows) + 1), -1, -1):
        marked = "\n".join([*rows[:at], marker, *rows[at:]])
        try:
            tree = tomllib.loads(marked)
        except tomllib.TOMLDecodeError:
            continue
        steps = next((steps for steps, value in places((), tree) if value == "marker-7"), None)
        if steps is not None:  # it may have fallen inside a long string
            assert "marker-7" in marked.replace("\r\n", "\n").split("\n")[toml_lines(marked)[steps] - 1]
            return


JSON_TREES = st.dictionaries(
    PLAIN,
    st.recursive(
        st.one_of(st.none(), st.booleans(), st.integers(), st.floats(allow_nan=False), PLAIN),
        lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(PLAIN, inner, max_size=3)),
        max_leaves=8,
    ),
)


@given(JSON_TREES, st.sampled_from([None, 0, 2]), st.booleans())
def test_every_place_of_a_json_document_has_a_line_where_it_stands(
    tree: dict[str, Any], indent: int | None, ascii_: bool
):
    text = json.dumps(tree, indent=indent, ensure_ascii=ascii_)
    rows = text.split("\n")

    lines = json_lines(text)

    assert set(lines) == {(), *(steps for steps, _ in places((), tree))}
    for steps, value in places((), tree):
        row = rows[lines[steps] - 1]
        if isinstance(steps[-1], str):
            assert json.dumps(steps[-1], ensure_ascii=ascii_) in row
        if not isinstance(value, dict | list):
            assert json.dumps(value, ensure_ascii=ascii_) in row
