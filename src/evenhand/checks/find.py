"""Run every check and put what they find in the order in which it should be dealt with."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from datetime import UTC, datetime, timedelta
from functools import cache

from evenhand.checks.facts import Check, Facts
from evenhand.checks.standing import DISAGREEMENTS
from evenhand.terms.records import Finding
from evenhand.terms.rooms import rooms_of

__all__ = ["WATCHED", "Find", "all_checks", "find_all", "finders", "rank", "urgency"]

Find = Callable[[Facts], Iterator[Finding]]

NEAR = timedelta(days=3)
WATCHED = frozenset(
    (
        "enrol_again",
        "hand_changed",
        "log_ends_early",
        "many_refusals",
        "reader_changed",
        "reader_clock_off",
        "reader_quiet",
        "reader_scores_high",
        "refusal_burst",
    )
)
"""The checks of what the watch over hands and readers tells, which Hands shows as Today does."""
TOLD_UNTIL_MADE_GOOD = frozenset(("closed_period_changed", "dispute_open"))
"""Checks that no settling puts aside: what is owed goes on changing, and a person waits for an answer."""


@cache
def finders() -> Mapping[str, tuple[Check, Find]]:
    """Return every check and how it finds, by code; raises ImportError where a module lacks `CHECK` or `find`."""
    from evenhand.checks import agreed, enrolments, files, hands, hours, pay, readers, whole

    packages = (agreed, enrolments, files, hands, hours, pay, readers, whole)
    rooms = [room for package in packages for room in rooms_of(package, ("CHECK", "find"))]
    found: list[tuple[Check, Find]] = [(room.CHECK, room.find) for room in rooms]
    found += [(one, one.find) for one in DISAGREEMENTS]
    return {check.code: (check, find) for check, find in sorted(found, key=lambda one: one[0].code)}


def all_checks() -> tuple[Check, ...]:
    """Return what every check is about, by code."""
    return tuple(check for check, _ in finders().values())


def find_all(facts: Facts, codes: Collection[str] | None = None) -> list[Finding]:
    """Return what the checks find, or those of these `codes`, minus what is settled, the most urgent first."""
    asked = [find for code, (_, find) in finders().items() if codes is None or code in codes]
    found = [finding for find in asked for finding in find(facts)]
    as_of = datetime.fromtimestamp(facts.as_of, UTC)
    still_open = (one for one in found if one.key not in facts.settled or one.code in TOLD_UNTIL_MADE_GOOD)
    return sorted(still_open, key=lambda one: urgency(one, as_of))


def urgency(finding: Finding, as_of: datetime) -> tuple[bool, float, int, int, str]:
    """Return the sort key of a finding; see `rank`."""
    stake = finding.stake
    return rank(stake.deadline, stake.minutes, stake.people, finding.key, as_of)


def rank(
    deadline: datetime | None, minutes: int, people: int, key: str, as_of: datetime
) -> tuple[bool, float, int, int, str]:
    """Return the sort key of a finding, or a case, by its stake and its key: smaller comes first.

    A deadline within three days comes first, the nearest before the others, because after it the person is
    not paid in time whatever else is done. Then the minutes of pay in doubt, because pay is what people live
    on. Then how many people are held up. Then the key, so that the same facts give the same order.
    """
    near = deadline is not None and deadline - as_of <= NEAR
    left = deadline.timestamp() if near and deadline is not None else 0.0
    return (not near, left, -minutes, -people, key)
