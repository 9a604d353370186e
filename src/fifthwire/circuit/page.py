"""A page about a simulated plant as HTML that needs nothing else: no script, no font, no picture from elsewhere."""

from typing import Final

from fifthwire.assessment.blocks import Items, Picture, Table
from fifthwire.assessment.colours import PRINT
from fifthwire.assessment.drawing import ink_rules, lettering
from fifthwire.assessment.page import POLICY, scheme_choices
from fifthwire.assessment.page_parts import block_html, grouped_facts, items, shown
from fifthwire.assessment.page_style import style_sheet
from fifthwire.circuit.content import SimulatedPage
from fifthwire.model.errors import NoSolution

LIMITS_LABEL: Final = "What this is, and is not"
_GAP, _CAPTION = 14, 20
"""Around a drawing, and for its caption.  [px]"""
_STYLE: Final = (
    ".pictures{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,21rem),1fr));gap:1rem 2rem}"
    ".tables{overflow-x:auto}.tables table{margin-bottom:1rem}.tables .unseen{position:static;width:auto;height:auto;"
    "clip-path:none;text-align:left;padding:.6rem 0 .2rem}.tables .figure{text-align:right;white-space:pre}"
    ".tables .over-figures{text-align:right}.tables td:not(.figure){min-width:14rem}"
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


def pictures_svg(content: SimulatedPage) -> str:
    """The drawings of a page as one SVG, two beside each other, each under its caption; on white paper.

    Parameters
    ----------
    content : SimulatedPage
        A page that holds drawings.

    Raises
    ------
    NoSolution
        If it holds none: there is no state to draw.
    """
    pictures = [block for block in content.blocks if isinstance(block, Picture)]
    if not pictures:
        raise NoSolution("there is no steady state to draw", "The reasons are on the page and on the screen.")
    width = max(one.width for one in pictures) + 2 * _GAP
    drawn, y = list[str](), float(_GAP)
    for at in range(0, len(pictures), 2):
        pair = pictures[at : at + 2]
        for column, one in enumerate(pair):
            inside = f'<g transform="translate(0 {_CAPTION})">{one.svg}</g>'
            caption = lettering(0.0, 12.0, one.caption, "d-quiet")
            drawn.append(f'<g transform="translate({column * width + _GAP} {y:.0f})">{caption}{inside}</g>')
        y += max(one.height for one in pair) + _CAPTION + _GAP
    rules = ink_rules(PRINT.__getitem__, sans="sans-serif", mono="monospace")
    size = f'width="{min(len(pictures), 2) * width}" height="{y:.0f}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img"><title>{shown(content.title)}</title>'
        f"<desc>{shown(' '.join((*(one.description for one in pictures), *content.limits)))}</desc>"
        f'<style>{rules}</style><rect class="d-paper" width="100%" height="100%"/>{"".join(drawn)}</svg>\n'
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
