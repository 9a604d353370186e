"""Signed issues of a visit's report: numbered, never changed, each with the files that were frozen with it."""

from collections.abc import Mapping
from hashlib import sha256

from sqlalchemy import select, update

from fifthwire.model.errors import NotFound
from fifthwire.model.kept.visits import Issue, IssueChange
from fifthwire.register.places import LOOK
from fifthwire.register.rows import put, record_of, values_of
from fifthwire.register.store import Keep
from fifthwire.register.tables.visits import ISSUE_FILES, ISSUES, VISITS


def add_issue(keep: Keep, issue: Issue, last_seq: int, files: Mapping[str, bytes]) -> Issue:
    """Keep a new issue with its files; the visit is signed as it stands.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    issue : Issue
        The next of its visit.
    last_seq : int
        The last addition that it holds.
    files : mapping
        Content by suffix: `.html`, `.pdf`, `.json`.
    """
    changes = [[one.what, one.why, one.by] for one in issue.changes]
    put(keep, ISSUES, [values_of(issue, ISSUES, last_seq=last_seq, changes=changes)])
    for suffix, content in files.items():
        add_file(keep, issue.id, suffix, content)
    signed = {"is_signed": True, "n_issues": issue.number}
    keep.connection.execute(update(VISITS).where(VISITS.c.id == issue.visit_id).values(signed))
    return issue


def add_file(keep: Keep, issue_id: str, suffix: str, content: bytes) -> None:
    """Freeze one file of an issue."""
    row = {"issue_id": issue_id, "suffix": suffix, "sha256": sha256(content).hexdigest(), "content": content}
    put(keep, ISSUE_FILES, [row])


def issues_of(keep: Keep, visit_id: str) -> tuple[Issue, ...]:
    """Every issue of a visit, newest first."""
    query = select(ISSUES).where(ISSUES.c.visit_id == visit_id).order_by(ISSUES.c.number.desc())
    return tuple(
        record_of(Issue, row, changes=tuple(IssueChange(*one) for one in row.changes))
        for row in keep.connection.execute(query)
    )


def last_seq_of(keep: Keep, issue_id: str) -> int:
    """The last addition that an issue holds."""
    return int(keep.connection.execute(select(ISSUES.c.last_seq).where(ISSUES.c.id == issue_id)).scalar_one())


def issue(keep: Keep, visit_id: str, number: int) -> Issue:
    """An issue by its number.

    Raises
    ------
    NotFound
        If the visit has none of that number.
    """
    found = next((one for one in issues_of(keep, visit_id) if one.number == number), None)
    if found is None:
        raise NotFound(f"The visit has no issue {number}.", LOOK)
    return found


def issue_file(keep: Keep, issue_id: str, suffix: str) -> bytes | None:
    """A frozen file of an issue; None where it was not frozen with it."""
    query = select(ISSUE_FILES.c.content).where(ISSUE_FILES.c.issue_id == issue_id, ISSUE_FILES.c.suffix == suffix)
    found = keep.connection.execute(query).scalar()
    return None if found is None else bytes(found)
