"""`fifthwire make-log`: a recorder's log of an invented plant, with its map and its truth."""

import sys
from argparse import Namespace

from fifthwire.cli.exits import DONE
from fifthwire.cli.terminal import terminal
from fifthwire.workflow.simulating import log_lines, make_plant_log


def run(arguments: Namespace) -> int:
    """Make a log and say where it stands."""
    made = make_plant_log(
        arguments.plant,
        days=arguments.days,
        seed=arguments.seed,
        period=arguments.period,
        begins=arguments.begin,
        stem=arguments.out,
        overwrite=arguments.overwrite,
    )
    screen = terminal(sys.stderr)
    for text in log_lines(made):
        for line in screen.wrapped(text):
            screen.show(line)
    return DONE
