"""CSV that is safe to open, checked against OWASP's page "CSV Injection" and read back by the csv module."""

import csv
import io
import re
from datetime import date
from decimal import Decimal

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.terms.csv_text import as_csv, as_harmless, as_it_was, frame_as_csv

# OWASP, "CSV Injection": a cell that begins with one of these, or their full-width forms, may be taken as a formula.
FORMULA = "=+-@\uff1d\uff0b\uff0d\uff20"
SPACE = "\t\r\n"
DELIMITERS = ",;\t|"
tricky = st.text(st.sampled_from("=+-@\t\r\n'\",;| \xa01a.\uff1d") | st.characters(codec="utf-8"), max_size=9)


@pytest.mark.parametrize("payload", [f"{first}1+cmd|' /C calc'!A0" for first in [*FORMULA, "\t=", "\r@", "\n+"]])
@pytest.mark.parametrize("before", ["", " ", '"', ",", ";", "x;", 'x"; "', "x\t", "a\n", "' ;"])
def test_no_cell_begins_a_formula_whatever_delimiter_it_is_opened_with(before, payload):
    written = as_csv(["a", "b"], [["x", before + payload]])
    for delimiter in DELIMITERS:
        for quoting in (csv.QUOTE_MINIMAL, csv.QUOTE_NONE):
            for row in csv.reader(io.StringIO(written, newline=""), delimiter=delimiter, quoting=quoting):
                for cell in row:
                    shown = cell.strip(' "\xa0')
                    assert not shown or shown[0] not in FORMULA


@pytest.mark.parametrize(
    "text", ["-12", "+3", "-1,234.50", "-12.5", "-", "Ruiz-Peña", "a=b", "2026-03-04", "x@y.example"]
)
def test_what_is_no_formula_stays_as_it_is(text):
    assert as_harmless(text) == text


@given(tricky)
@settings(max_examples=1000)
def test_what_was_made_harmless_is_told_from_all_else(text):
    assert as_it_was(as_harmless(text)) == text


def test_numbers_days_and_money_are_written_as_they_print():
    written = as_csv(
        ["n", "d", "m", "t", "e"], [[-3, date(2026, 3, 4), Decimal("-0.50"), True, None], [-1e-05, "", "", False, ""]]
    )
    assert written == "n,d,m,t,e\r\n-3,2026-03-04,-0.50,true,\r\n-1e-05,,,false,\r\n"


@given(st.lists(st.tuples(tricky, tricky, st.integers()), max_size=5), st.sampled_from(DELIMITERS))
def test_the_csv_module_reads_every_cell_back(rows, delimiter):
    written = as_csv(["a", "b", "c"], rows, delimiter=delimiter)
    read = list(csv.reader(io.StringIO(written, newline=""), delimiter=delimiter))[1:]
    assert [(as_it_was(a), as_it_was(b), int(c)) for a, b, c in read] == rows


@given(
    st.lists(st.tuples(tricky, st.none() | tricky, st.booleans(), st.integers(-9, 9)), max_size=7), st.integers(1, 3)
)
def test_a_frame_written_in_pieces_is_read_as_the_rows_written_at_once(rows, at_once):
    frame = pl.DataFrame(rows, schema={"a": pl.String, "=b": pl.String, "c": pl.Boolean, "d": pl.Int64}, orient="row")
    read = [list(csv.reader(io.StringIO(text, newline=""))) for text in ("".join(frame_as_csv(frame, rows=at_once)),)]
    assert read == [list(csv.reader(io.StringIO(as_csv(frame.columns, frame.iter_rows()), newline="")))]


def test_no_other_code_writes_csv():
    from pathlib import Path

    import evenhand

    # The last two digest rows and write no file.
    allowed = {"terms/csv_text.py", "pay/payroll/control.py", "terms/closing.py"}
    root = Path(evenhand.__file__).parent
    writing = re.compile(r"csv\.(?:writer|DictWriter)|write_csv")
    found = {path.relative_to(root).as_posix() for path in root.rglob("*.py") if writing.search(path.read_text())}
    assert found == allowed
