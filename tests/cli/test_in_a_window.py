"""What commands print is read whole in a window of 80 columns, and goes whole to a file."""

from __future__ import annotations

import os
import re
import subprocess
import sys

import pytest

from evenhand.cli import printing
from evenhand.cli.printing import folded, print_table

HEADERS = ("Person", "Name", "Enrolled at", "Last punch", "Ordinary", "Overtime", "Paid", "Why")
ROWS = [
    (
        "K4986",
        "Abelund, Corvin",
        "BM-OVEN, BM-PACK, BM-YARD",
        None,
        "34:30",
        "0:00",
        "34:30",
        "a reason of some words",
    ),
    ("K7482", "Abelund, Joriet", "BM-PACK", "Sat 7 Nov, 01:43", "", "0:00", "7:30", ""),
]
WIDE = """
from evenhand.cli.printing import print_table
print_table(%r, %r)
"""


@pytest.fixture
def window(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(printing, "_is_window", lambda err: True)
    monkeypatch.setenv("COLUMNS", "80")


@pytest.mark.usefixtures("window")
def test_a_table_too_wide_for_the_window_is_told_row_by_row(capsys: pytest.CaptureFixture[str]) -> None:
    print_table(HEADERS, ROWS, right=(4, 5, 6))
    assert capsys.readouterr().out.splitlines() == [
        "K4986  Abelund, Corvin",
        "  Enrolled at: BM-OVEN, BM-PACK, BM-YARD · Ordinary: 34:30 · Overtime: 0:00 ·",
        "  Paid: 34:30 · Why: a reason of some words",
        "K7482  Abelund, Joriet",
        "  Enrolled at: BM-PACK · Last punch: Sat 7 Nov, 01:43 · Overtime: 0:00 · Paid:",
        "  7:30",
    ]


@pytest.mark.usefixtures("window")
def test_a_long_column_is_told_over_several_lines_where_the_others_fit(capsys: pytest.CaptureFixture[str]) -> None:
    print_table(("Number", "Why"), [("4821", "one word after the other " * 5)])
    lines = [line.rstrip() for line in capsys.readouterr().out.splitlines()]
    assert lines[0] == "Number  Why"
    assert lines[1].startswith("4821    one word after")
    assert all(len(line) <= 80 and not line.endswith(" wor") for line in lines)
    assert len(lines) == 3


@pytest.mark.usefixtures("window")
def test_a_sentence_is_folded_between_words_and_a_command_is_left_whole_to_be_copied() -> None:
    says = "  Somebody is called at the reader before the others of it, `evenhand enrol show 2026-11-18-1` says."
    lines = folded(says, err=False).split("\n")
    assert lines[0] == "  Somebody is called at the reader before the others of it,"
    assert lines[1] == "    `evenhand enrol show 2026-11-18-1` says."


def test_what_goes_to_a_file_is_whole(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    print_table(HEADERS, ROWS)
    assert len(capsys.readouterr().out.splitlines()) == 1 + len(ROWS)
    says = "word " * 40
    assert folded(says, err=False) == says


@pytest.mark.parametrize(("columns", "lines"), [(80, 6), (200, 3)])
def test_a_window_is_known_by_its_width(columns: int, lines: int) -> None:
    ours, theirs = os.openpty()
    environment = {**os.environ, "COLUMNS": str(columns), "TERM": "xterm", "EVENHAND_SPEAK": "en"}
    subprocess.run([sys.executable, "-c", WIDE % (HEADERS, ROWS)], stdout=theirs, env=environment, check=True)
    os.close(theirs)
    shown = re.sub(r"\x1b\[[0-9;]*m", "", os.read(ours, 1 << 16).decode()).splitlines()
    os.close(ours)
    assert len(shown) == lines
    assert max(map(len, shown)) <= columns
