"""What must hold of hours whatever the punches are."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.law import compiling, compute_hours, ordering
from evenhand.terms.columns import Frame
from evenhand.terms.settings import AutomaticMeal, Differential, Grace, Policy, SiteRules
from evenhand.terms.sources import SCHEDULES
from evenhand.terms.tables import ATTRIBUTED
from evenhand.terms.zones import day_start
from tests.law.weeks import FIRST, ZONES, attributed_from, uncompiled, weeks, workplaces

FRAMES = ("classed", "weeks", "questions", "steps", "premiums")

lines = {
    "site": st.just("invented"),
    "zone": st.sampled_from(ZONES),
    "workweek_day": st.integers(0, 6),
    "workweek_s": st.sampled_from([0, 7 * 3600, 9_000]),
}
federal = st.builds(SiteRules, **lines, rounding_s=st.sampled_from([0, 300, 360, 900]))
states = st.builds(
    SiteRules, **lines, jurisdiction=st.sampled_from(["california", "alaska", "nevada", "colorado", "eu_2003_88"])
)
hospitals = st.builds(SiteRules, **lines, jurisdiction=st.just("us_eight_and_eighty")).map(
    lambda rules: replace(rules, fortnight=date(2026, 2, 2) + timedelta(days=rules.workweek_day))
)
site_rules = st.one_of(federal, states, hospitals)


@settings(max_examples=60, deadline=None)
@given(workplaces, site_rules)
def test_recorded_time_and_steps_add_up_to_paid_time_in_every_week(workplace: Any, rules: SiteRules) -> None:
    hours = compute_hours(attributed_from(workplace), rules, Policy(), keep_steps=True)
    steps = hours.steps.group_by("person", "workweek").agg(pl.col("seconds").sum())
    both = hours.weeks.join(steps, on=["person", "workweek"], how="full", coalesce=True)
    filled = both.with_columns(pl.selectors.integer().fill_null(0))
    assert filled.filter(
        pl.col("recorded_s") + pl.col("seconds") != pl.col("ordinary_s") + pl.col("overtime_s") + pl.col("double_s")
    ).is_empty()


@settings(max_examples=60, deadline=None)
@given(workplaces, site_rules)
def test_every_paid_second_is_in_exactly_one_class(workplace: Any, rules: SiteRules) -> None:
    hours = compute_hours(attributed_from(workplace), rules, Policy(), keep_steps=False)
    classed = hours.classed.with_columns(seconds=pl.col("ends") - pl.col("starts"))
    assert (classed["seconds"] > 0).all()
    next_starts = classed.select(pl.col("starts").shift(-1).over("person")).to_series()
    assert (classed["ends"] <= next_starts).fill_null(True).all()
    for pay_class in ("ordinary", "overtime", "double"):
        of_class = classed.filter(pl.col("pay_class") == pay_class)["seconds"].sum()
        assert of_class == hours.weeks[f"{pay_class}_s"].sum()
    if rules.jurisdiction not in {"us_eight_and_eighty", "eu_2003_88"}:
        assert hours.weeks["ordinary_s"].max() <= 40 * 3600
    if rules.jurisdiction == "us_federal":
        assert hours.weeks.filter(pl.col("overtime_s") > 0, pl.col("ordinary_s") < 40 * 3600).is_empty()


@settings(max_examples=40, deadline=None)
@given(workplaces, states)
def test_no_second_is_counted_toward_two_limits(workplace: Any, rules: SiteRules) -> None:
    """Premium seconds of a Californian or Alaskan week are the larger of two counts where no seventh day is worked."""
    if rules.jurisdiction not in {"california", "alaska"}:
        return
    hours = compute_hours(attributed_from(workplace), rules, Policy(), keep_steps=False)
    begins = day_lines(rules)
    days = hours.classed.with_columns(
        day=pl.Series(np.searchsorted(begins, hours.classed["starts"].to_numpy(), side="right")),
        seconds=pl.col("ends") - pl.col("starts"),
    )
    by_day = days.group_by("person", "workweek", "day").agg(pl.col("seconds").sum())
    limit = 8 * 3600
    counts = by_day.group_by("person", "workweek").agg(
        daily=(pl.col("seconds") - limit).clip(lower_bound=0).sum(),
        weekly=(pl.col("seconds").sum() - 5 * limit).clip(lower_bound=0),
        days=pl.len(),
    )
    both = counts.filter(pl.col("days") < 7).join(hours.weeks, on=["person", "workweek"])
    larger = pl.max_horizontal("daily", "weekly")
    assert both.filter(pl.col("overtime_s") + pl.col("double_s") != larger).is_empty()


def day_lines(rules: SiteRules) -> Any:
    first = date(2026, 2, 20)
    return np.array([day_start(rules.zone, first + timedelta(days=k), rules.workweek_s) for k in range(120)])


@settings(max_examples=40, deadline=None)
@given(workplaces, site_rules, st.randoms(use_true_random=False))
def test_the_order_of_rows_changes_nothing(workplace: Any, rules: SiteRules, random: Any) -> None:
    attributed = attributed_from(workplace)
    rows = list(range(attributed.height))
    random.shuffle(rows)
    straight = compute_hours(attributed, rules, Policy(), keep_steps=True)
    shuffled = compute_hours(attributed[rows], rules, Policy(), keep_steps=True)
    for name in FRAMES:
        assert getattr(straight, name).equals(getattr(shuffled, name))


@settings(max_examples=40, deadline=None)
@given(workplaces, workplaces, site_rules)
def test_a_later_week_never_changes_an_earlier_one(earlier: Any, later: Any, rules: SiteRules) -> None:
    attributed = attributed_from(earlier)
    last = int(attributed["at"].max())  # type: ignore[arg-type]
    more = pl.concat([attributed, attributed_from(later, last + 8 * 86_400)])
    before = compute_hours(attributed, rules, Policy(), keep_steps=True)
    after = compute_hours(more, rules, Policy(), keep_steps=True)
    for name in FRAMES:
        was, now = getattr(before, name), getattr(after, name)
        if name == "questions":  # the minutes in doubt are an estimate from all of a person's spans
            was, now = was.drop("minutes"), now.drop("minutes")
        until = before.weeks["workweek"].max()
        assert now.filter(pl.col("workweek") <= until).equals(was)


@settings(max_examples=40, deadline=None)
@given(workplaces, site_rules)
def test_splitting_people_over_runs_changes_nothing(workplace: Any, rules: SiteRules) -> None:
    attributed = attributed_from(workplace)
    together = compute_hours(attributed, rules, Policy(), keep_steps=True)
    alone = [compute_hours(part, rules, Policy(), keep_steps=True) for part in attributed.partition_by("person")]
    for name in FRAMES:
        apart = pl.concat([getattr(hours, name) for hours in alone])
        assert apart.sort("person", maintain_order=True).equals(getattr(together, name))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(60, 13 * 3600), st.integers(1800, 60 * 3600)), min_size=1, max_size=12))
def test_without_rounding_paid_time_is_elapsed_time_exactly(days: list[tuple[int, int]]) -> None:
    at, rows, elapsed = FIRST, [], 0
    for worked, off in days:
        for instant, direction in ((at, "in"), (at + worked, "out")):
            row = {"punch": len(rows), "person": "Ada", "zone": ZONES[0], "at": instant, "direction": direction}
            rows.append(row)
        elapsed += worked
        at += worked + off
    hours = compute_hours(ATTRIBUTED.rows(rows), SiteRules("invented", ZONES[0]), Policy(), keep_steps=False)
    assert hours.weeks["ordinary_s"].sum() + hours.weeks["overtime_s"].sum() == elapsed
    assert hours.questions.is_empty()


@settings(max_examples=10, deadline=None)
@given(st.lists(weeks, min_size=5, max_size=5), site_rules, st.randoms(use_true_random=False), st.integers(1, 200))
def test_people_in_blocks_and_punches_as_arrays_change_nothing(
    people: Any, rules: SiteRules, random: Any, most: int
) -> None:
    """The way of a large run, of which only the compiler is left out: blocks of people, rows placed as they come."""
    attributed = attributed_from(dict(zip("VAXBC", people, strict=True)))
    rows = list(range(attributed.height))
    random.shuffle(rows)
    plain = compute_hours(attributed, rules, Policy(), keep_steps=True)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(compiling, "is_large", lambda _punches: True)
        patch.setattr(compiling, "_compiled", uncompiled)
        patch.setattr(ordering, "BLOCK_PUNCHES", most)
        large = compute_hours(attributed[rows], rules, Policy(), keep_steps=True)
    for name in FRAMES:
        assert getattr(plain, name).equals(getattr(large, name))


def test_a_run_of_many_weeks_is_parted_into_blocks_that_have_room_for_them() -> None:
    # Whole people, as many as have no more than so many punches together, but at least one; and no more than have room.
    ends = np.array([3, 5, 9, 10])
    ordered = ordering.Ordered(pl.Series("ABCD"), (), np.arange(10), np.arange(10), ends, np.arange(10), large=True)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(ordering, "BLOCK_PUNCHES", 5)
        assert list(ordered.blocks(weeks=1)) == [(0, 2, 0, 5), (2, 4, 5, 10)]
        patch.setattr(ordering, "BLOCK_PUNCHES", 2)
        assert list(ordered.blocks(weeks=1)) == [(0, 1, 0, 3), (1, 2, 3, 5), (2, 3, 5, 9), (3, 4, 9, 10)]
        patch.setattr(ordering, "BLOCK_PUNCHES", 100)
        patch.setattr(ordering, "BLOCK_WEEKS", 12)
        assert list(ordered.blocks(weeks=4)) == [(0, 3, 0, 9), (3, 4, 9, 10)]
        assert len(list(ordered.blocks(weeks=100))) == 4
        assert list(replace(ordered, large=False).blocks(weeks=1)) == [(0, 4, 0, 10)]


def test_compiled_and_plain_passes_agree() -> None:
    @settings(max_examples=60, deadline=None)
    @given(workplaces, site_rules)
    def agree(workplace: Any, rules: SiteRules) -> None:
        attributed = attributed_from(workplace)
        plain = compute_hours(attributed, rules, Policy(), keep_steps=True)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(compiling, "is_large", lambda _punches: True)
            compiled = compute_hours(attributed, rules, Policy(), keep_steps=True)
        for name in FRAMES:
            assert getattr(plain, name).equals(getattr(compiled, name))

    agree()


def planned_for(workplace: dict[str, Any]) -> Frame:
    """Return a schedule of eight hours a day from seven for everybody, over the days the punches may fall in."""
    first = date(2026, 3, 1)
    return SCHEDULES.rows(
        {"person": person, "starts_at": at, "ends_at": at + 8 * 3600}
        for person in workplace
        for k in range(40)
        for at in [day_start(ZONES[0], first + timedelta(days=k), 7 * 3600)]
    )


policies = st.builds(
    Policy,
    trifle_s=st.sampled_from([0, 600]),
    call_back_s=st.sampled_from([0, 7200]),
    grace=st.builds(Grace, *[st.sampled_from([0, 900, 3600])] * 4),
    automatic_meal=st.sampled_from([None, AutomaticMeal(1800, 5 * 3600, 3 * 3600), AutomaticMeal(3600, 0, 0)]),
    differentials=st.just((Differential("night", tuple(range(7)), False, 22 * 3600, 6 * 3600),)),
)


@settings(max_examples=60, deadline=None)
@given(workplaces, st.one_of(federal, hospitals), policies)
def test_policies_keep_every_second_accounted_for(workplace: Any, rules: SiteRules, policy: Policy) -> None:
    attributed, planned = attributed_from(workplace), planned_for(workplace)
    hours = compute_hours(attributed, rules, policy, keep_steps=True, schedules=planned)
    steps = hours.steps.group_by("person", "workweek").agg(pl.col("seconds").sum())
    both = hours.weeks.join(steps, on=["person", "workweek"], how="left").with_columns(pl.col("seconds").fill_null(0))
    paid = pl.col("ordinary_s") + pl.col("overtime_s") + pl.col("double_s")
    assert both.filter(pl.col("recorded_s") + pl.col("seconds") != paid).is_empty()
    next_starts = hours.classed.select(pl.col("starts").shift(-1).over("person")).to_series()
    assert (hours.classed["ends"] <= next_starts).fill_null(True).all()
    assert (hours.differentials["ends"] > hours.differentials["starts"]).all()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(compiling, "is_large", lambda _punches: True)
        compiled = compute_hours(attributed, rules, policy, keep_steps=True, schedules=planned)
    for name in (*FRAMES, "differentials"):
        assert getattr(hours, name).equals(getattr(compiled, name))
