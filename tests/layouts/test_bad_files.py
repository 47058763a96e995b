"""Files that must not be read: each is refused as a whole, with its name and what to do."""

import io
import zipfile

import pytest

from evenhand.layouts import Layout, SourceFile, propose, read, sketch
from evenhand.layouts.forms.encoding import to_utf8
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

from .proposed import layout_of

ZONES = {"A": "America/Chicago"}
HEADER = "reader,number,at,direction\n"
LAYOUT = Layout(
    "punches",
    "delimited",
    {"reader": ("reader",), "number": ("number",), "at": ("at",), "direction": ("direction",)},
    delimiter=",",
    header=1,
)


def zipped():
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        archive.writestr("a.txt", "no workbook")
    return held.getvalue()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (b"\n\n  \n", "empty"),
        (b"\xef\xbb\xbf", "empty"),
        (b"\x89PNG\r\n\x1a\n" + b"\0" * 50, "picture"),
        (b"%PDF-1.7 ...", "PDF"),
        (b"\x1f\x8b\x08 ...", "compressed"),
        (zipped(), "no workbook"),
        (b"\xd0\xcf\x11\xe0" + b"\0" * 600, "no workbook"),
        (bytes(range(256)) * 20, ""),
        (b"just a letter\nwith some lines\nand no rows at all\n", "no table"),
        (HEADER.encode(), "no rows"),
        (HEADER.encode() + b"A,1," + b"x" * 2_000_000 + b",in\n", "line 2"),
        (b"<html><body><table><tr><td>1</td></tr></table></body></html>", "no table"),
    ],
)
def test_a_file_that_is_no_table_is_refused_by_name(content, said):
    with pytest.raises(Refusal) as refused:
        layout_of(SourceFile("march.bin", content))
    assert str(refused.value).startswith("march.bin")
    assert said in str(refused.value)


def test_columns_that_are_none_of_ours_are_asked_about():
    file = SourceFile("march.csv", b"colour,shape\nred,12 sides\nblue,4 sides\n")
    (asked,) = propose(file).questions
    assert asked.about == "table"
    assert "'colour', 'shape'" in asked.asks
    assert {choice.answer for choice in asked.choices} == set(SOURCES)


def test_a_kept_layout_refuses_them_too():
    for content in (b"", b"\x89PNG\r\n\x1a\n", zipped(), b"a;b\n1;2\n"):
        with pytest.raises(Refusal, match=r"^f\.csv"):
            read(SourceFile("f.csv", content), LAYOUT, zones=ZONES)


def test_only_a_header_reads_as_no_rows():
    rows = read(SourceFile("f.csv", HEADER.encode()), LAYOUT, zones=ZONES)
    assert (rows.read, rows.frame.height, rows.rejects.height) == (0, 0, 0)


def test_all_rows_bad_gives_all_rows_back():
    bad = "".join(f"A,12,31/31/20{n % 10},in\n" for n in range(500))
    rows = read(SourceFile("f.csv", (HEADER + bad).encode()), LAYOUT, zones=ZONES)
    assert rows.frame.height == 0
    assert rows.rejects["line"].to_list() == list(range(2, 502))


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("A,12,0001-01-01 07:00,in", "at"),
        ("A,12,9999-12-31 07:00,in", "at"),
        ("A,12,,in", "at"),
        (",12,2026-03-04 07:00,in", "reader"),
        ("A,,2026-03-04 07:00,in", "number"),
        ("A,1x2,2026-03-04 07:00,in", "number"),
        ("A,1.2E+11,2026-03-04 07:00,in", "number"),
        ("A,1\x002,2026-03-04 07:00,in", "number"),
        ("A,1\x0b2,2026-03-04 07:00,in", "number"),
        ("A,12,2026-03-04 07:00,sideways", "direction"),
        ("A,12,2026-03-04,in", "at"),
        ("A,12,2026-03-04 07:00 CST,in", "at"),
        ("A,12,2026-03-04 07:00", "whole row"),
        ("reader,number,at,direction", "whole row"),
    ],
)
def test_a_fault_in_a_row_refuses_the_row_with_line_column_and_what_was_seen(row, column):
    good = "A,0012,2026-03-04 07:00,in\n"
    rows = read(SourceFile("f.csv", (HEADER + good + row + "\n" + good).encode()), LAYOUT, zones=ZONES)
    assert rows.frame.height == 2
    assert rows.rejects.select("line", "column").rows() == [(3, column)]
    assert len(rows.rejects["seen"][0]) <= 60 + 12
    assert "\0" not in rows.rejects["seen"][0]
    assert rows.rejects["reason"][0]


def test_a_required_column_that_is_not_mapped_is_refused():
    layout = Layout("punches", "delimited", {"reader": (1,), "number": (2,)}, delimiter=",", width=2)
    with pytest.raises(Refusal, match="'at'"):
        read(SourceFile("f.csv", b"A,1\n"), layout, zones=ZONES)


def test_a_reader_of_the_whole_file_that_nobody_knows_is_refused():
    layout = Layout("punches", "delimited", {"number": (1,), "at": (2,)}, delimiter=",", width=2, reader="Z")
    with pytest.raises(Refusal, match="'Z'"):
        read(SourceFile("f.csv", b"1,2026-03-04 07:00\n"), layout, zones=ZONES)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "windows-1252"])
def test_encodings_and_line_ends_are_seen(encoding, end):
    text = "name;number\nMuñoz Peña;0012\nÉlodie Brûlé;0013\n".replace("\n", end)
    assert to_utf8("f", text.encode(encoding)).decode() == "name;number\nMuñoz Peña;0012\nÉlodie Brûlé;0013\n"


def test_bytes_that_are_nothing_are_refused_with_their_line():
    # 0x81 stands for nothing in Windows-1252, and is no UTF-8 by itself.
    with pytest.raises(Refusal, match="line 2"):
        to_utf8("f", b"name\n\xf1a\x81\n")


def test_a_stated_encoding_that_does_not_fit_is_refused():
    with pytest.raises(Refusal, match="ascii"):
        to_utf8("f", "ñ".encode(), "ascii")


def test_lines_in_another_encoding_than_the_rest_are_refused_alone():
    lines = ["name,number"] + [f"Peña {n},{n:04}" for n in range(9)]
    content = "\n".join(lines).encode() + b"\n" + "Muñoz,0042\n".encode("windows-1252")
    layout = Layout("people", "delimited", {"name": ("name",), "number": ("number",)}, delimiter=",", header=1)
    rows = read(SourceFile("f.csv", content), layout, zones={})
    assert rows.frame.height == 9
    assert rows.rejects["line"].to_list() == [11]
    assert "encoding" in rows.rejects["reason"][0]
    other = "\n".join(lines).encode("windows-1252") + b"\n" + "Muñoz,0042\n".encode()
    assert read(SourceFile("f.csv", other), layout, zones={}).rejects["line"].to_list() == [11]


def test_refused_rows_carry_their_line_as_it_stands_in_the_file():
    bad = ["A,12,tomorrow,in", 'A,"1\n2",2026-03-04 07:00,in', '"A,12', "A,1\x002,2026-03-04 07:00,in"]
    long = "A,x" + "9" * 3000 + ",2026-03-04 07:00,in"
    content = HEADER + "\n".join([*bad, long]) + "\n"
    rejects = read(SourceFile("f.csv", content.encode()), LAYOUT, zones=ZONES).rejects
    assert rejects["line"].to_list() == [2, 3, 5, 6, 7]
    assert rejects["text"].to_list() == [
        bad[0],
        bad[1].replace("\n", "\\n"),
        bad[2],
        bad[3].replace("\0", "\\x00"),
        long[:2000],
    ]


@pytest.mark.parametrize("hidden", ["\u202e", "\u2066", "\u200e", "\u200b", "\ufeff"])
def test_a_name_with_a_character_that_does_not_show_is_refused_and_shown_escaped(hidden):
    layout = Layout("people", "delimited", {"name": ("name",), "number": ("number",)}, delimiter=",", header=1)
    content = f"name,number\nAna{hidden}Ruiz,1\nBo Berg,2\n".encode()
    rows = read(SourceFile("f.csv", content), layout, zones={})
    assert rows.frame["name"].to_list() == ["Bo Berg"]
    reject = rows.rejects.row(0, named=True)
    assert f"U+{ord(hidden):04X}" in reject["reason"]
    assert reject["seen"].isprintable()
    assert reject["text"] == f"Ana\\u{ord(hidden):04x}Ruiz,1"


@pytest.mark.parametrize("column", ["presentations", "number", "reader", "enrolled_on"])
def test_a_number_of_thousands_of_digits_refuses_its_row(column):
    names = ["reader", "number", "presentations", "enrolled_on"]
    good = {"reader": "A", "number": "0012", "presentations": "3", "enrolled_on": "2026-03-04"}
    rows = [good, good | {column: "9" * 5000}]
    content = ",".join(names) + "\n" + "".join(",".join(row[name] for name in names) + "\n" for row in rows)
    layout = Layout("enrolments", "delimited", {name: (name,) for name in names}, delimiter=",", header=1)
    found = read(SourceFile("f.csv", content.encode()), layout, zones=ZONES)
    assert found.frame.height == (2 if column == "reader" else 1)
    propose(SourceFile("f.csv", content.encode()))


def test_a_file_whose_every_row_opens_a_quote_says_so_and_not_that_it_has_no_rows() -> None:
    rows = "".join(f'GATE,000{at},2026-10-2{at} 08:00:00,">left open\n' for at in range(4))
    with pytest.raises(Refusal, match=r"log\.csv: not one of its rows can be read; line 2: a quote opens here"):
        sketch(SourceFile("log.csv", f"reader,number,at,note\n{rows}".encode()))
