"""The audit list, as it is kept: rows are added and never changed."""

from sqlalchemy import func, insert, select

from fifthwire.model.kept.page import PAGE_ROWS, Page
from fifthwire.model.kept.people import AUDITED, AuditRow, Person
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep
from fifthwire.register.tables.people import AUDIT


def write_down(keep: Keep, who: Person, what: str, about: str, detail: str = "") -> None:
    """Write down who did what, in the transaction that does it: either both are kept or neither.

    Parameters
    ----------
    keep : Keep
        The transaction.
    who : Person
        The actor.
    what : str
        A code of `AUDITED`.
    about : str
        What it was done to: a name that a person knows, or an id.
    detail : str
        More, in words.
    """
    row = {
        "id": new_id(keep.now_utc),
        "at_utc": keep.now_utc,
        "by": who.name[:100],
        "by_id": who.id[:100],
        "what": _known(what),
        "about": about[:200],
        "detail": detail[:2000],
    }
    keep.connection.execute(insert(AUDIT).values(row))


def audit_page(keep: Keep, page: int = 1) -> Page[AuditRow]:
    """A page of the audit list, the newest first."""
    n_rows = int(keep.connection.execute(select(func.count()).select_from(AUDIT)).scalar_one())
    found = select(AUDIT).order_by(AUDIT.c.at_utc.desc(), AUDIT.c.id.desc())
    rows = keep.connection.execute(found.limit(PAGE_ROWS).offset((page - 1) * PAGE_ROWS))
    return Page(rows=tuple(AuditRow(**row._mapping) for row in rows), page=page, n_rows=n_rows)


def _known(what: str) -> str:
    if what not in AUDITED:
        raise KeyError(what)
    return what
