"""What an entry says in the one spelling in which a file is written: bare numbers in the units of the format.

On the page a person may write "118 psig" or a whole number; the entry keeps it so. Whether a file says the same is told
in this spelling.
"""

from collections.abc import Mapping
from typing import Any

from fifthwire.model.visit import VISIT_MINOR, VisitHeader
from fifthwire.visitfile.context import Context
from fifthwire.visitfile.entry_paths import FILE_PATH, READING, kind_of
from fifthwire.visitfile.problems import Problems
from fifthwire.visitfile.reading import set_air_and_zone
from fifthwire.visitfile.records import read_record
from fifthwire.visitfile.tables import read_readings
from fifthwire.visitfile.writing import table_of


def normal_body(path: str, body: Mapping[str, Any], header: VisitHeader) -> Mapping[str, Any]:
    """The body of an entry as a file would hold it; as it is where it cannot be read.

    Parameters
    ----------
    path : str
        Where the entry stands.
    body : mapping
        What it says.
    header : VisitHeader
        Of the visit: gauge pressures and local times are read with it.

    Examples
    --------
    >>> from datetime import date
    >>> at = VisitHeader(date=date(2026, 5, 12), site="A", system="B")
    >>> normal_body("valves/V/readings", {"reading": ["5", "1", "0.046 kohm"]}, at)
    {'reading': ['5', '1', 46.0]}
    """
    kind = kind_of(path)
    if kind is None or path == FILE_PATH:
        return body
    problems = Problems("entry", "json")
    context = Context(problems)
    context.minor, context.keeps_unknown = VISIT_MINOR, True
    set_air_and_zone({"visit": table_of(header)}, context)
    if kind.record is None:
        rows = read_readings([body.get(READING)], (), context)
        value = ["open" if of.ohm is None else of.ohm for of in rows]
        said: Mapping[str, Any] = {READING: [rows[0].wire_a, rows[0].wire_b, *value]} if rows else body
    else:
        said = table_of(read_record(kind.record, dict(body), (), context))
    return body if len(problems) else said
