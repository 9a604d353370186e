"""One's own account: name, units, password, the browsers that are signed in, keys for other programs."""

from typing import cast

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse

from fifthwire.model.errors import InputError, NotAllowed
from fifthwire.model.kept.people import ROLE_WORDS, UnitSystem
from fifthwire.web.asking import Asked, Asking
from fifthwire.web.guard.signing import own_register
from fifthwire.web.posted import PostedForm
from fifthwire.workflow import people, sessions

router = APIRouter(prefix="/me")


@router.get("")
def me(asking: Asked) -> HTMLResponse:
    """One's own account; alone there is none, and the page says so."""
    return _page(asking)


@router.post("")
def change_me(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Another name or other units."""
    people.change_self(
        own_register(asking),
        _signed_in(asking).person,
        version=form.version(),
        name=form.text("name"),
        units=cast(UnitSystem, form.text("units")),
    )
    return asking.go("/me", done="account-changed")


@router.post("/password")
def change_password(asking: Asked, form: PostedForm) -> RedirectResponse:
    """Another password; every other browser is signed out."""
    known = _signed_in(asking)
    old, new, again = (form.texts.get(name, [""])[0] for name in ("old", "password", "again"))
    if new != again:
        raise InputError("The two passwords are not the same. Nothing was changed.", "Type both again.")
    people.change_password(own_register(asking), known.person, old, new, keep_sign_in=known.signed_in.id)
    return asking.go("/me", done="password-changed")


@router.post("/keys")
def make_key(asking: Asked, form: PostedForm) -> HTMLResponse:
    """A key for another program, shown this once."""
    days = form.whole("days", "The days") or sessions.KEY_DAYS
    made = sessions.make_key(own_register(asking), _signed_in(asking).person, form.text("label"), days=days)
    return _page(asking, made=made)


@router.post("/sign-ins/{sign_in_id}/end")
def end_sign_in(asking: Asked, sign_in_id: str) -> RedirectResponse:
    """Sign another browser out, or end a key."""
    sessions.end_sign_in(own_register(asking), _signed_in(asking).person, sign_in_id)
    return asking.go("/me", done="sign-in-ended")


def _page(asking: Asking, made: sessions.Entered | None = None) -> HTMLResponse:
    known: sessions.Known | None = asking.request.state.known
    listed = () if known is None else sessions.sign_ins(own_register(asking), known.person)
    return asking.page(
        "guard/me.html",
        account=None if known is None else known.account,
        here=None if known is None else known.signed_in,
        listed=listed,
        made=made,
        key_days=sessions.KEY_DAYS,
        role_words=ROLE_WORDS,
    )


def _signed_in(asking: Asking) -> sessions.Known:
    known: sessions.Known | None = asking.request.state.known
    if known is None:
        raise NotAllowed("You work alone here: there is no account.", "Share the register first: serve --shared.")
    return known
