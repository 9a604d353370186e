"""What is to do over all sites, and what was found: easy to give, and hard to fudge."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from fifthwire.model.choices import PROOF_KINDS, PROOF_RESULTS, URGENCIES
from fifthwire.model.errors import InputError
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.todo import ACTION_STATES, FOUND_CAUSES, FOUND_HOW, NOTHING_WRONG, Action, Found
from fifthwire.register import audit, photographs, todo
from fifthwire.register.store import Register
from fifthwire.workflow import place_fields as field
from fifthwire.workflow.permission import require
from fifthwire.workflow.sites import allowed_system

LONGEST_PERSON = 100
A_DAY_AHEAD = timedelta(days=1)
"""East of Greenwich it is tomorrow already."""


def list_actions(
    register: Register,
    who: Person,
    *,
    site_id: str | None = None,
    system_id: str | None = None,
    urgency: str | None = None,
    state: str | None = "open",
    page: int = 1,
) -> Page[Action]:
    """What is to do at the person's sites, the urgent and then the oldest first.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        Who asks.
    site_id, system_id : str, optional
        Only of this site or system.
    urgency : str, optional
        now | planned | none
    state : str or None
        open | closed; None: both.
    page : int
        From 1.

    Raises
    ------
    InputError
        If there is no such urgency or state.
    NotFound
        If the site or system is not one of the person's.
    """
    require(who, "read", site_id=site_id)
    pressing = field.maybe_one_of(urgency, URGENCIES, "an urgency")
    wanted = field.maybe_one_of(state, ACTION_STATES, "a state")
    with register.reading() as keep:
        if system_id:
            allowed_system(keep, who, system_id, "read")
        return todo.list_actions(
            keep,
            site_id=site_id,
            system_id=system_id,
            urgency=pressing,
            state=wanted,
            site_ids=who.site_ids,
            page=page,
        )


def action(register: Register, who: Person, action_id: str) -> Action:
    """An action with what was found.

    Raises
    ------
    NotFound
        If there is none of that id at the person's sites.
    """
    require(who, "read")
    with register.reading() as keep:
        found = todo.action(keep, action_id)
        require(who, "read", site_id=found.site_id)
        return found


def new_finding(
    *,
    cause: str,
    seen_by: str,
    how: str,
    day: date,
    proof_kind: str | None = None,
    proof_result: str | None = None,
    photograph_sha256: str | None = None,
    note: str | None = None,
) -> Found:
    """A finding as a person gives it; who enters it and when is filled in by `add_finding`.

    Raises
    ------
    InputError
        If a value cannot be, or a proof is only half given.
    """
    unset = datetime(1970, 1, 1, tzinfo=UTC)
    given = Found(
        cause=cause,
        seen_by=seen_by,
        how=how,
        date=day,
        proof_kind=proof_kind or None,
        proof_result=proof_result or None,
        photograph_sha256=photograph_sha256 or None,
        note=note,
        by="",
        at_utc=unset,
    )
    return _checked(given)


def add_finding(register: Register, who: Person, action_id: str, found: Found) -> Action:
    """Say what was found, which closes the action. A finding that stands there already stays beside it.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        A technician or more: the one who enters it.
    action_id : str
        Of the action.
    found : Found
        What was found; its `by` and `at_utc` are set here.

    Raises
    ------
    InputError
        If it does not say who saw it and how, or a value cannot be.
    NotFound
        If there is no such action at the person's sites, or no such photograph.
    """
    given = _checked(found)
    require(who, "add")
    with register.adding() as keep:
        asked = todo.action(keep, action_id)
        require(who, "add", site_id=asked.site_id)
        if given.date > keep.now_utc.date() + A_DAY_AHEAD:
            raise InputError(f"{given.date} is yet to come.", "Give the day on which it was found.")
        if given.date < asked.since:
            raise InputError(
                f"{given.date} is before {asked.since}, when this was asked for.", "Give the day on which it was found."
            )
        if given.photograph_sha256 is not None:
            photographs.photograph(keep, given.photograph_sha256)
        todo.add_finding(keep, action_id, replace(given, by=who.name, at_utc=keep.now_utc))
        audit.write_down(keep, who, "finding-added", asked.valve, given.cause)
        return todo.action(keep, action_id)


def _checked(found: Found) -> Found:
    """The finding with its values looked at."""
    cause = field.one_of(found.cause, FOUND_CAUSES, "a cause that can be found")
    how = field.one_of(found.how, FOUND_HOW, "a way to find it")
    if (found.proof_kind is None) != (found.proof_result is None):
        raise InputError(
            "The proof is only half given.", "Say what was watched and what came of it, or leave both out."
        )
    if how == "proved-by-repair" and found.proof_result != "passed":
        raise InputError(
            "A repair proves a cause only where its proof passed.", "Give the proof, or say how it was seen."
        )
    if how == "proved-by-repair" and cause == NOTHING_WRONG:
        raise InputError("Where nothing was wrong, no repair can have proved it.", "Say how it was seen.")
    seen_by = field.name(found.seen_by, "the one who saw it")
    if len(seen_by) > LONGEST_PERSON:
        raise InputError("The name of the one who saw it is too long.", f"Keep it under {LONGEST_PERSON} characters.")
    return replace(
        found,
        seen_by=seen_by,
        proof_kind=field.maybe_one_of(found.proof_kind, PROOF_KINDS, "a proof"),
        proof_result=field.maybe_one_of(found.proof_result, PROOF_RESULTS, "a result"),
        note=field.text(found.note, "The note"),
    )
