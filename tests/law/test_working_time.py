"""Limits on working time: each figure is the directive's, or the regulations' that are named beside it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from evenhand.law import find_breaches
from evenhand.law.eu_2003_88.breaches import LIMITS
from evenhand.terms.hours import CLASSED
from evenhand.terms.settings import SiteRules
from tests.law.test_published_cases import CASES
from tests.law.weeks import hours_of, sheet

PARIS = "Europe/Paris"
HOUR_S = 3600
MONDAY = 1_789_344_000  # 2026-09-14T00:00Z


def case_of(name: str) -> dict[str, Any]:
    return next(case for case in CASES if case["id"] == name)


def limits_in_force() -> dict[str, int]:
    return {number.name: number.on(date(2026, 1, 1)) for number in LIMITS.numbers}


def breaches(*presses: str) -> list[tuple[str, float]]:
    hours = hours_of(sheet(*presses, zone=PARIS), PARIS, jurisdiction="eu_2003_88")
    found = find_breaches(hours.classed, SiteRules("invented", PARIS, "eu_2003_88"))
    return [(row["kind"], row["found_s"] / HOUR_S) for row in found.iter_rows(named=True)]


def breaches_of(*spans: tuple[int, float]) -> list[dict[str, Any]]:
    """Return what is found for spans of one shift each, given by their beginning and their hours, in UTC."""
    classed = CLASSED.rows(
        {"person": "Ada", "shift": shift, "starts": starts, "ends": starts + round(hours * HOUR_S)}
        for shift, (starts, hours) in enumerate(spans, start=1)
    )
    return find_breaches(classed, SiteRules("invented", "UTC", "eu_2003_88")).rows(named=True)


def test_nine_hours_between_shifts_are_two_short_of_daily_rest() -> None:
    case = case_of("eu-daily-rest")
    found = breaches(
        "2026-09-14 17:00 in", f"{case['inputs']['end_of_work']} out",
        f"{case['inputs']['next_start']} in", "2026-09-15 12:00 out",
    )  # fmt: skip
    assert found == [("daily_rest", float(case["expected"]["rest_hours"]))]


def test_the_daily_rest_lies_within_the_24_hours_from_when_a_shift_begins() -> None:
    # Directive art. 3: eleven consecutive hours "per 24-hour period". Fourteen hours of work leave ten of them, however
    # long the rest goes on; thirteen leave eleven. A rest of ten hours after fourteen of work is one breach, not two.
    long, next_day = (MONDAY, 14.0), (MONDAY + 25 * HOUR_S + HOUR_S // 2, 8.0)
    (found,) = [row for row in breaches_of(long, next_day) if row["kind"] == "daily_rest"]
    assert (found["starts"], found["ends"]) == (MONDAY + 14 * HOUR_S, MONDAY + 24 * HOUR_S)
    assert (found["found_s"], found["limit_s"]) == (10 * HOUR_S, 11 * HOUR_S)
    assert "10 h are left for rest" in found["says"]
    assert not [row for row in breaches_of((MONDAY, 13.0), next_day) if row["kind"] == "daily_rest"]
    both = breaches_of(long, (MONDAY + 24 * HOUR_S, 8.0))
    assert [row["found_s"] for row in both if row["kind"] == "daily_rest"] == [10 * HOUR_S]


def test_rest_over_a_clock_change_is_counted_in_elapsed_time() -> None:
    # Directive art. 3, rest being a difference of instants: Paris skips an hour on 29 March 2026, so from 20:30 to
    # 07:30 on the wall are ten hours.
    assert breaches("2026-03-28 16:00 in", "2026-03-28 20:30 out", "2026-03-29 07:30 in", "2026-03-29 12:00 out") == [
        ("daily_rest", 10.0)
    ]


def test_exactly_eleven_hours_are_enough() -> None:
    assert breaches("2026-09-14 17:00 in", "2026-09-14 22:00 out", "2026-09-15 09:00 in", "2026-09-15 12:00 out") == []


def test_weekly_rest_is_the_longest_free_block() -> None:
    case = case_of("eu-weekly-rest")
    least = limits_in_force()["weekly_rest"]
    assert Decimal(least) == Decimal(case["inputs"]["minimum_hours"])
    for hours, breach in zip(
        case["inputs"]["longest_free_block_hours_in_7_days"], case["expected"]["breach"], strict=True
    ):
        found = breaches_of((MONDAY, 50), (MONDAY + (50 + int(hours)) * HOUR_S, 168 - 50 - int(hours)))
        rests = [row["found_s"] for row in found if row["kind"] == "weekly_rest"]
        assert rests == [int(hours) * HOUR_S] * breach


def test_seven_days_running_leave_no_weekly_rest() -> None:
    days = [f"2026-09-{day} {at}" for day in range(14, 21) for at in ("09:00 in", "13:00 out", "14:00 in", "18:00 out")]
    assert ("weekly_rest", 15.0) in breaches(*days)


def test_more_than_six_hours_without_a_break() -> None:
    # Directive art. 4: where the working day is longer than six hours.
    assert breaches("2026-09-14 08:00 in", "2026-09-14 14:00 out") == []
    assert breaches("2026-09-14 08:00 in", "2026-09-14 14:01 out") == [("break", 0.0)]


def test_the_average_week_over_seventeen_weeks() -> None:
    case = case_of("uk-48")
    limit = limits_in_force()
    assert limit["reference_weeks"] == case["inputs"]["weeks"]
    for hours, average, breach in zip(
        case["inputs"]["total_hours_17_weeks"], case["expected"]["average"], case["expected"]["breach"], strict=True
    ):
        # 48 hours in each of 17 weeks, and what there is beyond that in the last.
        worked = [48] * 16 + [int(hours) - 16 * 48]
        found = breaches_of(*((MONDAY + week * 168 * HOUR_S, length) for week, length in enumerate(worked)))
        averages = [row["says"].split(" h ")[0] for row in found if row["kind"] == "average_week"]
        assert averages == [average] * breach


def test_the_average_of_a_night_worker() -> None:
    case = case_of("uk-night")
    lengths = [int(hours) for hours in case["inputs"]["night_shift_hours"]]
    nights = [(MONDAY + (24 * day + 21) * HOUR_S, length) for day, length in enumerate(lengths) if length]
    assert not [row for row in breaches_of(*nights) if row["kind"] == "night_average"]
    assert case["expected"]["breach"] is False
    # Four nights of 12 h and once three minutes average just past 8 over six days; four of 12 h exactly 8.
    longer = [(starts, 12) for starts, _ in nights]
    assert not [row for row in breaches_of(*longer) if row["kind"] == "night_average"]
    (past,) = [row for row in breaches_of(*longer[:3], (nights[3][0], 12.05)) if row["kind"] == "night_average"]
    assert past["found_s"] == (48 * HOUR_S + 180) // case["inputs"]["days_counted_less_weekly_rest"]


@pytest.mark.parametrize(("ends", "kinds"), [("06:00", []), ("06:30", ["night_average"])])
def test_six_nights_a_week_average_eight_hours_at_most(ends: str, kinds: list[str]) -> None:
    # Directive art. 8 with the divisor of UK reg. 6 (seven days less one of rest): 6 x 8 h average 8, 6 x 8.5 h 8.5.
    nights = [f"2026-09-{d} {t}" for k in range(14, 20) for d, t in ((k, "21:00 in"), (k + 1, "01:00 out"))]
    ends_at = [f"2026-09-{k + 1} {t}" for k in range(14, 20) for t in ("02:00 in", f"{ends} out")]
    presses = sorted(nights + ends_at)
    assert [kind for kind, _ in breaches(*presses) if kind == "night_average"] == kinds


DAY_S = 24 * HOUR_S
EUROPE = SiteRules("invented", "UTC", "eu_2003_88")


def found_for(people: dict[str, list[tuple[float, float]]], rules: SiteRules = EUROPE) -> list[dict[str, Any]]:
    """Return what is found for people's spans of one shift each: hours from Monday 14 September 2026, 00:00 UTC."""
    classed = CLASSED.rows(
        {
            "person": who,
            "shift": shift,
            "starts": MONDAY + round(since * HOUR_S),
            "ends": MONDAY + round(until * HOUR_S),
        }
        for who, spans in people.items()
        for shift, (since, until) in enumerate(spans, start=1)
    )
    return find_breaches(classed, rules).rows(named=True)


def kinds(found: list[dict[str, Any]]) -> list[str]:
    return [row["kind"] for row in found]


def in_days(*days: int, since: float, hours: float) -> list[tuple[float, float]]:
    return [(24 * day + since, 24 * day + since + hours) for day in days]


def test_each_breach_says_what_from_when_and_by_which_article() -> None:
    # Directive 2003/88/EC: arts. 3 (11 h between), 4 (a break past 6 h), 5 (24 h and the 11 of daily rest).
    zone = SiteRules("invented", PARIS, "eu_2003_88")  # Paris is at UTC+2 in September
    days = in_days(*range(7), since=4, hours=14)
    rows = found_for({"Ada": days[:2]}, zone)
    first, second = MONDAY + 4 * HOUR_S, MONDAY + 28 * HOUR_S
    expected = [
        ("Ada", "break", first, first + 14 * HOUR_S, 0, 6 * HOUR_S,
         "14 h of work from Mon 14 Sep 2026, 06:00 with no break recorded", "Directive 2003/88/EC, art. 4"),
        ("Ada", "daily_rest", first + 14 * HOUR_S, second, 10 * HOUR_S, 11 * HOUR_S,
         "10 h of rest from Mon 14 Sep 2026, 20:00; 1 h short", "Directive 2003/88/EC, art. 3"),
        ("Ada", "break", second, second + 14 * HOUR_S, 0, 6 * HOUR_S,
         "14 h of work from Tue 15 Sep 2026, 06:00 with no break recorded", "Directive 2003/88/EC, art. 4"),
        ("Ada", "daily_rest", second + 14 * HOUR_S, second + 24 * HOUR_S, 10 * HOUR_S, 11 * HOUR_S,
         "10 h are left for rest from Tue 15 Sep 2026, 20:00 in the 24 hours from when the shift began, 1 h short",
         "Directive 2003/88/EC, art. 3"),
    ]  # fmt: skip
    assert [tuple(row.values()) for row in rows] == expected
    (weekly,) = [tuple(row.values()) for row in found_for({"Ada": days}, zone) if row["kind"] == "weekly_rest"]
    midnight = MONDAY - 2 * HOUR_S
    assert weekly == (
        "Ada", "weekly_rest", midnight, midnight + 7 * DAY_S, 10 * HOUR_S, 35 * HOUR_S,
        "10 h is the longest rest in the seven days from Mon 14 Sep 2026, 00:00; 35 h are due",
        "Directive 2003/88/EC, art. 5",
    )  # fmt: skip


def test_an_average_says_over_how_many_weeks_and_by_which_articles() -> None:
    # Three weeks of 50 hours, art. 6: 48 on average; art. 16: over up to four months, here 17 weeks.
    weeks = [span for week in range(3) for span in in_days(*(7 * week + day for day in range(5)), since=8, hours=10)]
    rows = [tuple(row.values()) for row in found_for({"Ada": weeks}) if row["kind"] == "average_week"]
    since = MONDAY + 8 * HOUR_S
    assert rows == [
        ("Ada", "average_week", since, since + 21 * DAY_S, 50 * HOUR_S, 48 * HOUR_S,
         "50.00 h a week on average over 3 weeks so far; at most 48 over 17, unless the person has opted out",
         "Directive 2003/88/EC, arts. 6 and 16")
    ]  # fmt: skip


def test_a_week_that_has_begun_counts_whole_and_a_new_period_begins_after_seventeen() -> None:
    # 49 hours in the first week are too many; with one more in the second they are 50 over two.
    week = [(0.0, 49.0)]
    assert "average_week" in kinds(found_for({"Ada": week}))
    assert "average_week" in kinds(found_for({"Ada": [*week, (167.0, 168.0)]}))
    assert "average_week" not in kinds(found_for({"Ada": [*week, (168.0, 169.0)]}))
    # 17 weeks of 48 hours are exactly the limit; a shift of 60 over the line has 10 of them before it, 50 after it.
    sixteen = [(168.0 * k, 168.0 * k + 48) for k in range(17)]
    assert "average_week" not in kinds(found_for({"Ada": sixteen}))
    over = [*sixteen, (168.0 * 17 - 10, 168.0 * 17 + 50)]
    rows = [row for row in found_for({"Ada": over}) if row["kind"] == "average_week"]
    assert [(row["found_s"], row["starts"]) for row in rows] == [
        ((17 * 48 + 10) * HOUR_S // 17, MONDAY), (50 * HOUR_S, MONDAY + 17 * 7 * DAY_S)
    ]  # fmt: skip


def test_people_are_held_to_the_limits_one_by_one_and_by_time() -> None:
    # Bo starts an hour after Ada ends; both take eleven hours' rest. Cy takes ten and a half.
    people = {
        "Cy": [(8.0, 14.0), (24.5, 30.0)],
        "Bo": [(14.0, 20.0), (31.0, 37.0)],
        "Ada": [(8.0, 13.0), (24.0, 30.0), (40.0, 45.0)],
    }
    assert [(row["person"], row["kind"], row["starts"]) for row in found_for(people)] == [
        ("Ada", "daily_rest", MONDAY + 30 * HOUR_S),
        ("Cy", "daily_rest", MONDAY + 14 * HOUR_S),
    ]


def test_spans_that_touch_are_no_break_and_those_of_two_shifts_are_not_one() -> None:
    def spans(*bounds: tuple[int, float, float]) -> list[str]:
        classed = CLASSED.rows(
            {"person": "Ada", "shift": shift, "starts": MONDAY + round(since * HOUR_S),
             "ends": MONDAY + round(until * HOUR_S)}
            for shift, since, until in bounds
        )  # fmt: skip
        return kinds(find_breaches(classed, EUROPE).rows(named=True))

    assert spans((1, 8, 12), (1, 12, 15)) == ["break"]  # cut, as where a class changes
    assert spans((1, 8, 12), (1, 12.5, 15)) == []
    assert spans((1, 8, 12), (2, 12, 15)) == ["daily_rest"]  # two shifts without any rest between


def test_rest_in_the_seven_days_is_looked_for_before_between_and_after_work() -> None:
    # Art. 5. Day by day 23 of 24 hours, but for one stretch of 35 hours, or of 34: in a second week that is its
    # beginning, its middle or its end.
    def second_week(since: float, until: float) -> list[int]:
        busy = [(24.0 * day, 24.0 * day + 23) for day in range(7)] + [(168.0 + at, 168.0 + at + 1) for at in range(168)]
        kept = [(a, b) for a, b in busy if a < 168 or not since <= a - 168 < until]
        rows = found_for({"Ada": [*kept, (336.0, 338.0)]})
        return [row["found_s"] // HOUR_S for row in rows if row["kind"] == "weekly_rest" and row["starts"] > MONDAY]

    for least in (0, 60, 133):
        assert second_week(least, least + 35) == []
        assert second_week(least, least + 34) == [34]


def test_a_week_that_has_not_passed_may_still_have_its_rest() -> None:
    # Six days of 14 hours leave a seventh that nobody knows of yet; seven do not.
    assert "weekly_rest" not in kinds(found_for({"Ada": in_days(*range(6), since=4, hours=14)}))
    assert "weekly_rest" in kinds(found_for({"Ada": in_days(*range(7), since=4, hours=14)}))


def night_kinds(*spans: tuple[float, float], rules: SiteRules = EUROPE) -> list[str]:
    return [row["says"] for row in found_for({"Ada": list(spans)}, rules) if row["kind"] == "night_average"]


def test_who_works_three_hours_of_most_days_at_night_is_a_night_worker() -> None:
    # Art. 2(4) and 8; night from 23:00 to 06:00 and weeks of six working days as in the UK, regs. 2 and 6.
    # Five shifts of ten hours are 50, more than 6 x 8 = 48: 18:00 to 04:00 has five hours of night, 16:00 to 02:00
    # three, 15:59 to 01:59 less.
    def five(since: float) -> list[str]:
        return night_kinds(*in_days(*range(5), since=since, hours=10))

    says = "8.33 h in 24 on average in the week of Mon 14 Sep 2026, of which 5 nights; at most 8 for night workers"
    assert five(18) == five(16) == [says]
    assert five(16 - 1 / 60) == []
    # From the other side: 03:00 to 13:00 has three hours of night, 03:01 has not.
    assert five(3) == [says]
    assert five(3 + 1 / 60) == []


def test_half_of_the_shifts_at_night_do_not_make_a_night_worker() -> None:
    days, nights = in_days(0, 1, since=8, hours=13), in_days(2, 3, since=20, hours=13)
    assert night_kinds(*days, *nights) == []
    says = "8.67 h in 24 on average in the week of Mon 14 Sep 2026, of which 3 nights; at most 8 for night workers"
    assert night_kinds(days[0], *in_days(1, 2, 3, since=20, hours=13)) == [says]


def test_a_night_week_runs_from_monday_by_the_clock_of_the_site() -> None:
    # Four nights of 12 h from Thursday on and one on Monday: 48 h in the first week are not more than 6 x 8.
    assert night_kinds(*in_days(3, 4, 5, 6, 7, since=20, hours=12)) == []
    longer = in_days(3, 4, 5, 6, since=20, hours=12.5)
    rows = [row for row in found_for({"Ada": longer}) if row["kind"] == "night_average"]
    assert [(row["starts"], row["ends"], row["found_s"], row["limit_s"]) for row in rows] == [
        (MONDAY, MONDAY + 7 * DAY_S, 50 * HOUR_S // 6, 8 * HOUR_S)
    ]
    # In Paris, two hours ahead, the same shifts from 22:00 to 10:30 begin on the same days, and Sunday's at 22:30 UTC
    # on Monday: three nights of 12.5 h are left to the first week.
    paris = SiteRules("invented", PARIS, "eu_2003_88")
    assert len(night_kinds(*longer, rules=paris)) == 1
    assert night_kinds(*longer[:3], (24 * 6 + 22.5, 24 * 6 + 35), rules=paris) == []


def in_week_of(monday: int, *presses: str) -> list[tuple[str, float]]:
    """Return what is found for the week that begins on this Monday of September 2026, of punches in Paris."""
    hours = hours_of(sheet(*presses, zone=PARIS), PARIS, jurisdiction="eu_2003_88", workweek_day=0)
    week = date(2026, 9, monday)
    found = find_breaches(hours.classed, SiteRules("invented", PARIS, "eu_2003_88"), weeks=(week, week))
    return [(row["kind"], row["found_s"] / HOUR_S) for row in found.iter_rows(named=True)]


def nights_from(*days: int) -> list[str]:
    """Return nights from 21:30 to 06:30 with half an hour off at 02:00: 8.5 h of work, 2.5 of them before midnight."""
    return [
        f"2026-09-{day + after:02d} {at}"
        for day in days
        for after, at in ((0, "21:30 in"), (1, "02:00 out"), (1, "02:30 in"), (1, "06:30 out"))
    ]


def test_a_night_over_the_end_of_the_week_counts_whole_in_the_week_it_began() -> None:
    # Directive art. 8, divisor of UK reg. 6. Tuesday 15 to Sunday 20 September: 6 x 8.5 h / 6 = 8.5. Cut at Sunday's
    # midnight they would be 5 x 8.5 + 2.5 = 45 h, 7.5 on average.
    def averages(monday: int, first: int) -> list[float]:
        found = in_week_of(monday, *nights_from(*range(first, first + 6)))
        return [hours for kind, hours in found if kind == "night_average"]

    assert averages(14, 15) == [8.5]
    assert averages(21, 15) == []
    # Sunday 13 to Friday 18: five of them begin in the week, 42.5 h; with what Sunday's has after midnight it would be
    # 48.5 h, 8.08 on average. Sunday's own week has that one only.
    assert averages(14, 13) == []
    assert averages(7, 13) == []


def test_a_long_shift_over_the_end_of_the_week_lacks_its_break_once() -> None:
    # Directive art. 4: seven hours from Sunday 22:00, of which two lie in the week.
    shift = ("2026-09-20 22:00 in", "2026-09-21 05:00 out")
    assert in_week_of(14, *shift) == [("break", 0.0)]
    assert in_week_of(21, *shift) == []


def test_a_rest_over_the_end_of_the_week_belongs_to_the_shift_after_it() -> None:
    # Directive art. 3: from Sunday 23:00 to Monday 05:00 are six hours.
    for ends, starts, rest in (("20 23:00", "21 05:00", 6), ("21 01:00", "21 11:00", 10)):
        shifts = ("2026-09-20 19:00 in", f"2026-09-{ends} out", f"2026-09-{starts} in", "2026-09-21 15:00 out")
        breaks = [("break", 0.0)] if starts == "21 05:00" else []
        assert in_week_of(14, *shifts) == []
        assert in_week_of(21, *shifts) == [("daily_rest", rest), *breaks]


def test_the_rest_of_seven_days_begins_no_sooner_than_the_shift_before_them_ends() -> None:
    # Directive art. 5: 35 h. Sunday's shift ends on Monday at 06:00; from then to Tuesday at 16:00 are 34 h, and every
    # later rest is 18 h: without Sunday's shift, those from Tuesday's first midnight on would be the whole of it.
    days = [f"2026-09-{day} {at}" for day in range(15, 22) for at in ("16:00 in", "19:00 out", "20:00 in", "22:00 out")]
    early = ["2026-09-14 16:00 in", "2026-09-14 19:00 out"]
    before = ["2026-09-13 23:00 in", "2026-09-14 03:00 out", "2026-09-14 03:30 in", "2026-09-14 06:00 out"]
    assert ("weekly_rest", 21.0) in in_week_of(14, *before, *early, *days)
    assert ("daily_rest", 10.0) in in_week_of(14, *before, *early, *days)


def test_an_average_week_takes_the_time_that_lies_in_the_weeks() -> None:
    # Directive art. 6: 48 h. Four days of 11.5 h and two hours of Sunday's night are 48 h; a minute more is too much.
    def averages(last: str) -> list[tuple[str, float]]:
        days = [f"2026-09-{day} {at}" for day in range(14, 18) for at in ("06:00 in", "12:00 out", "12:30 in")]
        ends = [f"2026-09-{day} 18:00 out" for day in range(14, 17)] + [f"2026-09-17 {last} out"]
        night = ["2026-09-20 22:00 in", "2026-09-21 02:00 out", "2026-09-21 02:30 in", "2026-09-21 06:00 out"]
        return [one for one in in_week_of(14, *sorted(days + ends), *night) if one[0] == "average_week"]

    assert averages("18:00") == []
    assert len(averages("18:01")) == 1


def test_without_spans_nothing_is_found() -> None:
    # Nor for somebody whose shifts begin before the weeks looked at, or after them.
    assert in_week_of(14, *nights_from(10), *nights_from(23)) == []
    assert found_for({}) == []
