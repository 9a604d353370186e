"""Sign a visit off: a numbered issue of its report, frozen with what it was made from; and read such an issue again."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from fifthwire import __version__
from fifthwire.assessment.assess import assess
from fifthwire.assessment.blocks import Column, Labelled, Paragraph, Report, Row, Section, Table
from fifthwire.assessment.content import report_content
from fifthwire.assessment.figures import day
from fifthwire.assessment.page import lay_out
from fifthwire.diagnosis.priors import Priors
from fifthwire.model.assessment import Assessment
from fifthwire.model.errors import Conflict, InputError, NotFound
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import EntryKept, Issue, IssueChange
from fifthwire.model.visit import Visit
from fifthwire.register import audit, issues, visits
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep, Register
from fifthwire.visitfile import read_visit, visit_to_json
from fifthwire.visitfile.entry_words import entry_words
from fifthwire.workflow.judging import MOST_TRIES, Judged, judge_as_it_stands, keep_judgement
from fifthwire.workflow.laws import load_priors
from fifthwire.workflow.permission import require

FROZEN: Final = (".html", ".pdf", ".json")
"""Of every issue: the report to read, the report to print, and the visit it was made from."""


def sign_off(
    register: Register,
    who: Person,
    visit_id: str,
    *,
    why: str | None = None,
    priors: Priors | None = None,
    with_print: bool = True,
) -> Issue:
    """Sign a visit off as it stands: the next issue of its report, which stays as it is.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        A lead or owner; the issue bears their name.
    visit_id : str
        The visit.
    why : str or None
        From the second issue on: why there is another.
    priors : Priors or None
        The laws to judge by; None: the shipped ones.
    with_print : bool
        Whether the PDF is made now, which takes most of a second; else when it is first asked for, by the same program
        with the same priors.

    Raises
    ------
    InputError
        If a further issue does not say why it is made, or nothing has changed since the last.
    NotFound
        If there is no such visit at the person's sites.
    """
    laws = priors or load_priors()
    for _ in range(MOST_TRIES):
        judged = judge_as_it_stands(register, who, visit_id, laws, "sign")
        with register.reading() as keep:
            issue, last_seq = _next_issue(keep, who, judged, why)
        files = _frozen(judged, issue, with_print=with_print)
        with register.adding() as keep:
            held = visits.hold(keep, visit_id)
            if (held.version, held.n_issues) != (judged.kept.version, issue.number - 1):
                continue
            made = keep_judgement(keep, who, judged)
            about = f"{held.site}, {held.system}, {held.date}"
            audit.write_down(keep, who, "signed-off", about, f"issue {issue.number}")
            return issues.add_issue(keep, replace(issue, judgement_id=made.id), last_seq, files)
    raise Conflict("Others keep adding to this visit.", "Nothing was signed. Try again once they are done.")


def _next_issue(keep: Keep, who: Person, judged: Judged, why: str | None) -> tuple[Issue, int]:
    """The issue to be made, with what changed since the last."""
    before = issues.issues_of(keep, judged.kept.id)
    reason = (why or "").strip()
    changes: tuple[IssueChange, ...] = ()
    if before:
        changes = _changes(keep, before[0], judged, reason, who)
        if not reason:
            raise InputError(
                f"Issue {before[0].number} is signed; another one says why it is made.", "Give the reason."
            )
    issue = Issue(
        id=new_id(keep.now_utc),
        visit_id=judged.kept.id,
        number=len(before) + 1,
        at_utc=keep.now_utc,
        by=who.name,
        inputs_sha256=judged.inputs_sha256,
        program=judged.assessment.program,
        priors_sha256=judged.assessment.priors_sha256,
        judgement_id="",
        changes=changes,
    )
    return issue, judged.kept.version


def _changes(keep: Keep, before: Issue, judged: Judged, why: str, who: Person) -> tuple[IssueChange, ...]:
    """What was added, struck out or judged otherwise since an issue.

    Raises
    ------
    InputError
        If nothing was.
    """
    last_seq = issues.last_seq_of(keep, before.id)
    now = visits.entries_of(keep, judged.kept.id)
    counted = {one.id for one in visits.entries_of(keep, judged.kept.id, until_seq=last_seq) if not one.is_void}
    made = [_change(one, "added", why) for one in now if one.seq > last_seq and not one.is_void]
    made += [
        _change(one, "no longer counts", _why_struck(one, now) or why)
        for one in now
        if one.is_void and one.id in counted
    ]
    assessment = judged.assessment
    if assessment.program != before.program:
        made.append(IssueChange(f"judged by Fifthwire {assessment.program} instead of {before.program}", why, who.name))
    if assessment.priors_sha256 != before.priors_sha256:
        made.append(IssueChange("judged by other priors", why, who.name))
    if not made:
        raise InputError(f"Nothing has changed since issue {before.number}.", "Nothing was signed; there is no need.")
    return tuple(replace(one, by=one.by or who.name) for one in made)


def _change(entry: EntryKept, what: str, why: str) -> IssueChange:
    return IssueChange(f"{entry_words(entry.path, entry.body)} ({what})", why, entry.by or "")


def _why_struck(entry: EntryKept, entries: Sequence[EntryKept]) -> str:
    """What the addition that strikes an entry out gives as its reason."""
    strike = next((one for one in entries if one.id == entry.instead and one.voids == entry.id), None)
    return "" if strike is None else str(strike.body.get("text", ""))


def _frozen(judged: Judged, issue: Issue, *, with_print: bool) -> dict[str, bytes]:
    report = issue_report_of(judged.visit, judged.assessment, issue)
    files = {
        ".html": lay_out(report).encode("utf-8"),
        ".json": visit_to_json(judged.visit).encode("utf-8"),
    }
    return {**files, ".pdf": _printed(report)} if with_print else files


def _printed(report: Report) -> bytes:
    from fifthwire.reports.pdf import print_out  # typst loads only where a PDF is made

    return print_out(report)


def issue_report_of(visit: Visit, assessment: Assessment, issue: Issue) -> Report:
    """The report of a visit as a signed issue: its number, who signed, what changed and what it is made from."""
    report = report_content(visit, assessment)
    signed = Labelled(label="Issue", text=f"{issue.number}, signed by {issue.by}, {day(issue.at_utc.date())}")
    sections = (*_changed(issue), *report.sections, _made_from(issue))
    return replace(
        report, title=f"{report.title}, issue {issue.number}", header=(signed, *report.header), sections=sections
    )


def _changed(issue: Issue) -> tuple[Section, ...]:
    if not issue.changes:
        return ()
    columns = (Column(label="What", share=2.0), Column(label="Why", share=1.5), Column(label="Who", share=0.5))
    rows = tuple(Row(cells=(one.what, one.why, one.by)) for one in issue.changes)
    heading = f"What changed since issue {issue.number - 1}"
    return (Section(anchor="changed", heading=heading, blocks=(Table(caption=heading, columns=columns, rows=rows),)),)


def _made_from(issue: Issue) -> Section:
    text = (
        f"Made from additions with the SHA-256 {issue.inputs_sha256} by Fifthwire {issue.program} "
        f"with priors of the SHA-256 {issue.priors_sha256 or 'not noted'}. A signed issue stays as it is; what is "
        "added later opens the next one."
    )
    return Section(
        anchor="made-from", heading="What this issue is made from", blocks=(Paragraph(text=text, tone="quiet"),)
    )


def issue_report(register: Register, who: Person, visit_id: str, number: int, suffix: str) -> bytes:
    """A signed issue as it was frozen.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    visit_id : str
        The visit.
    number : int
        Of the issue.
    suffix : str
        `.html`, `.pdf`, or `.json`: the visit that it was made from.

    Raises
    ------
    InputError
        If the suffix is none of these.
    NotFound
        If there is no such visit at the person's sites, or no such issue of it.
    """
    if suffix not in FROZEN:
        raise InputError(f"{suffix} is no form of an issue.", "Ask for .html, .pdf or .json.")
    with register.reading() as keep:
        kept = visits.visit(keep, visit_id)
        require(who, "read", site_id=kept.site_id)
        issue = issues.issue(keep, visit_id, number)
        found = issues.issue_file(keep, issue.id, suffix)
        visit = issues.issue_file(keep, issue.id, ".json") if found is None else None
    return found if found is not None else _print_later(register, issue, visit, suffix)


def _print_later(register: Register, issue: Issue, visit: bytes | None, suffix: str) -> bytes:
    """The print of an issue that was signed without it, made by the program and the priors it was signed with."""
    priors = load_priors()
    if suffix != ".pdf" or visit is None or (issue.program, issue.priors_sha256) != (__version__, priors.sha256):
        raise NotFound(f"Issue {issue.number} was signed without its {suffix}.", "Ask for its page: .html.")
    read = read_visit(visit, name="the issue", syntax="json")
    printed = _printed(issue_report_of(read.visit, assess(read.visit, priors, warnings=read.warnings), issue))
    with register.adding() as keep:
        kept = issues.issue_file(keep, issue.id, suffix)  # somebody else may have asked at the same time
        if kept is None:
            issues.add_file(keep, issue.id, suffix, printed)
    return kept or printed
