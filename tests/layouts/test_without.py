"""A file without some rows, cells and names: every other row is read as it was, on the line on which it stood."""

from __future__ import annotations

import io
import json
from collections.abc import Mapping
from datetime import datetime, time

import openpyxl
import pytest

from evenhand.layouts import Layout, Redaction, SourceFile, without
from evenhand.terms.records import Refusal

PEOPLE = Layout(
    "people",
    "delimited",
    {"person": ("person",), "name": ("name",), "number": ("number",)},
    delimiter=",",
    header=1,
)
CSV = b'person,name,number\r\nP1,"Quill, Ada",0041\r\nP2,"Ben\nRook",0042\r\nP3,Cara of Ben Rook,0043'


def grid(content: bytes, layout: Layout) -> dict[int, list[str]]:
    found = SourceFile("file", content).grid(layout)
    rows = zip(*(column.to_list() for column in found.columns), strict=True)
    return {int(line): list(row) for line, row in zip(found.lines, rows, strict=True)}


def cut(content: bytes, layout: Layout, **what: object) -> bytes:
    return without(SourceFile("file", content), [(layout, Redaction(**what))]).content  # type: ignore[arg-type]


def check(content: bytes, layout: Layout, lines: set[int], left: Mapping[int, list[str]]) -> None:
    before = grid(content, layout)
    after = grid(cut(content, layout, lines=frozenset(lines)), layout)
    assert after == {line: row for line, row in before.items() if line not in lines} == left


def test_a_row_whose_quoted_cell_runs_over_lines_goes_whole() -> None:
    check(CSV, PEOPLE, {3}, {2: ["P1", "Quill, Ada", "0041"], 5: ["P3", "Cara of Ben Rook", "0043"]})


def test_a_name_in_anothers_row_is_blanked_and_the_row_stays() -> None:
    left = cut(CSV, PEOPLE, lines=frozenset({3}), words=("Ben Rook",))
    assert grid(left, PEOPLE)[5] == ["P3", "Cara of         ", "0043"]
    assert b"Rook" not in left


def test_a_value_goes_only_where_it_is_all_that_is_in_a_cell() -> None:
    text = b"person,name,number\nP1,P2,0041\nP3,P2 the second,0042\n"
    assert grid(cut(text, PEOPLE, values=frozenset({"P2"})), PEOPLE) == {
        2: ["P1", "  ", "0041"],
        3: ["P3", "P2 the second", "0042"],
    }


def test_cells_are_emptied_in_plain_and_in_quoted_rows() -> None:
    left = cut(CSV, PEOPLE, cells={2: ("number",), 3: ("number",)})
    assert grid(left, PEOPLE) == {
        2: ["P1", "Quill, Ada", ""],
        3: ["P2", "Ben\nRook", ""],
        5: ["P3", "Cara of Ben Rook", "0043"],
    }


def test_a_text_that_did_not_end_its_last_line_still_does_not() -> None:
    assert not cut(CSV, PEOPLE, lines=frozenset({3})).endswith(b"\n")
    assert cut(CSV + b"\r\n", PEOPLE, lines=frozenset({3})).endswith(b"\n")


@pytest.mark.parametrize("encoding", ["cp1252", "utf-16", "utf-16-le"])
def test_a_stated_encoding_is_kept(encoding: str) -> None:
    layout = Layout(**{**vars(PEOPLE), "encoding": encoding})
    content = "person,name,number\nP1,Åsa Gård,0041\nP2,Zoë,0042\n".encode(encoding)
    left = cut(content, layout, lines=frozenset({3}))
    assert grid(left, layout) == {2: ["P1", "Åsa Gård", "0041"]}
    assert "P2" not in left.decode(encoding)


ROSTER = "person,name,number\r\nP1,Åsa Gård,0041\r\nP2,Ben Rook,0042\rP3,für Ben Rook,0043\nP4,Zoë Ørn,0044"
LEFT = "person,name,number\r\nP1,Åsa Gård,0041\r\n\rP3,für         ,0043\nP4,Zoë Ørn,0044"


@pytest.mark.parametrize("mark", [True, False])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16-le", "utf-16-be", "utf-32-be", "cp1252"])
def test_bytes_that_tell_their_encoding_are_written_in_it_with_mark_and_line_ends(encoding: str, mark: bool) -> None:
    if mark is (encoding == "cp1252") or (encoding == "utf-32-be" and not mark):
        return  # no code page has a mark, and UTF-32 is told by nothing else
    marked = "\ufeff" if mark else ""
    told = cut((marked + ROSTER).encode(encoding), PEOPLE, lines=frozenset({3}), words=("Ben Rook",))
    assert told == (marked + LEFT).encode(encoding)


def test_lines_that_are_damaged_keep_their_bytes() -> None:
    """One line of the code page among lines of UTF-8, and one of UTF-8 among those of the code page."""
    lines = ["person,name,number", "P1,Åsa Gård,0041", "P2,Ben Rook,0042", "P3,Zoë Ørn,0043", "P4,Jörg Bär,0044"]
    for most, other in (("utf-8", "cp1252"), ("cp1252", "utf-8")):
        raw = [line.encode(other if line.startswith("P1") else most) + b"\n" for line in lines]
        assert cut(b"".join(raw), PEOPLE, lines=frozenset({3})) == b"".join([*raw[:2], b"\n", *raw[3:]])


def test_a_text_that_could_not_be_read_any_more_is_written_in_utf_8() -> None:
    """The only words that told the code page are the person's; what is left may be meant in either of two."""
    words = "Dvo\u0159\u00e1k \u017di\u017eka \u0161t\u011bst\u00ed"
    text = f"person,name,number\nP1,{words},0041\nP2,K\u0159ez,0042\n"
    with pytest.raises(Refusal, match="may be meant"):
        grid(text.replace(words, "").encode("cp1250"), PEOPLE)
    left = cut(text.encode("cp1250"), PEOPLE, lines=frozenset({2}))
    assert left.decode() == "person,name,number\n\nP2,K\u0159ez,0042\n"


def test_fixed_width_keeps_its_places() -> None:
    layout = Layout("people", "fixed", {"person": (1,), "name": (2,)}, starts=(1, 6))
    text = b"P1   Ada\nP2   Ben\nP3   Cy\n"
    check(text, layout, {1}, {2: ["P2", "Ben"], 3: ["P3", "Cy"]})
    assert grid(cut(text, layout, cells={2: (2,)}), layout)[2] == ["P2", ""]


@pytest.mark.parametrize("indent", [None, 1])
def test_an_array_of_objects_becomes_one_to_a_line_where_each_stood(indent: int | None) -> None:
    layout = Layout("people", "json_lines", {"person": ("p",), "name": ("n",)})
    rows = [{"p": f"P{n}", "n": name, "score": 1.50} for n, name in enumerate(("Ada", "Ben Rook", "Cy"), start=1)]
    text = json.dumps(rows, indent=indent).encode()
    lines = sorted(grid(text, layout))
    after = grid(cut(text, layout, lines=frozenset({lines[1]}), cells={lines[2]: ("score",)}), layout)
    assert [(line, row[:2]) for line, row in after.items()] == [(lines[0], ["P1", "Ada"]), (lines[2], ["P3", "Cy"])]
    assert after[lines[2]][2] == ""
    assert after[lines[0]][2] == "1.5"


def test_a_workbook_keeps_the_sheet_that_is_read_and_nothing_else() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (
        ["P1", datetime(2026, 1, 2, 3, 4, 5), 12.5],
        ["P2", datetime(2026, 1, 2, 3, 4, 6), 41],
        [None, time(8, 0), None],
    ):
        sheet.append(row)
    book.create_sheet("Notes").append(["P1 was here"])
    content = io.BytesIO()
    book.save(content)
    layout = Layout("punches", "sheet", {"number": (1,), "at": (2,)}, width=3)
    # The first row goes, and the second is the second still.
    check(content.getvalue(), layout, {1}, {2: ["P2", "2026-01-02 03:04:06", "41"], 3: ["", "08:00:00", ""]})
    left = openpyxl.load_workbook(io.BytesIO(cut(content.getvalue(), layout, lines=frozenset({1}))))
    assert left.sheetnames == ["Sheet"]
