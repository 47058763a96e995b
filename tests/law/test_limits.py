"""Hours in each class, counted from the paid spans by the limits as they are published, in full weeks of every kind."""

from __future__ import annotations

from bisect import bisect
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import polars as pl
import pytest
from hypothesis import Phase, event, given, settings
from hypothesis import strategies as st

from evenhand.law import Hours, compute_hours
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.zones import day_start
from tests.law.weeks import CHICAGO, ZONES, Pressed, attributed_from, workplaces

H = 3600
Split = tuple[int, int, int]  # ordinary, overtime and double time [s]
Days = Mapping[int, int]  # seconds paid by workday, numbered from the first of the workweek


def split(total: int, ordinary: int, double: int = 0) -> Split:
    return ordinary, total - ordinary - double, double


def federal(days: Days) -> Split:
    """29 USC 207(a)(1): more than 40 hours a workweek."""
    total = sum(days.values())
    return split(total, min(total, 40 * H))


def alaska(days: Days) -> Split:
    """AS 23.10.060(b): more than 8 hours a day or 40 a week, the former not counted toward the latter."""
    return split(sum(days.values()), min(40 * H, sum(min(worked, 8 * H) for worked in days.values())))


def california(days: Days) -> Split:
    """Labor Code 510(a): more than 8 hours a workday, 40 a workweek, or on a seventh workday; double past 12, or 8."""
    seventh = days.get(6, 0) if len(days) == 7 else 0
    others = [worked for day, worked in days.items() if day < 6 or not seventh]
    double = sum(max(0, worked - 12 * H) for worked in others) + max(0, seventh - 8 * H)
    return split(sum(days.values()), min(40 * H, sum(min(worked, 8 * H) for worked in others)), double)


WEEKLY: dict[str, Callable[[Days], Split]] = {"us_federal": federal, "alaska": alaska, "california": california}

drawn_rules = st.builds(
    SiteRules,
    site=st.just("invented"),
    zone=st.sampled_from(ZONES),
    workweek_day=st.integers(0, 6),
    workweek_s=st.sampled_from([0, 7 * H, 9_000]),
)


def paid_by_day(hours: Hours, rules: SiteRules) -> Iterator[tuple[str, date, int, int, str]]:
    """Yield (person, workweek, workday of it, seconds, class) of the part of each paid span that is of one workday."""
    first = date(2026, 2, 20)
    lines = [day_start(rules.zone, first + timedelta(days=k), rules.workweek_s) for k in range(120)]
    for row in hours.classed.iter_rows(named=True):
        starts = row["starts"]
        while starts < row["ends"]:
            day = bisect(lines, starts) - 1
            number = (first + timedelta(days=day) - row["workweek"]).days
            assert 0 <= number < 7
            until = min(row["ends"], lines[day + 1])
            yield row["person"], row["workweek"], number, until - starts, row["pay_class"]
            starts = until


@pytest.mark.parametrize("jurisdiction", WEEKLY)
def test_each_week_is_classed_by_the_published_limits(jurisdiction: str) -> None:
    @settings(max_examples=50, deadline=None)
    @given(workplaces, drawn_rules)
    def classed(workplace: dict[str, Pressed], rules: SiteRules) -> None:
        rules = replace(rules, jurisdiction=jurisdiction)
        hours = compute_hours(attributed_from(workplace), rules, Policy(), keep_steps=False)
        weeks: dict[tuple[str, date], Counter[int]] = defaultdict(Counter)
        for person, week, day, seconds, _ in paid_by_day(hours, rules):
            weeks[person, week][day] += seconds
        expected = {key: WEEKLY[jurisdiction](days) for key, days in weeks.items()}
        columns = ("person", "workweek", "ordinary_s", "overtime_s", "double_s")
        found = {(who, week): tuple(rest) for who, week, *rest in hours.weeks.select(columns).rows() if any(rest)}
        event(f"overtime: {any(week[1] for week in expected.values())}")
        event(f"double: {any(week[2] for week in expected.values())}")
        assert found == expected

    classed()


@settings(max_examples=50, deadline=None)
@given(workplaces, drawn_rules)
def test_a_hospitals_fortnight_is_classed_by_the_published_limits(
    workplace: dict[str, Pressed], rules: SiteRules
) -> None:
    """29 USC 207(j): more than 8 hours a workday or 80 in 14 days, the former not counted toward the latter."""
    begins = date(2026, 2, 2) + timedelta(days=rules.workweek_day)
    rules = replace(rules, jurisdiction="us_eight_and_eighty", fortnight=begins)
    hours = compute_hours(attributed_from(workplace), rules, Policy(), keep_steps=False)
    days: dict[tuple[str, int], Counter[date]] = defaultdict(Counter)
    ordinary: Counter[tuple[str, int]] = Counter()
    for person, week, day, seconds, pay_class in paid_by_day(hours, rules):
        fortnight = person, (week - begins).days // 14
        days[fortnight][week + timedelta(days=day)] += seconds
        ordinary[fortnight] += seconds if pay_class == "ordinary" else 0
    expected = {key: min(80 * H, sum(min(s, 8 * H) for s in worked.values())) for key, worked in days.items()}
    event(f"past 80 hours: {80 * H in expected.values()}")
    assert ordinary == expected


@settings(max_examples=50, deadline=None)
@given(workplaces, drawn_rules)
def test_a_week_in_colorado_is_classed_by_the_published_limits(workplace: dict[str, Pressed], rules: SiteRules) -> None:
    """7 CCR 1103-1, rule 4.1.1: past 40 hours a week, 12 a workday or 12 consecutive, whichever pays most."""
    rules = replace(rules, jurisdiction="colorado")
    policy = Policy()
    hours = compute_hours(attributed_from(workplace), rules, policy, keep_steps=False)
    worked: Counter[tuple[str, date]] = Counter()
    past_twelve: Counter[tuple[str, date]] = Counter()
    for person, situations in situations_of(hours, rules).items():
        for pieces in situations:
            counts = [past(pieces, of) for of in ("day", "run")]
            larger = counts[1] if sum(counts[1].values()) > sum(counts[0].values()) else counts[0]
            for week, seconds in larger.items():
                past_twelve[person, week] += seconds
            for piece in pieces:
                worked[person, piece["week"]] += piece["ends"] - piece["starts"]
    overtime = {key: max(seconds - 40 * H, 0) for key, seconds in worked.items()}
    event(f"past 12 hours: {any(past_twelve[key] > overtime[key] for key in worked)}")
    found = (
        hours.weeks.filter(pl.col("ordinary_s") + pl.col("overtime_s") > 0)
        .select("person", "workweek", "overtime_s")
        .rows()
    )
    assert {(person, week): seconds for person, week, seconds in found} == {
        key: max(overtime[key], past_twelve[key]) for key in worked
    }


Piece = dict[str, Any]


def situations_of(hours: Hours, rules: SiteRules) -> dict[str, list[list[Piece]]]:
    """Return each person's paid time cut at workdays, in lists of what shares a workday or consecutive hours.

    Hours are consecutive in one shift, across no more than two hours off (a reading: rule 4.1.1 names no length).
    """
    first = date(2026, 2, 20)
    lines = [day_start(rules.zone, first + timedelta(days=k), rules.workweek_s) for k in range(120)]
    found: dict[str, list[list[Piece]]] = defaultdict(list)
    for (person,), spans in hours.classed.sort("person", "starts").group_by("person", maintain_order=True):
        last: Piece = {"day": -1, "run": 0, "shift": -1, "ends": 0}
        for week, shift, begins, ends in spans.select("workweek", "shift", "starts", "ends").rows():
            starts = begins
            while starts < ends:
                day = bisect(lines, starts) - 1
                until = min(ends, lines[day + 1])
                goes_on = shift == last["shift"] and starts - last["ends"] <= 2 * H
                run = last["run"] + (not goes_on)
                piece = {"week": week, "day": day, "run": run, "shift": shift, "starts": starts, "ends": until}
                if not goes_on and day != last["day"]:
                    found[str(person)].append([])
                found[str(person)][-1].append(piece)
                last, starts = piece, until
    return found


def past(pieces: list[Piece], of: str) -> Counter[date]:
    """Return the seconds past twelve hours of each workday, or of consecutive hours, by workweek."""
    counted: Counter[int] = Counter()
    beyond: Counter[date] = Counter()
    for piece in pieces:
        length = piece["ends"] - piece["starts"]
        counted[piece[of]] += length
        beyond[piece["week"]] += min(length, max(0, counted[piece[of]] - 12 * H))
    return beyond


def test_the_weeks_drawn_hold_what_the_rules_are_about() -> None:
    seen: Counter[str] = Counter()
    drawn = 200

    @settings(max_examples=drawn, derandomize=True, database=None, phases=[Phase.generate], deadline=None)
    @given(workplaces)
    def count(workplace: dict[str, Pressed]) -> None:
        attributed = attributed_from(workplace)
        in_state = {
            name: compute_hours(attributed, SiteRules("invented", CHICAGO, name), Policy(), keep_steps=True)
            for name in ("us_federal", "california")
        }
        weeks, state_weeks = (hours.weeks for hours in in_state.values())
        days = (
            in_state["california"]
            .classed.group_by("person", "workweek")
            .agg(pl.from_epoch("starts").dt.convert_time_zone(CHICAGO).dt.date().n_unique().alias("days"))
        )
        steps = in_state["us_federal"].steps["rule"].unique()
        zones = attributed.group_by("person").agg(pl.col("zone").n_unique())["zone"]
        seen.update(
            overtime=(weeks["overtime_s"] > 0).any(),
            ordinary=(weeks["overtime_s"] == 0).any(),
            double=(state_weeks["double_s"] > 0).any(),
            seven_days=(days["days"] == 7).any(),
            missing=in_state["us_federal"].questions["kind"].str.starts_with("missing").any(),
            meals_owed=(in_state["california"].premiums["kind"] == "meal").any(),
            rests_paid=steps.str.ends_with("rest_breaks").any(),
            repeats=steps.str.ends_with("repeats").any(),
            zones=(zones > 1).any(),
        )

    count()
    least = {"overtime": 0.4, "ordinary": 0.4, "double": 0.2, "seven_days": 0.2, "missing": 0.4, "meals_owed": 0.4}
    least |= {"rests_paid": 0.4, "repeats": 0.3, "zones": 0.4}
    shares = {what: seen[what] / drawn for what in least}
    assert {what: share for what, share in shares.items() if share < least[what]} == {}
