"""Shifts whose start and end stand in one cell."""

from datetime import UTC, datetime

import pytest

from evenhand.layouts import Answers, KnownCells, Layout, SourceFile, propose, read
from evenhand.layouts.values.spans import is_span

KNOWN = KnownCells(people=["P1", "P2", "P3"])
ZONES = {"P1": "Europe/Berlin", "P2": "Europe/Berlin", "P3": "Europe/Berlin"}


def plan(*spans, header="Shift"):
    lines = [f"P{at % 3 + 1};{20 + at // 3}.11.2026;{span}" for at, span in enumerate(spans)]
    return SourceFile("plan.csv", "\n".join([f"Person;Date;{header}", *lines]).encode())


def taken(file, kept=None):
    proposal = propose(file, known=KNOWN, kept=kept or {})
    assert not proposal.questions, proposal.questions
    return read(file, proposal.layout, zones={}, person_zones=ZONES), proposal


@pytest.mark.parametrize(
    "way",
    ["{}:00-{}:00", "{}:00 - {}:00", "{}:00\u2013{}:00", "{}:00 bis {}:00", "{}:00 to {}:00", "{}:00 a {}:00"],
)
def test_a_span_of_two_times_is_read_as_start_and_end(way):
    shifts = [("06", "14"), ("14", "22"), ("22", "06")] * 3
    rows, proposal = taken(plan(*(way.format(*shift) for shift in shifts)))
    assert proposal.layout.columns["starts_at"] == proposal.layout.columns["ends_at"] == ("Date", "Shift")
    assert rows.rejects.height == 0
    # Berlin is an hour ahead of UTC in November (IANA): 06:00 is 05:00 there.
    first = int(datetime(2026, 11, 20, 5, tzinfo=UTC).timestamp())
    assert rows.frame["starts_at"].to_list()[:3] == [first, first + 8 * 3600, first + 16 * 3600]
    assert (rows.frame["ends_at"] - rows.frame["starts_at"]).to_list() == [8 * 3600] * 9


def test_night_shifts_alone_are_no_times_with_an_offset():
    rows, _ = taken(plan(*["22:00-06:00"] * 6))
    assert (rows.frame["ends_at"] - rows.frame["starts_at"]).to_list() == [8 * 3600] * 6


def test_a_cell_without_both_times_is_refused_with_its_row():
    rows, _ = taken(plan(*["06:00-14:00"] * 12, "06:00", "free", "06:00-25:00"))
    assert rows.frame.height == 12
    assert rows.rejects["line"].to_list() == [14, 15, 16]


def test_a_kept_layout_reads_spans_again():
    file = plan(*["06:00-14:00", "22:00-06:00"] * 4)
    _, proposal = taken(file)
    assert Layout.from_toml(proposal.layout.to_toml(), "kept") == proposal.layout
    assert taken(file, {"plan": proposal.layout})[1].kept == "plan"


def test_a_break_is_no_shift():
    proposal = propose(plan(*["12:00-12:30"] * 6, header="Break"), Answers(table="schedules"), KNOWN)
    assert proposal.questions
    assert "starts_at" not in proposal.layout.columns


@pytest.mark.parametrize(
    "text", ["7am-3pm", "7:30 a.m. to 4 p.m.", "von 6 Uhr bis 14 Uhr", "0600-1400", "6h \u2014 14h"]
)
def test_spans_as_people_write_them(text):
    assert is_span(text) == ("6 Uhr" not in text)


@pytest.mark.parametrize("text", ["06:00", "2026-11-01", "0316 5559001", "12-14", "07:05:00Z", "4001-4002-1", ""])
def test_what_is_no_span(text):
    assert not is_span(text)
