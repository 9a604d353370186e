"""The style sheet of the report's page: tokens in three schemes, one column of text, tables that stack when narrow."""

from typing import Final

from fifthwire.assessment.colours import PRINT, SCHEMES
from fifthwire.assessment.drawing import ink_rules

SANS: Final = 'system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans","Liberation Sans",sans-serif'
"""The system's own."""
MONO: Final = 'ui-monospace,"SFMono-Regular","DejaVu Sans Mono","Liberation Mono",Menlo,Consolas,monospace'

STACKS_BELOW_PX: Final = 760
"""Narrower than this a table's row becomes a small block.  Our choice: where six columns no longer fit."""


def style_sheet() -> str:
    """All CSS of the page."""
    return _schemes() + _LAYOUT + _TABLES + _SHEETS + _NARROW + ink_rules(_variable, sans=SANS, mono=MONO) + _PRINT


def _variable(token: str) -> str:
    return f"var(--{token})"


def _tokens(scheme: dict[str, str]) -> str:
    return "".join(f"--{token}:{colour};" for token, colour in scheme.items())


def _schemes() -> str:
    """Light unless the screen asks for another; a choice made on the page comes first."""
    dark, sun = _tokens(SCHEMES["dark"]), _tokens(SCHEMES["sun"])
    return (
        f":root{{color-scheme:light;{_tokens(SCHEMES['light'])}}}"
        f"@media (prefers-color-scheme:dark){{:root{{color-scheme:dark;{dark}}}}}"
        f"@media (prefers-contrast:more){{:root{{color-scheme:light;--size:1.2;{sun}}}}}"
        f":root:has(#scheme-light:checked){{color-scheme:light;--size:1;{_tokens(SCHEMES['light'])}}}"
        f":root:has(#scheme-dark:checked){{color-scheme:dark;--size:1;{dark}}}"
        f":root:has(#scheme-sun:checked){{color-scheme:light;--size:1.2;{sun}}}"
    )


_LAYOUT: Final = (
    "*{box-sizing:border-box}"
    f"html{{font:calc(17px*var(--size,1))/1.45 {SANS};-webkit-text-size-adjust:100%}}"
    "@media (min-width:761px){html{font-size:calc(15px*var(--size,1))}}"
    "body{margin:0;background:var(--paper);color:var(--ink);overflow-wrap:anywhere}"
    "main,header,footer{max-width:68rem;margin:0 auto;padding:0 1.1rem}"
    "header{padding-top:1.4rem}"
    "h1{font-size:1.55rem;line-height:1.2;margin:.2rem 0 .1rem;font-weight:650;text-wrap:balance}"
    ".under{font-size:1.08rem;margin:0 0 .9rem}"
    "h2{font-size:1.15rem;line-height:1.25;margin:2.6rem 0 .8rem;padding-top:.5rem;border-top:2px solid var(--ink);"
    "font-weight:650}"
    "h3{font-size:1.08rem;line-height:1.3;margin:0;font-weight:650}"
    "p{margin:.5rem 0;max-width:70ch}"
    "a{color:var(--accent);text-decoration-thickness:.08em;text-underline-offset:.15em}"
    ":focus-visible{outline:3px solid var(--accent);outline-offset:2px;border-radius:2px}"
    ".skip{position:absolute;left:-99rem}.skip:focus{position:static;display:inline-block;padding:.6rem}"
    ".quiet{color:var(--quiet)}.struck,.struck td{text-decoration:line-through}"
    ".lead{font-size:1.08rem;font-weight:600}"
    ".figure{font-family:" + MONO + ";font-size:.92em;font-variant-numeric:tabular-nums;white-space:pre-wrap}"
    "dl.facts{display:grid;grid-template-columns:max-content 1fr;gap:.2rem 1.1rem;margin:.6rem 0}"
    "dl.facts dt{color:var(--quiet)}dl.facts dd{margin:0;max-width:70ch}"
    "header dl.facts{grid-template-columns:repeat(auto-fit,minmax(13rem,1fr));gap:.5rem 1.4rem}"
    "header dl.facts dt{font-size:.86rem}header dl.facts div{min-width:0}"
    "dl.short{margin:1.4rem 0 0;border:2px solid var(--ink);border-radius:3px}"
    "dl.short div{display:grid;grid-template-columns:11rem 1fr;gap:.2rem 1.2rem;padding:.7rem 1rem}"
    "dl.short div+div{border-top:1px solid var(--line)}"
    "dl.short dt{font-weight:650}dl.short dd{margin:0;max-width:70ch}"
    ".label{font-weight:650;margin:.8rem 0 .1rem}"
    "ul,ol{margin:.2rem 0 .4rem;padding-left:1.25rem;max-width:70ch}li{margin:.15rem 0}ol{padding-left:1.9rem}"
    "ul.bare{list-style:none;padding-left:0}"
    ".caution{border:2px solid var(--ink);border-left-width:8px;border-radius:2px;padding:.25rem .9rem .35rem;"
    "margin:.8rem 0}.caution .label{margin-top:.2rem}"
    ".mark{width:1.05em;height:1.05em;vertical-align:-.16em;margin-right:.45em;flex:none}"
    ".legend{display:flex;flex-wrap:wrap;gap:.2rem 1.5rem;list-style:none;padding:0;margin:.8rem 0;max-width:none;"
    "color:var(--quiet)}"
    "fieldset.scheme{border:0;padding:0;margin:0 0 .6rem;display:flex;flex-wrap:wrap;gap:0 1.2rem;"
    "align-items:center;color:var(--quiet)}"
    "fieldset.scheme legend{float:left;margin-right:1.2rem;padding:0}"
    "fieldset.scheme label{display:inline-flex;align-items:center;gap:.45rem;min-height:48px}"
    "fieldset.scheme input{width:1.25rem;height:1.25rem;margin:0;accent-color:var(--accent)}"
)

_TABLES: Final = (
    "table{border-collapse:collapse;width:100%;margin:.4rem 0}"
    "caption{text-align:left;color:var(--quiet);padding:.2rem 0}"
    ".unseen{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}"
    "th,td{text-align:left;vertical-align:top;padding:.34rem .9rem .34rem 0;border-bottom:1px solid var(--line)}"
    "thead th{border-bottom:2px solid var(--ink);font-weight:650;vertical-align:bottom}"
    "tbody th{font-weight:400}tbody th.valve{font-weight:650}"
    "th:last-child,td:last-child{padding-right:0}"
    ".state{white-space:nowrap}"
    ".doubt{text-decoration:underline wavy;text-decoration-thickness:.07em;text-underline-offset:.22em;cursor:help}"
    ".reason{display:none;white-space:normal;color:var(--quiet);font-size:.92em;max-width:22rem}"
    f"@media screen and (min-width:{STACKS_BELOW_PX + 1}px){{.state{{position:relative}}.reason{{position:absolute;"
    "z-index:1;width:22rem;background:var(--paper);border:1px solid var(--line);border-radius:2px;padding:.4rem .6rem}}"
    ".doubt:hover+.reason,.doubt:focus+.reason{display:block}"
    "table:not(.stacks) :is(th,td){padding-right:.6rem;overflow-wrap:normal}"
)

_SHEETS: Final = (
    ".sheet{margin:1.4rem 0 2.2rem;padding-top:.8rem;border-top:1px solid var(--line)}"
    "h2+.sheet{border-top:0;padding-top:0;margin-top:0}"
    ".sheet .place{margin:.1rem 0 .6rem;color:var(--quiet)}"
    ".sides{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,25rem);gap:0 2.6rem}"
    ".sides.plain{grid-template-columns:minmax(0,1fr)}"
    ".sides>div>:first-child{margin-top:.2rem}"
    "figure{margin:.4rem 0 1rem}figcaption{color:var(--quiet);font-size:.92rem;margin-bottom:.2rem}"
    "figure svg{display:block;width:100%;height:auto;max-width:26rem}"
    ".sign{display:grid;grid-template-columns:repeat(auto-fit,minmax(14rem,1fr));gap:2.6rem 2rem;margin:2.4rem 0 1rem}"
    ".sign div{border-top:1px solid var(--ink);padding-top:.25rem;color:var(--quiet)}"
    ".sign b{display:block;color:var(--ink);font-weight:400;margin-top:-2rem;min-height:2rem}"
    "footer{padding-top:1rem;padding-bottom:3rem;color:var(--quiet)}"
)

_NARROW: Final = (
    f"@media (max-width:{STACKS_BELOW_PX}px){{"
    ".sides{grid-template-columns:minmax(0,1fr)}"
    "dl.short div{grid-template-columns:1fr}"
    "dl.facts{grid-template-columns:1fr;gap:0}dl.facts dd{margin-bottom:.5rem}"
    "header dl.facts{grid-template-columns:1fr;gap:.15rem}header dl.facts dt{font-size:1em}"
    "header dl.facts div{display:grid;grid-template-columns:9rem minmax(0,1fr);gap:.6rem}header dl.facts dd{margin:0}"
    "table.stacks,table.stacks tbody,table.stacks tr,table.stacks th,table.stacks td{display:block;width:auto}"
    "table.stacks thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}"
    "table.stacks tr{border-bottom:1px solid var(--line);padding:.6rem 0}"
    "table.stacks th,table.stacks td{border:0;padding:.06rem 0}"
    "table.stacks td[data-label]{display:grid;grid-template-columns:7.2rem minmax(0,1fr);gap:.6rem}"
    "table.stacks td[data-label]::before{content:attr(data-label);color:var(--quiet);font-family:" + SANS + "}"
    "table.stacks td.empty{display:none}"
    "table.compact td[data-label]{display:inline;color:var(--quiet)}"
    'table.compact td[data-label]::before{content:""}'
    'table.compact td[data-label]+td[data-label]::before{content:" · "}'
    "table.stacks td.state,table.stacks th.valve{display:inline-block;margin-right:.9rem}"
    "}"
)

_PRINT: Final = (
    "@media print{"
    f":root:root:has(#scheme-auto){{color-scheme:light;--size:1;{_tokens(PRINT)}}}"
    "html{font-size:8.6pt;line-height:1.35}@page{margin:15mm}"
    "h2{margin:1.6rem 0 .5rem}th,td{padding-top:.18rem;padding-bottom:.18rem}"
    ".sheet{margin:.9rem 0 1.2rem;padding-top:.5rem}.label{margin-top:.5rem}.caution{margin:.5rem 0}"
    "main,header,footer{max-width:none;padding:0}"
    ".skip,fieldset.scheme{display:none}.doubt+.reason{display:block}"
    ".sides{grid-template-columns:minmax(0,1fr) minmax(0,22rem);gap:0 1.6rem}"
    "tr,li,figure,.caution,dl.short,.sign{break-inside:avoid}h2,h3,.label{break-after:avoid}"
    ".sheet{break-inside:avoid}a{color:inherit;text-decoration:none}"
    "body,svg{-webkit-print-color-adjust:exact;print-color-adjust:exact}"
    "}"
)
