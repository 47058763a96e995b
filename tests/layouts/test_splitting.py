"""Cells as Python's csv module reads them, and quotes that do not close."""

import csv
import io
import itertools
import json

import polars as pl
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from evenhand.layouts import SourceFile
from evenhand.layouts.forms.encoding import to_utf8
from evenhand.layouts.forms.fixed import find_starts, split_fixed
from evenhand.layouts.forms.json_lines import split_json_lines
from evenhand.layouts.forms.splitting import COMMENT_MARKS, lines_of, split
from evenhand.layouts.shape import find_delimiter

cell = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")) | st.sampled_from(',;"\n '), max_size=6)


def cut(text, delimiter=",", header=1, width=0):
    return split(lines_of("f", text.encode()), delimiter, header, width)


def rows_of(grid):
    return list(zip(*(column.to_list() for column in grid.columns), strict=True))


def may_be_comment(row):
    return row[0].lstrip().startswith(COMMENT_MARKS)


def assert_read_or_told(grid, expected):
    """Every row is read as it is; one that begins as a comment does may be rejected as one, with its line."""
    assume(not any(may_be_comment(row) and "\n" in "".join(row) for row in expected))
    read = rows_of(grid)
    assert [row for row in read if not may_be_comment(row)] == [row for row in expected if not may_be_comment(row)]
    assert len(read) + grid.rejects.height == len(expected)
    assert all("comment" in reason for reason in grid.rejects["reason"])


@given(
    rows=st.lists(st.tuples(cell, cell, cell), min_size=1, max_size=8),
    delimiter=st.sampled_from([",", ";", "\t", "|"]),
    quoting=st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL, csv.QUOTE_NONNUMERIC]),
)
@example(rows=[("", "", "\xa0")], delimiter=",", quoting=csv.QUOTE_MINIMAL)
@example(rows=[("", "", ""), ("", "", ""), (";", "", "")], delimiter=",", quoting=csv.QUOTE_MINIMAL)
@settings(max_examples=150, deadline=None)
def test_what_the_csv_module_writes_is_read_as_it_reads_it(rows, delimiter, quoting):
    out = io.StringIO()
    writer = csv.writer(out, delimiter=delimiter, quoting=quoting, lineterminator="\n")
    writer.writerow(["a", "b", "c"])
    writer.writerows(rows)
    expected = [tuple(r) for r in csv.reader(io.StringIO(out.getvalue()), delimiter=delimiter)][1:]
    expected = [r for r in expected if any(each.strip() for each in r)]
    assert_read_or_told(cut(out.getvalue(), delimiter), expected)


def test_a_field_may_run_over_lines_and_keeps_its_first_line():
    grid = cut('a,b\n1,"two\nlines"\n3,4\n')
    assert rows_of(grid) == [("1", "two\nlines"), ("3", "4")]
    assert grid.lines.tolist() == [2, 4]


def test_one_open_quote_in_a_hundred_thousand_rows_takes_one_line_with_it():
    lines = ["a,b,c"] + [f"{n},x,y" for n in range(100_000)]
    lines[50_001] = '50000,"x,y'
    grid = cut("\n".join(lines))
    assert len(grid.lines) == 99_999
    assert grid.rejects["line"].to_list() == [50_002]
    assert "quote" in grid.rejects["reason"][0]


def test_an_open_quote_before_a_quoted_row_takes_only_itself():
    grid = cut('a,b\n"open,1\n"x","y"\nz,2\n')
    assert rows_of(grid) == [("x", "y"), ("z", "2")]
    assert grid.rejects["line"].to_list() == [2]


def test_lines_quoted_all_over_are_read_like_any_other():
    text = 'a,b\n"1","x,y"\n"",""\n"2",","\n3,z\n"4","""q"""\n'
    grid = cut(text)
    assert rows_of(grid) == [("1", "x,y"), ("2", ","), ("3", "z"), ("4", '"q"')]
    assert grid.lines.tolist() == [2, 4, 5, 6]
    assert grid.rejects.is_empty()


def test_a_quoted_line_inside_a_field_that_began_above_belongs_to_it():
    text = 'a,b\n"1","x\n"",""y"\n"2","z"\n'
    assert rows_of(cut(text)) == [tuple(row) for row in csv.reader(io.StringIO(text))][1:]


def test_text_behind_a_closing_quote_is_refused_not_joined():
    assert cut('a,b\n"x"y,1\n').rejects["line"].to_list() == [2]


def test_a_quote_inside_a_plain_field_is_a_character():
    assert rows_of(cut('a,b\nJohn "Bo" Roe,1\n')) == [('John "Bo" Roe', "1")]


@pytest.mark.parametrize("line", ["1", "1,2,3,4", "1,2"])
def test_another_number_of_columns_is_refused_with_the_line(line):
    grid = cut(f"a,b,c\n1,2,3\n{line}\n4,5,6\n")
    assert grid.rejects["line"].to_list() == [3]
    assert "where 3 belong" in grid.rejects["reason"][0]
    assert len(grid.lines) == 2


def test_empty_cells_beyond_the_last_column_are_let_pass():
    assert rows_of(cut("a,b,\n1,2,\n3,4,,,\n5,6\n")) == [("1", "2"), ("3", "4"), ("5", "6")]


def test_a_last_line_cut_short_is_said_to_be_cut_short():
    assert "cut short" in cut("a,b,c\n1,2,3\n1,2").rejects["reason"][0]


def test_blank_lines_and_lines_of_delimiters_are_no_rows():
    grid = cut("a,b\n\n1,2\n,\n  \n , \n3,4\n\n")
    assert grid.lines.tolist() == [3, 7]
    assert grid.rejects.is_empty()


def test_a_header_may_run_over_lines_too():
    grid = cut('"Badge\nnumber",b\n1,2\n')
    assert grid.headers == ("Badge number", "b")
    assert grid.lines.tolist() == [3]


FIXED = [
    "Badge  Name             Score",
    "00123  Ana Ruiz            12",
    "4      Bo van der Berg      7",
    "00125  C. Diaz            101",
    "",
]


def test_fixed_width_is_cut_at_its_positions():
    grid = split_fixed(lines_of("f", "\n".join(FIXED).encode()), (1, 8, 25), 1)
    assert grid.headers == ("Badge", "Name", "Score")
    assert rows_of(grid)[1:] == [("4", "Bo van der Berg", "7"), ("00125", "C. Diaz", "101")]
    assert grid.lines.tolist() == [2, 3, 4]


def test_positions_are_found_where_columns_are_blank_in_every_line():
    lines = [f"{n:<6} {n * 37 % 1000:>4} {'in' if n % 2 else 'out'}" for n in range(1, 100)]
    assert find_starts(lines) == (1, 9, 13)


def test_a_value_that_would_be_cut_in_two_is_refused():
    lines = [f"{n:>3} {n:>4}" for n in range(1, 60)] + ["1234567890"]
    grid = split_fixed(lines_of("f", "\n".join(lines).encode()), (1, 5), 0)
    assert grid.rejects["line"].to_list() == [60]
    assert len(grid.lines) == 59


def test_json_lines_keep_text_as_text_and_name_what_is_no_object():
    grid = split_json_lines(pl.Series(['{"n":"007","s":1.50}', "", "[1]", '{"n":12,"d":null}', '{"n":', '{"s":NaN}']))
    assert grid.headers == ("n", "s", "d")
    assert rows_of(grid) == [("007", "1.50", ""), ("12", "", "")]
    assert grid.rejects["line"].to_list() == [3, 5, 6]


json_name = st.text(st.characters(codec="utf-8", exclude_categories=("Cs",)), min_size=1, max_size=5)
json_value = (
    st.text(st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=6)
    | st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.lists(st.integers(), max_size=2)
)


def as_text(value):
    """What a cell shows of a value, by the standard library's parser alone."""
    return "" if value is None else value if isinstance(value, str) else json.dumps(value)


@given(
    shapes=st.lists(st.lists(json_name, min_size=1, max_size=4, unique=True), min_size=1, max_size=3),
    data=st.data(),
    spaced=st.booleans(),
    escaped=st.booleans(),
)
@settings(max_examples=150, deadline=None)
def test_json_lines_are_read_as_the_json_module_reads_them(shapes, data, spaced, escaped):
    rows = data.draw(
        st.lists(st.sampled_from(shapes).flatmap(lambda names: st.fixed_dictionaries(dict.fromkeys(names, json_value))))
    )
    separators = (", ", ": ") if spaced else (",", ":")
    lines = [json.dumps(row, separators=separators, ensure_ascii=escaped) for row in rows]
    grid = split_json_lines(lines_of("f", "\n".join(lines).encode()))
    assert grid.rejects.is_empty()
    assert grid.lines.tolist() == list(range(1, len(rows) + 1))
    # Numbers stay as they are written, which is how the module writes them.
    seen = [dict(zip(grid.headers, cells, strict=True)) for cells in rows_of(grid)]
    read = [json.loads(line, parse_int=str, parse_float=str) for line in lines]
    assert seen == [{name: as_text(row.get(name)) for name in grid.headers} for row in read]
    assert {name for row in rows for name in row} == set(grid.headers)


def test_objects_in_many_orders_of_names_are_all_read():
    names = ["a", "b", "c", "d"]
    orders = [list(order) for order in itertools.permutations(names)]
    lines = pl.Series([json.dumps({name: name + str(at) for name in order}) for at, order in enumerate(orders)])
    grid = split_json_lines(lines)
    assert sorted(grid.headers) == names
    for name, column in zip(grid.headers, grid.columns, strict=True):
        assert column.to_list() == [f"{name}{at}" for at in range(len(orders))]


@pytest.mark.parametrize("line", ["Total;5", "  Sum ; 12,5", ";Grand total;7", "Totales 1.234", '"Summe";3'])
def test_a_line_of_totals_that_is_cut_short_is_called_one(line):
    assert "totals" in cut(f"a;b;c;d\n1;2;3;4\n{line}\n", ";").rejects["reason"][0]


@pytest.mark.parametrize("line", ["Total 5 rows left;5", "7;8", "Tot;5", "2026-03-04 Total;1"])
def test_a_line_that_only_resembles_totals_is_not_called_one(line):
    assert "columns where 4 belong" in cut(f"a;b;c;d\n1;2;3;4\n{line}\n", ";").rejects["reason"][0]


@pytest.mark.parametrize("line", ["---,---", "=====", "-----+-----", "___ , ___", "--,--,"])
def test_a_line_drawn_under_the_header_is_no_row(line):
    grid = cut(f"a,b\n{line}\n1,2\n-,-\n")
    assert rows_of(grid) == [("1", "2"), ("-", "-")]
    assert grid.rejects.is_empty()


@pytest.mark.parametrize("line", ["--,5", "-x-,--"])
def test_a_line_that_holds_anything_else_is_a_row(line):
    assert rows_of(cut(f"a,b\n{line}\n")) == [tuple(line.split(","))]


def test_lines_drawn_in_fixed_width_are_no_rows():
    lines = [FIXED[0], "-" * 30, "=====  ====             =====", *FIXED[1:]]
    grid = split_fixed(lines_of("f", "\n".join(lines).encode()), (1, 8, 25), 1)
    assert grid.lines.tolist() == [4, 5, 6]
    assert grid.rejects.is_empty()


undrawn = cell.map(lambda text: text.translate(dict.fromkeys(map(ord, "-=_+"), "x")))


@given(
    rows=st.lists(st.tuples(undrawn, undrawn, undrawn), min_size=1, max_size=6),
    delimiter=st.sampled_from(",;\t|^~"),
    quoting=st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL, csv.QUOTE_NONNUMERIC]),
    end=st.sampled_from(["\n", "\r\n"]),
)
@example(rows=[("", "", "0"), ("", "", "0"), (";", "", "")], delimiter=",", quoting=csv.QUOTE_MINIMAL, end="\n")
@settings(max_examples=100, deadline=None)
def test_every_dialect_that_the_csv_module_writes_is_read_back(rows, delimiter, quoting, end):
    out = io.StringIO()
    writer = csv.writer(out, delimiter=delimiter, quoting=quoting, lineterminator=end)
    writer.writerows([("a", "b", "c"), *rows])
    lines = lines_of("f", to_utf8("f", out.getvalue().encode()))
    expected = [row for row in rows if any(each.strip() for each in row)]
    assert_read_or_told(split(lines, delimiter, 1, 0), expected)


@pytest.mark.parametrize("stated", ["sep=;", '"sep=;"', "SEP=;"])
def test_a_first_line_that_states_the_delimiter_is_followed(stated):
    text = f"{stated}\nname;number\nRuiz, Ana;0012\nBerg, Bo;0013\n"
    assert find_delimiter(SourceFile("f.csv", text.encode())) == ";"


@pytest.mark.parametrize("delimiter", list(",;\t|^~"))
def test_each_delimiter_is_found(delimiter):
    text = "".join(delimiter.join(row) + "\n" for row in [("name", "number"), ("Ana Ruiz", "0012"), ("Bo Berg", "13")])
    assert find_delimiter(SourceFile("f.csv", text.encode())) == delimiter
