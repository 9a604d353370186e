"""Templates into pages."""

from collections.abc import Mapping
from functools import cache
from typing import Any, Final

from jinja2 import Environment, PackageLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup

from fifthwire import __version__
from fifthwire.model.kept.people import Person
from fifthwire.web.asking import Asking
from fifthwire.web.entries_shown import entry_place, entry_text
from fifthwire.web.measures import meter_accuracy, spec_facts, spec_value
from fifthwire.web.said import SAID
from fifthwire.web.shown import filters
from fifthwire.web.static_files import static_url
from fifthwire.web.texts import texts_of
from fifthwire.workflow.permission import may

FORM_KEY_FIELD: Final = "form_key"
"""The hidden field of every form that shows it comes from a page of ours; `request.state.form_key` is its value."""


@cache
def environment() -> Environment:
    """Everything escaped; a name that is missing is a fault, not an empty place."""
    made = Environment(
        loader=PackageLoader("fifthwire.web", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        extensions=["jinja2.ext.i18n", "jinja2.ext.do"],
    )
    made.filters.update(filters())
    made.filters.update(entry_place=entry_place, entry_text=entry_text)
    made.filters.update(spec_value=spec_value, spec_facts=spec_facts, meter_accuracy=meter_accuracy)
    made.globals.update(static_url=static_url, program=__version__)
    made.install_gettext_callables(_gettext, _ngettext, newstyle=True)  # type: ignore[attr-defined]
    return made


@pass_context
def _gettext(context: Context, message: str) -> str:
    return texts_of(context["asking"].language).gettext(message)


@pass_context
def _ngettext(context: Context, one: str, many: str, count: int) -> str:
    return texts_of(context["asking"].language).ngettext(one, many, count)


def render(asking: Asking, template: str, values: Mapping[str, Any]) -> str:
    """A page.

    Parameters
    ----------
    asking : Asking
        The request.
    template : str
        Its file.
    values : mapping
        What it shows.
    """
    return environment().get_template(template).render({**_of_every_page(asking), **values})


def _of_every_page(asking: Asking) -> dict[str, Any]:
    """What every template may use."""
    who = _who(asking)
    return {
        "asking": asking,
        "who": who,
        "units": asking.units if who else "si",
        "may": lambda deed: who is not None and may(who, deed),
        "said": SAID.get(asking.query("done"), ""),
        "form_key": lambda: _form_key(asking),
    }


def _who(asking: Asking) -> Person | None:
    """Nobody on the page where people sign in."""
    who: Person | None = getattr(asking.request.state, "who", None) or asking.request.app.state.alone
    return who


def _form_key(asking: Asking) -> Markup:
    key = getattr(asking.request.state, "form_key", "")
    return Markup('<input type="hidden" name="{}" value="{}">').format(FORM_KEY_FIELD, key)
