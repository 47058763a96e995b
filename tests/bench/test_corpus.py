"""The corpus says what its files hold: each is read here by other means, from what is known of how it was written."""

from __future__ import annotations

import csv
import io
import json
import re
from collections import Counter
from dataclasses import replace
from datetime import date, datetime

import openpyxl
import pytest
from bench.corpus import KITS, PARTS, AnyOf, CorpusFile, agrees, files, is_there, kit_of, make
from bench.corpus.door import meet
from bench.corpus.moments import readings, write_date
from bench.corpus.open_orders import possible_orders
from bench.corpus.records import Row
from dateutil import tz

SOME = 500
THERE = [part for part in PARTS if is_there(part)]


@pytest.fixture(scope="module")
def some() -> list[CorpusFile]:
    return list(files("training", limit=SOME))


@pytest.mark.parametrize("part", THERE)
def test_a_number_always_gives_the_same_file(part: str) -> None:
    for number in range(60):
        assert make(kit_of(part), number) == make(kit_of(part), number)


def test_a_part_that_is_not_there_is_said_to_be_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(KITS, "kept-aside", ("not_in_this_folder", "KEPT_ASIDE"))
    with pytest.raises(LookupError, match=r"not_in_this_folder\.py is not here"):
        kit_of("kept-aside")


def test_every_sort_of_file_is_met(some: list[CorpusFile]) -> None:
    met = Counter((name, value) for file in some for name, value in file.dimensions.items())
    wanted = {
        "table": ("people", "readers", "enrolments", "punches", "schedules", "consent", "rates"),
        "header language": ("en", "es", "de", "fr", "pt", "it", "nl", "pl", "none"),
        "country": tuple(kit_of("training").workplaces),
        "form": ("delimited", "fixed", "sheet", "JSON array", "JSON lines"),
        "encoding": ("utf-8", "utf-8 with mark", "utf-16 le", "utf-16 be", "cp1252", "cp1250"),
        "delimiter": (",", ";", "tab", "|"),
        "moment": ("one", "two", "real", "iso offset", "iso z", "epoch s", "epoch ms", "serial", "fourteen", "parts"),
        "reader": ("column", "file name", "title", "nowhere"),
        "log order": ("forward", "backward", "by person", "unsorted"),
        "known": ("nothing", "readers", "everything"),
        "titles": ("some", "with the reader"),
        "totals": ("below",),
        "header": ("none", "two lines", "with a line break"),
        "zeros": ("lost",),
        "line breaks in cells": ("some",),
        "blank columns": ("one",),
        "nastiness": ("ordinary", "sloppy", "nasty"),
    }
    assert not [(name, value) for name, values in wanted.items() for value in values if met[name, value] < 2]
    assert met["nastiness", "ordinary"] > SOME / 2


def test_most_files_say_all_themselves_and_some_must_be_asked_or_refused(some: list[CorpusFile]) -> None:
    met = Counter(file.expects for file in some)
    assert met["read"] > 0.6 * SOME
    assert met["ask"] > 0.03 * SOME
    assert met["refuse"] > 0.02 * SOME


@pytest.mark.parametrize("part", THERE)
def test_rows_stand_where_the_truth_says_and_hold_what_it_says(part: str) -> None:
    """Cells are read by csv, openpyxl and json, days by strptime, clocks by dateutil's zones."""
    compared: Counter[str] = Counter()
    for file in files(part, limit=SOME):
        rows = _cells(file)
        if rows is None:
            continue
        for row in file.rows:
            if row.kind != "good":
                continue
            cells = rows[row.line]
            for use in {use for uses in file.uses for use in uses}:
                written = [cells[at] for at, uses in enumerate(file.uses) if use in uses]
                found = _value(file, use, written, row)
                if found is not None:
                    assert agrees(use, row.values[use], found[0]), (file.number, row.line, use, written)
                    compared[use] += 1
    uses = ("name", "number", "reader", "person", "site", "at", "starts_at", "hired_on", "left_on", "enrolled_on")
    assert all(compared[use] > 500 for use in uses), compared


def _cells(file: CorpusFile) -> dict[int, list[object]] | None:
    """Return the cells of each line, or none where the form is cut by position."""
    how = file.dimensions
    if how["form"] == "sheet":
        book = openpyxl.load_workbook(io.BytesIO(file.content))
        return (
            {at: list(row) for at, row in enumerate(book["Data"].iter_rows(values_only=True), 1)}
            if file.table
            else None
        )
    encodings = {"utf-8 with mark": "utf-8-sig", "utf-16 le": "utf-16", "utf-16 be": "utf-16"}
    encoding = how.get("encoding", "utf-8")
    text = file.content.decode(encodings.get(encoding, encoding))
    if how["form"].startswith("JSON"):
        objects = json.loads(text) if how["form"] == "JSON array" else [json.loads(line) for line in text.splitlines()]
        return {at: list(one.values()) for at, one in enumerate(objects, 1)}
    if how["form"] == "fixed" or not file.table:
        return None
    delimiter = "\t" if how["delimiter"] == "tab" else how["delimiter"]
    lines: dict[int, list[object]] = {}
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    begins = 1
    for cells in reader:
        lines[begins] = list(cells)
        begins = reader.line_num + 1
    return lines


PATTERNS = {"YYYY": "%Y", "YY": "%y", "MM": "%m", "M": "%m", "DD": "%d", "D": "%d"}
CLOCKS = {"HH": "%H", "H": "%H", "hh": "%I", "h": "%I", "mm": "%M", "ss": "%S", "AP": "%p", "ap": "%p"}


def _strptime(file: CorpusFile, with_time: bool) -> str | None:
    """Return the pattern by which Python reads the days of the file; none where it knows none."""
    days = file.dimensions.get("dates", "")
    if "MMM" in days or days == "real":
        return None
    pattern = re.sub(r"YYYY|YY|MM|M|DD|D", lambda found: PATTERNS[found.group()], days)
    if not with_time:
        return pattern
    times = file.dimensions.get("times", "")
    if times in {"", "real"} or any(mark in times for mark in ("{pt}", "{sp}", "{p}")):
        return None
    return pattern + " " + re.sub(r"\{(\w+)\}", lambda found: CLOCKS[found.group(1)], times)


def _value(file: CorpusFile, use: str, written: list[object], row: Row) -> tuple[object] | None:
    """Return the value that other means read from the cells, in a tuple; nothing where they cannot read it."""
    if use in {"hired_on", "left_on", "enrolled_on", "given_on", "withdrawn_on", "valid_from"}:
        if written[0] in {None, ""}:
            return (None,)
        if isinstance(written[0], datetime):
            return (written[0].date(),)
        pattern = _strptime(file, with_time=False)
        return (datetime.strptime(str(written[0]), pattern).date(),) if pattern else None
    if use in {"at", "starts_at", "ends_at"}:
        # a shift's end on the day of its start may lie on the next day: left to the other files
        shared = use == "ends_at" and file.dimensions.get("shift") == "day, from, to"
        return None if shared else _instant(file, written, row)
    if use in {"name", "reader", "person", "site", "department", "phone", "address", "zone", "place"}:
        return (" ".join(str(cell) for cell in written),)
    if use == "number":
        return (str(written[0]).zfill(file.zeros),)
    if use in {"max_digits", "capacity", "presentations"}:
        return (int(str(written[0])),)
    return None


def _instant(file: CorpusFile, written: list[object], row: Row) -> tuple[object] | None:
    zones = set(file.around.reader_zones.values())
    zone = file.around.reader_zones.get(str(row.values.get("reader")))
    if file.table == "schedules":
        zone = zones.pop() if len(zones) == 1 else None
    if zone is None or any("24:" in str(cell) for cell in written):
        return None
    moment = file.dimensions["moment"]
    if moment == "epoch s":
        return (int(str(written[0])),)
    if moment in {"iso z", "iso offset"}:
        return (int(datetime.fromisoformat(str(written[0])).timestamp()),)
    if moment == "real" and isinstance(written[0], datetime):
        return (round(written[0].replace(tzinfo=tz.gettz(zone)).timestamp()),)
    pattern = {"fourteen": "%Y%m%d%H%M%S", "twelve": "%Y%m%d%H%M"}.get(moment) or _strptime(file, with_time=True)
    if pattern is None or file.dimensions["columns"] == "shuffled":
        return None
    text = " ".join(str(cell) for cell in written)
    try:
        local = datetime.strptime(text, pattern)
    except ValueError:
        return None
    return (int(local.replace(tzinfo=tz.gettz(zone)).timestamp()),)


def test_days_that_may_stand_either_way_are_told_from_those_that_may_not() -> None:
    today = date(2026, 6, 1)

    def orders(pattern: str, *days: date, runs: bool = False) -> set[str]:
        return possible_orders(pattern, [days], today=today, runs=runs, may_be_future=False, earliest=2000)

    assert orders("DD/MM/YYYY", date(2026, 4, 3)) == {"dmy", "mdy"}
    assert orders("DD/MM/YYYY", date(2026, 4, 13)) == {"dmy"}
    assert orders("DD/MM/YYYY", date(2026, 4, 12)) == {"dmy"}  # the other way it lies in December, after today
    assert orders("DD/MM/YYYY", date(2026, 4, 4)) == {"dmy"}  # both ways the same day
    assert orders("MM/DD/YYYY", date(2026, 1, 2), date(2026, 1, 3), date(2026, 2, 1), runs=True) == {"mdy"}
    assert orders("YYYY-MM-DD", date(2026, 4, 3)) == {"ymd"}
    assert orders("DDMMYY", date(2026, 4, 3)) == {"dmy", "mdy", "ymd"}  # 030426: also 26 April 2003
    assert orders("DD MMM YYYY", date(2026, 4, 3)) == {"dmy"}


def test_a_day_in_figures_is_read_as_strptime_reads_it() -> None:
    day = date(2026, 4, 3)
    for pattern, order, read in (
        ("DD/MM/YYYY", "mdy", "%m/%d/%Y"),
        ("DD.MM.YY", "ymd", "%y.%m.%d"),
        ("DDMMYY", "ymd", "%y%m%d"),
        ("MMDDYYYY", "dmy", "%d%m%Y"),
    ):
        written = write_date(pattern, day, "en")
        assert readings(pattern, day)[order] == datetime.strptime(written, read).date()


def test_names_agree_in_any_order_of_their_parts_and_other_texts_do_not() -> None:
    assert agrees("name", "de Vries, Jan", "Jan de Vries")
    assert not agrees("name", "de Vries, Jan", "Jan Vries")
    assert not agrees("site", "Hal Oost", "Oost Hal")
    assert agrees("number", AnyOf(("0369", "369")), "369")
    assert not agrees("number", "0369", "369")


def test_a_row_read_otherwise_than_is_true_is_counted_as_wrong(some: list[CorpusFile]) -> None:
    """A file that reads right must be called wrong once its truth is changed: else nothing is measured."""
    plain = [
        file for file in some if file.table == "punches" and file.expects == "read" and file.rows[0].kind == "good"
    ]
    file = next(file for file in plain if meet(file).verdict == "right")
    first = file.rows[0]
    later = replace(first, values={**first.values, "at": int(str(first.values["at"])) + 86_400})
    outcome = meet(replace(file, rows=(later, *file.rows[1:])))
    assert (outcome.verdict, outcome.wrong, outcome.cause) == ("wrong rows", 1, "at")
    bad = meet(replace(file, rows=(replace(first, kind="bad"), *file.rows[1:])))
    assert (bad.verdict, bad.wrong) == ("wrong rows", 1)
    other = meet(replace(file, table="people"))
    assert other.verdict == "wrong table"
