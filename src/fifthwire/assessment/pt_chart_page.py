"""A chart of saturation pressures as one HTML page that needs nothing else: two columns on a desk and on paper."""

from typing import Final

from fifthwire.assessment.blocks import Items, Paragraph
from fifthwire.assessment.page import POLICY, scheme_choices
from fifthwire.assessment.page_parts import grouped_facts, items, paragraph, shown
from fifthwire.assessment.page_style import style_sheet
from fifthwire.assessment.pt_chart import ChartContent, chart_content
from fifthwire.physics.saturation import PressureChart

ROWS_IN_ONE: Final = 24
"""A chart this short stays one column.  Our choice."""

ONE_BELOW_PX: Final = 960
"""On a narrower screen the two columns stand under each other.  Our choice."""

_STYLE: Final = (
    ".halves{display:grid;grid-template-columns:repeat(2,minmax(0,1fr));gap:0 3rem;align-items:start}"
    ".halves.one{grid-template-columns:minmax(0,34rem)}"
    "table.chart :is(th,td){text-align:right;padding:.14rem 0 .14rem .9rem;overflow-wrap:normal}"
    ".chart tbody th{font-weight:650}table.chart :is(th,td):first-child{padding-left:0}"
    ".chart tbody tr:nth-child(5n){border-bottom:1px solid var(--ink)}"
    f"@media screen and (max-width:{ONE_BELOW_PX}px){{.halves,.halves.one{{grid-template-columns:minmax(0,1fr)}}"
    ".halves>table+table thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}}"
    "@media screen and (max-width:480px){table.chart :is(th,td){padding-left:.25rem}.chart thead th{font-size:.74em}}"
    "@media print{table.chart :is(th,td){padding-top:.06rem;padding-bottom:.06rem}}"
)


def chart_page(chart: PressureChart) -> str:
    """A chart as one HTML page, readable on a phone, on a desk and on paper.

    Parameters
    ----------
    chart : PressureChart
        The table.

    Returns
    -------
    str
        The page, whole; the same input gives the same page.
    """
    content = chart_content(chart)
    return (
        f'<!doctype html>\n<html lang="{content.language}"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        f"<title>{shown(content.title)}</title><style>{style_sheet()}{_STYLE}</style></head>\n<body>"
        f"<header><h1>{shown(content.title)}</h1>{grouped_facts(content.facts, 'facts')}{scheme_choices()}</header>"
        f"\n<main>{_words(content)}{_tables(content)}</main>\n<footer><p>{shown(content.footer)}</p></footer></body></html>\n"
    )


def _words(content: ChartContent) -> str:
    notes = "".join(paragraph(Paragraph(text=note)) for note in content.notes)
    return notes + items(Items(label="Caution", texts=content.cautions, tone="caution"))


def _tables(content: ChartContent) -> str:
    rows = content.rows
    parts = [rows] if len(rows) <= ROWS_IN_ONE else [rows[: (len(rows) + 1) // 2], rows[(len(rows) + 1) // 2 :]]
    tables = "".join(_table(content, part) for part in parts)
    return f'<div class="halves{" one" if len(parts) == 1 else ""}">{tables}</div>'


def _table(content: ChartContent, rows: tuple[tuple[str, ...], ...]) -> str:
    heads = "".join(f'<th scope="col">{shown(label)}</th>' for label in content.columns)
    body = "".join(
        f'<tr><th scope="row" class="figure">{shown(first)}</th>'
        + "".join(f'<td class="figure">{shown(text)}</td>' for text in rest)
        + "</tr>"
        for first, *rest in rows
    )
    caption = f"{content.title}, {rows[0][0]} to {rows[-1][0]} {content.columns[0]}"
    return (
        f'<table class="chart"><caption class="unseen">{shown(caption)}</caption>'
        f"<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"
    )
