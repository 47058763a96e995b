"""What the decisions in the ledger show: each in a line, with where what it decided stands, and the way back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

import polars as pl

from evenhand.jobs.decision_log import LOG_KINDS, LogAsked, decision_log
from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.columns import Frame
from evenhand.web.decided import DecisionLine, decision_line
from evenhand.web.listing import WHOLE, pages_of

__all__ = ["DECISIONS_SHOWN", "DecisionsView", "of_rows", "page"]

DECISIONS_SHOWN = 50


@dataclass(frozen=True)
class DecisionsView:
    """One page of the decisions asked for, `found` of them, and what they may be narrowed down to."""

    lines: Sequence[DecisionLine]
    found: int
    page: int
    pages: int
    asked: LogAsked
    kinds: Sequence[str]
    authors: Sequence[str]

    def turned_to(self, page: int) -> str:
        """Return the address of another page of them."""
        return "/ledger/decisions" + self._query(page=str(page))

    @property
    def file(self) -> str:
        """Return the address of all of them as a file."""
        return "/ledger/decisions.csv" + self._query()

    def _query(self, **more: str) -> str:
        asked = self.asked
        day = asked.day.isoformat() if asked.day else ""
        told = {"person": asked.person, "by": asked.author, "kind": asked.kind, "day": day, **more}
        return "?" + urlencode({name: value for name, value in told.items() if value})


def page(reckoning: Reckoning, log: Frame, asked: LogAsked, number: int) -> DecisionsView:
    """Return one page of the decisions (LOG) that were asked for."""
    pages = pages_of(log.height, DECISIONS_SHOWN)
    if number == WHOLE:
        number, pages, part = 1, 1, log
    else:
        number = min(max(number, 1), pages)
        part = log.slice((number - 1) * DECISIONS_SHOWN, DECISIONS_SHOWN)
    every = decision_log(reckoning)["author"].drop_nulls().unique().sort().to_list()
    names = reckoning.snapshot.names
    return DecisionsView(
        [decision_line(row, names) for row in part.iter_rows(named=True)],
        log.height,
        number,
        pages,
        asked,
        LOG_KINDS,
        every,
    )


def of_rows(reckoning: Reckoning, log: Frame, rows: Sequence[tuple[str, str]]) -> list[DecisionLine]:
    """Return the decisions (LOG) that stand in these rows, named by table and number or name."""
    wanted = set(rows)
    numbers = pl.col("number").is_in([number for _, number in rows])
    found = (row for row in log.filter(numbers).iter_rows(named=True) if (row["table"], row["number"]) in wanted)
    return [decision_line(row, reckoning.snapshot.names) for row in found]
