"""A page about a simulated plant as HTML that needs nothing else: no script, no font, no picture from elsewhere."""

from typing import Final

from fifthwire.assessment.blocks import Items, Picture, Table
from fifthwire.assessment.page import POLICY, scheme_choices
from fifthwire.assessment.page_parts import block_html, grouped_facts, items, shown
from fifthwire.assessment.page_style import style_sheet
from fifthwire.circuit.content import SimulatedPage

LIMITS_LABEL: Final = "What this is, and is not"
_STYLE: Final = (
    ".pictures{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,21rem),1fr));gap:1rem 2rem}"
    ".tables{overflow-x:auto}.tables table{margin-bottom:1rem}.tables .unseen{position:static;width:auto;height:auto;"
    "clip-path:none;text-align:left;padding:.6rem 0 .2rem}.tables .figure{text-align:right;white-space:pre}"
    "main figure svg{max-width:52rem;width:100%;height:auto}"
)


def simulated_page(content: SimulatedPage) -> str:
    """A page, whole; the same input gives the same page.

    Parameters
    ----------
    content : SimulatedPage
        What it says.
    """
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        f"<title>{shown(content.title)}</title><style>{style_sheet()}{_STYLE}</style></head>\n<body>"
        f"<header><h1>{shown(content.title)}</h1>{grouped_facts(content.facts, 'facts')}{scheme_choices()}</header>"
        f"\n<main>{_blocks(content)}{items(Items(label=LIMITS_LABEL, texts=content.limits))}</main>"
        f"\n<footer><p>{shown(content.footer)}</p></footer></body></html>\n"
    )


def _blocks(content: SimulatedPage) -> str:
    """Pictures that follow each other stand side by side where there is room."""
    laid, pictures = list[str](), list[str]()
    for block in content.blocks:
        if isinstance(block, Picture):
            pictures.append(block_html(block))
            continue
        laid += _side_by_side(pictures)
        pictures = []
        html = block_html(block)
        laid.append(f'<div class="tables" tabindex="0">{html}</div>' if isinstance(block, Table) else html)
    return "".join([*laid, *_side_by_side(pictures)])


def _side_by_side(pictures: list[str]) -> list[str]:
    return [f'<div class="pictures">{"".join(pictures)}</div>'] if pictures else []
