"""Headers that name the zone of the times below them."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from evenhand.layouts import Answers, KnownCells, SourceFile, propose, read
from evenhand.layouts.wording.zones import zones_of

ZONES = {"GATE": "America/Denver"}
KNOWN = KnownCells(readers=["GATE"], numbers=["0041", "0042"])


def log_of(header):
    rows = [f"GATE,{number},2026-10-{day} 14:0{day % 10}:30,in" for day in range(13, 20) for number in ("0041", "0042")]
    return SourceFile("log.csv", "\n".join([f"Reader,Badge,{header},Way", *rows, ""]).encode())


def first_of(file, layout):
    return datetime.fromtimestamp(read(file, layout, zones=ZONES).frame["at"][0], UTC)


@pytest.mark.parametrize(
    "header", ["When (UTC)", "Time GMT", "Zeit (UTC)", "UTC time", "Hora UTC", "timestamp_utc", "utcTime", "When [Z]"]
)
def test_a_header_that_says_utc_is_believed_and_that_is_said(header):
    file = log_of(header)
    proposal = propose(file, known=KNOWN)
    assert not proposal.questions
    assert proposal.layout.zone == "UTC"
    assert any("UTC, as the header says" in notice for notice in proposal.notices)
    assert first_of(file, proposal.layout) == datetime(2026, 10, 13, 14, 3, 30, tzinfo=UTC)
    # What a person says of the zone goes before what the header says.
    said = propose(file, Answers(zone="America/Denver"), KNOWN)
    assert first_of(file, said.layout) == datetime(2026, 10, 13, 20, 3, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("header", "likeliest", "fixed"),
    [
        ("When (CST)", "America/Chicago", "Etc/GMT+6"),
        ("Zeit (MEZ)", "Europe/Berlin", "Etc/GMT-1"),
        ("Time CET", "Europe/Berlin", "Etc/GMT-1"),
        ("Time (PT)", "America/Los_Angeles", ""),
        ("time_cdt", "America/Chicago", "Etc/GMT+5"),
        ("When UTC-7", "Etc/GMT+7", "Etc/GMT+7"),
    ],
)
def test_another_zone_in_a_header_is_asked_about(header, likeliest, fixed):
    file = log_of(header)
    (question,) = propose(file, known=KNOWN).questions
    assert question.about == "zone"
    answers = [choice.answer for choice in question.choices]
    assert answers[0] == likeliest
    assert not fixed or answers[-1] == fixed
    said = propose(file, Answers(zone=answers[0]), KNOWN)
    assert not said.questions
    written = datetime(2026, 10, 13, 14, 3, 30, tzinfo=ZoneInfo(answers[0]))
    assert first_of(file, said.layout) == written.astimezone(UTC)


@pytest.mark.parametrize("header", ["When", "Time", "Zeit IST", "Hora est.", "Uhrzeit", "Date/Time", "Ist-Zeit"])
def test_a_header_that_names_no_zone_says_nothing_of_it(header):
    proposal = propose(log_of(header), known=KNOWN)
    assert not proposal.layout.zone
    assert "zone" not in [question.about for question in proposal.questions]


@pytest.mark.parametrize(
    ("word", "hours"), [("EST", -5), ("EDT", -4), ("MST", -7), ("PDT", -7), ("BST", 1), ("CEST", 2), ("EET", 2)]
)
def test_fixed_offsets_are_those_of_the_time_zone_database(word, hours):
    """Hours from UTC as Python's email.utils gives them for the zones of RFC 5322, and the tz database for Europe's."""
    fixed = ZoneInfo(zones_of(word)[-1])
    assert datetime(2026, 3, 3, tzinfo=fixed).utcoffset() == timedelta(hours=hours)


@pytest.mark.parametrize(
    "note",
    [
        "All times UTC",
        "Alle Zeiten in UTC",
        "Todas las horas en UTC",
        "Toutes les heures en UTC",
        "Todas as horas em UTC",
        "Tutti gli orari in UTC",
        "Alle tijden in UTC",
        "Wszystkie godziny UTC",
        "Time zone: UTC",
    ],
)
def test_a_note_above_the_header_says_the_zone_of_all_times(note):
    file = SourceFile("log.csv", f"{note}\n".encode() + log_of("When").content)
    proposal = propose(file, known=KNOWN)
    assert (proposal.layout.zone, proposal.questions) == ("UTC", ())
    assert (
        "Times are read as written in UTC, as a note above the header says; give a zone where that is wrong."
        in proposal.notices
    )


def test_when_a_file_was_made_says_nothing_of_its_rows():
    for note in ("Exported 2026-10-20 08:00 UTC", "Printed at times of need. UTC", "UTC"):
        file = SourceFile("log.csv", f"{note}\n".encode() + log_of("When").content)
        assert propose(file, known=KNOWN).layout.zone == ""


def test_a_note_that_can_mean_several_zones_is_asked_about():
    file = SourceFile("log.csv", b"All times CET\n" + log_of("When").content)
    (asked,) = propose(file, known=KNOWN).questions
    assert (asked.about, "Europe/Berlin" in [choice.answer for choice in asked.choices]) == ("zone", True)
