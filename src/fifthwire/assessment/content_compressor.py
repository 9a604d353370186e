"""The section with which the report of a compressor failure opens."""

from fifthwire.assessment.blocks import Block, Column, Items, Paragraph, Row, Table
from fifthwire.assessment.valve_words import sentence
from fifthwire.model.assessment import Assessment, Suspect
from fifthwire.model.words import how_sure

HEADING = "What could have stopped the compressor"
TOLD_FROM = 0.05
"""A suspect less probable than this has no line of its own; valves are named all the same.  [1]  Our choice."""


def compressor_section(assessment: Assessment, units: str = "si") -> tuple[Block, ...]:
    """What could have stopped it, ranked; what to prove before a new one starts; what nothing here proves.

    Parameters
    ----------
    assessment : Assessment
        Of a visit after a compressor failed; of any other there is nothing to say.
    units : str
        "si" or "us".

    Returns
    -------
    tuple of Block
        Empty where no compressor failed.
    """
    failure = assessment.failure
    if failure is None:
        return ()
    liquid, *rest = failure.suspects
    told = [one for one in rest if one.probability >= TOLD_FROM] or [one for one in rest if one.valve][:1]
    others = [one.valve for one in rest if one.valve and one not in told]
    columns = (Column(label="What", share=4.0), Column(label="How sure", share=1.0))
    rows = tuple(Row(cells=(sentence(one.reason, units), _how_sure(one))) for one in told)
    table = Table(caption="What could have done it, most probable first", columns=columns, rows=rows)
    return (
        Paragraph(text=sentence(liquid.reason, units), tone="lead"),
        *((table,) if rows else ()),
        *((Paragraph(text=f"Able to as well, and nothing points at them: {', '.join(others)}."),) if others else ()),
        Items(
            label="Prove before a new compressor starts",
            texts=tuple(sentence(one, units) for one in failure.to_prove),
            tone="steps",
        ),
        Items(label="Not proved", texts=tuple(sentence(one, units) for one in failure.not_proved)),
    )


def _how_sure(suspect: Suspect) -> str:
    return how_sure(suspect.probability)
