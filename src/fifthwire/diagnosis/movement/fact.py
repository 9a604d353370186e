"""A fact of a valve, and the state the valve was left in by the work done on it."""

from collections.abc import Mapping
from dataclasses import field
from typing import Any

from fifthwire.model.assessment import Reason
from fifthwire.model.record import record


@record
class Fact:
    """Something seen, felt, read or proved. A code without a row in the likelihood table weighs nothing."""

    code: str
    values: Mapping[str, Any] = field(default_factory=dict)
    weighs: bool = True
    """False where it is told but must not move the odds: what happened before the work, for instance."""
    soft: Mapping[str, float] = field(default_factory=dict)
    """Outcomes of the same look with their weights, where a reading may belong to several; empty: the code alone.
    [1]"""
    line: tuple[float, ...] | None = None
    """Its own likelihood of every cause, where no table has one (a log's).  [1]"""


@record
class Found:
    """Facts of one kind with the contradictions met on the way."""

    facts: tuple[Fact, ...] = ()
    warnings: tuple[Reason, ...] = ()


@record
class State:
    """What the valve is now: the work of this visit, and what was dried, cleaned and seated."""

    has_new_head: bool = False
    has_new_body: bool = False
    is_cleaned: bool = False
    is_reseated: bool = False
    is_plug_repaired: bool = False
    was_tested_after_cleaning: bool = False


def joined(*found: Found) -> Found:
    """All facts and warnings of several kinds, in order."""
    return Found(
        facts=tuple(fact for one in found for fact in one.facts),
        warnings=tuple(warning for one in found for warning in one.warnings),
    )
