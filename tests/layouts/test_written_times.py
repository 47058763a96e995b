"""Any days and times, written in any way over a column, are read back right or stay open or are refused: never wrong.

The texts come from Python's strftime and from Babel (CLDR); what they mean is the datetime they were made of.
"""

from collections import Counter
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from random import Random

import numpy as np
import polars as pl
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from evenhand.layouts.values.civil import read_civil
from evenhand.layouts.values.dates import EPOCH
from evenhand.layouts.values.moments import join_columns, split_column
from evenhand.layouts.values.order import Dated, decide_order

from .ways import ALONE, DAY_S, DAYS, DIGITS, SHORT_DAYS, TIMES, seconds_on_the_wall

TODAY = date(2026, 11, 26)
STAMPS = {
    "seconds since 1970": lambda when: str(int(when.replace(tzinfo=UTC).timestamp())),
    "milliseconds since 1970": lambda when: str(int(when.replace(tzinfo=UTC).timestamp()) * 1000 + 7),
    "microseconds since 1970": lambda when: str(int(when.replace(tzinfo=UTC).timestamp()) * 1_000_000 + 12_345),
    "serial number": lambda when: repr(seconds_on_the_wall(when) / DAY_S + 25_569).removesuffix(".0"),
    **{way: (lambda when, way=way: when.strftime(way)) for way in ("%Y%m%d%H%M%S", "%Y%m%d%H%M", "%Y%m%dT%H%M%SZ")},
    **{
        f"{way}{clock}": (lambda when, w=way + clock: when.strftime(w))
        for way in DIGITS
        for clock in ("%H%M", "%H%M%S")
    },
}


@dataclass
class Log:
    """A column or two of one log, in the order of the file, and what they were made of."""

    columns: list[list[str]]
    whens: list[datetime]
    family: str


def days_of_log(draw: Random, many: int) -> list[date]:
    first = TODAY - timedelta(days=draw.randrange(1, 900))
    span = many if draw.random() < 0.5 else 2 * many
    days = sorted(first + timedelta(days=at) for at in draw.sample(range(span), many))
    return [day for day in days if day <= TODAY] or [first]


def write_log(draw: Random, family: str, many: int) -> Log:
    """Return a log of so many days, written in one of the ways of a family, mostly in order of time."""
    kind, day_way, time_way = family.split("|")
    fine, clock = {**TIMES, **ALONE}.get(time_way, (1, str))
    low, high = draw.choice([(0, 24), (6, 18), (20, 24)])
    whens = sorted(
        datetime.combine(day, time()) + timedelta(seconds=draw.randrange(low * 3600, high * 3600) // fine * fine)
        for day in days_of_log(draw, many)
        for _ in range(draw.randrange(1, 4))
    )
    if draw.random() < 0.3:
        whens = whens[::-1] if draw.random() < 0.5 else draw.sample(whens, len(whens))
    if kind == "stamp":
        if time_way == "M":
            whens = [when.replace(second=0) for when in whens]
        return Log([[STAMPS[day_way](when) for when in whens]], whens, family)
    days, clocks = [DAYS_ALONE[day_way](when.date()) for when in whens], [clock(when.time()) for when in whens]
    if kind == "two":
        return Log([days, clocks], whens, family)
    by = draw.choice([" ", ", ", "  "])
    return Log([[f"{day}{by}{at}" for day, at in zip(days, clocks, strict=True)]], whens, family)


SHORT = {way: (lambda day, of=of: str(int(of(day)))) for way, of in SHORT_DAYS.items()}
DAYS_ALONE = {**DAYS, **SHORT}
FAMILIES = [
    *(f"two|{day}|{at}" for day in DAYS_ALONE for at in (*TIMES, *ALONE)),
    *(f"one|{day}|{at}" for day in DAYS if day != "serial" for at in TIMES),
    *(f"stamp|{way}|{'M' if way.endswith('%M') else 'S'}" for way in STAMPS),
]


def read_log(log: Log):
    """Return whether the log is right, open or refused in part; fails where a row is read wrongly."""
    columns = [pl.Series(texts) for texts in log.columns]
    moments = split_column(columns[0]) if len(columns) == 1 else join_columns(columns)
    clocks = np.zeros(len(log.whens), np.int32)
    latest = TODAY.toordinal() - EPOCH + 1
    dated = Dated(moments.dates.values, 2000, latest, is_close=True, rows=moments.dates.codes, clocks=clocks)
    found = decide_order([dated])
    if found.how in ("open", "contradictory"):
        return found.how
    civil = read_civil(moments, found.order)
    meant = np.array([seconds_on_the_wall(when) for when in log.whens])
    wrong = np.flatnonzero((civil.faults == 0) & (civil.local != meant))
    assert not len(wrong), (log.family, found, [column[int(wrong[0])] for column in log.columns], log.whens[wrong[0]])
    return "refused" if civil.faults.any() else "right"


@given(st.sampled_from(FAMILIES), st.integers(1, 40), st.randoms(use_true_random=False))
@settings(max_examples=400, deadline=None)
def test_a_log_is_never_read_wrongly(family, many, draw):
    event(read_log(write_log(Random(draw.random()), family, many)))


def outcomes(families, many, tries):
    found = Counter()
    for at in range(tries):
        draw = Random(at)
        found[read_log(write_log(draw, families[at % len(families)], many))] += 1
    return found


@pytest.mark.parametrize("kind", ["two", "one", "stamp"])
def test_nearly_every_log_of_some_weeks_is_read_right(kind):
    families = [family for family in FAMILIES if family.startswith(kind)]
    found = outcomes(families, 25, max(300, len(families)))
    assert found["right"] >= 0.97 * found.total(), found


@pytest.mark.parametrize("way", [*DAYS, *SHORT])
def test_every_way_of_writing_days_is_met_and_read_right(way):
    found = outcomes([f"two|{way}|{at}" for at in (*TIMES, *ALONE)], 25, 18)
    assert found["right"] >= 15, found


@pytest.mark.parametrize("way", [*TIMES, *ALONE])
def test_every_way_of_writing_times_is_met_and_read_right(way):
    found = outcomes([f"two|{day}|{way}" for day in DAYS if not day.startswith(("%y", "%d%m%y"))], 25, 60)
    assert found["right"] >= 57, found


@pytest.mark.parametrize("way", STAMPS)
def test_every_number_that_says_date_and_time_is_met_and_read_right(way):
    found = outcomes([f"stamp|{way}|{'M' if way.endswith('%M') else 'S'}"], 25, 20)
    assert found["right"] >= 19, found
