"""`fifthwire visits`: kept visits at the command line, by the same workflow functions as the pages."""

import json
from argparse import Namespace
from collections.abc import Callable
from datetime import date
from typing import Any, Final

from fifthwire.cli.exits import DONE
from fifthwire.cli.json_text import show_as_json
from fifthwire.cli.records import as_plain, oneself, opened, show_rows, tell
from fifthwire.cli.terminal import terminal
from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import ImportedVisit, VisitPreview, VisitWhole
from fifthwire.model.words import word
from fifthwire.visitfile.entry_words import entry_words
from fifthwire.workflow import sites, visits_kept
from fifthwire.workflow.files import read_file, refuse_existing, write_file
from fifthwire.workflow.register_place import Register

THINGS: Final[dict[str, tuple[str, ...]]] = {
    "list": (),
    "show": ("VISIT",),
    "preview": ("FILE",),
    "import": ("FILE",),
    "begin": ("SYSTEM",),
    "add": ("VISIT", "PATH", "TABLE"),
    "strike": ("VISIT", "ENTRY"),
    "take": ("VISIT", "SPEC"),
    "judge": ("VISIT",),
    "sign": ("VISIT",),
    "file": ("VISIT", "FILE"),
    "issue": ("VISIT", "NUMBER", "FILE"),
}
"""What each verb is about, in order."""
LARGEST_ZIP_BYTES: Final = 20_000_000
"""Our choice, as for what is sent to the pages."""


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    wanted = THINGS[arguments.verb]
    if len(arguments.things) != len(wanted):
        raise InputError(
            f"visits {arguments.verb} takes {' '.join(wanted) or 'nothing more'}, "
            f"and {len(arguments.things)} words were given.",
            "See: fifthwire visits --help.",
        )
    with opened(arguments.register, create=arguments.verb == "import") as register:
        _VERBS[arguments.verb](register, oneself(), arguments)
    return DONE


def _list(register: Register, who: Person, arguments: Namespace) -> None:
    site = sites.find_site(register, who, arguments.site) if arguments.site else None
    site_id = site.id if site else None
    system = sites.find_system(register, who, arguments.system, site_id=site_id) if arguments.system else None
    page = visits_kept.list_visits(
        register, who, site_id=site_id, system_id=system.id if system else None, page=arguments.page
    )
    if arguments.json:
        show_as_json(as_plain(page))
        return
    show_rows(
        ("visit", "date", "site", "system", "reason", "valves", "issues", "signed"),
        [
            (
                one.id,
                one.date.isoformat(),
                one.site,
                one.system,
                word(one.reason),
                one.n_valves,
                one.n_issues,
                "yes" if one.is_signed else "no",
            )
            for one in page.rows
        ],
        empty="No visit is kept. Take one in: fifthwire visits import FILE",
    )
    if page.n_pages > 1:
        tell(f"Page {page.page} of {page.n_pages}; the next with --page {page.page + 1}.")


def _show(register: Register, who: Person, arguments: Namespace) -> None:
    whole = visits_kept.visit_of(register, who, arguments.things[0])
    if arguments.json:
        show_as_json(as_plain(whole))
        return
    screen = terminal()
    for line in _whole_lines(whole):
        screen.show(line)


def _whole_lines(whole: VisitWhole) -> list[str]:
    kept = whole.kept
    lines = [
        f"{kept.site}, {kept.system}, {kept.date}: {word(kept.reason)}, {kept.technician or 'technician not noted'}",
        f"version {kept.version}, {'signed' if kept.is_signed else 'not signed as it stands'}, "
        f"{kept.n_issues} issue(s), {len(whole.judgements)} judgement(s)",
    ]
    for entry in whole.entries:
        struck = f"  [struck out by {entry.instead}]" if entry.is_void else ""
        who = f"  ({entry.by})" if entry.by else ""
        lines.append(f"{entry.id}  {entry_words(entry.path, entry.body)}{who}{struck}")
    lines += [
        f"The manuals say {one.name} otherwise by now: fifthwire visits take {kept.id} {one.name}"
        for one in whole.specs
    ]
    return [*lines, *(f"Doubt: {doubt}" for doubt in whole.doubts)]


def _answers(arguments: Namespace) -> dict[str, str]:
    """Answers as KEY=VALUE; the key may itself hold an equals sign, the value does not."""
    answers = {}
    for written in arguments.answer:
        key, equals, value = written.rpartition("=")
        if not equals or not key:
            raise InputError(f"{written} is no answer.", "Write --answer KEY=VALUE, as the preview names them.")
        answers[key] = value
    return answers


def _content(name: str) -> bytes:
    """A visit file; one with pictures may be larger."""
    return read_file(name, largest_bytes=LARGEST_ZIP_BYTES) if name.lower().endswith(".zip") else read_file(name)


def _preview(register: Register, who: Person, arguments: Namespace) -> None:
    name = arguments.things[0]
    preview = visits_kept.preview_visit_file(register, who, _content(name), name, answers=_answers(arguments))
    if arguments.json:
        show_as_json(as_plain(preview))
        return
    screen = terminal()
    for line in _preview_lines(preview):
        for part in screen.wrapped(line):
            screen.show(part)


def _preview_lines(preview: VisitPreview) -> list[str]:
    is_new = preview.visit_id is None
    lines = [
        f"{preview.site}, {preview.system}, {preview.date}: {'a new visit' if is_new else 'a visit that is kept'}."
    ]
    if preview.is_same:
        return [*lines, "Everything in it is kept already: taking it in changes nothing."]
    lines += ["This site is new."] if preview.site_id is None else []
    lines += ["This system is new."] if preview.system_id is None and preview.site_id else []
    lines += [f"New valve: {one.label} in {one.unit}, {word(one.role)}" for one in preview.matches if one.how == "new"]
    lines += [
        f"Taken for the valve of this label, which sits elsewhere: {one.label} in {one.unit}, {word(one.role)}"
        for one in preview.matches
        if one.how == "label"
    ]
    lines += [f"Added: {one.text}" for one in preview.added]
    lines += [f"Struck out, not in this file any more: {one.text}" for one in preview.gone]
    lines += [f"The manuals say {one.name} otherwise; the file's own values are kept with it." for one in preview.specs]
    lines += [f"Doubt: {one}" for one in preview.warnings]
    for question in preview.questions:
        choices = "; ".join(f"--answer {question.key}={choice.value}: {choice.words}" for choice in question.choices)
        lines.append(f"To be answered: {question.text} {choices}")
    return lines


def _import(register: Register, who: Person, arguments: Namespace) -> None:
    name = arguments.things[0]
    done = visits_kept.import_visit_file(register, who, _content(name), name, answers=_answers(arguments))
    if arguments.json:
        show_as_json(as_plain(done))
        return
    terminal().show(done.kept.id)
    tell(_imported_words(done))
    for warning in done.warnings:
        tell(f"Doubt: {warning}")


def _imported_words(done: ImportedVisit) -> str:
    if not done.n_added and not done.n_struck:
        return "Everything in it was kept already: nothing has changed."
    struck = f", {done.n_struck} struck out" if done.n_struck else ""
    new = f", {done.n_new_valves} new valves" if done.n_new_valves else ""
    return f"{done.n_added} additions kept{struck}{new}. Judge it: fifthwire visits judge {done.kept.id}"


def _begin(register: Register, who: Person, arguments: Namespace) -> None:
    site = sites.find_site(register, who, arguments.site) if arguments.site else None
    system = sites.find_system(register, who, arguments.things[0], site_id=site.id if site else None)
    kept = visits_kept.new_visit(
        register, who, system.id, _day(arguments.date), technician=arguments.technician, reason=arguments.reason
    )
    if arguments.json:
        show_as_json(as_plain(kept))
    else:
        terminal().show(kept.id)


def _day(written: str | None) -> date:
    if written is None:
        return date.today()
    try:
        return date.fromisoformat(written)
    except ValueError as err:
        raise InputError(f"{written} is no date.", "Write YYYY-MM-DD.") from err


def _add(register: Register, who: Person, arguments: Namespace) -> None:
    visit_id, path, written = arguments.things
    added = visits_kept.add_entry(
        register,
        who,
        visit_id,
        path,
        _table(written),
        entry=arguments.entry,
        expected_version=arguments.seen,
        device=arguments.device,
    )
    _show_entry(added, arguments)


def _table(written: str) -> dict[str, Any]:
    try:
        table = json.loads(written)
    except ValueError as err:
        raise InputError(f"The table is no JSON: {err}.", """Write '{"reading": ["5", "1", 46.1]}'.""") from err
    if not isinstance(table, dict):
        raise InputError("The table is no JSON object.", """Write '{"reading": ["5", "1", 46.1]}'.""")
    return table


def _strike(register: Register, who: Person, arguments: Namespace) -> None:
    visit_id, entry_id = arguments.things
    _show_entry(visits_kept.void_entry(register, who, visit_id, entry_id, arguments.why or ""), arguments)


def _take(register: Register, who: Person, arguments: Namespace) -> None:
    visit_id, name = arguments.things
    _show_entry(visits_kept.take_manual_spec(register, who, visit_id, name), arguments)


def _show_entry(entry: Any, arguments: Namespace) -> None:
    if arguments.json:
        show_as_json(as_plain(entry))
    else:
        terminal().show(f"{entry.id}  {entry_words(entry.path, entry.body)}")


def _judge(register: Register, who: Person, arguments: Namespace) -> None:
    judgement = visits_kept.judge_visit(register, who, arguments.things[0])
    if arguments.json:
        show_as_json(as_plain(judgement))
        return
    rows = [
        (one["id"], word(one["winding"]["verdict"]), word(one["action"]), word(one["urgency"]), *one["because"][:1])
        for one in judgement.assessment["valves"]
    ]
    width = 5
    show_rows(
        ("valve", "windings", "action", "urgency", "because"),
        [(*row, *[""] * (width - len(row))) for row in rows],
        empty="The visit lists no valves.",
    )


def _sign(register: Register, who: Person, arguments: Namespace) -> None:
    issue = visits_kept.sign_off(register, who, arguments.things[0], why=arguments.why)
    if arguments.json:
        show_as_json(as_plain(issue))
        return
    screen = terminal()
    screen.show(f"Issue {issue.number}, signed by {issue.by}.")
    for change in issue.changes:
        for line in screen.wrapped(f"{change.what}: {change.why} ({change.by})"):
            screen.show(line)


def _file(register: Register, who: Person, arguments: Namespace) -> None:
    visit_id, name = arguments.things
    syntax = name.lower().rpartition(".")[2]
    refuse_existing(name, overwrite=arguments.overwrite)
    write_file(name, visits_kept.visit_file(register, who, visit_id, syntax), overwrite=arguments.overwrite)
    tell(f"Written: {name}")


def _issue(register: Register, who: Person, arguments: Namespace) -> None:
    visit_id, number, name = arguments.things
    if not number.isdecimal() or len(number) > 6:
        raise InputError(f"{number} is no number of an issue.", "Issues are counted from 1.")
    refuse_existing(name, overwrite=arguments.overwrite)
    suffix = f".{name.lower().rpartition('.')[2]}"
    content = visits_kept.issue_report(register, who, visit_id, int(number), suffix)
    write_file(name, content, overwrite=arguments.overwrite)
    tell(f"Written: {name}")


_VERBS: Final[dict[str, Callable[[Register, Person, Namespace], None]]] = {
    "list": _list,
    "show": _show,
    "preview": _preview,
    "import": _import,
    "begin": _begin,
    "add": _add,
    "strike": _strike,
    "take": _take,
    "judge": _judge,
    "sign": _sign,
    "file": _file,
    "issue": _issue,
}
