"""The drift test of a head in sentences."""

from math import floor, log10

from fifthwire.assessment.figures import number, percent
from fifthwire.diagnosis.drift.head_drift import FEWEST_DAYS, Drift, HeadDrift
from fifthwire.model import history_words as words


def drift_sentences(of: HeadDrift) -> tuple[str, ...]:
    """What the test says of a head: each drift that is called out, or that there is none.

    Parameters
    ----------
    of : HeadDrift
        As tested.
    """
    if of.n_days < FEWEST_DAYS:
        return (words.TOO_FEW_DAYS.format(days=of.n_days),)
    if not of.drifts:
        return (words.NOT_COMPARED,)
    if not of.called:
        return (words.NO_DRIFT.format(days=of.n_days, years=number(of.years, 1)),)
    said = []
    for drift in of.called:
        said += [_sentence(drift, of.years), words.BY_CHANCE.format(heads=_one_in(drift.p))]
    alone = any(drift.winding is not None for drift in of.called)
    return (*said, words.WHAT_NEXT) if alone else tuple(said)


def _sentence(drift: Drift, years: float) -> str:
    doubt = percent(max(round(drift.u_per_year_frac, 3), 0.001))
    text = words.ALL_DRIFT if drift.winding is None else words.PAIR_DRIFTS if drift.against else words.DRIFTS
    return text.format(
        winding=drift.winding,
        against=drift.against,
        moved=words.ROSE if drift.change_frac > 0 else words.FELL,
        change=percent(round(abs(drift.change_frac), 3)),
        years=number(years, 1),
        per_year=f"{number(abs(drift.per_year_frac) * 100, 1)} ± {doubt}",
    )


def _one_in(p: float) -> str:
    """The round number of heads below which chance gives it once.

    Examples
    --------
    >>> _one_in(0.004), _one_in(2e-5), _one_in(1e-12)
    ('100', '10,000', '1,000,000')
    """
    return f"{10 ** min(floor(-log10(max(p, 1e-9))), 6):,}"
