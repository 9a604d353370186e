"""Calibration of P(sound) as pictures: what was claimed against what was true, in `docs/pictures/`.

python -m benchmarks accuracy_plot
python -m benchmarks.accuracy_plot 4000 1      heads of each world, seed
"""

import sys
from math import sqrt
from pathlib import Path

from benchmarks.accuracy import WORLDS, Tally, calibration, shipped_laws, tally

PICTURE = Path(__file__).parent.parent / "docs" / "pictures" / "winding-calibration.svg"
PANELS = ("by the priors", "planned visit, 97 % good", "twice the scatter", "stated temperature 20 K too low")
SIDE, GAP, LEFT, TOP = 200, 56, 58, 44
"""Of a panel, between panels, and the margins. [px]"""
TICKS = (0.0, 0.25, 0.5, 0.75, 1.0)


def panel(name: str, t: Tally, left: float) -> str:
    """One panel: the diagonal, a point a bin with its 95 % bar, axes from 0 to 1."""

    def x(value: float) -> str:
        return f"{left + SIDE * value:.1f}"

    def y(value: float) -> str:
        return f"{TOP + SIDE * (1.0 - value):.1f}"

    marks = [f'<text x="{x(0)}" y="{TOP - 14}" class="title">{name}</text>']
    marks.append(f'<rect x="{x(0)}" y="{y(1)}" width="{SIDE}" height="{SIDE}" class="frame"/>')
    marks.append(f'<line x1="{x(0)}" y1="{y(0)}" x2="{x(1)}" y2="{y(1)}" class="true"/>')
    for tick in TICKS:
        marks.append(f'<text x="{x(tick)}" y="{TOP + SIDE + 18}" class="across">{tick:g}</text>')
        marks.append(f'<text x="{left - 6:.1f}" y="{float(y(tick)) + 4:.1f}" class="down">{tick:g}</text>')
    for claimed, true, n in calibration(t.claims):
        low, high = _interval(true, n)
        marks.append(f'<line x1="{x(claimed)}" y1="{y(low)}" x2="{x(claimed)}" y2="{y(high)}" class="bar"/>')
        marks.append(f'<circle cx="{x(claimed)}" cy="{y(true)}" r="4" class="point"/>')
    error = f"calibration error {t.calibration_error():.4f}"
    marks.append(f'<text x="{left + SIDE / 2:.1f}" y="{TOP + SIDE + 36}" class="across">P(sound) claimed</text>')
    marks.append(f'<text x="{left + SIDE / 2:.1f}" y="{TOP + SIDE + 54}" class="across">{error}</text>')
    return "\n".join(marks)


def _interval(share: float, n: int) -> tuple[float, float]:
    """95 % of a share by Wilson."""
    z = 1.96
    middle = (share + z * z / (2 * n)) / (1 + z * z / n)
    half = z * sqrt(share * (1 - share) / n + z * z / (4 * n * n)) / (1 + z * z / n)
    return max(0.0, middle - half), min(1.0, middle + half)


STYLE = """
  svg { background: #fff; font: 12px sans-serif; fill: #111 }
  .title { font-weight: bold } .across { text-anchor: middle } .down { text-anchor: end }
  .frame { fill: none; stroke: #777 } .true { stroke: #777; stroke-dasharray: 4 4 }
  .bar { stroke: #111; stroke-width: 1.5 } .point { fill: #fff; stroke: #111; stroke-width: 1.8 }
"""


def picture(tallies: dict[str, Tally]) -> str:
    """The whole picture, with a title and a description for those who do not see it."""
    width = LEFT + len(tallies) * (SIDE + GAP)
    height = TOP + SIDE + 66
    errors = "; ".join(f"{name}: calibration error {t.calibration_error():.4f}" for name, t in tallies.items())
    body = "\n".join(panel(name, t, LEFT + i * (SIDE + GAP)) for i, (name, t) in enumerate(tallies.items()))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img">\n'
        f"<title>Share of heads that were sound against P(sound) claimed, from 0 to 1</title>\n<desc>{errors}</desc>\n"
        f'<style>{STYLE}</style>\n<text transform="translate(14 {TOP + SIDE / 2}) rotate(-90)" class="across">'
        f"share that was sound</text>\n{body}\n</svg>\n"
    )


def main() -> int:
    """Write the picture and print what it shows."""
    given = [int(value) for value in sys.argv[1:]]
    n_heads, seed = (*given, *(4000, 1)[len(given) :])[:2]
    laws = shipped_laws()
    tallies = {name: tally(WORLDS[name], n_heads, seed, laws)["all"] for name in PANELS}
    PICTURE.write_text(picture(tallies), "utf-8")
    print(f"{PICTURE.name}: {n_heads} heads a panel, seed {seed}, ten bins of equal numbers, bars 95 %")
    for name, t in tallies.items():
        print(f"{name}: calibration error {t.calibration_error():.4f}")
        for claimed, true, n in calibration(t.claims):
            print(f"  claimed {claimed:.4f}, true {true:.4f} of {n}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
