"""`fifthwire valves`: valves, the heads on them, and a building's list of them."""

import sys
from argparse import Namespace
from datetime import date
from typing import Final

from fifthwire.cli.drawings import draw_history, show_history
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain, show_rows, tell
from fifthwire.cli.systems import MARK_WORDS, unit_named
from fifthwire.cli.terminal import terminal
from fifthwire.cli.things import (
    Verb,
    answer,
    day,
    do_verb,
    or_before,
    show_page,
    site_asked,
    system_asked,
    valve_asked,
)
from fifthwire.model.errors import InputError
from fifthwire.model.kept.lists import ListPreview
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import ValveRow
from fifthwire.model.kept.whole import ValveWhole
from fifthwire.model.words import head_word, how_sure, word
from fifthwire.workflow import lists, manuals, places
from fifthwire.workflow.files import read_file, refuse_existing, write_file
from fifthwire.workflow.register_place import Register

THINGS: Final[dict[str, tuple[str, ...]]] = {
    "list": (),
    "show": ("VALVE",),
    "history": ("VALVE",),
    "chart": ("VALVE", "FILE"),
    "add": ("UNIT", "ROLE"),
    "change": ("VALVE",),
    "fit": ("VALVE",),
    "template": ("FILE",),
    "preview": ("FILE",),
    "import": ("FILE",),
}
MOST_PROBLEMS_SHOWN: Final = 50


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    return do_verb(arguments, _VERBS, THINGS)


def _list(register: Register, who: Person, arguments: Namespace) -> None:
    site = site_asked(register, who, arguments)
    system = system_asked(register, who, arguments, arguments.system)
    page = places.list_valves(
        register,
        who,
        site_id=site.id if site else None,
        system_id=system.id if system else None,
        mark=arguments.mark,
        text=arguments.text,
        page=arguments.page,
    )
    heads = ("valve", "site", "system", "state", "to do", "judged")
    show_page(page, arguments, heads, _cells, "No valve is kept like this.")


def _cells(row: ValveRow) -> tuple[object, ...]:
    now = row.now
    if now is None:
        return (row.valve.label, row.site.name, row.system.name, MARK_WORDS["not-checked"], "", "")
    to_do = "" if now.urgency == "none" else f"{word(now.action)}, {word(now.urgency)}"
    return (row.valve.label, row.site.name, row.system.name, MARK_WORDS[now.mark], to_do, now.date)


def _show(register: Register, who: Person, arguments: Namespace) -> None:
    of = valve_asked(register, who, arguments, arguments.things[0])
    whole = places.valve_whole(register, who, of.id)
    if arguments.json:
        show_as_json(as_plain(whole))
        return
    screen = terminal()
    for line in _lines(whole):
        screen.show(line)


def _history(register: Register, who: Person, arguments: Namespace) -> None:
    of = valve_asked(register, who, arguments, arguments.things[0])
    show_history(places.valve_whole(register, who, of.id), arguments)


def _chart(register: Register, who: Person, arguments: Namespace) -> None:
    of = valve_asked(register, who, arguments, arguments.things[0])
    draw_history(places.valve_whole(register, who, of.id), arguments)


def _lines(whole: ValveWhole) -> list[str]:
    of, now = whole.valve, whole.now
    head = "solenoid" if of.kind == "solenoid" else head_word(of.head)
    lines = [
        f"{of.id}  {of.label}: {word(of.role)}, {head}, {of.unit}, version {of.version}",
        f"{whole.site.name}, {whole.system.name}",
    ]
    if now is None:
        lines.append("Not checked: no visit has judged it.")
    else:
        cause = "" if now.cause is None else f", {word(now.cause)}"
        sure = "" if now.cause is None or now.probability is None else f": {how_sure(now.probability)}"
        to_do = "" if now.urgency == "none" else f" {word(now.action).capitalize()}, {word(now.urgency)}."
        lines.append(f"{now.date}: {MARK_WORDS[now.mark]}{cause}{sure}.{to_do}")
        lines += [f"  {sentence}" for sentence in now.because]
    lines += [f"Head since {one.since or 'not known'}: {one.part_label or 'no label'}" for one in whole.heads]
    lines += [f"{one.date}  {word(one.work.done)} {one.work.part or ''}".rstrip() for one in whole.work]
    lines += [f"To do since {one.since}: {word(one.action)}" for one in whole.actions if one.state == "open"]
    lines += [f"Note, {one.by}: {one.text}" for one in whole.notes if not one.is_void]
    return lines


def _spec_id(register: Register, who: Person, name: str | None) -> str | None:
    if not name:
        return None
    found = manuals.spec_named(register, who, name)
    if found is None:
        raise InputError(f"{name} is not in the manuals.", "See: fifthwire manuals list.")
    return found.spec_id


def _add(register: Register, who: Person, arguments: Namespace) -> None:
    system = system_asked(register, who, arguments, arguments.system)
    if system is None:
        raise InputError("The system is missing.", "Give --system, by name or id.")
    unit = unit_named(register, who, system, arguments.things[0])
    kept = places.add_valve(
        register,
        who,
        unit_id=unit.id,
        role=arguments.things[1],
        label=arguments.label,
        number=arguments.number,
        kind=arguments.kind or "eev",
        head=arguments.head,
        access=arguments.access,
        spec_id=_spec_id(register, who, arguments.spec),
        head_since=day(arguments.date),
        part_label=arguments.part,
    )
    answer(kept, arguments, kept.id)


def _change(register: Register, who: Person, arguments: Namespace) -> None:
    before = valve_asked(register, who, arguments, arguments.things[0])
    kept = places.change_valve(
        register,
        who,
        before.id,
        version=or_before(arguments.seen, before.version),
        unit_id=before.unit_id,
        role=or_before(arguments.role, before.role),
        label=or_before(arguments.label, before.label),
        number=or_before(arguments.number, before.number),
        kind=or_before(arguments.kind, before.kind),
        head=or_before(arguments.head, before.head),
        access=or_before(arguments.access, before.access),
        spec_id=or_before(_spec_id(register, who, arguments.spec), before.spec_id),
    )
    answer(kept, arguments, f"{kept.id}  {kept.label}, version {kept.version}")


def _fit(register: Register, who: Person, arguments: Namespace) -> None:
    of = valve_asked(register, who, arguments, arguments.things[0])
    kept = places.fit_head(register, who, of.id, since=day(arguments.date) or date.today(), part_label=arguments.part)
    answer(kept, arguments, f"{of.label}: another head since {kept.since}")


def _template(register: Register, who: Person, arguments: Namespace) -> None:
    path = arguments.things[0]
    refuse_existing(path, overwrite=arguments.overwrite)
    suffix = ".xlsx" if path.lower().endswith(".xlsx") else ".csv"
    write_file(path, lists.valve_list_template(suffix), overwrite=arguments.overwrite)
    tell(f"Written: {path}. Write over its rows, then: fifthwire valves preview {path} --site SITE")


def _target(register: Register, who: Person, arguments: Namespace) -> dict[str, str]:
    system = system_asked(register, who, arguments, arguments.system)
    if system is not None:
        return {"system_id": system.id}
    site = site_asked(register, who, arguments)
    if site is None:
        raise InputError("Where the valves are is missing.", "Give --site or --system, by name or id.")
    return {"site_id": site.id}


def _preview(register: Register, who: Person, arguments: Namespace) -> None:
    path = arguments.things[0]
    target = _target(register, who, arguments)
    preview = lists.preview_valve_list(register, who, read_file(path), _bare(path), **target)
    if arguments.json:
        show_as_json(as_plain(preview))
        return
    _show_preview(preview)


def _show_preview(preview: ListPreview) -> None:
    rows = [(one.row, one.column, one.message, one.hint) for one in preview.problems[:MOST_PROBLEMS_SHOWN]]
    if rows:
        show_rows(("row", "column", "problem", "what to do"), rows, empty="")
    if len(preview.problems) > len(rows):
        tell(f"And {len(preview.problems) - len(rows)} more.")
    new = f"{preview.n_new} new valves, {preview.n_new_units} new units, {preview.n_new_systems} new systems"
    terminal().show(f"{new}; {preview.n_known} valves are known. Nothing is written yet.")


def _import(register: Register, who: Person, arguments: Namespace) -> None:
    path = arguments.things[0]
    target = _target(register, who, arguments)
    is_screen = sys.stderr.isatty()

    def told(done: int, of: int) -> None:
        if is_screen:
            tell(f"{done:,} of {of:,}")

    kept = lists.import_valve_list(register, who, read_file(path), _bare(path), progress=told, **target)
    line = f"{kept.n_new} new, {kept.n_changed} changed, {kept.n_same} as they were"
    answer(kept, arguments, line)


def _bare(path: str) -> str:
    """The file's name, without the directories that the person went through."""
    return path.replace("\\", "/").rpartition("/")[2]


_VERBS: Final[dict[str, Verb]] = {
    "list": _list,
    "show": _show,
    "history": _history,
    "chart": _chart,
    "add": _add,
    "change": _change,
    "fit": _fit,
    "template": _template,
    "preview": _preview,
    "import": _import,
}
