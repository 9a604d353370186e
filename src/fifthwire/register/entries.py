"""A visit as the set of its entries. The work is done in the core, which a phone without a register has too."""

from fifthwire.visitfile.entry_normal import normal_body
from fifthwire.visitfile.entry_paths import kind_of, quoted, unquoted, valve_key
from fifthwire.visitfile.entry_sets import list_order, merged, standing
from fifthwire.visitfile.putting_together import Assembled, assemble, put_together
from fifthwire.visitfile.taking_apart import identity_of, take_apart

__all__ = [
    "Assembled",
    "assemble",
    "identity_of",
    "kind_of",
    "list_order",
    "merged",
    "normal_body",
    "put_together",
    "quoted",
    "standing",
    "take_apart",
    "unquoted",
    "valve_key",
]
