"""The invented site: its visit, the truth about its valves, and the report made of it."""

import tomllib
from pathlib import Path
from typing import Final

import fifthwire.demo
from fifthwire.model.record import record
from fifthwire.visitfile import read_visit
from fifthwire.workflow.files import file_error, write_file
from fifthwire.workflow.laws import load_priors
from fifthwire.workflow.reporting import write_reports
from fifthwire.workflow.shipped import shipped_file
from fifthwire.workflow.visits import AssessedVisit, OpenVisit, assess_visit_file

VISIT_NAME: Final = "invented-site.visit.toml"
TRUTH_NAME: Final = "invented-site.truth.toml"
REPORT_NAMES: Final = ("invented-site.pdf", "invented-site.html")


@record
class Truth:
    """What is really wrong with a valve, and what its evidence is enough for."""

    cause: str
    actions: tuple[str, ...]
    """Of a careful technician with this visit's evidence; any of them is right."""


def demo_text(name: str) -> bytes:
    """A file of the invented site, as it was shipped."""
    return shipped_file(fifthwire.demo, name)


def demo_visit() -> OpenVisit:
    """The visit of the invented site."""
    content = demo_text(VISIT_NAME)
    read = read_visit(content, name=VISIT_NAME, syntax="toml")
    return OpenVisit(name=VISIT_NAME, syntax="toml", content=content, visit=read.visit, warnings=read.warnings)


def demo_truth() -> dict[str, Truth]:
    """The truth about each valve of the invented site, by its label."""
    read = tomllib.loads(demo_text(TRUTH_NAME).decode("utf-8"))
    return {label: Truth(cause=row["cause"], actions=tuple(row["action"])) for label, row in read.items()}


def assess_demo() -> AssessedVisit:
    """The invented site's visit with a verdict for every valve."""
    return assess_visit_file(demo_visit(), priors=load_priors())


def write_demo(assessed: AssessedVisit, directory: str, *, units: str = "si") -> tuple[Path, ...]:
    """Write the report as PDF and HTML, and the visit beside it to play with.

    The reports are the demo's own and are replaced; a visit that is there already may have been changed by its
    reader, and is left as it is.

    Parameters
    ----------
    assessed : AssessedVisit
        The invented site's visit, assessed.
    directory : str
        Where to; made where it is missing.
    units : str
        "si" or "us".

    Returns
    -------
    tuple[Path, ...]
        The files: reports first, then the visit.

    Raises
    ------
    VisitFileError
        If the directory cannot be made or written.
    """
    place = Path(directory)
    try:
        place.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as err:
        why = (getattr(err, "strerror", None) or str(err)).lower()
        raise file_error(directory, f"is no directory that can be written: {why}", "Name another with --out.") from err
    reports = tuple(place / name for name in REPORT_NAMES)
    write_reports(assessed, [str(path) for path in reports], units=units, overwrite=True)
    visit = place / VISIT_NAME
    if not visit.exists():
        write_file(visit, assessed.opened.content)
    return (*reports, visit)
