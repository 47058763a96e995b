"""A reader logs far fewer punches than it usually does on that weekday."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta

import polars as pl

from evenhand.checks.chances import at_most
from evenhand.checks.facts import Check, Facts
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_day, counted
from evenhand.terms.zones import civil_date

WEEKS_BACK = 8
WEEKS_NEEDED = 2
DAYS_LOOKED_AT = 7
CHANCE = 1e-4

CHECK = Check(
    code="reader_quiet",
    title="A reader is quiet",
    why="When a reader stops, or its log was not taken, the punches of a whole shift are missing at once. Its count of "
    "a day is held against the same weekday of the eight weeks before, in step with the rest of its site; a day is "
    "named where chance alone would leave so few in less than one of ten thousand (two Poisson counts compared "
    "exactly: Przyborowski and Wilenski, Biometrika 31, 1940, from memory).",
    next_step="Take the reader's log again; if it stays quiet, go and lay a hand down there.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader, for the latest of the last seven whole days on which it was far too quiet."""
    counts = _daily(facts)
    for reader in facts.reader_sites:
        for back in range(1, DAYS_LOOKED_AT + 1):
            day = facts.today - timedelta(days=back)
            seen, usual, weeks = _against_usual(facts, counts, reader, day)
            if weeks >= WEEKS_NEEDED and usual > seen and _chance(seen, usual, weeks) < CHANCE:
                yield _finding(facts, reader, day, seen, usual, weeks)
                break


def _daily(facts: Facts) -> Counter[tuple[str, date]]:
    since = facts.as_of - (7 * (WEEKS_BACK + 1) + 1) * 86_400
    counts: Counter[tuple[str, date]] = Counter()
    hours = facts.recorded.filter(pl.col("at") >= since).group_by("reader", pl.col("at") // 900).len()
    for reader, quarter, count in hours.iter_rows():
        counts[reader, civil_date(facts.reader_zones.get(reader, facts.zone), quarter * 900)] += count
    return counts


def _against_usual(facts: Facts, counts: Counter[tuple[str, date]], reader: str, day: date) -> tuple[int, float, int]:
    """Return presentations that day, those usual on its weekday in step with the site, and the weeks known."""
    first = min((known for name, known in counts if name == reader), default=day)
    before = [day - timedelta(weeks=week) for week in range(1, WEEKS_BACK + 1)]
    before = [known for known in before if known >= first]
    if not before:
        return counts[reader, day], 0.0, 0
    usual = sum(counts[reader, known] for known in before) / len(before)
    others = [
        name for name, site in facts.reader_sites.items() if site == facts.reader_sites[reader] and name != reader
    ]
    rest = sum(counts[name, day] for name in others)
    rest_usual = sum(counts[name, known] for name in others for known in before) / len(before)
    step = min(1.0, rest / rest_usual) if rest_usual else 1.0
    return counts[reader, day], usual * step, len(before)


def _chance(seen: int, usual: float, weeks: int) -> float:
    """Chance of so few, given all of them, if the day were like the weeks before."""
    return at_most(seen, seen + round(usual * weeks), 1 / (weeks + 1))


def _finding(facts: Facts, reader: str, day: date, seen: int, usual: float, weeks: int) -> Finding:
    return Finding(
        code=CHECK.code,
        subject=reader,
        day=day,
        reader=reader,
        says=f"{reader} was quiet on {as_day(day)}.",
        evidence=(
            f"{counted(seen, 'presentation')} logged that day ({facts.reader_zones[reader]}); about {usual:.0f} "
            "would be "
            f"usual, from the same weekday of {counted(weeks, 'week')} before and the rest of the site that day.",
            "A holiday or a closed door would explain it as well.",
        ),
        stake=Stake(people=round(usual / 2)),
        next_step=f"Take the log of {reader} again; if nothing more arrives, go to it and lay a hand down.",
        details={"seen": seen, "usual": usual, "weeks": weeks},
    )
