"""What is shown of one file taken, and of what taking it back or reading it again would do."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from evenhand.jobs.takes import Foreseen, WeekChange
from evenhand.terms.languages import told

__all__ = ["ForeseenView", "PersonWeekChange", "digest_of", "foreseen", "ranked_weeks"]

MOST_NAMES, MOST_WEEKS = 2000, 2000
"""How many names and weeks a page holds, most of them folded away until somebody looks."""


@dataclass(frozen=True)
class PersonWeekChange:
    """A week of one person that changes: paid time and pay before and after."""

    week: WeekChange

    @property
    def change_s(self) -> int:
        """Return by how many seconds paid time changes."""
        return self.week.paid_after_s - self.week.paid_before_s

    @property
    def overtime_s(self) -> int:
        """Return by how many seconds overtime changes, double time not counted."""
        return self.week.overtime_after_s - self.week.overtime_before_s

    @property
    def double_s(self) -> int:
        """Return by how many seconds double time changes."""
        return self.week.double_after_s - self.week.double_before_s

    @property
    def change(self) -> Decimal | None:
        """Return by how much pay changes; None where it is not known."""
        before, after = self.week.pay_before, self.week.pay_after
        return None if before is None or after is None else after - before


@dataclass(frozen=True)
class ForeseenView:
    """What a decision about a take would do: rows by table with what becomes of them, punches, weeks, periods."""

    foreseen: Foreseen
    rows: Sequence[tuple[str, str, int, Sequence[str]]]
    weeks: Sequence[PersonWeekChange]
    more_weeks: int
    people: int
    paid_s: int
    pay: Decimal | None
    most_s: int
    digest: str

    def called(self, people: Sequence[str]) -> str:
        """Return the names of people of whom weeks change."""
        names = {one.person: one.name for one in self.foreseen.weeks}
        return "; ".join(names.get(one, one) for one in people)

    @property
    def is_nothing(self) -> bool:
        """Whether nothing that is shown would change."""
        of = self.foreseen
        return not (
            self.rows
            or self.weeks
            or of.hanging
            or of.punches_gone
            or of.punches_new
            or of.punches_moved
            or of.punches_held
        )


def digest_of(found: Foreseen) -> str:
    """Return a name for exactly what a decision would do, so that nothing else is done than what was shown."""
    return hashlib.sha256(repr(found).encode(errors="backslashreplace")).hexdigest()[:32]


def foreseen(found: Foreseen) -> ForeseenView:
    """Return what is shown of what would happen, the weeks that change most first."""
    weeks = ranked_weeks(found.weeks)
    changes = [one.change for one in weeks]
    known = [one for one in changes if one is not None]
    return ForeseenView(
        foreseen=found,
        rows=[
            (one.table, word, len(names), names[:MOST_NAMES])
            for one in found.tables
            for word, names in ((told("new"), one.new), (told("changed"), one.changed), (told("gone"), one.gone))
            if names
        ],
        weeks=weeks[:MOST_WEEKS],
        more_weeks=max(0, len(weeks) - MOST_WEEKS),
        people=len({one.week.person for one in weeks}),
        paid_s=sum(one.change_s for one in weeks),
        pay=sum(known, Decimal(0)) if len(known) == len(changes) else None,
        most_s=max((max(one.week.paid_before_s, one.week.paid_after_s) for one in weeks), default=0),
        digest=digest_of(found),
    )


def ranked_weeks(weeks: Sequence[WeekChange]) -> list[PersonWeekChange]:
    """Return the weeks that change, those that change most first."""
    return sorted(map(PersonWeekChange, weeks), key=_rank)


def _rank(one: PersonWeekChange) -> tuple[int, int, str, object]:
    return -abs(one.change_s), -abs(one.overtime_s) - abs(one.double_s), one.week.name, one.week.workweek
