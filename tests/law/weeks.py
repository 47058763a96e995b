"""Build attributed punches: from wall-clock times, to read like a time sheet, or full weeks by the hundred."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime
from decimal import Decimal
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import polars as pl
from hypothesis import strategies as st

from evenhand.law import Hours, compute_hours
from evenhand.terms.columns import Frame
from evenhand.terms.parameters import OwnRules
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.tables import ATTRIBUTED

CHICAGO = "America/Chicago"


def instant(text: str, zone: str = CHICAGO) -> int:
    """Return the instant of an ISO time; one without an offset is a wall-clock time in `zone`."""
    when = datetime.fromisoformat(text)
    return int((when if when.tzinfo else when.replace(tzinfo=ZoneInfo(zone))).timestamp())


def sheet(*presses: str, zone: str = CHICAGO, person: str = "Ada") -> Frame:
    """Return punches written as '2026-03-02 08:00', with ' in' or ' out' behind where they are marked."""
    rows: list[dict[str, Any]] = []
    for press in presses:
        text, way = press, None
        for mark in ("in", "out"):
            if press.endswith(f" {mark}"):
                text, way = press.removesuffix(f" {mark}"), mark
        row = {"punch": len(rows) + 1, "person": person, "reader": "R1", "zone": zone}
        rows.append(row | {"at": instant(text, zone), "direction": way})
    return ATTRIBUTED.rows(rows)


def hours_of(
    attributed: Frame,
    zone: str = CHICAGO,
    policy: Policy | None = None,
    *,
    schedules: Frame | None = None,
    rates: Mapping[str, Decimal | Sequence[tuple[date, date, Decimal]]] | None = None,
    own: Mapping[str, OwnRules] | None = None,
    **rules: Any,
) -> Hours:
    bound = SiteRules("invented", zone, **rules)
    beside = {"schedules": schedules, "rates": None if rates is None else _dated(rates), "own": own}
    return compute_hours(attributed, bound, policy or Policy(), keep_steps=True, **beside)  # type: ignore[arg-type]


def _dated(rates: Mapping[str, Decimal | Sequence[tuple[date, date, Decimal]]]) -> Frame:
    """Return hourly rates as the law takes them; a bare one holds for ever."""
    rows = [
        (person, since, until, int(amount * 10_000))
        for person, theirs in rates.items()
        for since, until, amount in ([(date.min, date.max, theirs)] if isinstance(theirs, Decimal) else theirs)
    ]
    schema = {"person": pl.String, "since": pl.Date, "until": pl.Date, "amount": pl.Int64}
    return pl.DataFrame(rows, schema=schema, orient="row")


def paid(hours: Hours) -> list[tuple[int, int]]:
    """Return (first punch, last punch) of each paid span, by their numbers in the sheet."""
    spans = hours.classed.select("punch_in", "punch_out").unique(maintain_order=True)
    return [(int(first), int(last)) for first, last in spans.iter_rows()]


def questions(hours: Hours) -> list[tuple[str, int]]:
    return [(str(kind), int(punch)) for kind, punch in hours.questions.select("kind", "punch").iter_rows()]


def paid_minutes(hours: Hours) -> float:
    return float(sum(hours.weeks[name].sum() for name in ("ordinary_s", "overtime_s", "double_s"))) / 60


ZONES = (CHICAGO, "America/New_York", "Australia/Lord_Howe")
FIRST = 1_772_600_000  # 2026-03-04, four days before clocks change in the United States
DAY_S = 86_400

Pressed = list[tuple[int, str | None, str]]  # seconds since the press before, its mark, the zone of its reader


# When people leave for a meal or a rest [hours after coming]; None is a day off.
AWAY = ((3,), (3,), (3, 7), (4,), (4, 8), (2, 4), None, (2, 4), (6,), (2, 4, 7), ())


@st.composite
def worked_weeks(draw: st.DrawFn) -> Pressed:
    """Draw one to two weeks of a person: days of 7 to 13 hours, meals, rests, and now and then a mistake.

    Days are drawn one by one, so that a failing week shrinks; minutes and mistakes come from a drawn seed.
    """
    usual, other = draw(st.sampled_from(ZONES)), draw(st.sampled_from(ZONES))
    starts, hours = draw(st.integers(0, DAY_S - 1)), draw(st.sampled_from([10, 9, 8, 7, 11, 12, 13]))
    marked, worked = draw(st.sampled_from([0.0, 1.0, 0.5])), draw(st.sampled_from([1.0, 1.0, 0.4]))
    days = draw(st.lists(st.sampled_from(AWAY), min_size=10, max_size=15))
    noise = Random(draw(st.integers(0, 2**32 - 1)))
    presses = []
    for day, away in enumerate(days):
        if away is None or noise.random() > worked:
            continue
        begins = starts + day * DAY_S + noise.randint(-600, 600)
        for k, at in enumerate(_day(noise, begins, hours * 3600 + noise.randint(-3600, 3600), away)):
            if noise.random() < 0.01:  # forgotten
                continue
            way = ("in", "out")[k % 2] if noise.random() < marked else None
            zone = other if noise.random() < 0.05 else usual
            presses.append((at, way, zone))
            if noise.random() < 0.02:  # laid down twice
                presses.append((at + noise.randint(0, 90), way, zone))
    presses.sort(key=lambda press: press[0])
    befores = [0, *(at for at, _, _ in presses)]
    return [(at - before, way, zone) for (at, way, zone), before in zip(presses, befores, strict=False)]


def _day(noise: Random, begins: int, length: int, away: tuple[int, ...]) -> list[int]:
    """Return the presses of a day: in, out to each meal or rest and back, out."""
    presses = [begins]
    for hour in away:
        leaves = begins + hour * 3600 + noise.randint(0, 3000)
        returns = leaves + (noise.randint(300, 1500) if hour == 2 else noise.randint(1500, 4500))
        if returns + 1800 < begins + length:
            presses += [leaves, returns]
    return [*presses, begins + length]


gaps = st.one_of(
    st.integers(0, 130),
    st.integers(200, 3600),
    st.integers(3600, 15 * 3600),
    st.integers(11 * 3600, 40 * 3600),
)
scattered = st.lists(
    st.tuples(gaps, st.sampled_from(["in", "out", None]), st.sampled_from(ZONES)), min_size=1, max_size=14
)
weeks = worked_weeks().filter(bool)
workplaces = st.dictionaries(
    st.sampled_from(["Ada", "Bo", "Cy"]), st.one_of(weeks, weeks, weeks, scattered), min_size=1, max_size=3
)


def attributed_from(workplace: Mapping[str, Pressed], begins: int = FIRST) -> Frame:
    """Return the punches of people whose presses are given as gaps [s] after `begins` and after each other."""
    rows: list[dict[str, Any]] = []
    for person, pressed in workplace.items():
        at = begins
        for gap, direction, zone in pressed:
            at += gap
            row = {"person": person, "reader": "R1", "zone": zone, "at": at, "direction": direction}
            rows.append(row | {"punch": len(rows) + begins})
    return ATTRIBUTED.rows(rows)


def uncompiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """Return a pass as the compiler would, for arrays filled in place, but run as plain Python over lists."""

    def run(*columns: Any) -> Any:
        given = [column.tolist() if isinstance(column, np.ndarray) else column for column in columns]
        count = function(*given)
        for column, values in zip(columns, given, strict=True):
            if isinstance(column, np.ndarray) and column.flags.writeable:
                column[:] = values
        return count

    return run
