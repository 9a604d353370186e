"""Write the report of an assessed visit: PDF for printing and signing, one HTML page for anything with a screen."""

from fifthwire.model.errors import InputError
from fifthwire.workflow.files import refuse_existing, write_file
from fifthwire.workflow.visits import AssessedVisit

REPORT_SUFFIXES = (".pdf", ".html")


def require_report_name(path: str) -> str:
    """The suffix of a report's name.

    Raises
    ------
    InputError
        If it is neither a PDF nor an HTML page.
    """
    for suffix in REPORT_SUFFIXES:
        if path.lower().endswith(suffix):
            return suffix
    raise InputError(f"{path}: a report is written as .pdf or .html", "Give it one of these endings.")


def require_report_places(paths: list[str], *, overwrite: bool) -> None:
    """Stop before anything is assessed where a report could not be written.

    Raises
    ------
    InputError
        If a suffix is unknown, a file is already there, or its directory is missing.
    """
    for path in paths:
        require_report_name(path)
        refuse_existing(path, overwrite=overwrite)


def write_reports(assessed: AssessedVisit, paths: list[str], *, units: str = "si", overwrite: bool = False) -> None:
    """Write the report under each name, in the form its suffix asks for.

    Every name is looked at before the first is written, and every report is made before the first is written, so that
    a wrong name or a failure leaves nothing half-done.

    Raises
    ------
    InputError
        If a suffix is unknown, a file is already there, or a place cannot be written.
    """
    require_report_places(paths, overwrite=overwrite)
    made = [(path, _report(assessed, require_report_name(path), units)) for path in paths]
    for path, content in dict(made).items():  # a name given twice is one report
        write_file(path, content, overwrite=overwrite)


def _report(assessed: AssessedVisit, suffix: str, units: str) -> bytes:
    if suffix == ".html":
        from fifthwire.assessment import report_page  # loads only where a page is asked for

        return report_page(assessed.visit, assessed.assessment, units=units).encode("utf-8")
    from fifthwire.reports import pdf_report  # typst loads only where a PDF is asked for

    return pdf_report(assessed.visit, assessed.assessment, units=units)
