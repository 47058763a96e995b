"""Long lists: searched, sorted and turned over page by page, by plain links that keep the rest of the question."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Generic, TypeVar
from urllib.parse import urlencode

__all__ = ["PER_PAGE", "WHOLE", "ListQuery", "Listed", "list_rows", "pages_of"]

Row = TypeVar("Row")

PER_PAGE = 100
WHOLE = 0
"""The page that holds all of a list."""


@dataclass(frozen=True)
class ListQuery:
    """What a list's address asks for; `kept` are further parameters that its links carry along.

    Page `WHOLE` is all of it.
    """

    address: str
    search: str = ""
    sort: str = ""
    descending: bool = False
    page: int = 1
    kept: tuple[tuple[str, str], ...] = ()

    def link(self) -> str:
        """Return the address that asks for this."""
        parameters = [
            *self.kept,
            *([("q", self.search)] if self.search else []),
            *([("sort", self.sort)] if self.sort else []),
            *([("order", "down")] if self.descending else []),
            *([("page", str(self.page))] if self.page != 1 else []),
        ]
        return self.address + ("?" + urlencode(parameters) if parameters else "")


@dataclass(frozen=True)
class Listed(Generic[Row]):
    """One page of a list, with the links that lead elsewhere in it."""

    rows: Sequence[Row]
    found: int
    page: int
    pages: int
    asked: ListQuery

    @property
    def sort(self) -> str:
        """Return the column the list is sorted by."""
        return self.asked.sort

    @property
    def descending(self) -> bool:
        """Whether the largest come first."""
        return self.asked.descending

    def sorted_by(self, column: str) -> str:
        """Return the link that sorts by `column`, the other way round where it already does."""
        down = column == self.asked.sort and not self.asked.descending
        return replace(self.asked, sort=column, descending=down, page=1).link()

    def turned_to(self, page: int) -> str:
        """Return the link to another page."""
        return replace(self.asked, page=page).link()

    def whole(self) -> str:
        """Return the link to all rows on one page."""
        return replace(self.asked, page=WHOLE).link()


def pages_of(found: int, per_page: int = PER_PAGE) -> int:
    """Return how many pages so many rows take, one at least."""
    return max(1, -(-found // per_page))


def list_rows(
    rows: Sequence[Row],
    asked: ListQuery,
    columns: Mapping[str, Callable[[Row], Any]],
    searched: Callable[[Row], str],
    usual: str,
) -> Listed[Row]:
    """Return one page, or all, of the rows whose `searched` text holds every word asked for, sorted by a column.

    Rows without a value in that column come last either way. A column that does not exist sorts by `usual`.
    """
    wanted = asked.search.casefold().split()
    found = [row for row in rows if all(word in searched(row).casefold() for word in wanted)] if wanted else list(rows)
    asked = asked if asked.sort in columns else replace(asked, sort=usual, descending=False)
    value = columns[asked.sort]
    known = [row for row in found if value(row) is not None]
    known.sort(key=value, reverse=asked.descending)
    found = known + [row for row in found if value(row) is None]
    if asked.page == WHOLE:
        return Listed(found, len(found), 1, 1, asked)
    pages = pages_of(len(found))
    page = min(max(asked.page, 1), pages)
    return Listed(found[(page - 1) * PER_PAGE : page * PER_PAGE], len(found), page, pages, replace(asked, page=page))
