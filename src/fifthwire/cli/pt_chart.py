"""`fifthwire pt-chart`: the pressures of a refrigerant by temperature, on the screen, as JSON and to print."""

import sys
from argparse import Namespace

from fifthwire.assessment.pt_chart import ChartContent, chart_content
from fifthwire.cli.exits import DONE
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.terminal import Terminal, terminal
from fifthwire.workflow.saturation import chart_to_json, pressure_chart, require_chart_place, write_chart

GAP = "  "


def run(arguments: Namespace) -> int:
    """Make a chart and show it as was asked for."""
    if arguments.report is not None:
        require_chart_place(arguments.report, overwrite=arguments.overwrite)
    chart = pressure_chart(
        arguments.refrigerant,
        first=arguments.first,
        last=arguments.last,
        step=arguments.step,
        units=arguments.units,
        altitude=arguments.altitude,
        barometer=arguments.barometer,
    )
    if arguments.report is not None:
        write_chart(chart, arguments.report, overwrite=arguments.overwrite)
        terminal(sys.stderr).show(f"Chart written: {arguments.report}")
    if arguments.json:
        show_as_json(chart_to_json(chart))
    else:
        _show(chart_content(chart), terminal())
    return DONE


def _show(content: ChartContent, screen: Terminal) -> None:
    screen.show(screen.bold(content.title))
    for one in content.facts:
        screen.show(f"{one.label}: {one.text}")
    screen.show()
    widths = [max(len(row[at]) for row in (content.columns, *content.rows)) for at in range(len(content.columns))]
    for row in (content.columns, *content.rows):
        screen.show(GAP.join(cell.rjust(width) for cell, width in zip(row, widths, strict=True)))
    screen.show()
    for text in (*content.notes, *content.cautions):
        for line in screen.wrapped(text):
            screen.show(line)
