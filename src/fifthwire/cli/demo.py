"""`fifthwire demo`: the main job, on the example visit of an invented site."""

import sys
from argparse import Namespace

from fifthwire.assessment.summary import three_lines
from fifthwire.cli.assess import show_table
from fifthwire.cli.exits import DONE
from fifthwire.cli.terminal import terminal
from fifthwire.demo.site import assess_demo, write_demo


def run(arguments: Namespace) -> int:
    """Assess the invented site, show the table and the customer's lines, write the reports."""
    screen = terminal(sys.stdout)
    screen.show("Example visit of an invented site: every name and number in it is made up.")
    assessed = assess_demo()
    paths = write_demo(assessed, arguments.out, units=arguments.units)
    screen.show()
    show_table(assessed, screen)
    screen.show()
    for label, line in three_lines(assessed.visit, assessed.assessment).labelled():
        for shown in screen.wrapped(f"{label}: {line}"):
            screen.show(shown)
    screen.show()
    screen.show("Report: " + ", ".join(str(path) for path in paths[:-1]))
    screen.show(f"The visit it was made of: {paths[-1]}")
    return DONE
