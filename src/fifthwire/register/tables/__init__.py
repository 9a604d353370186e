"""The tables, by topic. All stand in the one `schema.METADATA`; each topic's module is named here."""

from fifthwire.register.tables import manuals, notes, people, photographs, places, search, todo, visits
from fifthwire.register.tables.schema import METADATA

__all__ = ["METADATA", "manuals", "notes", "people", "photographs", "places", "search", "todo", "visits"]
