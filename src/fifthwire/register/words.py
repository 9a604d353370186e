"""Texts into the words that are searched for, the same on both engines."""

import unicodedata
from re import compile as pattern
from typing import Final

_WORD: Final = pattern(r"[^\W_]+")
LONGEST_WORD: Final = 64
"""Characters of a word that count.  Our choice; PostgreSQL takes no word over 2 kB."""
MOST_WORDS: Final = 12
"""Words of one question.  Our choice."""


def words_of(*texts: str | None) -> list[str]:
    """Lower case, without accents, parted at everything that is no letter or digit.

    >>> words_of("OU1-subcooler", "Café Ω", None)
    ['ou1', 'subcooler', 'cafe', 'ω']
    """
    plain = unicodedata.normalize("NFKD", " ".join(text for text in texts if text).casefold())
    bare = "".join(sign for sign in plain if not unicodedata.combining(sign))
    return [word[:LONGEST_WORD] for word in _WORD.findall(bare)]


def question_words(text: str) -> list[str]:
    """The words of a question, each once."""
    return list(dict.fromkeys(words_of(text)))[:MOST_WORDS]


def excerpt(text: str, words: list[str], *, width: int = 160) -> str:
    """The part of a text around the first of the words; the start of it where none stands in it.

    >>> excerpt("Insulation torn at the elbow.", ["elbow"], width=20)
    '… torn at the elbow.'
    """
    flat = " ".join(text.split())
    if len(flat) <= width:
        return flat
    lower = flat.casefold()
    places = [at for at in (lower.find(word) for word in words) if at >= 0]
    start = max(0, min(places, default=0) - width // 3)
    end = min(len(flat), start + width)
    start = max(0, end - width)
    start = flat.rfind(" ", 0, start + 1) + 1 if start else 0
    if end - start > width:
        start = flat.find(" ", start) + 1
    return ("… " if start else "") + flat[start:end].rstrip() + (" …" if end < len(flat) else "")
