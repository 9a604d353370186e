"""Tables and words of a page on a screen: a line a row, or a short block a row where the screen is too narrow."""

from collections.abc import Sequence
from typing import Final

from fifthwire.assessment.blocks import Block, Labelled, Paragraph, Table
from fifthwire.cli.terminal import Terminal

GAP: Final = "  "


def show_page(
    screen: Terminal, title: str, facts: Sequence[Labelled], blocks: Sequence[Block], limits: Sequence[str]
) -> None:
    """Title, facts, tables and words; drawings are for paper and are left out.

    Parameters
    ----------
    screen : Terminal
        Where it is shown.
    title : str
        First line.
    facts : sequence of Labelled
        A line each.
    blocks : sequence of Block
        In order.
    limits : sequence of str
        What it does not know, last.
    """
    screen.show(screen.bold(title))
    for one in facts:
        for line in screen.wrapped(f"{one.label}: {one.text}"):
            screen.show(line)
    for block in blocks:
        if isinstance(block, Table):
            show_table(screen, block)
        elif isinstance(block, Paragraph):
            screen.show()
            for line in screen.wrapped(block.text):
                screen.show(line)
    screen.show()
    for text in limits:
        for line in screen.wrapped(text):
            screen.show(line)


def show_table(screen: Terminal, table: Table) -> None:
    """A table with its caption.

    Parameters
    ----------
    screen : Terminal
        Where it is shown.
    table : Table
        Its rows.
    """
    heads = [column.label for column in table.columns]
    rows = [[screen.printable(cell) for cell in row.cells] for row in table.rows]
    heads = [screen.printable(head) for head in heads]
    widths = [max(len(row[at]) for row in (heads, *rows)) for at in range(len(heads))]
    screen.show()
    screen.show(screen.bold(table.caption))
    last = len(heads) - 1
    room = screen.width
    is_open = not table.columns[last].is_figure  # words at the end may run on
    needed = sum(widths[:last]) + len(GAP) * last + (0 if is_open else widths[last])
    if room is not None and needed + (24 if is_open else 0) > room:
        _show_stacked(screen, heads, rows)
        return
    for cells in (heads, *rows):
        laid = [
            cell.rjust(width) if column.is_figure else cell.ljust(width)
            for cell, width, column in zip(cells, widths, table.columns, strict=True)
        ]
        _show_line(screen, GAP.join(laid[:-1]) + GAP, cells[-1] if is_open else laid[-1])


def _show_line(screen: Terminal, start: str, end: str) -> None:
    if screen.width is None or len(start) + len(end) <= screen.width:
        screen.show((start + end).rstrip())
        return
    beside = Terminal(stream=screen.stream, width=screen.width - len(start), is_plain=screen.is_plain, is_bold=False)
    for at, line in enumerate(beside.wrapped(end)):
        screen.show((start if at == 0 else " " * len(start)) + line)


def _show_stacked(screen: Terminal, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    for name, *cells in rows:
        screen.show(screen.bold(name.strip()))
        told = [f"{head} {cell.strip()}" for head, cell in zip(heads[1:], cells, strict=True) if cell.strip()]
        for line in screen.wrapped(" · ".join(told), indent=GAP):
            screen.show(line)
