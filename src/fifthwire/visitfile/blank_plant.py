"""A plant file ready to fill in: what is needed stands empty, every other key as a line that is not read yet."""

from collections.abc import Iterator
from typing import Final

from fifthwire.model.fields import FieldNote, Kind, describe
from fifthwire.model.plant import PLANT_FORMAT, Plant
from fifthwire.visitfile.blank import commented_line
from fifthwire.visitfile.examples import example_of
from fifthwire.visitfile.version import MAJOR

HEADING: Final = """\
# A plant to be simulated. What is left out is generic: it sets how large an effect comes out, not which way it goes.
# Lines that begin with # are not read; take the # away in front of a key to use it.
"""
_NEEDED: Final = ("units",)
"""Tables without which there is no plant."""


def plant_template() -> str:
    """A plant file with the keys that it needs, empty, and all others ready to be used.

    Returns
    -------
    str
        TOML; once the empty strings are filled in, it reads without a problem.
    """
    notes = describe(Plant)
    parts = [HEADING + f'format = "{PLANT_FORMAT}/{MAJOR}"\n']
    parts.append("\n".join(_key(note) for note in notes if note.record is None) + "\n")
    parts += ["\n".join(_table(note)) + "\n" for note in notes if note.record is not None]
    return "\n".join(parts)


def _table(note: FieldNote) -> Iterator[str]:
    assert note.record is not None, "only tables have keys"
    is_used = note.key in _NEEDED
    header = f"[[{note.key}]]" if note.kind is Kind.LIST and not note.or_one else f"[{note.key}]"
    yield f"# -- {note.help}"
    yield header if is_used else f"#{header}"
    for inner in describe(note.record):
        yield _key(inner)


def _key(note: FieldNote) -> str:
    """A needed key empty, any other one as a line that is not read."""
    if note.required:
        return commented_line(f'{note.key} = ""', note)
    return commented_line(f"#{note.key} = {example_of(note)}", note)
