"""Two people have changed one thing: the second is shown both, side by side, and decides."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any, Final

from fastapi import Request, Response
from fastapi.encoders import jsonable_encoder
from fastapi.responses import JSONResponse

from fifthwire.model.errors import Conflict
from fifthwire.model.record import record
from fifthwire.web.asking import Asking
from fifthwire.web.errors import error_answer
from fifthwire.web.guard.form_key import FIELD


def _(message: str) -> str:
    """Marks a text for the catalogue."""
    return message


NOTHING: Final = "–"
LABELS: Final[dict[str, str]] = {
    "name": _("Name"),
    "time_zone": _("Time zone"),
    "altitude_m": _("Altitude, m"),
    "address": _("Address"),
    "refrigerant": _("Refrigerant"),
    "installed": _("Installed"),
    "is_heat_recovery": _("Heat recovery"),
    "kind": _("Kind"),
    "position": _("Order"),
    "branch_unit": _("Branch unit"),
    "room": _("Room"),
    "capacity_kw": _("Capacity, kW"),
    "unit": _("Unit"),
    "role": _("Role"),
    "number": _("Number"),
    "label": _("Label"),
    "head": _("Head"),
    "access": _("Access"),
    "serial": _("Serial number"),
    "title": _("Title of the manual"),
    "page": _("Page"),
    "revision": _("Revision"),
    "by": _("By"),
    "site_ids": _("Sites"),
    "is_active": _("Open"),
    "units": _("Units"),
}
"""What a page calls the fields that two people may both change; others are called as the records call them."""
UNSEEN: Final = (
    "id",
    "version",
    "at_utc",
    "last_seen_utc",
    "created_utc",
    "system_id",
    "site_id",
    "unit_id",
    "spec_id",
)
COUNTERS: Final = ("version", "revision", "seq")
"""Fields of a record that say in which state it is, and of a form, of which state it was made."""
STATES: Final = ("version", "revision", "expected_version")
"""The same, as forms call them."""


@record(kw_only=False)
class Difference:
    """One field in which the two are not the same."""

    label: str
    theirs: str
    yours: str


async def answer_conflict(request: Request, error: Exception) -> Response:
    """Both, side by side; a way to leave theirs, and where it is safe one to write yours over it."""
    if not isinstance(error, Conflict):
        raise error
    if request.url.path.startswith("/api/"):
        both = jsonable_encoder({"theirs": error.theirs, "yours": error.yours})
        return JSONResponse({"message": error.message, "hint": error.hint, "problems": [], **both}, status_code=409)
    differences = tuple(_differences(error.theirs, error.yours))
    if not differences:
        return error_answer(request, 409, error.message, error.hint)
    form = await request.form()  # read before; its files are closed by now
    texts = [(name, value) for name, value in form.multi_items() if isinstance(value, str)]
    return Asking(request).page(
        "guard/conflict.html",
        status=409,
        message=error.message,
        differences=differences,
        again=[(name, value) for name, value in texts if name not in (*STATES, FIELD)],
        state=_state_now(error.theirs, [name for name, _value in texts]),
        had_files=len(texts) < len(form.multi_items()),
    )


def _state_now(theirs: Any, names: list[str]) -> tuple[str, int] | None:
    """The field of the form that says of which state it was made, and what it has to say to be written over theirs."""
    field = next((name for name in STATES if name in names), None)
    now = next((getattr(theirs, name) for name in COUNTERS if getattr(theirs, name, None) is not None), None)
    return None if field is None or now is None else (field, now)


def _differences(theirs: Any, yours: Any) -> Iterator[Difference]:
    mine, other = _flat(yours), _flat(theirs)
    for name in other:
        if name.split(".")[0] not in UNSEEN and name in mine and mine[name] != other[name]:
            last = name.split(".")[-1]
            yield Difference(LABELS.get(last, last.replace("_", " ")), _shown(other[name]), _shown(mine[name]))


def _flat(thing: Any, before: str = "") -> dict[str, Any]:
    """The values of a record, those of the records in it beside them."""
    named: Mapping[str, Any]
    if isinstance(thing, Mapping):
        named = thing
    elif is_dataclass(thing):
        named = {of.name: getattr(thing, of.name) for of in fields(thing)}
    else:
        return {}
    found: dict[str, Any] = {}
    for name, value in named.items():
        nested = is_dataclass(value) or isinstance(value, Mapping)
        found.update(_flat(value, f"{before}{name}.") if nested else {f"{before}{name}": value})
    return found


def _shown(value: Any) -> str:
    if value is None or value == "":
        return NOTHING
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, list | tuple | set | frozenset):
        return ", ".join(map(_shown, value)) or NOTHING
    return str(value)[:500]
