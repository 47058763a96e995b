"""The order of day, month and year: decided by what the file shows, else open with two examples."""

import calendar
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from evenhand.layouts import KnownCells, Layout, SourceFile, propose, read
from evenhand.layouts.ordering import ask_order, last_year, refuse_order
from evenhand.layouts.values.dates import EPOCH
from evenhand.layouts.values.order import Dated, decide_order
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES


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
    assert decide_order([Dated(["03/04/2026"])], stated="mdy").told_by == "origin"
    assert decide_order([Dated(["03/04/2026", "25/04/2026"])], stated="mdy").order == "dmy"
    assert decide_order([Dated(["03/04/2026"])], stated="ymd").how == "open"


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


def test_a_single_date_of_several_that_tells_can_be_a_slip_and_is_asked():
    several = ["03/04/2019", "05/06/2020", "07/08/2021", "09/10/2022"]
    found = order(*several, "13/02/2023")
    assert (found.how, found.choices, found.against) == ("open", ("dmy", "mdy"), ("13/02/2023",))
    assert order(*several, "13/02/2023", "14/02/2023").order == "dmy"
    assert order(*several[1:], "13/02/2023").order == "dmy"
    # What other files of the origin tell, or days in a row, says that it is none.
    assert decide_order([Dated([*several, "13/02/2023"])], stated="dmy").order == "dmy"
    assert decide_order([Dated([*several, "13/02/2023"])], stated="mdy").how == "open"
    assert order(*(f"{d:02}/10/2026" for d in range(1, 14)), is_close=True).order == "dmy"


def test_the_question_names_the_single_date_that_tells():
    found = order("03/04/2019", "05/06/2020", "07/08/2021", "09/10/2022", "13/02/2023")
    asked = ask_order("list.csv", found)
    assert asked.asks == (
        "list.csv: only '13/02/2023' tells that dates are day-month-year, and it can be a slip; which is meant?"
    )
    assert [choice.answer for choice in asked.choices] == ["dmy", "mdy"]
    with pytest.raises(Refusal, match="13/02/2023"):
        refuse_order("list.csv", found)


TODAY = date(2026, 11, 26)


def years_read(text, today=TODAY, kept=None):
    """Return the days of hire of a roster, and the layout by which it was read."""
    file = SourceFile("roster.csv", text.encode())
    proposal = propose(file, known=KnownCells(today=today), kept=kept or {})
    assert not proposal.questions, proposal.questions
    return read(file, proposal.layout, zones={}).frame["hired_on"].to_list(), proposal


ROSTER = "Number,Name,Hired on\n4001,Ann Lee,31.01.{}\n4002,Bo Kim,28.02.98\n4003,Cy Roe,15.03.20\n"


def test_nobody_was_hired_in_a_year_to_come_so_two_digits_mean_the_century_before():
    days, proposal = years_read(ROSTER.format("61"))
    assert days == [date(1961, 1, 31), date(1998, 2, 28), date(2020, 3, 15)]
    # Whoever begins within weeks may be listed before, also over the turn of the year.
    assert years_read(ROSTER.format("27"))[0][0] == date(2027, 1, 31)
    assert years_read(ROSTER.format("28"))[0][0] == date(1928, 1, 31)
    assert years_read(ROSTER.format("19"))[1].layout.last_year == 0  # nothing to decide, nothing to state
    # A layout that is kept says up to which year; a later file goes on from there.
    kept = {"ours": proposal.layout}
    days, later = years_read(ROSTER.format("29"), date(2030, 6, 1), kept)
    assert (days[0], later.kept, later.layout.last_year) == (date(2029, 1, 31), "ours", 2030)


def test_no_punch_lies_in_the_year_2061_nor_in_1961():
    log = "Number,Reader,At\n" + "".join(
        f"0012,A,{day}.10.61 07:05\n0013,A,{day}.10.26 07:06\n" for day in range(14, 24)
    )
    file = SourceFile("log.csv", log.encode())
    rows = read(file, propose(file, known=KnownCells(today=TODAY, readers=["A"])).layout, zones={"A": "UTC"})
    assert (rows.frame.height, rows.rejects.height) == (10, 10)
    assert "1961" in rows.rejects["reason"][0]


def test_a_shift_may_be_planned_for_a_later_year():
    layout = Layout("schedules", "delimited", {"person": (1,), "starts_at": (2,), "ends_at": (3,)}, last_year=2026)
    assert last_year(layout, SOURCES["schedules"].column("starts_at")) == 0
    assert last_year(replace(layout, table="punches"), SOURCES["punches"].column("at")) == 2026
