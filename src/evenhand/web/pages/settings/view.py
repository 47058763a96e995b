"""What Settings shows: values in words, and what a change does as lines of tables."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenhand.jobs.settings_change import SettingsForeseen
from evenhand.jobs.week_changes import WeekChange
from evenhand.terms.words import as_duration
from evenhand.web.effects import PeriodShown, shown_period
from evenhand.web.pages.files.take_view import PersonWeekChange, ranked_weeks

__all__ = ["ChangeForeseenView", "foreseen", "number_in_words", "rule_in_words"]

MOST_WEEKS = 500


@dataclass(frozen=True)
class ChangeForeseenView:
    """What a change of settings does, as it is shown: of open periods the one payroll waits for and later in full."""

    of: SettingsForeseen
    open: Sequence[PeriodShown]
    earlier: Sequence[PeriodShown]
    closed: Sequence[PeriodShown]
    weeks: Sequence[PersonWeekChange]
    more_weeks: int
    most_s: int

    @property
    def may_be_made(self) -> bool:
        """Whether there is a change that can be written."""
        return not self.of.problem and not self.of.is_nothing


IN_FULL = 2


def foreseen(of: SettingsForeseen) -> ChangeForeseenView:
    """Return what is shown of a change."""
    effects = of.effects
    open_, closed = ([], []) if effects is None else (list(effects.open), list(effects.closed))
    weeks: Sequence[WeekChange] = effects.weeks if effects else ()
    ranked = ranked_weeks(weeks)
    return ChangeForeseenView(
        of,
        [shown_period(one) for one in open_[:IN_FULL]],
        [shown_period(one) for one in open_[IN_FULL:]],
        [shown_period(one) for one in closed],
        ranked[:MOST_WEEKS],
        max(0, len(ranked) - MOST_WEEKS),
        max((max(one.week.paid_before_s, one.week.paid_after_s) for one in ranked), default=0),
    )


def rule_in_words(name: str) -> str:
    """Return a rule's name without its jurisdiction, such as `seventh day`."""
    return name.rpartition(".")[2].replace("_", " ")


def number_in_words(value: int | Sequence[int] | None, unit: str) -> str:
    """Return a number of the law with its unit."""
    if value is None:
        return "not known"
    if not isinstance(value, int):
        return ", ".join(number_in_words(one, unit) for one in value)
    if unit == "s":
        return as_duration(value)
    if unit == "cent per hour":
        return f"{value / 100:.2f} an hour"
    return f"{value / 100:g} times" if unit == "1/100" else f"{value:,} {unit}"
