"""The report of a visit as it stands, to be read before it is signed: nothing is kept of it, and it says so."""

from dataclasses import replace

from fifthwire.assessment import report_content
from fifthwire.assessment.blocks import Labelled
from fifthwire.assessment.page import lay_out
from fifthwire.diagnosis.priors import Priors
from fifthwire.model.kept.people import Person
from fifthwire.register.store import Register
from fifthwire.workflow.judging import judge_as_it_stands
from fifthwire.workflow.laws import load_priors
from fifthwire.workflow.reporting import require_report_name


def draft_report(
    register: Register, who: Person, visit_id: str, suffix: str, *, units: str = "si", priors: Priors | None = None
) -> bytes:
    """The report of a visit as it stands now.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        Who reads it.
    visit_id : str
        The visit.
    suffix : str
        `.html` or `.pdf`.
    units : str
        "si" or "us".
    priors : Priors or None
        The laws to judge by; None: the shipped ones.

    Raises
    ------
    InputError
        If the suffix is neither.
    NotFound
        If there is no such visit at the person's sites.
    """
    require_report_name(f"report{suffix}")
    judged = judge_as_it_stands(register, who, visit_id, priors or load_priors(), "read")
    report = report_content(judged.visit, judged.assessment, units=units)
    not_signed = Labelled(label="Issue", text="none: not signed, it may still change")
    draft = replace(report, title=f"{report.title}, not signed", header=(not_signed, *report.header))
    if suffix == ".html":
        return lay_out(draft).encode("utf-8")
    from fifthwire.reports.pdf import print_out  # typst loads only where a PDF is made

    return print_out(draft)
