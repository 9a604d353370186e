"""`fifthwire assess`: a verdict for every valve of a visit, on the screen, as JSON and as a report."""

import sys
from argparse import Namespace

from fifthwire.assessment.figures import day
from fifthwire.cli.exits import DONE
from fifthwire.cli.running import running_lines
from fifthwire.cli.table import valve_table
from fifthwire.cli.terminal import Terminal, terminal
from fifthwire.model.errors import InputError
from fifthwire.model.reasons import WARNINGS, say
from fifthwire.workflow.laws import load_priors
from fifthwire.workflow.visits import AssessedVisit, assess_visit_file, open_visit, require_valve


def run(arguments: Namespace) -> int:
    """Assess a visit file and show what was asked for."""
    if arguments.report:
        from fifthwire.workflow.reporting import require_report_places

        require_report_places(arguments.report, overwrite=arguments.overwrite)
    priors = load_priors(arguments.priors, with_checksum=bool(arguments.report))
    opened = open_visit(arguments.visit)
    for label in (arguments.only, arguments.explain):
        if label is not None:
            require_valve(opened, label)
    if arguments.only is not None and arguments.explain not in (None, arguments.only):
        raise InputError("--only and --explain name two valves", "Name the same one, or leave --only out.")
    assessed = assess_visit_file(opened, priors=priors, only=arguments.only)
    _write_reports(assessed, arguments)
    if arguments.json:
        show_json(assessed)
    if arguments.explain is not None:
        from fifthwire.cli.explain import explanation

        screen = terminal(sys.stderr if arguments.json else sys.stdout)
        for line in explanation(assessed, arguments.explain, screen, units=arguments.units):
            screen.show(line)
    elif not arguments.json:
        show_table(assessed, terminal(), units=arguments.units)
    return DONE


def _write_reports(assessed: AssessedVisit, arguments: Namespace) -> None:
    if not arguments.report:
        return
    from fifthwire.workflow.reporting import write_reports

    write_reports(assessed, arguments.report, units=arguments.units, overwrite=arguments.overwrite)
    talk = terminal(sys.stderr)
    for path in arguments.report:
        talk.show(f"Report written: {path}")


def show_json(assessed: AssessedVisit) -> None:
    """The assessment as JSON and nothing else."""
    from json import dumps

    from fifthwire.assessment import assessment_to_json

    is_unicode = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
    text = dumps(assessment_to_json(assessed.assessment), indent=2, ensure_ascii=not is_unicode, allow_nan=False)
    sys.stdout.write(text + "\n")


def show_table(assessed: AssessedVisit, screen: Terminal, *, units: str = "si") -> None:
    """One line a valve, then how the system ran; what is doubtful in the file as a whole goes to standard error."""
    assessment = assessed.assessment
    header = assessed.visit.header
    screen.show(f"{header.site} · {header.system} · {day(header.date)}")
    if not assessment.valves:
        screen.show("The visit lists no valves.")
    for line in valve_table(assessed, screen):
        screen.show(line)
    for line in running_lines(assessed, units=units):
        for part in screen.wrapped(line):
            screen.show(part)
    talk = terminal(sys.stderr)
    for warning in assessment.warnings:
        for line in talk.wrapped(f"{assessed.opened.name}: {say(WARNINGS, warning.code, warning.values)}"):
            talk.show(line)
