"""What Settings shows: values in words, and what a change does as lines of tables."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenhand.jobs.settings_change import SettingsForeseen
from evenhand.jobs.week_changes import WeekChange
from evenhand.terms.languages import in_a_row, sentence, told
from evenhand.terms.words import as_duration
from evenhand.web.effects import PeriodShown, shown_period
from evenhand.web.pages.files.take_view import PersonWeekChange, ranked_weeks

__all__ = ["ChangeForeseenView", "foreseen", "number_in_words", "rule_in_words"]

MOST_WEEKS = 500
RULES = (
    sentence("repeats"),
    sentence("pairing"),
    sentence("grace"),
    sentence("trifles"),
    sentence("automatic meal"),
    sentence("call back"),
    sentence("rest breaks"),
    sentence("rounding"),
    sentence("workweek"),
    sentence("overtime"),
    sentence("workday"),
    sentence("daily"),
    sentence("fortnight"),
    sentence("work period"),
    sentence("no rounding"),
    sentence("alternative workweek"),
    sentence("health care schedule"),
    sentence("seventh day"),
    sentence("weekly"),
    sentence("meal periods"),
    sentence("rest periods"),
    sentence("split shift"),
    sentence("reporting time"),
    sentence("moving workday"),
    sentence("twelve hours"),
    sentence("limits"),
    sentence("minimum wage"),
)
"""What rules are called, without their jurisdiction."""
UNITS = (sentence("weeks"), sentence("cent per hour"))
"""Units of the law's numbers that are words; the others are symbols."""
PUBLIC_SAFETY_TOLD = (sentence("fire protection"), sentence("law enforcement"))
"""What may be chosen of public safety, as it is shown."""


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
    words = name.rpartition(".")[2].replace("_", " ")
    return told(words) if words in RULES else words


def number_in_words(value: int | Sequence[int] | None, unit: str) -> str:
    """Return a number of the law with its unit."""
    if value is None:
        return told("not known")
    if not isinstance(value, int):
        return in_a_row("{one}, {other}", [number_in_words(one, unit) for one in value])
    if unit == "s":
        return as_duration(value)
    if unit == "cent per hour":
        return told("{amount:.2f} an hour", amount=value / 100)
    if unit == "1/100":
        return told("{times:g} times", times=value / 100)
    return told("{count:,} {unit}", count=value, unit=told(unit) if unit in UNITS else unit)
