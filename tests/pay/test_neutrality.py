"""The audit of rounding: its statistics against scipy, and its measure against arithmetic done by hand."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from evenhand import law
from evenhand.pay.rounding import audit_days, moved_bounds, moved_days
from evenhand.pay.rounding.neutrality import EXACT_WORK, holm, mean_intervals, sign_flips
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.sources import PEOPLE
from evenhand.terms.tables import ATTRIBUTED
from evenhand.terms.wages import RATES

MONDAY = 1_772_409_600  # 2026-03-02 00:00 UTC
DAY, HOUR = 86_400, 3600
WEEKS = (date(2026, 1, 4), date(2027, 1, 3))


def test_with_clusters_of_one_size_the_interval_is_students_of_their_means() -> None:
    # scipy.stats.ttest_1samp on the clusters' means.
    sums = np.array([120, -300, 60, 0, 240, -60, 180], dtype=np.int64)
    other = np.array([15, 45, -30])
    group = np.repeat([0, 1], [7, 3])
    mean, low, high = mean_intervals(group, np.concatenate([sums, other]), np.full(10, 4, dtype=np.int64))
    for place, mine in enumerate((sums, other)):
        reference = stats.ttest_1samp(mine / 4, 0).confidence_interval(0.95)
        assert mean[place] == pytest.approx(mine.mean() / 4)
        assert (low[place], high[place]) == pytest.approx((reference.low, reference.high))


def test_one_cluster_has_no_interval() -> None:
    mean, low, high = mean_intervals(np.array([0]), np.array([60]), np.array([4]))
    assert mean[0] == 15.0
    assert np.isnan([low[0], high[0]]).all()


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(-900, 900), min_size=2, max_size=9))
def test_the_exact_chance_is_scipys(totals: list[int]) -> None:
    # scipy.stats.permutation_test flips signs of single samples; with enough resamples it counts every pattern.
    (chance, beside), exact = sign_flips(np.repeat([0, 1], [len(totals), 2]), np.array([*totals, 60, 60]))
    assert beside == 0.5  # of ++, +-, -+ and --, two lie as far out
    assert exact.all()
    if not any(totals):
        assert chance == 1.0
        return
    reference = stats.permutation_test(
        (np.array(totals, dtype=float),), np.sum, permutation_type="samples", n_resamples=np.inf
    )
    assert chance == pytest.approx(min(1.0, float(reference.pvalue)))


@pytest.mark.parametrize("unit", [1, 7])  # 7: all totals share a unit
def test_days_all_alike_are_a_binomial(unit: int) -> None:
    # n equal totals, k of them losses: as many heads or more, or tails, in n tosses. scipy.stats.binomtest, two-sided.
    totals = np.array([-unit] * 21 + [unit] * 9)
    (chance,), (exact,) = sign_flips(np.zeros(30, dtype=np.int64), totals)
    assert exact
    assert chance == pytest.approx(stats.binomtest(21, 30).pvalue)


def test_a_long_series_is_taken_as_normal_and_says_so() -> None:
    rng = np.random.default_rng(7)
    totals = rng.integers(-900, 900, 3000)
    (chance,), (exact,) = sign_flips(np.zeros(3000, dtype=np.int64), totals)
    spread = np.sqrt(np.sum(np.square(totals)))
    assert not exact
    assert chance == pytest.approx(2 * stats.norm.sf(abs(totals.sum()) / spread))


def test_just_above_the_work_that_is_counted_the_two_ways_agree() -> None:
    # Some seventy days of up to 13 minutes in seconds: counted they are under the limit, with one day more above it.
    rng = np.random.default_rng(11)
    totals = rng.integers(-550, 650, 120)
    work = [count * int(np.abs(totals[:count]).sum()) for count in range(1, 121)]
    count = sum(one <= EXACT_WORK for one in work)
    assert 40 < count < 120
    (counted,), (exact,) = sign_flips(np.zeros(count, dtype=np.int64), totals[:count])
    spread = np.sqrt(np.sum(np.square(totals[:count])))
    assert exact
    assert counted == pytest.approx(2 * stats.norm.sf(abs(totals[:count].sum()) / spread), rel=0.25)


def test_adjusted_chances_are_those_of_holm() -> None:
    # By hand: 0.01 x 4, 0.02 x 3, then 0.03 x 2 = 0.06 no less than before, 0.5.
    assert holm(np.array([0.03, 0.01, 0.5, 0.02])) == pytest.approx([0.06, 0.04, 0.5, 0.06])
    # Two tests: the smaller twice, the larger once but no less than that, and neither above 1.
    assert holm(np.array([0.3, 0.4])) == pytest.approx([0.6, 0.6])
    assert holm(np.array([0.9, 0.8])) == pytest.approx([1.0, 1.0])


def shifts(minutes: list[tuple[int, int]]) -> Frame:
    """Return punches of one shift a day, in and out so many minutes after 08:00 and 16:00."""
    rows = []
    for day, (late, over) in enumerate(minutes):
        begins = MONDAY + day * DAY + 8 * HOUR
        for way, at in (("in", begins + late * 60), ("out", begins + 8 * HOUR + over * 60)):
            punch = len(rows) + 1
            rows.append({"punch": punch, "person": "P1", "reader": "N", "zone": "UTC", "at": at, "direction": way})
    return ATTRIBUTED.rows(rows)


def worked(attributed: Frame, rounding_s: int = 0) -> law.Hours:
    return law.compute_hours(attributed, SiteRules("Mill", "UTC", rounding_s=rounding_s), Policy(), keep_steps=False)


def moved(attributed: Frame, rounding_s: int) -> tuple[Frame, Frame]:
    hours = worked(attributed, rounding_s)
    return moved_bounds(hours.classed, attributed).sort("person", "at"), hours.classed


# Punches spread evenly over whole minutes: mean shift later and its standard deviation for each punch, in minutes.
# Arithmetic over the minutes of one increment; no source beyond it. Six minutes: 0, -1, -2, +3, +2, +1.
EVEN = [(300, 0.0, 1.41), (900, 0.0, 4.32), (360, 0.5, 1.71)]


@pytest.mark.parametrize(("increment", "mean", "deviation"), EVEN)
def test_evenly_spread_punches_move_as_arithmetic_says(increment: int, mean: float, deviation: float) -> None:
    bounds, _ = moved(shifts([(minute, minute) for minute in range(60)]), increment)
    for position, sign in ((0, -1), (1, 1)):  # moving later takes at the start and gives at the end
        later = bounds["gain_s"].gather_every(2, position).to_numpy() * sign / 60
        assert later.mean() == pytest.approx(mean)
        assert later.std() == pytest.approx(deviation, abs=0.005)
    assert bounds["gain_s"].sum() == 0


def audit(
    attributed: Frame, rounding_s: int, rate: str | None = "18.00", rates: Frame | None = None
) -> dict[str, dict[str, object]]:
    _, classed = moved(attributed, rounding_s)
    placed = {"name": "Ida", "site": "Mill", "department": "Packing", "hourly_rate": rate and Decimal(rate)}
    people = PEOPLE.rows(placed | {"person": person} for person in attributed["person"].unique().sort())
    zones = dict.fromkeys(attributed["person"].unique(), "UTC")
    held = RATES.empty() if rates is None else rates
    rows = audit_days(moved_days(classed, attributed, people, held, zones, WEEKS, worked(attributed).weeks), people)
    return {row["level"]: row for row in rows.iter_rows(named=True)}


def test_a_schedule_that_ends_at_seven_past_loses_every_day() -> None:
    # In at 08:00, out at 16:07: a quarter-hour rule takes seven minutes a day. 40 days are 280 minutes, 16,800 s;
    # at 18.00 an hour 84.00. All signs equal: chance 2 / 2^40.
    row = audit(shifts([(0, 7)] * 40), 900)["person"]
    assert (row["total_s"], row["punches"], row["days"]) == (-16_800, 80, 40)
    assert (row["per_punch_s"], row["per_day_s"]) == (-210.0, -420.0)
    assert row["money"] == Decimal("-84.00")
    assert row["chance"] == pytest.approx(2.0**-39)


def test_overtime_weeks_are_valued_at_time_and_a_half() -> None:
    # Four days of 8:07 stay below 40 hours; with ten-hour days, out at 18:07, the week has overtime.
    plain = audit(shifts([(0, 7)] * 4), 900)["person"]
    assert plain["money"] == plain["overtime_money"] == Decimal("-8.40")
    longer = audit(shifts([(0, 127)] * 5), 900)["person"]
    assert (longer["money"], longer["overtime_money"]) == (Decimal("-10.50"), Decimal("-15.75"))


def test_overtime_that_rounding_takes_whole_is_lost_overtime() -> None:
    # 29 CFR 785.48(b): rounding must not leave time that was worked unpaid; 29 USC 207(a)(1): what was worked past 40
    # hours is overtime. Four weeks of five days of 8:07 are 40:35 worked and 40:00 paid, each: 35 min of overtime lost.
    # At 20.00 an hour, by hand: 4 x 35 / 60 x 20 = 46.67, at time and a half 70.00 (46.67 where paid weeks were asked).
    week = [(0, 7)] * 5
    attributed = pl.concat(
        shifts(week).with_columns(pl.col("punch") + 100 * later, pl.col("at") + 7 * DAY * later) for later in range(4)
    )
    row = audit(attributed, 900, rate="20.00")["person"]
    assert (row["money"], row["overtime_money"]) == (Decimal("-46.67"), Decimal("-70.00"))
    # Overtime that is given counts too: four days out at 15:53 and one at 16:08 are 39:40 worked and 40:15 paid.
    # 35 min at 20.00 are 11.67, at time and a half 17.50.
    given = audit(shifts([(0, -7)] * 4 + [(0, 8)]), 900, rate="20.00")["person"]
    assert (given["money"], given["overtime_money"]) == (Decimal("11.67"), Decimal("17.50"))


def test_without_rounding_nothing_moves_and_nothing_is_alarming() -> None:
    row = audit(shifts([(minute, 3 * minute) for minute in range(20)]), 0)["site"]
    assert (row["total_s"], row["chance"], row["adjusted"]) == (0, 1.0, 1.0)


def test_time_without_a_rate_has_no_money() -> None:
    assert audit(shifts([(0, 7)] * 3), 900, rate=None)["person"]["money"] is None


def test_only_the_time_that_has_a_rate_is_valued() -> None:
    # One shift from 20:00 to 04:07, paid to 04:00, at 18.00 from the second day on: of its two bounds one is valued.
    begins = MONDAY + 20 * HOUR
    attributed = ATTRIBUTED.rows(
        {"punch": punch, "person": "P1", "reader": "N", "zone": "UTC", "at": at, "direction": way}
        for punch, at, way in ((1, begins, "in"), (2, begins + 8 * HOUR + 420, "out"))
    )
    rates = RATES.rows([{"person": "P1", "valid_from": date(2026, 3, 3), "reader": "", "amount": Decimal(18)}])
    row = audit(attributed, 900, rate=None, rates=rates)["person"]
    assert (row["total_s"], row["money"]) == (-420, Decimal("-2.10"))
    salary = rates.with_columns(plan=pl.lit("salary_fluctuating"))
    assert audit(attributed, 900, rate=None, rates=salary)["person"]["money"] is None


def test_people_are_counted_once_and_days_by_shift() -> None:
    # Two people of one department, three shifts between them: six punches, three days.
    one, other = shifts([(0, 7), (0, 7)]), shifts([(0, 8)])
    other = other.with_columns(person=pl.lit("P2"), punch=pl.col("punch") + 100)
    found = audit(pl.concat([one, other]), 900)["department"]
    assert [found[name] for name in ("people", "punches", "days", "total_s")] == [2, 6, 3, -420]
    # -14 min and +7 min: mean -7 / 6 min a punch, -7 / 3 min a day.
    assert (found["per_punch_s"], found["per_day_s"]) == pytest.approx((-70.0, -140.0))


def test_a_paid_rest_in_the_middle_bounds_nothing() -> None:
    # Out at 10:00 and in at 10:07 is paid through (29 CFR 785.18); only the first and the last punch count.
    begins = MONDAY + 8 * HOUR
    at = [begins, begins + 2 * HOUR, begins + 2 * HOUR + 420, begins + 8 * HOUR + 240]
    ways = ["in", "out", "in", "out"]
    attributed = ATTRIBUTED.rows(
        {"punch": place, "person": "P1", "reader": "N", "zone": "UTC", "at": instant, "direction": way}
        for place, (instant, way) in enumerate(zip(at, ways, strict=True), 1)
    )
    bounds, classed = moved(attributed, 300)
    assert bounds["punch"].to_list() == [1, 4]
    assert bounds["gain_s"].to_list() == [0, 60]
    assert (classed["ends"] - classed["starts"]).sum() == 8 * HOUR + 300
    assert bounds.filter(pl.col("gain_s") > 0).height == 1


def of_people(shares: dict[str, list[tuple[int, int]]]) -> Frame:
    """Return punches of each person's shifts, as `shifts`."""
    return pl.concat(
        shifts(minutes).with_columns(person=pl.lit(person), punch=pl.col("punch") + 1000 * place)
        for place, (person, minutes) in enumerate(shares.items())
    )


def test_each_level_has_its_people_days_money_and_chances() -> None:
    # To the nearest quarter: Ada's two days take seven minutes each, Bo's three give seven each, Cy's one takes three.
    # Ada and Cy pack, Bo dyes, all in the mill; Di is nowhere. At 18.00 an hour seven minutes are 2.10.
    shares = {"Ada": [(0, 7)] * 2, "Bo": [(0, 8)] * 3, "Cy": [(0, 3)], "Di": [(0, 0)]}
    placed = {"Ada": "Packing", "Bo": "Dyeing", "Cy": "Packing", "Di": None}
    attributed = of_people(shares)
    _, classed = moved(attributed, 900)
    people = PEOPLE.rows(
        {"person": who, "name": "Ida", "site": where and "Mill", "department": where,
         "hourly_rate": None if who == "Cy" else Decimal(18)}
        for who, where in placed.items()
    )  # fmt: skip
    days = moved_days(
        classed, attributed, people, RATES.empty(), dict.fromkeys(placed, "UTC"), WEEKS, worked(attributed).weeks
    )
    rows = audit_days(days, people)
    columns = ("level", "name", "punches", "days", "people", "total_s", "money", "overtime_money", "test")
    exact = "exact sign-flip test"
    assert rows.select(columns).rows() == [
        ("site", "Mill", 12, 6, 3, 240, Decimal("2.10"), Decimal("2.10"), exact),
        ("department", "Dyeing", 6, 3, 1, 1260, Decimal("6.30"), Decimal("6.30"), exact),
        ("department", "Packing", 6, 3, 2, -1020, Decimal("-4.20"), Decimal("-4.20"), exact),
        ("person", "Ada", 4, 2, 1, -840, Decimal("-4.20"), Decimal("-4.20"), exact),
        ("person", "Bo", 6, 3, 1, 1260, Decimal("6.30"), Decimal("6.30"), exact),
        ("person", "Cy", 2, 1, 1, -180, None, None, exact),
        ("person", "Di", 2, 1, 1, 0, Decimal(0), Decimal(0), exact),
    ]  # fmt: skip
    # Chances by counting signs. The mill: sums of +-14, +-21 and +-3 minutes are 38, 32, 10 and 4 either way, so all
    # eight lie as far out. Dyeing is one cluster; Packing's two both took: 2 of 4. Ada 2 of 4, Bo 2 of 8, Cy 2 of 2.
    chances = dict(zip(rows["name"], rows["chance"], strict=True))
    assert chances == {"Mill": 1.0, "Dyeing": 1.0, "Packing": 0.5, "Ada": 0.5, "Bo": 0.25, "Cy": 1.0, "Di": 1.0}
    # Holm among rows of one level: 0.5 x 2; 0.25 x 4, and no less after it.
    assert rows["adjusted"].to_list() == [1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0]
    mill, packing = rows.row(0, named=True), rows.row(2, named=True)
    assert (mill["per_punch_s"], mill["per_day_s"]) == (20.0, 40.0)
    assert (packing["per_punch_s"], packing["per_day_s"]) == (-170.0, -340.0)
    bo = rows.row(4, named=True)
    assert (bo["punch_low_s"], bo["punch_high_s"]) == (210.0, 210.0)  # three days alike have no spread
    assert (bo["day_low_s"], bo["day_high_s"]) == (420.0, 420.0)
    # A ratio of sums: Ada's -840 of 2 days and Cy's -180 of 1 lie -160 and +160 from -340 a day; by hand, t of one
    # degree of freedom (scipy.stats.t) times sqrt(2 x (160^2 + 160^2)) / 3.
    reach = stats.t.ppf(0.975, 1) * np.sqrt(2 / 1 * 2 * 160**2) / 3
    assert (packing["day_low_s"], packing["day_high_s"]) == pytest.approx((-340 - reach, -340 + reach))


def test_many_people_are_adjusted_for_how_many_they_are() -> None:
    # Eight days alike: 2 of 2^8 sign patterns. Of three people tested the smallest chance counts threefold.
    attributed = of_people({"Ada": [(0, 7)] * 8, "Bo": [(0, 0)] * 2, "Cy": [(0, 0)] * 2})
    _, classed = moved(attributed, 900)
    people = PEOPLE.rows({"person": who, "name": "Ida"} for who in ("Ada", "Bo", "Cy"))
    days = moved_days(
        classed,
        attributed,
        people,
        RATES.empty(),
        dict.fromkeys(("Ada", "Bo", "Cy"), "UTC"),
        WEEKS,
        worked(attributed).weeks,
    )
    rows = audit_days(days, people)
    assert rows["level"].to_list() == ["person"] * 3  # nobody has a site or a department
    assert rows["chance"].to_list() == [2 / 2**8, 1.0, 1.0]
    assert rows["adjusted"].to_list() == [6 / 2**8, 1.0, 1.0]


def test_only_shifts_that_begin_in_the_weeks_asked_for_are_audited() -> None:
    # A shift from Saturday evening into Sunday is the old week's, with both its bounds. Workweeks begin on Sundays.
    saturday = MONDAY + 5 * DAY + 20 * HOUR
    attributed = ATTRIBUTED.rows(
        {"punch": punch, "person": "P1", "reader": "N", "zone": "UTC", "at": at, "direction": way}
        for punch, at, way in (
            (1, saturday, "in"), (2, saturday + 8 * HOUR + 420, "out"),
            (3, saturday + 24 * HOUR, "in"), (4, saturday + 32 * HOUR + 240, "out"),
        )
    )  # fmt: skip
    _, classed = moved(attributed, 900)
    people = PEOPLE.rows([{"person": "P1", "name": "Ida"}])
    for week, gains in ((date(2026, 3, 1), [-420]), (date(2026, 3, 8), [-240]), (date(2026, 3, 15), [])):
        days = moved_days(
            classed, attributed, people, RATES.empty(), {"P1": "UTC"}, (week, week), worked(attributed).weeks
        )
        assert days["gain_s"].to_list() == gains
        assert days["punches"].to_list() == [2] * len(gains)
    assert audit_days(days, people).is_empty()
