"""Names of sites, for whoever wrote one a little differently."""

from typing import Final

from sqlalchemy import select

from fifthwire.model.nearest import nearest
from fifthwire.register.store import Keep
from fifthwire.register.tables.places import SITES

MOST: Final = 5
"""Names offered.  Our choice."""


def sites_like(keep: Keep, name: str) -> list[tuple[str, str]]:
    """Ids and names of the sites whose name is most like this one."""
    held = {row.name: row.id for row in keep.connection.execute(select(SITES.c.id, SITES.c.name))}
    folded = name.strip().casefold()
    found = [one for one in held if one.strip().casefold() == folded]
    left = [one for one in held if one not in found]
    while left and len(found) < MOST:
        near = nearest(name, left)
        if near is None:
            break
        found.append(near)
        left.remove(near)
    return [(held[one], one) for one in found]
