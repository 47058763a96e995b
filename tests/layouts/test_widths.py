"""Files of fixed width that a mark in their values or a header of several words makes look like something else."""

import json

import pytest

from evenhand.layouts import SourceFile, propose, sketch

LEFT = [
    "Reader      Badge number   Full name              Site",
    "Loading bay 4417           Ruiz, Ana              Mill",
    "Loading bay 0291           van der Berg, Bo       Yard",
    "Gate        5530           Ochieng, Mary          Yard",
]
RIGHT = [
    "Hourly rate  Badge no.  Name                      Team",
    "      21,38       4417  De Witt Maria Pia Ana     Press",
    "       9,50       0291  Berg Bo                   Paint",
    "      18,00       5530  Ochieng Mary              Press",
]


def cut_of(lines):
    (cut,) = sketch(SourceFile("f.txt", ("\n".join(lines) + "\n").encode())).cuts
    return cut


@pytest.mark.parametrize("lines", [LEFT, RIGHT])
def test_a_comma_inside_values_does_not_cut_fields_of_fixed_width(lines):
    cut = cut_of(lines)
    assert cut.shape.form == "fixed"
    assert cut.grid.headers == tuple(word for word in map(str.strip, lines[0].split("  ")) if word)
    column = cut.grid.headers.index(cut.grid.headers[1])
    assert cut.grid.columns[column].to_list() == ["4417", "0291", "5530"]


def test_a_name_of_few_rows_is_not_cut_where_only_the_longest_goes_on():
    cut = cut_of(RIGHT)
    assert cut.grid.columns[2].to_list() == ["De Witt Maria Pia Ana", "Berg Bo", "Ochieng Mary"]


def test_two_headers_that_one_blank_parts_stand_above_two_fields():
    lines = ["Badge Score", *(f"{n * 37:>5} {n * 11:>5}" for n in range(20, 60))]
    cut = cut_of(lines)
    assert cut.grid.headers == ("Badge", "Score")
    assert cut.grid.columns[1][0] == "220"


@pytest.mark.parametrize("pad", ["{:<8},{:>6}, {:<4}", "{:>8} , {:<10}, {:<4}"])
def test_cells_padded_with_blanks_are_still_parted_by_their_mark(pad):
    lines = [pad.format(*row) for row in [("Badge", "Score", "Way"), ("4417", "12", "in"), ("91", "8", "out")]]
    assert cut_of(lines).shape.delimiter == ","


def test_a_header_that_stands_again_in_the_middle_is_refused_by_its_name():
    text = "Badge,Name,Resp.\n4417,Ana Ruiz,yes\n0291,Bo Berg,no\nBadge,Name,Resp.\n5530,Mary Ochieng,no\n"
    cut = cut_of(text.splitlines())
    assert cut.grid.columns[0].to_list() == ["4417", "0291", "5530"]
    assert cut.grid.lines.tolist() == [2, 3, 5]
    assert cut.grid.rejects.select("line", "reason").rows() == [
        (4, "this is the header again, not a row; nothing to do")
    ]
    assert not propose(SourceFile("staff.csv", text.encode())).questions


def test_a_quoted_cell_over_lines_is_read_beside_a_last_column_that_is_empty():
    cut = cut_of(["Badge,Name,Note,", '4417,Ana Ruiz,"left', 'early",', "0291,Bo Berg,,"])
    assert cut.grid.columns[2].to_list() == ["left\nearly", ""]


def test_a_header_that_does_not_stand_above_its_fields_is_told_by_the_order_of_its_words():
    lines = ["day time badge way", *(f"{n}/11/26 07:{n} AM   00{n} {'in' if n % 2 else 'out'}" for n in range(10, 30))]
    assert cut_of(lines).grid.headers == ("day", "time", "badge", "way")


@pytest.mark.parametrize("form", ["json", "comma", "fixed"])
def test_a_row_that_ends_before_columns_that_all_others_fill_is_refused(form):
    rows = [{"badge": f"00{at}", "family": "Berg", "given": f"Ann{at}", "site": "Mill", "left": ""} for at in range(20)]
    rows[4] = dict(list(rows[4].items())[:2])
    written = {
        "json": [json.dumps(row) for row in rows],
        "comma": [",".join(row.get(name, "") for name in rows[0]) for row in rows],
        "fixed": ["  ".join(f"{row.get(name, ''):7}" for name in rows[0]).rstrip() for row in rows],
    }[form]
    head = {"json": [], "comma": [",".join(rows[0])], "fixed": ["  ".join(f"{name:7}" for name in rows[0])]}[form]
    cut = cut_of([*head, *written])
    assert cut.grid.rejects["line"].to_list() == [len(head) + 5]
    assert "cut short" in cut.grid.rejects["reason"][0]
    assert len(cut.grid.lines) == 19


def test_a_word_that_stands_again_among_the_values_is_no_header():
    lines = [f"E-{at};Ruiz, Ana;{'Site' if at % 3 else 'Plant'};Supervisor" for at in range(1000, 1040)]
    assert cut_of(lines).shape.header == 0
