"""Lines that are no rows of the table: group rows above a header, units under it, comments."""

import pytest

from evenhand.layouts import SourceFile, read

from .proposed import layout_of

ZONES = {"GATE": "America/Chicago", "DOCK": "America/Chicago"}
HEADER = "No,Name,Date,Time,Reader\n"
ROWS = [
    f"00{40 + at % 5},Ada,2026-03-{2 + at // 4:02d},{7 + at % 4:02d}:{at * 7 % 60:02d}:13,GATE\n" for at in range(20)
]
ROSTER = "Employee ID,Name,Site\n"
PEOPLE = ["P1,Ada Quill,Mill\n", "P2,Ben Rook,Mill\n", "P3,Cy Dole,Mill\n", "P4,Di Ek,Mill\n"]


def rows_of(text):
    file = SourceFile("f.csv", text.encode())
    layout = layout_of(file, known_readers=ZONES)
    return layout, read(file, layout, zones=ZONES)


def test_a_row_of_groups_above_the_header_is_no_header():
    layout, rows = rows_of("Employee,,Punch,,\n" + HEADER + "".join(ROWS))
    assert (layout.header, layout.columns["at"], layout.columns["number"]) == (2, ("Date", "Time"), ("No",))
    assert rows.frame.height == 20
    assert rows.notices == ("Lines before the header, not read as rows: 1.",)


@pytest.mark.parametrize(
    "units", ["(digits),(text),(yyyy-mm-dd),(hh:mm:ss),(code)\n", "number,text,date,time,text\n", "n,,,,\n"]
)
def test_a_row_of_units_under_the_header_is_refused_as_such(units):
    _, rows = rows_of(HEADER + units + "".join(ROWS))
    assert rows.frame.height == 20
    assert rows.rejects["line"].to_list() == [2]
    assert ("kinds or units" in rows.rejects["reason"][0]) == (units != "n,,,,\n")


def test_units_that_could_be_a_person_are_nobody():
    _, rows = rows_of(ROSTER + "text,text,text\n" + "".join(PEOPLE))
    assert rows.frame["person"].to_list() == ["P1", "P2", "P3", "P4"]
    assert rows.rejects["line"].to_list() == [2]


def test_a_row_of_such_words_further_down_is_a_row():
    _, rows = rows_of(ROSTER + PEOPLE[0] + "Code,Min,Mill\n" + "".join(PEOPLE[1:]))
    assert rows.frame["person"].to_list() == ["P1", "Code", "P2", "P3", "P4"]


@pytest.mark.parametrize("mark", ["#", "//", ";", "  # "])
def test_comments_before_and_between_the_rows_are_said_to_be_comments(mark):
    above = f"{mark} export of the log, made 2026-03-09\n{mark} site: Mill\n"
    between = f'{mark} part two, from "2026-03-04" on, isn\'t it\n'
    _, rows = rows_of(above + HEADER + "".join(ROWS[:7]) + between + "".join(ROWS[7:]))
    assert rows.frame.height == 20
    assert rows.rejects["line"].to_list() == [11]
    assert "comment" in rows.rejects["reason"][0]
    assert "Lines before the header, not read as rows: 2." in rows.notices


def test_a_row_set_aside_by_a_mark_is_no_person():
    _, rows = rows_of(ROSTER + PEOPLE[0] + "#" + PEOPLE[1] + "".join(PEOPLE[2:]))
    assert rows.frame["person"].to_list() == ["P1", "P3", "P4"]
    assert rows.rejects["line"].to_list() == [3]


def test_a_mark_that_most_lines_begin_with_is_part_of_the_values():
    _, rows = rows_of(ROSTER + "".join("#" + person for person in PEOPLE))
    assert rows.frame["person"].to_list() == ["#P1", "#P2", "#P3", "#P4"]
    assert rows.rejects.is_empty()


SECOND = "Date,Time,Reader,No,Name\n"


def turned(row):
    no, name, date, time, reader = row.strip().split(",")
    return f"{date},{time},{reader},{no},{name}\n"


@pytest.mark.parametrize("second", [SECOND, SECOND.upper(), "Date,Time,Reader,No,Holder\n"])
def test_rows_below_a_header_in_another_order_are_not_read_by_the_first(second):
    _, rows = rows_of(HEADER + "".join(ROWS[:12]) + second + "".join(map(turned, ROWS[12:16])))
    assert rows.frame.height == 12
    assert rows.rejects["line"].to_list() == [14, 15, 16, 17, 18]
    assert all("another header" in reason for reason in rows.rejects["reason"])


def test_numbers_that_two_columns_change_places_with_are_not_taken_for_one_another():
    header, second = "Reader,No,Date,Time,Score\n", "Reader,Score,Date,Time,No\n"
    lines = [("GATE", f"00{40 + at % 5}", "2026-03-02", f"{7 + at:02d}:13:08", f"{20 + at}") for at in range(12)]
    first = "".join(",".join(line) + "\n" for line in lines)
    other = "".join(f"{reader},{score},{date},{time},{no}\n" for reader, no, date, time, score in lines)
    _, rows = rows_of(header + first + second + other)
    assert rows.frame.height == 12
    assert rows.rejects["line"].to_list() == list(range(14, 27))


def test_rows_are_read_again_below_the_first_header_where_it_comes_back():
    _, rows = rows_of(HEADER + "".join(ROWS[:8]) + SECOND + turned(ROWS[8]) + HEADER.upper() + "".join(ROWS[9:]))
    assert rows.frame.height == 19
    assert rows.rejects["line"].to_list() == [10, 11, 12]
    assert "header again" in rows.rejects["reason"][2]
