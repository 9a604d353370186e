"""The texts of the pages out of the catalogue: English is what stands in the templates, other languages are files.

A language is a file `web/locale/LANGUAGE.po`; `tools/texts.py` writes the catalogue `web/locale/fifthwire.pot` that it
is made from.
"""

import gettext
from functools import cache
from importlib.resources import files
from io import BytesIO
from typing import Final

import fifthwire.web

SOURCE_LANGUAGE: Final = "en"
"""That of the templates."""


@cache
def languages() -> tuple[str, ...]:
    """The languages there are, that of the templates first."""
    place = files(fifthwire.web) / "locale"
    found = sorted(one.name.removesuffix(".po") for one in place.iterdir() if one.name.endswith(".po"))
    return (SOURCE_LANGUAGE, *(one for one in found if one != SOURCE_LANGUAGE))


@cache
def texts_of(language: str) -> gettext.NullTranslations:
    """The texts of a language; those of the templates where it has none of its own."""
    place = files(fifthwire.web) / "locale" / f"{language}.po"
    if language not in languages() or not place.is_file():
        return gettext.NullTranslations()
    return compiled(place.read_bytes())


def compiled(catalogue: bytes) -> gettext.GNUTranslations:
    """The texts of a catalogue, a `.po` file."""
    from babel.messages.mofile import write_mo  # only where there is another language
    from babel.messages.pofile import read_po

    written = BytesIO()
    write_mo(written, read_po(BytesIO(catalogue)))
    written.seek(0)
    return gettext.GNUTranslations(written)


def language_for(accepted: str) -> str:
    """The language of a page, by what the browser accepts, most wanted first.

    Examples
    --------
    >>> language_for("fr;q=0.9, en-GB, en;q=0.8"), language_for("")
    ('en', 'en')
    """
    wanted = sorted((_wanted(part) for part in accepted.split(",") if part.strip()), key=lambda one: -one[1])
    for language, _ in wanted:
        if language in languages():
            return language
        if language.partition("-")[0] in languages():
            return language.partition("-")[0]
    return SOURCE_LANGUAGE


def _wanted(part: str) -> tuple[str, float]:
    language, _, quality = part.strip().partition(";q=")
    try:
        return language.strip(), float(quality) if quality else 1.0
    except ValueError:
        return language.strip(), 0.0
