"""The known word nearest to one that is not known, so that a slip of the finger is put right at once."""

from collections.abc import Iterable


def nearest(written: str, known: Iterable[str]) -> str | None:
    """The most alike known word; None where nothing is alike.

    Examples
    --------
    >>> nearest("resistence", ("resistance", "tolerance")), nearest("colour", ("id", "unit"))
    ('resistance', None)
    """
    from difflib import get_close_matches  # only where there is something to report

    by_folded = {word.casefold(): word for word in known}
    alike = get_close_matches(written.casefold()[:80], by_folded, n=1, cutoff=0.6)
    return by_folded[alike[0]] if alike else None
