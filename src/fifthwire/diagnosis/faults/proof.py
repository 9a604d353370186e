"""What proves that a head or a body must be replaced. A suspicion, however strong, replaces nothing.

Nothing here is evidence of the running system: that alone never replaces a part.
"""

from typing import Final

from fifthwire.diagnosis.faults.case import Case

REPLACE_AT: Final = 0.95
"""The causes that a new part cures must together be this probable.  [1]  Judgement; the trade's "sure"."""

HEAD_CURES: Final = ("winding", "head-jammed", "head-cracked")
"""A new head cures these, and `head-unseated` once seating and cleaning have failed."""
BODY_CURES: Final = ("body-stuck-open", "body-stuck-closed", "leaks-when-shut")
"""A new body cures these."""

HEAD_PROOFS: Final = (
    ("cracks.yes",),
    ("insulation.fault",),
    ("own-head-after-good.stuck",),
    ("stem.out", "good-head.moves"),
)
"""Facts that together prove a head faulty, one line a proof. A good head that moves shows the pulses at the plug."""
DRIVEN_PROOFS: Final = (
    ("stem.out", "board.all-swing"),
    ("proof.stem-travel.failed", "board.all-swing"),
)
"""The same where the pulses are seen at the board, so that the windings must have been read and be good."""
MOVES: Final = frozenset(
    {
        "felt.motor.steps",
        "own-head.moves",
        "own-head-after-good.moves",
        "after-cleaning.moves",
        "proof.stem-travel.passed",
        "proof.step-response.passed",
        "step-test.responds",
        "held.at-two-commands",
    }
)
"""Looks at the valve moving by its own head: with one of these nothing is replaced for not moving."""
MOVING_OR_NOT: Final = frozenset({"cracks.yes", "insulation.fault"})
"""What condemns a head that still moves."""
ROCKS_DRIVEN: Final = ("felt.motor.rocking", "board.all-swing")
"""Bound gears, where all windings pass as well."""
MORE_THAN_ONE: Final = 2
"""Readings that prove a winding open or low, or two of them joined: one may be a missed or a slipped probe, or a figure
written down wrong.  [1]"""
SUSPECTED_FROM: Final = 0.5
"""A part more probably faulty than this is looked at for its proof first.  [1]  Judgement."""
BODY_PROOFS: Final = (
    ("pitted.yes",),
    ("good-head.stuck", "hand-magnet.stuck"),
    ("good-head.stuck", "board.all-swing", "stem.back"),
    ("good-head.stuck", "board.all-swing", "felt.motor.steps"),
)
"""Facts that together prove a body faulty: one line a proof."""


def must_replace_head(case: Case) -> bool:
    """Whether the head is proved faulty, and sure enough."""
    cured = case.probability(*HEAD_CURES)
    if has_failed_seating_and_cleaning(case):
        cured += case.probability("head-unseated")
    if cured < REPLACE_AT:
        return False
    if has_proved_winding(case) or case.weighing & MOVING_OR_NOT:
        return True
    if case.weighing & MOVES:  # it stood out, and yet it moves: one of the looks was mistaken
        return False
    return (
        _shows(case, HEAD_PROOFS) or _rocks_driven(case) or (_shows(case, DRIVEN_PROOFS) and _has_good_windings(case))
    )


def must_replace_body(case: Case) -> bool:
    """Whether the body is proved faulty, and sure enough; rust is cleaned off first, unless it has eaten the can."""
    is_rusty = case.head != "bolt-on" and bool(case.weighing & {"rust.light", "rust.heavy"})
    if is_rusty and "pitted.yes" not in case.weighing:
        return False
    return case.probability(*BODY_CURES) >= REPLACE_AT and _shows(case, BODY_PROOFS)


def missing_looks(case: Case) -> tuple[str, ...]:
    """Looks that may complete a proof of which all but one fact is there, for a part more probably faulty than not."""
    facts = case.weighing
    proofs: tuple[tuple[str, ...], ...] = ()
    if case.probability(*HEAD_CURES) > SUSPECTED_FROM:
        proofs += (*HEAD_PROOFS, *DRIVEN_PROOFS, ROCKS_DRIVEN)
    if case.probability(*BODY_CURES) > SUSPECTED_FROM:
        proofs += BODY_PROOFS
    missing = [set(proof) - facts for proof in proofs if len(proof) > 1]
    return tuple(code.rpartition(".")[0] for one in missing if len(one) == 1 for code in one)


def has_failed_seating_and_cleaning(case: Case) -> bool:
    """Whether a coil was seated again and cleaned, or had no rust to clean, and still does not drive."""
    facts = case.weighing
    was_seated = case.state.is_reseated or bool(facts & {"own-head-after-good.stuck", "own-head.stuck"})
    was_clean = case.state.is_cleaned or "rust.none" in facts
    still = {"own-head-after-good.stuck", "own-head.stuck", "after-cleaning.stuck", "proof.step-response.failed"}
    return was_seated and was_clean and bool(facts & still)


def has_proved_winding(case: Case) -> bool:
    """A faulty winding at the head's own plug; open, low or joined to another only where two readings show it."""
    read = case.windings
    if read.finding.verdict != "faulty" or not read.counts or not read.at_head_plug or read.doubtful_meter:
        return False
    blamed = read.finding.causes[0]
    if blamed.cause == "open-winding":
        return len(read.opens_that_prove(blamed.wires)) >= MORE_THAN_ONE
    if blamed.cause == "bridged":
        return len(read.pairs_that_touch(blamed.wires)) >= MORE_THAN_ONE
    if blamed.cause == "shorted-turns":  # where one more reading still tells something, it costs a minute
        is_read_again = len(read.finite_readings_of(blamed.wires)) >= MORE_THAN_ONE
        return is_read_again and read.finding.next_reading is None
    return blamed.cause == "open-common"


def _rocks_driven(case: Case) -> bool:
    """Rocking without travel means bound gears only when all windings pass and every phase swings."""
    return case.weighing.issuperset(ROCKS_DRIVEN) and _has_good_windings(case)


def _has_good_windings(case: Case) -> bool:
    return case.windings.counts and case.windings.finding.verdict == "sound"


def _shows(case: Case, proofs: tuple[tuple[str, ...], ...]) -> bool:
    return any(case.weighing.issuperset(proof) for proof in proofs)
