"""What was done on a visit and what stands beside it: work, make-safe confirmations, notes, pictures, proofs, logs."""

from collections.abc import Mapping
from datetime import datetime

from fifthwire.model import choices
from fifthwire.model.fields import Entry, choice, moment, special, text
from fifthwire.model.record import record


@record
class Work(Entry):
    """What was done to a valve."""

    valve: str = text("valve", "the label of the valve", required=True, example='"OU1-subcooler"')
    done: str = choice("done", "what was done", choices.WORK_DONE, required=True)
    part: str | None = text("part", "as printed on the new part")


@record
class Confirmation(Entry):
    """A make-safe step, confirmed by the person who did it."""

    what: str = choice("what", "the step", choices.CONFIRMATIONS, required=True)
    value: str | None = text("value", "what was measured, where something was")


@record
class Note(Entry):
    """A remark."""

    about: str | None = text("about", "a label; left out: the visit as a whole", example='"OU1-subcooler"')
    text: str = text("text", "the remark", required=True, example='"Insulation torn at the elbow."')


@record
class Photograph(Entry):
    """A picture that lies beside the file."""

    about: str | None = text("about", "a label; left out: the visit as a whole", example='"OU1-subcooler"')
    sha256: str = special("sha256", "of the picture", "sha256", required=True)


@record
class Proof(Entry):
    """After a repair: what showed that it works."""

    valve: str = text("valve", "the label of the valve", required=True, example='"OU1-subcooler"')
    kind: str = choice("kind", "what was watched", choices.PROOF_KINDS, required=True)
    result: str = choice("result", "what came of it", choices.PROOF_RESULTS, required=True)


@record
class LogEvidence(Entry):
    """A finding of a log."""

    source: str = choice("from", "where it was found", choices.EVIDENCE_FROM, required=True)
    sha256: str | None = special("sha256", "of the log", "sha256")
    from_utc: datetime | None = moment("from_utc", "start of the log")
    to_utc: datetime | None = moment("to_utc", "end of the log")
    valve: str = text("valve", "the label of the valve", required=True, example='"OU1-subcooler"')
    log_likelihood: Mapping[str, float] = special(
        "log_likelihood", "natural logarithm of the likelihood, a cause", "log-likelihood", required=True
    )
