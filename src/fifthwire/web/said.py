"""What a page says of what was just done: a code in the address, a sentence here. Nothing from the address is shown."""

from typing import Final


def _(message: str) -> str:
    """Marks a text for the catalogue."""
    return message


SAID: Final[dict[str, str]] = {
    "site-added": _("The site is kept. Next: add its systems, or import its list of valves."),
    "site-changed": _("The change is kept."),
    "system-added": _("The system is kept. Next: add its units and valves."),
    "system-changed": _("The change is kept."),
    "unit-added": _("The unit is kept."),
    "unit-changed": _("The change is kept."),
    "valve-added": _("The valve is kept."),
    "valve-changed": _("The change is kept."),
    "head-fitted": _("The new head is kept; the one before came off that day."),
    "list-imported": _("The list is kept."),
    "visit-imported": _("The visit is kept. Next: assess it."),
    "visit-same": _("This visit was here already. Nothing was changed."),
    "visit-started": _("The visit is open. Next: fill it in."),
    "visit-judged": _("The visit is assessed."),
    "signed-off": _("The report is signed off. Its issue stays as it is."),
    "entry-added": _("The entry is kept."),
    "entry-voided": _("The entry is struck out. It stays readable."),
    "finding-added": _("What was found is kept."),
    "note-added": _("The note is kept."),
    "note-voided": _("The note is struck out. It stays readable."),
    "spec-added": _("The values are kept. A second person may now compare them with the page."),
    "spec-taken": _("The visit has the manual's values now, and the ones before stay readable. Assess it again."),
    "spec-revised": _("The new revision is kept; the earlier ones stay."),
    "spec-checked": _("The revision is marked as checked."),
    "meter-added": _("The meter is kept."),
    "meter-changed": _("The change is kept."),
    "photograph-added": _("The photograph is kept, without its location."),
    "joined": _("Your account is made, and you are signed in."),
    "account-changed": _("The change is kept."),
    "password-changed": _("The password is changed. Every other browser and key has to sign in again."),
    "sign-in-ended": _("It is signed out."),
    "invitation-withdrawn": _("The link works no longer."),
    "screen-set": _("The screen is set."),
    "demo-open": _("This is the demo register: three invented sites."),
    "demo-closed": _("This is your own register again."),
}
"""Code -> sentence."""
