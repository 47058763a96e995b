"""The order of day, month and year: decided by what the file shows, else open with two examples."""

import calendar
from datetime import date

import numpy as np

from evenhand.layouts.values.dates import EPOCH
from evenhand.layouts.values.order import Dated, decide_order


def order(*texts, **kwargs):
    return decide_order([Dated(list(texts), **kwargs)])


def day(*parts):
    return date(*parts).toordinal() - EPOCH


def test_one_date_with_a_day_above_twelve_decides_for_all():
    assert order("03/04/2026", "25/04/2026").order == "dmy"
    assert order("03/04/2026", "04/25/2026").order == "mdy"
    assert order("2026-03-04").how == "needless"


def test_days_that_read_the_same_either_way_decide_nothing_and_ask_nothing():
    assert order("03/03/2026").how == "needless"


def test_what_is_open_shows_two_dates_read_either_way():
    found = order("05/05/2026", "03/04/2026", "01/02/2026")
    assert (found.how, found.choices) == ("open", ("dmy", "mdy"))
    assert [example.text for example in found.examples] == ["03/04/2026", "01/02/2026"]
    assert found.examples[0].readings == {"dmy": date(2026, 4, 3), "mdy": date(2026, 3, 4)}


def test_contradicting_dates_are_reported_unless_they_are_few():
    assert set(order("25/04/2026", "04/25/2026").against) == {"04/25/2026", "25/04/2026"}
    many = [f"{d}/{m:02}/2026" for d in range(13, 29) for m in range(1, 13)]
    assert order(*many, "04/25/2026").order == "dmy"


def test_two_digit_years_in_front_are_seen_where_the_dates_lie_close_only_so():
    assert order(*(f"26-03-{d:02}" for d in range(1, 31)), is_close=True).order == "ymd"
    assert order(*(f"{d:02}-03-26" for d in range(1, 31)), is_close=True).order == "dmy"


def test_the_order_is_needless_where_all_dates_are_the_same_days_in_every_order_left():
    # 26-11-26 is the 26th of November, day or year first; month first it is no day.
    found = order("26-11-26")
    assert found.how == "needless"
    assert found.order in ("dmy", "ymd")


def test_a_weekday_tells_the_order():
    # 3 April 2026 is a Friday (Python's calendar)
    assert calendar.weekday(2026, 4, 3) == calendar.FRIDAY
    assert order("Fri 03/04/2026").order == "dmy"
    assert order("Wed 03/04/2026").order == "mdy"  # 4 March 2026
    assert order("Mon 03/04/2026").how == "needless"  # a mistake: refused with its row
    assert order("ma 03/04/2026").how == "open"  # maandag or mardi


def test_no_log_tells_of_a_later_day():
    texts = ["01/09/2026", "01/10/2026", "01/11/2026"]
    found = order(*texts, latest=day(2026, 1, 15))
    assert (found.order, found.told_by) == ("mdy", "today")
    assert "'01/09/2026'" in found.because or "'01/10/2026'" in found.because
    assert order(*texts, latest=day(2026, 12, 31)).how == "open"


def test_a_schedule_may_tell_of_later_days():
    assert order("01/11/2026", latest=None).how == "open"


def test_dates_that_lie_close_together_only_so_decide_for_a_log_but_not_for_a_roster():
    texts = [f"10/{d:02}/2026" for d in range(1, 11)]
    found = order(*texts, is_close=True)
    assert (found.order, found.told_by) == ("mdy", "log")
    assert order(*texts).how == "open"


def log(*texts):
    """Return a log's dates row by row, all of one reader."""
    distinct = list(dict.fromkeys(texts))
    rows = np.array([distinct.index(text) for text in texts], np.int32)
    return Dated(distinct, is_close=True, rows=rows, clocks=np.zeros(len(rows), np.int32))


FOUR_MONTHS = [f"{d:02}/{m:02}/2026" for m in (3, 4, 5, 6) for d in range(1, 13)]


def test_a_log_runs_one_way():
    found = decide_order([log(*FOUR_MONTHS)])
    assert (found.order, found.told_by) == ("dmy", "log")
    assert "order of time" in found.because
    assert decide_order([log(*FOUR_MONTHS[::-1])]).order == "dmy"


def test_a_log_that_is_sorted_as_text_tells_nothing_by_its_order():
    assert decide_order([log(*sorted(FOUR_MONTHS))]).how == "open"


def test_readers_run_each_for_itself():
    both = [text for pair in zip(FOUR_MONTHS, FOUR_MONTHS[24:] + FOUR_MONTHS[:24], strict=True) for text in pair]
    mixed = log(*both)
    assert decide_order([mixed]).how == "open"
    apart = Dated(mixed.texts, is_close=True, rows=mixed.rows, clocks=np.arange(len(both), dtype=np.int32) % 2)
    assert decide_order([apart]).how == "decided"


def test_other_files_of_the_same_origin_decide_what_is_open_and_nothing_else():
    assert decide_order([Dated(["03/04/2026"])], told="mdy").told_by == "origin"
    assert decide_order([Dated(["03/04/2026", "25/04/2026"])], told="mdy").order == "dmy"
    assert decide_order([Dated(["03/04/2026"])], told="ymd").how == "open"


def test_a_custom_only_sets_what_is_named_first():
    assert decide_order([Dated(["03/04/2026"])], custom="mdy").choices == ("mdy", "dmy")
    assert decide_order([Dated(["03.04.2026"])]).choices == ("dmy", "mdy")


def test_digits_without_a_break_are_open_in_three_orders():
    found = order("101112", "090807")
    assert found.choices == ("dmy", "mdy", "ymd")
    assert found.examples[0].readings == {
        "dmy": date(2012, 11, 10),
        "mdy": date(2012, 10, 11),
        "ymd": date(2010, 11, 12),
    }
    assert order("10112026").choices == ("dmy", "mdy")
    assert order("20261110").how == "needless"


def test_a_few_mistakes_do_not_carry_a_log():
    # Ten days of October, month first, and one slip with day and month changed round.
    slip = [*(f"10/{d:02}/2026" for d in range(1, 11)), "13/10/2026"]
    assert order(*slip, is_close=True).how == "contradictory"
