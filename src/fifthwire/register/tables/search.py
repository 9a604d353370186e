"""What the search looks through: one row a thing, with its words as `register.search` parts them.

SQLite keeps an FTS5 index beside the table, PostgreSQL a tsvector with a GIN index. The starts of words are indexed
too, since whoever searches types the start; in PostgreSQL together with the kind of thing, so that it knows how
common a word is among each. The database itself keeps either current (triggers, a generated column): no statement can
forget it.
"""

from typing import Final

from sqlalchemy import BigInteger, Column, Index, Integer, String, Table, Text, UniqueConstraint

from fifthwire.register.tables.schema import BY_HAND, METADATA
from fifthwire.register.words import LONGEST_WORD

SEARCH_TEXTS: Final = Table(
    "search_texts",
    METADATA,
    Column("id", BigInteger().with_variant(Integer, "sqlite"), primary_key=True, autoincrement=True),
    Column("kind", String(8), nullable=False),
    Column("about_id", String(26), nullable=False),
    Column("site_id", String(26)),
    Column("title", Text, nullable=False),
    Column("place", Text, nullable=False),
    Column("body", Text, nullable=False),
    Column("words", Text, nullable=False),
    UniqueConstraint("kind", "about_id"),
    Index("ix_search_texts_site_id", "site_id"),
)
LONGEST_START: Final = 8
"""Letters of a word's start that are indexed as they are; a longer start is looked for among the words.  Our choice."""
_STARTS: Final = "{" + ",".join(str(n) for n in (*range(1, LONGEST_START + 1), LONGEST_WORD)) + "}"
"""Of these lengths; a word that is shorter is its own start."""
BY_HAND["sqlite"] += [
    "CREATE VIRTUAL TABLE search_index USING fts5(kind, words, content='search_texts', content_rowid='id',"
    " tokenize='unicode61 remove_diacritics 0', prefix='1 2 3 4 5 6 7 8', detail=column, columnsize=0)",
    "CREATE TRIGGER search_added AFTER INSERT ON search_texts BEGIN"
    " INSERT INTO search_index(rowid, kind, words) VALUES (new.id, new.kind, new.words); END",
    "CREATE TRIGGER search_gone AFTER DELETE ON search_texts BEGIN"
    " INSERT INTO search_index(search_index, rowid, kind, words) VALUES ('delete', old.id, old.kind, old.words); END",
    "CREATE TRIGGER search_changed AFTER UPDATE ON search_texts BEGIN"
    " INSERT INTO search_index(search_index, rowid, kind, words) VALUES ('delete', old.id, old.kind, old.words);"
    " INSERT INTO search_index(rowid, kind, words) VALUES (new.id, new.kind, new.words); END",
]
BY_HAND["postgresql"] += [
    "CREATE FUNCTION search_lexemes(kind text, words text) RETURNS tsvector LANGUAGE sql IMMUTABLE PARALLEL SAFE AS"
    " $$ SELECT array_to_tsvector(ARRAY(SELECT kind || '=' || left(word, n)"
    f" FROM unnest(string_to_array(words, ' ')) AS word, unnest('{_STARTS}'::int[]) AS n WHERE word <> '')) $$",
    "ALTER TABLE search_texts ADD COLUMN word_vector tsvector GENERATED ALWAYS AS (search_lexemes(kind, words)) STORED",
    "CREATE INDEX search_index ON search_texts USING gin (word_vector)",
]
