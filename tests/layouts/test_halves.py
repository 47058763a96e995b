"""A log whose times lost their AM and PM is refused, and one that only tells of mornings is not."""

from datetime import datetime, timedelta
from random import Random

import pytest

from evenhand.layouts import KnownCells, SourceFile, propose, read
from evenhand.terms.records import Refusal

ZONES = {"GATE": "America/Chicago"}
KNOWN = KnownCells(readers=["GATE"], numbers=["0041", "0042", "0043"])


def log(hours, written, *, order=lambda row: row[0], newest_first=False):
    """Return a log of three people on ten days, in by the first and out by the second of the hours."""
    draw, rows = Random(3), []
    for day in range(10):
        for number in KNOWN.numbers:
            for hour, way in zip(hours, ("in", "out"), strict=False):
                at = datetime(2026, 10, 14, hour, draw.randrange(60), draw.randrange(60)) + timedelta(days=day)
                rows.append((at, number, way))
    rows.sort(key=order, reverse=newest_first)
    lines = [f"GATE,{number},{at.strftime(written)},{way}" for at, number, way in rows]
    return SourceFile("log.csv", ("Reader,Badge,When,Way\n" + "\n".join(lines)).encode())


def taken(file):
    return read(file, propose(file, known=KNOWN).layout, zones=ZONES)


@pytest.mark.parametrize("newest_first", [False, True])
@pytest.mark.parametrize("order", [lambda row: row[0], lambda row: (row[1], row[0])], ids=["by time", "by number"])
def test_lost_halves_of_the_day_are_refused(order, newest_first):
    with pytest.raises(Refusal, match=r"AM or PM.*halves of the day are lost"):
        taken(log((7, 16), "%m/%d/%Y %I:%M:%S", order=order, newest_first=newest_first))


@pytest.mark.parametrize(
    ("hours", "written"),
    [
        ((7, 16), "%m/%d/%Y %I:%M:%S %p"),
        ((7, 16), "%m/%d/%Y %H:%M:%S"),
        ((6, 11), "%m/%d/%Y %H:%M:%S"),
        ((4, 12), "%m/%d/%Y %H:%M:%S"),
    ],
)
def test_times_that_are_whole_are_taken(hours, written):
    rows = taken(log(hours, written))
    assert (rows.frame.height, rows.rejects.height) == (60, 0)


def test_a_reader_called_by_a_header_word_makes_no_row_a_header():
    lines = [
        f"{reader},{number},2026-10-{day:02d} {hour}:00:10,{way}"
        for day in range(14, 18)
        for reader, hour, way in (("DOCK", "08", "in"), ("GATE", "16", "out"))
        for number in ("0041", "0042")
    ]
    file = SourceFile("log.csv", ("\n".join(lines)).encode())
    proposal = propose(file, known=KnownCells(readers=["GATE", "DOCK"], numbers=["0041", "0042"]))
    assert proposal.layout.header == 0
    rows = read(file, proposal.layout, zones={**ZONES, "DOCK": "America/Chicago"})
    assert rows.frame.height == 16
    assert rows.frame["direction"].to_list() == ["in", "in", "out", "out"] * 4
