"""A sample of a payroll's own files held against its definition: what differs is named, and nothing else."""

from __future__ import annotations

from typing import Any

import pytest

from evenhand import pay
from evenhand.terms.payroll import ImportDefinition, PayrollColumn

COLUMNS = (
    PayrollColumn("Firm", text="001"),
    PayrollColumn("Who", "person"),
    PayrollColumn("Code", "code"),
    PayrollColumn("Time", "hours"),
    PayrollColumn("Money", "pay"),
    PayrollColumn("From", "period_first"),
)
CODES = (("ordinary_hours", "0100"), ("earned_bonus", "0600"))
FITS = "Firm;Who;Code;Time;Money;From\r\n001;P1;0100;40,00;;01.11.2026\r\n001;Zoë;0600;;-9,50;01.11.2026\r\n"


def differing(content: str | bytes, known: tuple[str, ...] = ("P1",), **given: Any) -> dict[str, tuple[str, str]]:
    asked = {"columns": COLUMNS, "codes": CODES, "delimiter": ";", "decimal_mark": ",", "day": "DD.MM.YYYY"}
    definition = ImportDefinition(**{**asked, "encoding": "windows-1252", "has_mark": False, **given})
    content = content if isinstance(content, bytes) else content.encode("windows-1252")
    checks = pay.check_sample(content, pay.asked_by(definition, ()), known)
    return {one.place: (one.asked, one.found) for one in checks if one.differs}


def test_a_sample_as_the_definition_says_differs_in_nothing() -> None:
    assert differing(FITS) == {}


@pytest.mark.parametrize(
    ("was", "now", "place", "asked", "found"),
    [
        ("\r\n", "\n", "line ends", "CR LF", "LF"),
        (";", "\t", "delimiter", "semicolon", "tab"),
        ("Time;Money", "Money;Time", "Time", "column 4", "column 5"),
        (";From", ";from", "From", 'header "From"', 'header "from"'),
        (";From", ";Since", "From", "column 6", "no such column"),
        (";From", ";Since", "Since", "no such column", "column 6"),
        ("Firm;Who;Code;Time;Money;From\r\n", "", "header", "in the first row", "none"),
        ("0100", "0177", "Code", 'codes "0100", "0600"', 'unknown codes "0177"'),
        ("40,00", "40.00", "Time", "hours with a decimal comma and 2 decimals",
         'numbers with a decimal point and 2 decimals: "40.00"'),
        ("40,00", "40,0", "Time", "hours with a decimal comma and 2 decimals",
         'numbers with a decimal comma and 1 decimals: "40,0"'),
        ("40,00", "40:00", "Time", "hours with a decimal comma and 2 decimals", 'hours:minutes: "40:00"'),
        ("40,00", "2400", "Time", "hours with a decimal comma and 2 decimals", 'whole numbers: "2400"'),
        ("-9,50", "1.009,50", "Money", "money with a decimal comma and 2 decimals",
         'numbers with thousands set apart: "1.009,50"'),
        ("01.11.2026", "2026-11-01", "From", "days as DD.MM.YYYY", 'days such as 2026-11-01: "2026-11-01"'),
        ("01.11.2026", "11.31.2026", "From", "days as DD.MM.YYYY", 'days such as 11.31.2026: "11.31.2026"'),
        ("001;", "002;", "Firm", '"001"', '"002"'),
        ("P1", "00P1", "Who", "identifiers of people here", 'nobody\'s here: "00P1", "Zoë"'),
    ],
)  # fmt: skip
def test_what_differs_is_named_where_it_differs(was: str, now: str, place: str, asked: str, found: str) -> None:
    assert was in FITS
    assert differing(FITS.replace(was, now))[place] == (asked, found)


def test_the_encoding_is_told_by_its_bytes() -> None:
    # RFC 3629: in UTF-8 an e with diaeresis is two bytes, C3 AB, which windows-1252 reads as two letters
    assert differing(FITS.encode())["encoding"] == ("windows-1252", "utf-8")
    assert differing(FITS.encode("utf-8-sig"))["encoding"] == ("windows-1252", "utf-8 with its mark")
    assert differing(FITS.encode("utf-16"))["encoding"] == ("windows-1252", "utf-16")
    in_utf_8 = {"encoding": "utf-8", "has_mark": False}
    assert differing(FITS.encode(), **in_utf_8) == {}
    assert differing(FITS, **in_utf_8)["encoding"] == ("utf-8", "bytes that are not utf-8, in line 3")


def test_rows_for_one_person_are_counted_where_the_file_has_one_for_each() -> None:
    columns = (PayrollColumn("Who", "person"), PayrollColumn("Time", "ordinary_hours"))
    twice = "Who;Time\r\nP1;1,00\r\nP1;2,00\r\n"
    assert differing(twice, columns=columns, codes=())["rows"] == ("one for each person", "several for one person")
    assert differing(twice.replace("P1;2", "P2;2"), columns=columns, codes=()) == {}


def test_an_empty_sample_is_said_to_be_so() -> None:
    assert differing("")["rows"] == ("at least one", "none")
