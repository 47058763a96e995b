"""Columns that may say which rows no longer hold, days that stand for no end, and two times in one row."""

from datetime import date

import pytest

from evenhand.layouts import Answers, KnownCells, SourceFile, propose, read
from evenhand.terms.records import Refusal

KNOWN = KnownCells(readers=["GATE"])
ZONES = {"GATE": "Europe/Berlin"}


def log(header, *marks):
    lines = [f"GATE,00{40 + at % 5},2026-03-{2 + at:02d} 07:1{at % 7}:13,{mark}" for at, mark in enumerate(marks)]
    return SourceFile("log.csv", "\n".join([f"Reader,Badge,When,{header}", *lines]).encode())


@pytest.mark.parametrize(
    ("header", "mark"),
    [
        *((header, "x") for header in ("Voided", "storniert", "annulé", "Anulado", "anulowano", "Geannuleerd")),
        ("deleted on", "2026-03-20"),
        ("Xqu", "cancelled"),
        ("Status", "usunięty"),
    ],
)
def test_a_column_that_may_strike_rows_is_asked_about(header, mark):
    marks = ["" if at % 4 else mark for at in range(20)]
    proposal = propose(log(header, *marks), known=KNOWN)
    assert [(one.about, one.subject) for one in proposal.questions] == [("column", header)]
    assert "none" in [choice.answer for choice in proposal.questions[0].choices]
    assert not propose(log(header, *marks), Answers(ignored=frozenset({header})), KNOWN).questions


@pytest.mark.parametrize("mark", ["", "no", "0", "nein"])
def test_a_column_that_strikes_no_row_is_no_matter(mark):
    proposal = propose(log("Voided", *[mark] * 20), known=KNOWN)
    assert not [one for one in proposal.questions if "no longer hold" in one.asks]


def roster(last_day, end="31.08.2026"):
    lines = [f"W{at};Ada Quill{'abcdefghijklmn'[at]};00{41 + at};0{1 + at % 9}.03.2015;{last_day}" for at in range(13)]
    return SourceFile(
        "staff.csv",
        "\n".join(["Pers.-Nr;Name;Ausweisnr;Eintritt;Austritt", *lines, f"W99;Bo Rook;0099;14.03.2015;{end}"]).encode(),
    )


@pytest.mark.parametrize("written", ["31.12.9999", "9999-12-31", "12/31/9999", "31.12.2099", "99991231", "31.12.2999"])
def test_a_last_day_that_never_comes_is_no_end_and_that_is_said(written):
    layout = propose(roster(written), Answers(maps={"Austritt": "left_on"}, dates="dmy")).layout
    rows = read(roster(written), layout, zones={})
    assert rows.rejects.is_empty()
    assert rows.frame["left_on"].to_list() == [None] * 13 + [date(2026, 8, 31)]
    assert any(written in notice and "no end, in 13 rows" in notice for notice in rows.notices)


def test_a_last_day_that_never_comes_leaves_the_column_what_its_header_says():
    proposal = propose(roster("31.12.9999"))
    assert proposal.layout.columns["left_on"] == ("Austritt",)


def test_a_day_of_hire_that_never_comes_is_a_mistake():
    text = roster("31.12.9999").content.decode().replace("02.03.2015", "31.12.9999", 1)
    file = SourceFile("staff.csv", text.encode())
    rows = read(file, propose(roster("31.12.9999")).layout, zones={})
    assert rows.rejects["seen"].to_list() == ["31.12.9999"]


@pytest.mark.parametrize(("coming", "going"), [("Entrada", "Salida"), ("Kommt", "Geht"), ("Time in", "Time out")])
def test_a_row_with_a_time_of_coming_and_one_of_going_is_no_punch(coming, going):
    lines = [f"GATE,00{40 + at % 5},2026-03-{2 + at:02d},07:1{at % 7},15:2{at % 7}" for at in range(20)]
    file = SourceFile("days.csv", "\n".join([f"Reader,Badge,Date,{coming},{going}", *lines]).encode())
    with pytest.raises(Refusal, match=f"two times, '{coming}' and '{going}'"):
        propose(file, Answers(table="punches"), KNOWN)
    for_one = Answers(table="punches", maps={"Date": "at"}, ignored=frozenset({going}))
    assert going not in propose(file, for_one, KNOWN).layout.columns["at"]
