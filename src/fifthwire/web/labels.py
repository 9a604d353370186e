"""Words for keys that only the pages show; those of the trade stand in `model.words`."""

from typing import Final


def _(message: str) -> str:
    """Marks a text for the catalogue."""
    return message


UNIT_WORDS: Final = {"outdoor": _("outdoor unit"), "indoor": _("indoor unit"), "branch": _("branch unit")}
ACCESS_WORDS: Final = {
    "easy": _("easy"),
    "ladder": _("by ladder"),
    "ceiling": _("above the ceiling"),
    "roof": _("on the roof"),
}
WINDING_WORDS: Final = {
    "unipolar-5": _("unipolar, five wires"),
    "unipolar-6": _("unipolar, six wires"),
    "bipolar-4": _("bipolar, four wires"),
    "single-2": _("a solenoid's coil, two wires"),
}
FOUND_HOW_WORDS: Final = {
    "seen": _("seen"),
    "measured": _("measured"),
    "felt": _("felt"),
    "proved-by-repair": _("proved by the repair"),
}
MATCH_WORDS: Final = {
    "place": _("the valve at this place"),
    "label": _("the valve of this label"),
    "answered": _("as answered"),
    "new": _("new"),
    "asked": _("to be answered"),
}
HIT_WORDS: Final = {
    "site": _("Sites"),
    "system": _("Systems"),
    "unit": _("Units"),
    "valve": _("Valves"),
    "visit": _("Visits"),
    "spec": _("Manuals"),
    "meter": _("Meters"),
    "note": _("Notes"),
    "action": _("To do"),
}
EXPORT_WORDS: Final = {
    "zip": _("everything with photographs, one ZIP"),
    "visits": _("visit files, one ZIP"),
    "csv": _("tables, CSV in one ZIP"),
}
