"""Two devices' additions to one visit become one: what each has and the other lacks goes over, whatever the order."""

from collections.abc import Sequence

from fifthwire.model.canonical import canonical_json
from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import EntryDraft
from fifthwire.model.record import record
from fifthwire.model.visit import Visit
from fifthwire.register import valves, visits
from fifthwire.register.entries import assemble, kind_of, merged
from fifthwire.register.store import Keep, Register
from fifthwire.workflow.matching import match_valves
from fifthwire.workflow.new_places import follow_heads
from fifthwire.workflow.permission import require

MOST_AT_ONCE = 20_000
"""Entries that are received in one transaction.  [1]  Our choice: a large visit has some thousands."""


LONGEST_ID = 200
"""Characters of an entry's id in a file.  [1]  Our choice."""


@record
class Received:
    """What receiving another device's additions did."""

    n_added: int
    n_known: int
    version: int
    """Of the visit now: what to ask for next is what comes after it."""
    differing: tuple[str, ...] = ()
    """Ids under which the register keeps something else: that stays, and a person has to look."""
    doubts: tuple[str, ...] = ()
    """What cannot stand together now, and what was made of it."""


def additions_after(register: Register, who: Person, visit_id: str, version: int = 0) -> tuple[EntryDraft, ...]:
    """The additions to a visit after a version of it, for another device.

    Raises
    ------
    NotFound
        If there is no such visit at the person's sites.
    """
    with register.reading() as keep:
        kept = visits.visit(keep, visit_id)
        require(who, "read", site_id=kept.site_id)
        return tuple(
            EntryDraft(
                id=one.id,
                path=one.path,
                body=one.body,
                position=one.position,
                at_utc=one.at_utc,
                device=one.device,
                by=one.by,
                voids=one.voids,
            )
            for one in visits.drafts_of(keep, visit_id)
            if one.seq > version
        )


def receive_additions(register: Register, who: Person, visit_id: str, entries: Sequence[EntryDraft]) -> Received:
    """Add what another device added to a visit. Receiving it again changes nothing.

    What two devices added may not stand together; then it is kept all the same, and a doubt says what was made of it.

    Parameters
    ----------
    register : Register
        Where the visit is kept.
    who : Person
        The actor.
    visit_id : str
        The visit.
    entries : sequence of EntryDraft
        The other device's, in any order.

    Raises
    ------
    InputError
        If something in it is no entry of a visit: nothing is received then.
    NotFound
        If there is no such visit at the person's sites.
    """
    for one in entries:
        _require_entry(one)
    if len(entries) > MOST_AT_ONCE:
        raise InputError(f"{len(entries):,} additions at once are too many.", f"Send {MOST_AT_ONCE:,} at a time.")
    with register.adding() as keep:
        require(who, "add", site_id=visits.visit(keep, visit_id).site_id)
        kept = visits.hold(keep, visit_id)
        held = visits.drafts_of(keep, visit_id)
        known = {one.id: one for one in held}
        new = sorted((one for one in merged(entries) if one.id not in known), key=lambda one: one.position)
        added = visits.add_entries(keep, kept, new)
        put_together = assemble((*held, *added), name="the visit")
        now = visits.settle(keep, kept, put_together.visit, len(added)) if added else kept
        _follow(keep, now.id, now.system_id, put_together.visit)
        return Received(
            n_added=len(added),
            n_known=len({one.id for one in entries}) - len(added),
            version=now.version,
            differing=tuple(sorted({one.id for one in entries if one.id in known and _differ(one, known[one.id])})),
            doubts=tuple(one.words for one in put_together.doubts),
        )


def _require_entry(one: EntryDraft) -> None:
    if kind_of(one.path) is None or not 0 < len(one.id) <= LONGEST_ID:
        raise InputError(f"{one.path[:80]!r} is no place in a visit.", "Nothing was received.")
    if not all(part.isprintable() for part in (one.id, one.path, one.device or "", one.by or "", one.voids or "")):
        raise InputError(f"{one.path[:80]!r} holds a character that cannot be shown.", "Nothing was received.")
    try:
        canonical_json(dict(one.body)).encode("utf-8")
    except (ValueError, TypeError) as err:
        raise InputError(f"{one.path}: what it says is no table: {err}.", "Nothing was received.") from err


def _differ(one: EntryDraft, other: object) -> bool:
    return any(getattr(one, name) != getattr(other, name) for name in ("path", "body", "voids"))


def _follow(keep: Keep, visit_id: str, system_id: str, visit: Visit) -> None:
    known = visits.valve_ids_of(keep, visit_id)
    if any(valve.id not in known for valve in visit.valves):
        matching = match_valves(visit.valves, valves.valves_of(keep, system_id), {}, known)
        visits.map_valves(keep, visit_id, matching.known)
    follow_heads(keep, visit, visits.valve_ids_of(keep, visit_id))
