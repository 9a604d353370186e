"""`fifthwire people`: who may sign in to a shared register, and who did what."""

from argparse import Namespace
from collections.abc import Callable, Sequence
from typing import Final

from fifthwire.cli.exits import DONE
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain, oneself, opened, show_rows, tell
from fifthwire.cli.terminal import terminal
from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.people import AUDITED, Account, Person
from fifthwire.workflow import people, sites
from fifthwire.workflow.register_place import Register

THINGS: Final[dict[str, tuple[str, ...]]] = {
    "list": (),
    "invite": (),
    "invitations": (),
    "withdraw": ("INVITATION",),
    "change": ("SIGN-IN-NAME",),
    "link": ("SIGN-IN-NAME",),
    "audit": (),
}
"""What each verb is about."""
NOBODY: Final = "Nobody has an account yet. Invite an owner: fifthwire people invite --role owner"


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    wanted = THINGS[arguments.verb]
    if len(arguments.things) != len(wanted):
        raise InputError(
            f"people {arguments.verb} takes {' '.join(wanted) or 'nothing more'}, "
            f"and {len(arguments.things)} words were given.",
            "See: fifthwire people --help.",
        )
    with opened(arguments.register, create=arguments.verb == "invite") as register:
        _VERBS[arguments.verb](register, oneself(), arguments)
    return DONE


def _list(register: Register, who: Person, arguments: Namespace) -> None:
    accounts = people.accounts(register, who)
    if arguments.json:
        show_as_json({"accounts": as_plain(accounts)})
        return
    rows = [
        (one.sign_in, one.name, one.role, _sites(one.site_ids), "open" if one.is_active else "closed")
        for one in accounts
    ]
    show_rows(("sign-in name", "name", "role", "sites", "state"), rows, empty=NOBODY)


def _invite(register: Register, who: Person, arguments: Namespace) -> None:
    if arguments.role is None:
        raise InputError("An invitation needs a role.", "Add --role reader, technician, lead or owner.")
    invited = people.invite(
        register,
        who,
        role=arguments.role,
        site_ids=_site_ids(register, who, arguments.site),
        for_whom=arguments.for_whom,
        hours=arguments.hours,
    )
    _show_link(invited, arguments)


def _invitations(register: Register, who: Person, arguments: Namespace) -> None:
    found = people.open_invitations(register, who)
    if arguments.json:
        show_as_json({"invitations": as_plain(found)})
        return
    rows = [(one.id, one.for_whom, one.role, one.by, f"{one.expires_utc:%Y-%m-%d %H:%M} UTC") for one in found]
    show_rows(("id", "for", "role", "by", "until"), rows, empty="No invitation is open.")


def _withdraw(register: Register, who: Person, arguments: Namespace) -> None:
    people.withdraw_invitation(register, who, arguments.things[0])
    tell("The link works no longer.")


def _change(register: Register, who: Person, arguments: Namespace) -> None:
    if (arguments.close and arguments.open) or (arguments.all_sites and arguments.site):
        raise InputError("These options contradict one another. Nothing was changed.", "Leave one of them out.")
    before = _account(register, who, arguments.things[0])
    site_ids = _site_ids(register, who, arguments.site)
    changed = people.change_account(
        register,
        who,
        before.id,
        version=before.version,
        role=arguments.role or before.role,
        site_ids=None if arguments.all_sites else before.site_ids if site_ids is None else site_ids,
        is_active=(before.is_active or arguments.open) and not arguments.close,
    )
    if arguments.json:
        show_as_json(as_plain(changed))
        return
    state = "open" if changed.is_active else "closed"
    tell(f"{changed.sign_in}: {changed.role}, {_sites(changed.site_ids)}, {state}.")


def _link(register: Register, who: Person, arguments: Namespace) -> None:
    account = _account(register, who, arguments.things[0])
    _show_link(people.new_password_link(register, who, account.id), arguments)


def _audit(register: Register, who: Person, arguments: Namespace) -> None:
    page = people.audit_list(register, who, arguments.page)
    if arguments.json:
        show_as_json(as_plain(page))
        return
    rows = [(f"{row.at_utc:%Y-%m-%d %H:%M:%S}", row.by, AUDITED[row.what], row.about, row.detail) for row in page.rows]
    show_rows(("UTC", "who", "what", "about", ""), rows, empty="Nothing was done yet.")


def _show_link(invited: people.Invited, arguments: Namespace) -> None:
    path = f"/join/{invited.secret}"
    if arguments.json:
        show_as_json({"path": path, "invitation": as_plain(invited.invitation)})
        return
    tell(
        f"It works once, until {invited.invitation.expires_utc:%d %B %Y %H:%M} UTC. It follows the register's address:"
    )
    terminal().show(path)


def _account(register: Register, who: Person, sign_in: str) -> Account:
    found = next((one for one in people.accounts(register, who) if one.sign_in == sign_in.strip().lower()), None)
    if found is None:
        raise NotFound(f"Nobody signs in as {sign_in[:60]}.", "See: fifthwire people list.")
    return found


def _site_ids(register: Register, who: Person, named: Sequence[str]) -> tuple[str, ...] | None:
    return tuple(sites.find_site(register, who, name).id for name in named) or None


def _sites(site_ids: tuple[str, ...] | None) -> str:
    return "all sites" if site_ids is None else f"{len(site_ids)} site{'' if len(site_ids) == 1 else 's'}"


_VERBS: Final[dict[str, Callable[[Register, Person, Namespace], None]]] = {
    "list": _list,
    "invite": _invite,
    "invitations": _invitations,
    "withdraw": _withdraw,
    "change": _change,
    "link": _link,
    "audit": _audit,
}
