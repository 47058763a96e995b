"""Times with a point that are quarters of an hour alone may be decimal hours. Common practice, no source."""

import pytest

from evenhand.layouts import Answers, Proposal, SourceFile, propose, read
from evenhand.layouts.proposal import KnownCells

KNOWN = KnownCells(readers=["Gate"], numbers=[f"{4100 + at}" for at in range(20)])
DATES = Answers(table="punches", dates="dmy")
QUARTERS = ("6.00", "6.25", "6.50", "14.25", "14.00")


def log(
    header: str, times: tuple[str, ...], joined: bool = False, said: Answers = DATES
) -> tuple[SourceFile, Proposal]:
    by = " " if joined else ";"
    rows = [f"Gate;{4100 + at % 20};{2 + at // 20:02d}.11.2026{by}{times[at % len(times)]}" for at in range(100)]
    title = header if joined else f"Datum;{header}"
    file = SourceFile("gate.csv", (f"Leser;Nummer;{title}\n" + "\n".join(rows)).encode())
    return file, propose(file, said, KNOWN)


@pytest.mark.parametrize("header", ["Uhrzeit dez.", "Uhrzeit", "Zeit"])
@pytest.mark.parametrize("times", [QUARTERS, ("06.00", "06.50"), ("6.25", "6.50", "6.75", "7.00", "7.25")])
def test_times_of_quarters_alone_are_asked_about(header: str, times: tuple[str, ...]) -> None:
    (question,) = log(header, times)[1].questions
    assert (question.about, question.subject) == ("column", header)
    assert [one.answer for one in question.choices] == ["at", "none"]


@pytest.mark.parametrize("header", ["Uhrzeit dez.", "Zeit (dezimal)", "Time dec", "Industriezeit"])
def test_a_header_that_says_decimal_is_believed_to_be_so(header: str) -> None:
    asked = log(header, ("6.03", "6.17", "14.42", "14.58"))[1].questions
    assert header in [one.subject for one in asked]


@pytest.mark.parametrize("times", [("6.02", "6.25", "14.13"), ("6.00", "14.00"), ("6.00", "14.30"), ("6:25", "6:50")])
@pytest.mark.parametrize("joined", [False, True])
def test_other_times_are_hours_and_minutes(times: tuple[str, ...], joined: bool) -> None:
    assert log("Zeit", times, joined)[1].questions == ()


def test_times_beside_their_date_in_one_cell_are_asked_about_as_well() -> None:
    assert [one.subject for one in log("Zeit", QUARTERS, joined=True)[1].questions] == ["Zeit"]


def test_who_says_that_they_are_hours_and_minutes_is_followed() -> None:
    file, proposal = log("Zeit", QUARTERS, said=Answers(table="punches", dates="dmy", maps={"Zeit": "at"}))
    assert proposal.questions == ()
    rows = read(file, proposal.layout, zones={"Gate": "UTC"})
    assert (rows.frame.height, rows.frame["at"][1] % 86400) == (100, (6 * 60 + 25) * 60)


def test_decimal_hours_of_a_plan_are_asked_about_for_start_and_end() -> None:
    rows = [f"P{at % 9};{2 + at % 20:02d}.11.2026;{6 + at % 3}.50;{14 + at % 3}.25" for at in range(40)]
    file = SourceFile("plan.csv", ("Mitarbeiter;Datum;Von;Bis\n" + "\n".join(rows)).encode())
    known = KnownCells(people=[f"P{at}" for at in range(9)])
    asked = propose(file, Answers(table="schedules", dates="dmy"), known).questions
    assert "Von" in [one.subject for one in asked]
