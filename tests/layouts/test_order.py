"""The order of day, month and year: decided by what the file shows, else open with two examples."""

from datetime import date

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
