"""Dates of which a spreadsheet turned day and month around, and orders in a layout that the dates speak against.

What a spreadsheet does to such a list is common experience, no source: what it can take for a date in its own order
becomes one, the rest stays text. The files are made here by doing just that to a sound one.
"""

from datetime import date, datetime, timedelta
from io import BytesIO
from zoneinfo import ZoneInfo

import openpyxl
import pytest

from evenhand.layouts import Answers, KnownCells, Layout, SourceFile, propose, read
from evenhand.terms.records import Refusal

TODAY = date(2026, 11, 26)
KNOWN = KnownCells(readers=["GATE"], numbers=["0041", "0042"], today=TODAY)
ZONES = {"GATE": "America/Chicago"}
DMY, MDY = "%d/%m/%Y", "%m/%d/%Y"


def days(first, count):
    return [first + timedelta(days=at) for at in range(count)]


def turned(day):
    return date(day.year, day.day, day.month)


def converted(day, order, shown):
    """Return a day as it stands after a list in `order` was opened where the other order is customary."""
    return f"{turned(day):{shown}}" if day.day <= 12 else f"{day:{order}}"


def log_of(texts, name="log.csv"):
    rows = [f"GATE;{number};{text} {at};{way}" for text in texts for number, at, way in EACH_DAY]
    return SourceFile(name, "\n".join(["Reader;Badge;When;Way", *rows, ""]).encode())


EACH_DAY = [("0041", "07:31:02", "in"), ("0042", "08:02:11", "in"), ("0041", "16:04:40", "out")]


def outcome(file, answers=None, known=KNOWN, kept=None):
    """Return "refused", what is asked about, or the days that are read."""
    try:
        proposal = propose(file, answers or Answers(), known, kept or {})
        if proposal.questions:
            return [question.about for question in proposal.questions]
        rows = read(file, proposal.layout, zones=ZONES)
    except Refusal as refusal:
        assert "spreadsheet has turned day and month" in str(refusal)
        return "refused"
    assert not rows.rejects.height
    zone = ZoneInfo(ZONES["GATE"])
    return sorted({datetime.fromtimestamp(at, zone).date() for at in rows.frame["at"]})


@pytest.mark.parametrize("order", [DMY, MDY])
@pytest.mark.parametrize("shown", ["%Y-%m-%d", "%d-%b-%y", "%d %B %Y", "%b %d, %Y"])
@pytest.mark.parametrize(
    ("first", "count"),
    [(date(2026, 10, 5), 24), (date(2026, 8, 31), 80), (date(2025, 11, 20), 365), (date(2026, 11, 11), 4)],
)
def test_a_list_of_which_half_was_converted_is_refused(order, shown, first, count):
    file = log_of([converted(day, order, shown) for day in days(first, count)])
    assert outcome(file) == "refused"
    # Nobody's word for the order of the rest makes the turned dates right.
    assert outcome(file, Answers(dates="dmy" if order == DMY else "mdy")) == "refused"


def test_it_is_refused_too_by_a_layout_that_was_kept_from_sound_files():
    sound = log_of([f"{day:{DMY}}" for day in days(date(2026, 9, 5), 20)])
    kept = {"punches-1.toml": propose(sound, known=KNOWN).layout}
    file = log_of([converted(day, DMY, "%Y-%m-%d") for day in days(date(2026, 10, 5), 20)])
    assert outcome(file, kept=kept) == "refused"
    with pytest.raises(Refusal, match="turned day and month"):
        read(file, Layout.from_toml(kept["punches-1.toml"].to_toml(), "kept"), zones=ZONES)


def test_cells_that_became_dates_in_a_workbook_are_turned_as_well():
    book = openpyxl.Workbook()
    book.active.append(["Reader", "Badge", "When", "Way"])
    for day in days(date(2026, 10, 5), 20):
        for number, at, way in EACH_DAY:
            text = f"{day:{DMY}} {at}"
            cell = openpyxl.utils.datetime.from_ISO8601(f"{turned(day)}T{at}") if day.day <= 12 else text
            book.active.append(["GATE", number, cell, way])
    saved = BytesIO()
    book.save(saved)
    assert outcome(SourceFile("log.xlsx", saved.getvalue())) == "refused"


@pytest.mark.parametrize(
    ("first", "seam", "count"),
    [(date(2026, 11, 1), 12, 25), (date(2026, 10, 1), 31, 50), (date(2026, 10, 20), 10, 30), (date(2026, 9, 1), 5, 60)],
)
def test_two_spellings_that_are_honest_are_read(first, seam, count):
    """A log of which the export was changed one day: what was written so and so before and after is no conversion."""
    of = days(first, count)
    texts = [f"{day}" if at < seam else f"{day:{DMY}}" for at, day in enumerate(of)]
    assert outcome(log_of(texts)) == of


def test_a_week_of_which_every_date_was_turned_is_asked_about_and_read_as_it_stands_if_that_is_so():
    of = days(date(2026, 11, 2), 6)
    file = log_of([f"{turned(day)}" for day in of])
    (question,) = propose(file, known=KNOWN).questions
    assert question.about == "dates"
    assert "2 November 2026" in question.asks
    assert "export the file again as text" in question.asks
    (choice,) = question.choices
    assert outcome(file, Answers(dates=choice.answer)) == sorted(map(turned, of))
    assert outcome(log_of([f"{day}" for day in of])) == of


def test_a_roster_that_was_half_converted_is_refused_and_one_written_in_two_ways_is_not():
    hired = [date(2015 + at % 9, 1 + at * 5 % 12, 1 + at * 11 % 28) for at in range(24)]

    def roster(texts):
        rows = [f"P{at},Person {chr(65 + at)},{text}" for at, text in enumerate(texts)]
        return SourceFile("people.csv", "\n".join(["Person,Name,Hired", *rows, ""]).encode())

    half = roster([converted(day, DMY, "%Y-%m-%d") for day in hired])
    with pytest.raises(Refusal, match="turned day and month"):
        propose(half, known=KNOWN)
    mixed = roster([f"{day}" if at % 2 else f"{day:{DMY}}" for at, day in enumerate(hired)])
    layout = propose(mixed, known=KNOWN).layout
    assert read(mixed, layout, zones={}).frame["hired_on"].to_list() == hired


@pytest.mark.parametrize(("first", "count"), [(date(2026, 11, 2), 11), (date(2026, 11, 2), 3), (date(2026, 9, 3), 5)])
def test_an_order_in_a_layout_is_asked_about_where_the_dates_speak_for_another(first, count):
    october = log_of([f"{day:{MDY}}" for day in days(date(2026, 10, 10), 20)])
    kept = {"punches-1.toml": propose(october, known=KNOWN).layout}
    assert kept["punches-1.toml"].date_order == "mdy"
    file = log_of([f"{day:{DMY}}" for day in days(first, count)])
    (question,) = propose(file, known=KNOWN, kept=kept).questions
    assert question.about == "dates"
    assert [choice.answer for choice in question.choices] == ["dmy", "mdy"]
    assert outcome(file, Answers(dates="dmy"), kept=kept) == days(first, count)
    # The file of the same days that the layout is right for is not asked about.
    assert outcome(log_of([f"{day:{MDY}}" for day in days(first, count)]), kept=kept) == days(first, count)
