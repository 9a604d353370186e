"""`fifthwire new`: a visit file, or a plant file, ready to fill in."""

import sys
from argparse import Namespace
from datetime import date

from fifthwire.cli.exits import DONE
from fifthwire.cli.terminal import terminal
from fifthwire.workflow.new_visit import PLANT_ENDING, new_plant, new_visit


def run(arguments: Namespace) -> int:
    """Write a new visit file and say what stands in it; a name that ends with .plant.toml is a plant's."""
    if arguments.file.lower().endswith(PLANT_ENDING):
        new_plant(arguments.file, source=arguments.source, overwrite=arguments.overwrite)
        terminal(sys.stderr).show(f"Written: {arguments.file}. Fill in the refrigerant and the indoor units first.")
        return DONE
    known = new_visit(arguments.file, today=date.today(), source=arguments.source, overwrite=arguments.overwrite)
    count = len(known.valves)
    valves = f" with {count} valve{'' if count == 1 else 's'}" if count else ""
    missing = "" if known.header.site else " Fill in site and system first."
    terminal(sys.stderr).show(f"Written: {arguments.file}{valves}.{missing}")
    return DONE
