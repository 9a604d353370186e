"""`fifthwire atlas`: every valve of a plant at every position under several loads."""

import sys
from argparse import Namespace

from fifthwire.cli.blocks import show_page
from fifthwire.cli.exits import DONE
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.terminal import terminal
from fifthwire.workflow.simulating import (
    atlas_content,
    atlas_of_valve,
    atlas_to_json,
    open_plant,
    require_page_places,
    run_atlas,
    write_pages,
)


def run(arguments: Namespace) -> int:
    """Work out an atlas and show it as was asked for."""
    require_page_places(arguments.report, overwrite=arguments.overwrite)
    made = run_atlas(open_plant(arguments.plant), closure=arguments.closure)
    content = atlas_content(made, units=arguments.units)
    shown = content if arguments.valve is None else atlas_of_valve(made, arguments.valve, units=arguments.units)
    if arguments.report:
        write_pages(content, arguments.report, units=arguments.units, overwrite=arguments.overwrite)
        for path in arguments.report:
            terminal(sys.stderr).show(f"Page written: {path}")
    if arguments.json:
        show_as_json(atlas_to_json(made))
    else:
        show_page(terminal(), shown.title, shown.facts, shown.blocks, shown.limits)
    return DONE
