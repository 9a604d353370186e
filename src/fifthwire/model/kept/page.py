"""One page of a long list."""

from typing import Final, Generic, TypeVar

from fifthwire.model.record import record

_T = TypeVar("_T")

PAGE_ROWS: Final = 50
"""Rows a page holds unless another number is asked for.  [1]  Our choice: what a desk's screen shows in two turns."""


@record
class Page(Generic[_T]):
    """One page of a list, and how long the whole list is."""

    rows: tuple[_T, ...]
    page: int = 1
    """From 1."""
    n_rows: int = 0
    """Of the whole list."""
    page_rows: int = PAGE_ROWS

    @property
    def n_pages(self) -> int:
        """Pages of the whole list; 1 where it is empty."""
        return max(1, -(-self.n_rows // self.page_rows))
