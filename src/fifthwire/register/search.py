"""One index over everything that has a name or a text, and what it finds."""

from collections.abc import Iterable, Sequence
from typing import Any, Final

from sqlalchemy import ColumnElement, Select, column, delete, exists, func, or_, select, table, text
from sqlalchemy import literal_column as literal

from fifthwire.model.kept.notes import HIT_KINDS, Hit
from fifthwire.model.kept.page import PAGE_ROWS, Page
from fifthwire.model.record import record
from fifthwire.register.rows import in_parts, put
from fifthwire.register.store import Keep
from fifthwire.register.tables.notes import NOTES
from fifthwire.register.tables.search import LONGEST_START, SEARCH_TEXTS
from fifthwire.register.words import excerpt, question_words, words_of

_T: Final = SEARCH_TEXTS.c
_SQLITE_INDEX: Final = table("search_index", column("rowid"))
MOST_COUNTED: Final = 1000
"""Hits of one kind that are counted; who finds more looks for too little.  Our choice."""


@record
class SearchText:
    """Something that can be found."""

    kind: str
    """One of HIT_KINDS."""
    about_id: str
    site_id: str | None = None
    """None for what belongs to no site."""
    title: str
    place: str = ""
    """Where it is, as people say it: site, system."""
    body: str = ""


def let_find(keep: Keep, texts: Iterable[SearchText], *, are_new: bool = False) -> None:
    """Put things into the index, in place of what stood there of them.

    Parameters
    ----------
    keep : Keep
        A transaction that writes.
    texts : iterable of SearchText
        What can be found.
    are_new : bool
        None of them stands in it yet.
    """
    given = list(texts)
    if not are_new:
        forget(keep, [(one.kind, one.about_id) for one in given])
    put(keep, SEARCH_TEXTS, [_row(one) for one in given])


def forget(keep: Keep, things: Sequence[tuple[str, str]]) -> None:
    """Take things out of the index, each by its kind and id."""
    for kind in {kind for kind, _ in things}:
        for ids in in_parts([about for of, about in things if of == kind]):
            keep.connection.execute(delete(SEARCH_TEXTS).where(_T.kind == kind, _T.about_id.in_(ids)))


def _row(one: SearchText) -> dict[str, Any]:
    words = dict.fromkeys(words_of(one.title, one.place, one.body))
    return {
        "kind": one.kind, "about_id": one.about_id, "site_id": one.site_id, "title": one.title, "place": one.place,
        "body": one.body, "words": " ".join(words),
    }  # fmt: skip


def search(keep: Keep, asked: str, *, site_ids: tuple[str, ...] | None = None, page: int = 1) -> Page[Hit]:
    """What holds a word that starts with each of the words asked for: sites first, notes last.

    Parameters
    ----------
    keep : Keep
        A transaction.
    asked : str
        What was typed.
    site_ids : tuple of str or None
        Only of these sites; None: of all.
    page : int
        From 1.

    Returns
    -------
    Page of Hit
        Of each kind at most MOST_COUNTED are counted.
    """
    words = question_words(asked)
    if not words:
        return Page(rows=(), page=1, n_rows=0)
    counts = {kind: _count(keep, words, kind, site_ids) for kind in HIT_KINDS}
    first = (max(page, 1) - 1) * PAGE_ROWS
    found: list[Hit] = []
    for kind, count in counts.items():
        if first < count and len(found) < PAGE_ROWS:
            found += _hits(keep, words, kind, site_ids, first, min(PAGE_ROWS - len(found), count - first))
        first = max(0, first - count)
    return Page(rows=tuple(found), page=max(page, 1), n_rows=sum(counts.values()))


def in_index(keep: Keep, words: Sequence[str], kind: str) -> Select[Any]:
    """A row for each thing of a kind that holds words that start so: to be counted, from the index alone."""
    source, conditions = _matching(keep, words, kind, None)
    return select(literal("1")).select_from(_SQLITE_INDEX if keep.dialect == "sqlite" else source).where(*conditions)


def holds(keep: Keep, words: Sequence[str], kind: str, of: ColumnElement[Any]) -> ColumnElement[bool]:
    """Whether the thing of an id holds words that start so, as a condition of another query.

    Where few do, the index names them all; where many do, each row that is looked at is asked by itself, since one
    page of a list needs only the first of them.
    """
    some = in_index(keep, words, kind).limit(MOST_COUNTED).subquery()
    if keep.connection.execute(select(func.count()).select_from(some)).scalar_one() < MOST_COUNTED:
        source, conditions = _matching(keep, words, kind, None)
        return of.in_(select(_T.about_id).select_from(source).where(*conditions))
    starts = [(literal("' '") + _T.words).like(f"% {word}%") for word in words]
    return exists(select(_T.id).where(_T.kind == kind, _T.about_id == of, *starts).correlate_except(SEARCH_TEXTS))


def _matching(keep: Keep, words: Sequence[str], kind: str, site_ids: tuple[str, ...] | None) -> tuple[Any, list[Any]]:
    """Where to search and for what, as each engine's index understands it. Words are letters and digits alone."""
    mine: list[Any] = [] if site_ids is None else [or_(_T.site_id.in_(site_ids), _T.site_id.is_(None))]
    if keep.dialect == "sqlite":
        asked = " AND ".join(f"words:{word}*" for word in words)
        found = text("search_index MATCH :asked").bindparams(asked=f"kind:{kind} AND {asked}")
        return _SQLITE_INDEX.join(SEARCH_TEXTS, _T.id == _SQLITE_INDEX.c.rowid), [found, *mine]
    asked = " & ".join(f"'{kind}={word}'{':*' if len(word) > LONGEST_START else ''}" for word in words)
    match = literal("word_vector").op("@@")(text("CAST(:asked AS tsquery)").bindparams(asked=asked))
    return SEARCH_TEXTS, [match, *mine]


def _count(keep: Keep, words: Sequence[str], kind: str, site_ids: tuple[str, ...] | None) -> int:
    source, conditions = _matching(keep, words, kind, site_ids)
    counted: Any = _T.id
    if keep.dialect == "sqlite" and site_ids is None:
        source, counted = _SQLITE_INDEX, _SQLITE_INDEX.c.rowid  # the index alone knows how many
    some = select(counted).select_from(source).where(*conditions).limit(MOST_COUNTED).subquery()
    return int(keep.connection.execute(select(func.count()).select_from(some)).scalar_one())


def _hits(
    keep: Keep, words: list[str], kind: str, site_ids: tuple[str, ...] | None, first: int, n_rows: int
) -> list[Hit]:
    source, conditions = _matching(keep, words, kind, site_ids)
    query = select(SEARCH_TEXTS).select_from(source).where(*conditions)
    in_order = (
        literal("search_index.rowid") if keep.dialect == "sqlite" else _T.id
    )  # the index's own order costs nothing
    rows = keep.connection.execute(query.order_by(in_order).offset(first).limit(n_rows)).all()
    about = _noted(keep, [row.about_id for row in rows]) if kind == "note" else {}
    return [
        Hit(
            kind=row.kind,
            id=row.about_id,
            title=row.title,
            where=row.place,
            excerpt=excerpt(row.body, words),
            about_kind=about.get(row.about_id, (None, None))[0],
            about_id=about.get(row.about_id, (None, None))[1],
        )
        for row in rows
    ]


def _noted(keep: Keep, note_ids: Sequence[str]) -> dict[str, tuple[str, str]]:
    """What each note is about: kind and id."""
    rows = keep.connection.execute(
        select(NOTES.c.id, NOTES.c.about_kind, NOTES.c.about_id).where(NOTES.c.id.in_(note_ids))
    )
    return {row.id: (row.about_kind, row.about_id) for row in rows}
