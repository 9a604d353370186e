"""The one search box."""

from fifthwire.model.kept.notes import Hit
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import Person
from fifthwire.register import search as kept
from fifthwire.register.store import Register
from fifthwire.workflow.permission import require


def search(register: Register, who: Person, text: str, page: int = 1) -> Page[Hit]:
    """What holds a word that starts with each of the words asked for, at the person's sites and in the manuals.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        Who asks.
    text : str
        What was typed; case and accents do not matter.
    page : int
        From 1.

    Returns
    -------
    Page of Hit
        Sites, systems, units, valves, visits, manuals, meters, then notes; none where no word was typed.
    """
    require(who, "read")
    with register.reading() as keep:
        return kept.search(keep, text, site_ids=who.site_ids, page=page)
