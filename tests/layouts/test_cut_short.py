"""The last cell of a file that ends in the middle of a line is not read as if it were whole."""

import pytest

from evenhand.layouts import Layout, Rows, SourceFile, read
from evenhand.layouts.proposal import KnownCells
from evenhand.layouts.propose import Answers, propose

ZONES = {"GATE": "UTC"}


def log(order: str, last: str, end: str = "", rows: int = 12) -> Rows:
    """Return what is read of a log whose last line ends in `last`, and then in `end`."""
    cells = [
        {"reader": "GATE", "at": f"2026-11-{2 + at:02d} 13:5{at % 10}:0{at % 10}", "number": f"{4107 + 31 * at}"}
        for at in range(rows)
    ]
    names = order.split(",")
    lines = [",".join(row[name] for name in names) for row in cells]
    lines.append(",".join([*(cells[-1][name] for name in names[:-1]), last]))
    file = SourceFile("gate.csv", ("\n".join([order, *lines]) + end).encode())
    layout = propose(file, Answers(table="punches"), KnownCells(readers=["GATE"])).layout
    assert isinstance(layout, Layout)
    return read(file, layout, zones=ZONES)


@pytest.mark.parametrize(
    ("order", "last"),
    [
        *(("reader,at,number", "4"), ("reader,at,number", "410")),
        ("number,reader,at", "2026-11-19 13:59"),
    ],
)
def test_a_last_cell_shorter_than_the_others_is_rejected_where_its_line_does_not_end(order: str, last: str) -> None:
    rows = log(order, last)
    assert rows.frame.height == 12
    assert rows.rejects["seen"].to_list() == [last]
    assert "cut short" in rows.rejects["reason"][0]
    assert "cut short" not in " ".join(log(order, last, "\n").rejects["reason"])


def test_a_last_cell_as_long_as_the_others_is_read() -> None:
    assert log("reader,at,number", "4107").rejects.is_empty()
    assert log("number,reader,at", "2026-11-19 13:59:05").rejects.is_empty()


def test_few_rows_tell_no_form() -> None:
    assert log("reader,at,number", "41", rows=4).rejects.is_empty()
