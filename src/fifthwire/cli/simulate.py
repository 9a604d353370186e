"""`fifthwire simulate`: what a described plant does, with nothing, one thing or several things wrong."""

import sys
from argparse import Namespace

from fifthwire.cli.blocks import show_page
from fifthwire.cli.exits import DONE
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.terminal import terminal
from fifthwire.workflow.simulating import (
    CLOSURES,
    open_plant,
    require_a_state,
    require_page_places,
    simulate_plant,
    state_content,
    state_to_json,
    write_pages,
)


def run(arguments: Namespace) -> int:
    """Simulate a plant and show it as was asked for."""
    require_page_places(arguments.report, overwrite=arguments.overwrite)
    opened = open_plant(arguments.plant)
    closures = CLOSURES if arguments.closure == "both" else (arguments.closure,)
    simulated = simulate_plant(opened, closures=closures)
    content = None if arguments.json and not arguments.report else state_content(simulated, units=arguments.units)
    if content is not None and arguments.report:
        write_pages(content, arguments.report, units=arguments.units, overwrite=arguments.overwrite)
        for path in arguments.report:
            terminal(sys.stderr).show(f"Page written: {path}")
    if arguments.json:
        show_as_json(state_to_json(simulated))
    elif content is not None:
        show_page(terminal(), content.title, content.facts, content.blocks, content.limits)
    require_a_state(simulated)
    return DONE
