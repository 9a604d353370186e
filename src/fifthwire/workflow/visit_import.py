"""Take a visit file into the register: look at what it would do, answer what it cannot decide, take it in whole."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from hashlib import sha256
from typing import Final

from fifthwire.model.canonical import is_derived
from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import Site, SystemPlace
from fifthwire.model.kept.visits import (
    Choice,
    EntryDraft,
    EntryKept,
    EntryLine,
    ImportedVisit,
    Question,
    SpecDiffers,
    VisitKept,
    VisitPreview,
)
from fifthwire.model.reasons import WARNINGS, say
from fifthwire.model.record import record
from fifthwire.model.visit import Visit
from fifthwire.register import audit, place_names, places, valves, visits
from fifthwire.register.entries import assemble, identity_of, normal_body, take_apart
from fifthwire.register.store import Keep, Register
from fifthwire.visitfile import ReadVisit, read_visit
from fifthwire.visitfile.entry_words import entry_words
from fifthwire.workflow.manual_specs import differing_specs
from fifthwire.workflow.matching import NEW, Matching, match_valves
from fifthwire.workflow.new_places import add_site_of, add_system_of, add_valves_of, follow_heads
from fifthwire.workflow.permission import require, require_everywhere, sees_site
from fifthwire.workflow.visit_difference import HEADER, Difference, EarlierFile, difference, strikes, timed
from fifthwire.workflow.visit_zip import VisitWithPictures, keep_pictures, opened, ready
from fifthwire.workflow.visits import syntax_of

SITE: Final = "site"
SYSTEM: Final = "system"
VISIT: Final = "visit"


def _read(opened: VisitWithPictures) -> ReadVisit:
    """A visit file, once it is known to be text and of a size that one has."""
    return read_visit(opened.content, name=opened.name, syntax=syntax_of(opened.name, opened.content))


@record
class _Plan:
    """What taking in a file would do."""

    read: ReadVisit
    sha256: str
    site: Site | None
    system: SystemPlace | None
    kept: VisitKept | None
    entries: tuple[EntryKept, ...]
    is_known_file: bool
    identity: str
    matching: Matching
    questions: tuple[Question, ...]
    found: Difference
    specs: tuple[SpecDiffers, ...]

    @property
    def visit(self) -> Visit:
        """As the file says it."""
        return self.read.visit

    @property
    def is_same(self) -> bool:
        """Whether nothing of it is new."""
        return self.kept is not None and (self.is_known_file or self.found.is_nothing)


def preview_visit_file(
    register: Register, who: Person, content: bytes, name: str, *, answers: Mapping[str, str] | None = None
) -> VisitPreview:
    """What importing a visit file would do; nothing is written.

    Parameters
    ----------
    register : Register
        Where it would be kept.
    who : Person
        The actor.
    content : bytes
        The file.
    name : str
        Its name: the suffix says TOML or JSON; a ZIP holds the visit file with its pictures.
    answers : mapping
        Answers to the questions of an earlier preview.

    Raises
    ------
    VisitFileError
        If the file cannot be read, with every problem and its place.
    """
    require(who, "add")
    file = opened(name, content)
    read = _read(file)
    with register.reading() as keep:
        plan = _plan(keep, who, read, file.content, answers or {})
    return VisitPreview(
        name=name,
        site=plan.visit.header.site,
        system=plan.visit.header.system,
        date=plan.visit.header.date,
        site_id=plan.site.id if plan.site else None,
        system_id=plan.system.id if plan.system else None,
        visit_id=plan.kept.id if plan.kept else None,
        is_same=plan.is_same,
        matches=plan.matching.matches,
        questions=plan.questions,
        added=() if plan.is_same else _lines(plan.found.added),
        gone=() if plan.is_same else _lines(plan.found.gone),
        specs=plan.specs,
        warnings=_warnings(read),
    )


def _lines(entries: Sequence[EntryDraft | EntryKept]) -> tuple[EntryLine, ...]:
    return tuple(EntryLine(path=one.path, text=entry_words(one.path, one.body)) for one in entries)


def _warnings(read: ReadVisit) -> tuple[str, ...]:
    return tuple(say(WARNINGS, one.code, one.values) for one in read.warnings)


def _plan(keep: Keep, who: Person, read: ReadVisit, content: bytes, answers: Mapping[str, str]) -> _Plan:
    header, questions = read.visit.header, []
    site, question = _site(keep, who, header.site, answers)
    questions += question
    system, question = _system(keep, site, header.system, answers)
    questions += question
    digest, identity = sha256(content).hexdigest(), identity_of(header)
    kept, question = (None, []) if system is None else _visit(keep, system, read.visit, identity, digest, answers)
    questions += question
    if kept is not None:
        identity = visits.identity_kept(keep, kept.id)
    entries = visits.entries_of(keep, kept.id) if kept else ()
    earlier = EarlierFile()
    if kept is not None:
        file_name, ids = visits.entries_of_last_file(keep, kept.id)
        earlier = EarlierFile(name=file_name, entry_ids=frozenset(ids))
    known = visits.valve_ids_of(keep, kept.id) if kept else {}
    matching = match_valves(read.visit.valves, valves.valves_of(keep, system.id) if system else (), answers, known)
    return _Plan(
        read=read,
        sha256=digest,
        site=site,
        system=system,
        kept=kept,
        entries=entries,
        is_known_file=kept is not None and visits.has_file(keep, kept.id, digest),
        identity=identity,
        matching=matching,
        questions=(*questions, *matching.questions),
        found=difference(take_apart(read.visit), _as_in_a_file(entries), earlier, identity),
        specs=differing_specs(keep, read.visit),
    )


def _as_in_a_file(entries: Sequence[EntryKept]) -> tuple[EntryKept, ...]:
    """Entries in the spelling of a file, so that what was written on the page is known again in it."""
    if all(is_derived(one.id) for one in entries):
        return tuple(entries)
    header = assemble(entries, name="the visit").visit.header
    return tuple(
        one if is_derived(one.id) else replace(one, body=normal_body(one.path, one.body, header)) for one in entries
    )


def _site(keep: Keep, who: Person, name: str, answers: Mapping[str, str]) -> tuple[Site | None, list[Question]]:
    """The site of a file: by its name, else the person says."""
    answer = answers.get(SITE)
    if answer == NEW:
        return None, []
    site = places.site(keep, answer) if answer else places.site_named(keep, name)
    if site is not None:
        require(who, "add", site_id=site.id)
        return site, []
    near = [one for one in place_names.sites_like(keep, name) if sees_site(who, one[0])]
    if not near:
        return None, []
    choices = (*(Choice(id_, like) for id_, like in near), Choice(NEW, f"a new site: {name}"))
    return None, [Question(key=SITE, text=f"No site is named {name}. Is it one of these?", choices=choices)]


def _system(
    keep: Keep, site: Site | None, name: str, answers: Mapping[str, str]
) -> tuple[SystemPlace | None, list[Question]]:
    answer = answers.get(SYSTEM)
    if site is None or answer == NEW:
        return None, []
    system = places.system(keep, answer) if answer else places.system_named(keep, site.id, name)
    if system is not None and system.site_id != site.id:
        raise InputError(f"{system.name} is a system of another site.", "Answer system again.")
    others = places.systems_of(keep, site.id) if system is None else ()
    if not others:
        return system, []
    choices = (*(Choice(one.id, one.name) for one in others), Choice(NEW, f"a new system: {name}"))
    return None, [
        Question(key=SYSTEM, text=f"{site.name} has no system named {name}. Is it one of these?", choices=choices)
    ]


def _visit(
    keep: Keep, system: SystemPlace, visit: Visit, identity: str, digest: str, answers: Mapping[str, str]
) -> tuple[VisitKept | None, list[Question]]:
    """The kept visit that a file belongs to: by its id; without one a person says, unless the file itself is known."""
    kept = visits.visit_of_identity(keep, system.id, identity)
    if visit.header.id is not None or kept is None:
        return kept, []
    that_day = visits.visits_on(keep, system.id, visit.header.date)
    known = next((one for one in that_day if visits.has_file(keep, one.id, digest)), None)
    answer = answers.get(VISIT)
    if known is not None or answer == NEW:
        return known, []
    if answer is not None:
        chosen = next((one for one in that_day if one.id == answer), None)
        if chosen is None:
            raise InputError(f"{answer} is no visit of that day.", "Answer visit again.")
        return chosen, []
    same = _with_most_in_common(keep, that_day, visit)
    if same is not None:
        return same, []
    choices = (*(Choice(one.id, _visit_words(one)) for one in that_day), Choice(NEW, "another visit on that day"))
    text = f"{system.name} was visited on that day. Is this file of the same visit?"
    return that_day[0], [Question(key=VISIT, text=text, choices=choices)]


def _with_most_in_common(keep: Keep, that_day: Sequence[VisitKept], visit: Visit) -> VisitKept | None:
    """The visit that a file without an id shares most with, or whose header it repeats; None where there is none."""
    drafts = take_apart(visit)
    header = {one.id for one in drafts if one.path == HEADER}
    rest = {one.id for one in drafts} - header
    held = {one.id: {of.id for of in visits.drafts_of(keep, one.id)} for one in that_day}
    likest = max(that_day, key=lambda one: len(rest & held[one.id]), default=None)
    if likest is None:
        return None
    is_alone = len(that_day) == 1 and header <= held[likest.id]
    return likest if rest & held[likest.id] or is_alone else None


def _visit_words(kept: VisitKept) -> str:
    return f"the visit of {kept.technician or 'somebody'}, {kept.reason}, {kept.n_valves} valves"


def import_visit_file(
    register: Register, who: Person, content: bytes, name: str, *, answers: Mapping[str, str] | None = None
) -> ImportedVisit:
    """Take a visit file in: all of it or nothing. The same file a second time changes nothing.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor; a lead where the file brings sites, systems or valves that are not kept yet.
    content : bytes
        The file.
    name : str
        Its name: the suffix says TOML or JSON; a ZIP holds the visit file with its pictures.
    answers : mapping
        Answers to the questions of the preview.

    Raises
    ------
    VisitFileError
        If the file cannot be read, with every problem and its place.
    InputError
        If something is left to be asked.
    NotAllowed
        If it brings places and the person may not add them.
    """
    require(who, "add")
    file = opened(name, content)
    read, pictures = _read(file), ready(register, file)
    with register.adding() as keep:
        plan = _plan(keep, who, read, file.content, answers or {})
        _require_answered(plan)
        if plan.is_same and plan.kept is not None:
            done = ImportedVisit(kept=plan.kept, n_same=len(plan.found.same), warnings=_warnings(read))
        else:
            done = _take_in(keep, who, plan, name)
        keep_pictures(keep, who, done.kept.id, plan.visit, pictures)
        return done


def _require_answered(plan: _Plan) -> None:
    if not plan.questions:
        return
    asked = " ".join(
        f"{one.text} ({one.key}: {', '.join(choice.value for choice in one.choices)})" for one in plan.questions
    )
    raise InputError(f"Not taken in yet: {len(plan.questions)} to be answered. {asked}", "Answer, then import again.")


def _take_in(keep: Keep, who: Person, plan: _Plan, name: str) -> ImportedVisit:
    system = _place_of(keep, who, plan)
    identity, kept = plan.identity, plan.kept
    if kept is None:
        if visits.visit_of_identity(keep, system.id, identity) is not None:
            identity = f"{identity}/{plan.sha256[:16]}"  # a second visit without an id on one day
        kept = visits.hold(keep, visits.add_visit(keep, system.id, identity, plan.visit, who.name))
    else:
        kept = visits.hold(keep, kept.id)
    is_later = bool(plan.entries)
    n_notes = [one.path for one in plan.entries].count("notes") + [one.path for one in plan.found.added].count("notes")
    drafts = [timed(one, keep.now_utc) if is_later else one for one in plan.found.added]
    struck = strikes(plan.found, identity, name, who.name, keep.now_utc, n_notes)
    added = visits.add_entries(keep, kept, [*drafts, *struck])
    put_together = assemble((*plan.entries, *added), name=name)
    now = visits.settle(keep, kept, put_together.visit, len(added))
    ids = [*plan.found.same, *(one.id for one in drafts)]
    visits.add_file(keep, kept.id, name, plan.sha256, ids, who.name)
    new_ids = add_valves_of(keep, who, system, put_together.visit, plan.matching)
    visits.map_valves(keep, kept.id, {**plan.matching.known, **new_ids})
    follow_heads(keep, put_together.visit, visits.valve_ids_of(keep, kept.id))
    audit.write_down(keep, who, "visit-imported", f"{now.site}, {now.system}, {now.date}", name)
    return ImportedVisit(
        kept=now,
        n_added=len(drafts),
        n_struck=len(plan.found.gone),
        n_same=len(plan.found.same),
        n_new_valves=len(new_ids),
        warnings=(*_warnings(plan.read), *(one.words for one in put_together.doubts)),
    )


def _place_of(keep: Keep, who: Person, plan: _Plan) -> SystemPlace:
    """The system of the file, made where it is not kept yet."""
    if plan.system is not None:
        return plan.system
    if plan.site is None:
        require_everywhere(who, "change")
        site = add_site_of(keep, who, plan.visit)
    else:
        require(who, "change", site_id=plan.site.id)
        site = plan.site
    return add_system_of(keep, who, site, plan.visit)
