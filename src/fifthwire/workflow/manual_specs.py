"""What a visit says a head should measure beside what the manuals say by now: shown, and taken over only when told."""

from dataclasses import replace

from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import EntryKept, SpecDiffers
from fifthwire.model.visit import Spec, Visit
from fifthwire.register import manuals, visits
from fifthwire.register.entries import assemble, quoted
from fifthwire.register.store import Keep, Register
from fifthwire.visitfile.writing import table_of
from fifthwire.workflow.permission import require
from fifthwire.workflow.visit_adding import add_entry


def differing_specs(keep: Keep, visit: Visit) -> tuple[SpecDiffers, ...]:
    """Specs of a visit that the manuals say otherwise under the same name; where a value came from is not compared."""
    kept = manuals.specs_named(keep) if visit.specs else {}
    return tuple(
        SpecDiffers(name=name, in_file=spec, in_manuals=kept[name].spec, revision_id=kept[name].id)
        for name, spec in visit.specs.items()
        if name in kept and not _is_same(spec, kept[name].spec)
    )


def _is_same(one: Spec, other: Spec) -> bool:
    return replace(one, source=None) == replace(other, source=None)


def take_manual_spec(register: Register, who: Person, visit_id: str, name: str) -> EntryKept:
    """Take over what the manuals say by now, as an addition: the next judgement stands beside the earlier ones.

    Parameters
    ----------
    register : Register
        Where the visit is kept.
    who : Person
        The actor.
    visit_id : str
        The visit.
    name : str
        Of the spec, in the visit and in the manuals.

    Raises
    ------
    InputError
        If the visit says the same already.
    NotFound
        If there is no such visit at the person's sites, or no such spec in the manuals.
    """
    with register.reading() as keep:
        kept = visits.visit(keep, visit_id)
        require(who, "add", site_id=kept.site_id)
        revision = manuals.spec_named(keep, name)
        held = assemble(visits.drafts_of(keep, visit_id), name="the visit").visit.specs.get(name)
    if revision is None:
        raise NotFound(f"The manuals do not say what {name} is.", "Look for it among the manuals.")
    if held is not None and _is_same(held, revision.spec):
        raise InputError(f"The visit says the same of {name} as the manuals.", "Nothing was changed.")
    path = f"specs/{quoted(name)}"
    return add_entry(register, who, visit_id, path, table_of(revision.spec), expected_version=kept.version)
