"""The blocks of a report as HTML: every text escaped, every drawing titled, every table with its headers."""

from collections.abc import Callable
from html import escape
from typing import Any, Final

from fifthwire.assessment.blocks import (
    Block,
    Column,
    Facts,
    Items,
    Labelled,
    Legend,
    Paragraph,
    Picture,
    Row,
    Sheet,
    Signature,
    Table,
)
from fifthwire.assessment.drawing_marks import SIZE, mark_strokes
from fifthwire.assessment.printable import printable

EMPTY: Final = "–"


def shown(text: str) -> str:
    """Text from anybody, safe inside an element or an attribute."""
    return escape(printable(text), quote=True)


def mark(key: str) -> str:
    """A mark; its word stands beside it, so that it is hidden from a screen reader."""
    return (
        f'<svg class="mark" viewBox="0 0 {SIZE} {SIZE}" aria-hidden="true" focusable="false">{mark_strokes(key)}</svg>'
    )


def facts(block: Facts, css: str = "facts") -> str:
    """Labels with their values."""
    return f'<dl class="{css}">{"".join(_fact(one) for one in block.facts)}</dl>'


def _fact(one: Labelled) -> str:
    return f"<dt>{shown(one.label)}</dt><dd>{shown(one.text)}</dd>"


def grouped_facts(labelled: tuple[Labelled, ...], css: str) -> str:
    """Labels with their values, each pair in a box of its own."""
    return f'<dl class="{css}">{"".join(f"<div>{_fact(one)}</div>" for one in labelled)}</dl>'


def paragraph(block: Paragraph) -> str:
    """Running text."""
    css = "" if block.tone == "plain" else f' class="{block.tone}"'
    text = f"<s>{shown(block.text)}</s>" if block.tone == "struck" else shown(block.text)
    return f"<p{css}>{text}</p>"


def items(block: Items) -> str:
    """A list under its word."""
    tag = "ol" if block.tone == "steps" else "ul"
    css = ' class="bare"' if block.tone != "steps" and len(block.texts) == 1 else ""
    inside = (
        f'<p class="label">{shown(block.label)}</p>'
        f"<{tag}{css}>{''.join(f'<li>{shown(text)}</li>' for text in block.texts)}</{tag}>"
    )
    return f'<div class="caution">{inside}</div>' if block.tone == "caution" else f"<div>{inside}</div>"


def table(block: Table) -> str:
    """A table whose rows stack on a narrow screen.

    The roles are written out because a row that is laid out as a block loses them in some browsers.
    """
    names = [name for name, is_so in (("stacks", block.does_stack), ("compact", block.is_compact)) if is_so]
    stacks = f' class="{" ".join(names)}"' if names else ""
    total = sum(column.share for column in block.columns)
    shares = "".join(f'<col style="width:{column.share / total:.1%}">' for column in block.columns)
    widths = f"<colgroup>{shares}</colgroup>" if block.does_stack else ""
    heads = "".join(_column_head(column) for column in block.columns)
    rows = "".join(_row(block, row, f"doubt-{place}") for place, row in enumerate(block.rows, start=1))
    return (
        f'<table{stacks} role="table"><caption class="unseen">{shown(block.caption)}</caption>'
        f"{widths}"
        f'<thead role="rowgroup"><tr role="row">{heads}</tr></thead><tbody role="rowgroup">{rows}</tbody></table>'
    )


def _column_head(column: Column) -> str:
    css = ' class="over-figures"' if column.is_figure else ""
    return f'<th scope="col" role="columnheader"{css}>{shown(column.label)}</th>'


def _row(block: Table, row: Row, name: str) -> str:
    cells = [_head_cell(row, name), *(_cell(block, row, place) for place in range(1, len(row.cells)))]
    return f'<tr role="row"{" class=struck" if row.is_struck else ""}>{"".join(cells)}</tr>'


def _head_cell(row: Row, name: str) -> str:
    if row.mark:
        return f'<td role="cell" class="state">{mark(row.mark)}{_doubted(row, name)}</td>'
    return f'<th scope="row" role="rowheader">{shown(row.cells[0])}</th>'


def _doubted(row: Row, name: str) -> str:
    """The word of a mark; where it is in doubt, underlined with a wave, its reason shown on touch or focus."""
    if not row.doubt:
        return shown(row.cells[0])
    return (
        f'<span class="doubt" tabindex="0" aria-describedby="{name}">{shown(row.cells[0])}</span>'
        f'<span class="reason" id="{name}">In doubt: {shown(row.doubt)}</span>'
    )


def _cell(block: Table, row: Row, place: int) -> str:
    column, text = block.columns[place], shown(row.cells[place])
    if row.mark and place == 1:
        named = f'<a href="#{row.anchor}">{text}</a>' if row.anchor else text
        return f'<th scope="row" role="rowheader" class="valve"><bdi>{named}</bdi></th>'
    css = " ".join(
        name for name, is_so in (("figure", column.is_figure), ("empty", row.cells[place] in ("", EMPTY))) if is_so
    )
    return (
        f'<td role="cell" data-label="{shown(column.label)}"{f" class={css!r}" if css else ""}><span>{text}</span></td>'
    )


def legend(block: Legend) -> str:
    """The marks with their words."""
    return f'<ul class="legend">{"".join(f"<li>{mark(one.label)}{shown(one.text)}</li>" for one in block.marks)}</ul>'


def picture(block: Picture, name: str) -> str:
    """A drawing with its title and description."""
    return (
        f"<figure><figcaption>{shown(block.caption)}</figcaption>"
        f'<svg viewBox="0 0 {block.width} {block.height}" role="img" aria-labelledby="{name}-t {name}-d">'
        f'<title id="{name}-t">{shown(block.title)}</title><desc id="{name}-d">{shown(block.description)}</desc>'
        f"{block.svg}</svg></figure>"
    )


def sheet(block: Sheet) -> str:
    """One valve: words and drawings side by side."""
    pictures = "".join(_in_sheet(one, f"{block.anchor}-{place}") for place, one in enumerate(block.pictures))
    words = "".join(_in_sheet(one, "") for one in block.words)
    drawn = f"<div>{pictures}</div>" if pictures else ""
    return (
        f'<article class="sheet" aria-labelledby="{block.anchor}">'
        f'<h3 id="{block.anchor}">{mark(block.mark)}<bdi>{shown(block.heading)}</bdi>: {shown(block.mark_word)}</h3>'
        f'<p class="place">{shown(block.place)}</p>'
        f'<div class="sides{"" if drawn else " plain"}"><div>{words}</div>{drawn}</div></article>'
    )


def _in_sheet(block: Any, name: str) -> str:
    return picture(block, name) if isinstance(block, Picture) else block_html(block)


def signature(block: Signature) -> str:
    """Lines to sign on."""
    lines = "".join(f"<div><b>{shown(one.text)}</b>{shown(one.label)}</div>" for one in block.fields)
    return f'<p>{shown(block.statement)}</p><div class="sign">{lines}</div>'


_LAYOUTS: Final[dict[str, Callable[[Any], str]]] = {
    "paragraph": paragraph,
    "facts": facts,
    "items": items,
    "table": table,
    "legend": legend,
    "sheet": sheet,
    "signature": signature,
}


def block_html(block: Block) -> str:
    """Any block."""
    if isinstance(block, Picture):
        name = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in block.title.lower())
        return picture(block, f"picture-{name}")
    return _LAYOUTS[block.kind](block)
