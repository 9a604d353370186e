"""For owners: who may sign in and what they may do, invitations, and the audit list."""

from typing import Any, cast

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.model.errors import InputError
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import AUDITED, ROLE_WORDS, ROLES, Role
from fifthwire.model.kept.places import SiteRow
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.guard.signing import own_register
from fifthwire.web.posted import Posted, PostedForm
from fifthwire.workflow import people
from fifthwire.workflow.permission import require_everywhere
from fifthwire.workflow.places import list_sites

MOST_SITES: int = 1_000
"""Sites that the form of an account offers.  Our choice."""

router = APIRouter()


@router.get("/people")
def everybody(asking: Asked) -> HTMLResponse:
    """Accounts and open invitations."""
    return _people_page(asking)


@router.post("/people/invite")
def invite(asking: Asked, form: PostedForm) -> HTMLResponse:
    """A link for one new account, shown this once."""
    invited = people.invite(
        own_register(asking),
        asking.who,
        role=cast(Role, form.text("role")),
        site_ids=_site_ids(form),
        for_whom=form.text("for_whom"),
    )
    return _people_page(asking, invited)


@router.post("/people/invitations/{invitation_id}/withdraw")
def withdraw(asking: Asked, invitation_id: str) -> RedirectResponse:
    """Let a link be used no longer."""
    people.withdraw_invitation(own_register(asking), asking.who, invitation_id)
    return asking.go("/people", done="invitation-withdrawn")


@router.get("/people/{account_id}")
def account_form(asking: Asked, account_id: str) -> HTMLResponse:
    """One account: its role, its sites, whether it is open."""
    require_everywhere(asking.who, "own")
    account = people.account(own_register(asking), asking.who, account_id)
    return asking.page("guard/account.html", account=account, **_choices(asking))


@router.post("/people/{account_id}")
def change_account(asking: Asked, form: PostedForm, account_id: str) -> RedirectResponse:
    """Another role or other sites; close the account, or open it again."""
    people.change_account(
        own_register(asking),
        asking.who,
        account_id,
        version=form.version(),
        role=cast(Role, form.text("role")),
        site_ids=_site_ids(form),
        is_active=form.is_set("is_active"),
    )
    return asking.go("/people", done="account-changed")


@router.post("/people/{account_id}/link")
def new_password_link(asking: Asked, account_id: str) -> HTMLResponse:
    """A link for a new password, shown this once."""
    return _people_page(asking, people.new_password_link(own_register(asking), asking.who, account_id))


@router.get("/audit")
def audit(asking: Asked) -> HTMLResponse:
    """Who did what."""
    rows = people.audit_list(own_register(asking), asking.who, asking.page_number())
    return asking.page("guard/audit.html", rows=rows, words=AUDITED)


def _people_page(asking: Asking, invited: people.Invited | None = None) -> HTMLResponse:
    register, who = own_register(asking), asking.who
    link = f"{asking.request.url.scheme}://{asking.request.url.netloc}/join/{invited.secret}" if invited else ""
    return asking.page(
        "guard/people.html",
        accounts=people.accounts(register, who),
        invitations=people.open_invitations(register, who),
        invited=invited,
        link=link,
        **_choices(asking),
    )


def _choices(asking: Asking) -> dict[str, Any]:
    return {"roles": [(role, ROLE_WORDS[role]) for role in ROLES], "sites": _sites(asking)}


def _sites(asking: Asking) -> tuple[SiteRow, ...]:
    """The first thousand sites by name: enough to choose from."""
    found: list[SiteRow] = []
    page = 1
    while True:
        rows: Page[SiteRow] = list_sites(own_register(asking), asking.who, page=page)
        found += rows.rows
        if page >= rows.n_pages or len(found) >= MOST_SITES:
            return tuple(found)
        page += 1


def _site_ids(form: Posted) -> tuple[str, ...] | None:
    """The sites that were ticked; all where that was chosen and none is ticked: nobody gets more by a slip."""
    ticked = form.many("site_ids")
    if form.text("which") == "some":
        return ticked
    if ticked:
        raise InputError(
            "All sites were chosen, and some of them ticked. Nothing was kept.",
            "Choose only these, or take the ticks out.",
        )
    return None
