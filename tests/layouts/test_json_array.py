"""JSON that is not one object to a line, checked against the standard library's parser."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.layouts import Layout, SourceFile, read
from evenhand.terms.records import Refusal

PEOPLE = Layout("people", "json_lines", {"name": ("name",), "number": ("number",)})
ROWS = [{"name": "Ana Ruiz", "number": "0012"}, {"name": "Bo {Berg]", "number": "0013", "more": [1, {"x": "]"}]}]

row = st.fixed_dictionaries(
    {
        "name": st.text(st.characters(codec="utf-8", categories=("L", "P", "S")), min_size=1),
        "number": st.from_regex("[0-9]{1,6}", fullmatch=True),
    }
)


def taken(text):
    rows = read(SourceFile("f.json", text.encode()), PEOPLE, zones={})
    return rows.frame.select("name", "number").rows(), rows


@pytest.mark.parametrize("indent", [None, 0, 2, "\t"])
@pytest.mark.parametrize(
    "around", [lambda rows: rows, lambda rows: {"made": "2026-03-04", "n": 2, "rows": rows, "tags": ["a"]}]
)
@given(rows=st.lists(row, min_size=1, max_size=5))
@settings(max_examples=20, deadline=None)
def test_an_array_is_read_as_the_rows_it_holds_however_it_is_printed(indent, around, rows):
    text = json.dumps(around(rows), indent=indent, ensure_ascii=False)
    assert taken(text)[0] == [(each["name"], each["number"]) for each in json.loads(json.dumps(rows))]


def test_rows_of_an_array_keep_the_lines_on_which_they_begin():
    text = json.dumps(ROWS, indent=2)
    expected = [at for at, line in enumerate(text.splitlines(), 1) if line == "  {"]
    assert taken(text)[1].lines.tolist() == expected
    assert taken(json.dumps(ROWS))[1].lines.tolist() == [1, 2]  # on one line they are counted


def test_objects_printed_over_lines_one_behind_the_other_are_rows():
    text = "\n".join(json.dumps(each, indent=1) for each in ROWS)
    assert taken(text)[0] == [("Ana Ruiz", "0012"), ("Bo {Berg]", "0013")]


def test_one_object_over_several_lines_is_one_row():
    assert taken(json.dumps(ROWS[0], indent=1))[0] == [("Ana Ruiz", "0012")]


def test_an_array_cut_short_refuses_what_is_cut_and_takes_the_rest():
    text = json.dumps(ROWS, indent=2)[:-40]
    found, rows = taken(text)
    assert found == [("Ana Ruiz", "0012")]
    assert rows.rejects.height == 1


def test_what_is_no_object_in_an_array_is_refused_by_its_line():
    found, rows = taken('[{"name": "Ana", "number": "1"},\n7,\n{"name": "Bo", "number": "2"}]')
    assert found == [("Ana", "1"), ("Bo", "2")]
    assert rows.rejects["line"].to_list() == [2]


def test_an_object_with_two_lists_is_refused_with_their_names():
    with pytest.raises(Refusal, match="people, left"):
        taken(json.dumps({"people": ROWS, "left": ROWS}))


def test_a_name_that_stands_twice_in_an_object_refuses_it():
    found, rows = taken('{"name": "Ana", "number": "1"}\n{"name": "Bo", "number": "2", "number": "3"}\n')
    assert found == [("Ana", "1")]
    assert "twice" in rows.rejects["reason"][0]


def test_a_csv_whose_header_stands_in_brackets_stays_one():
    file = SourceFile("f.csv", b"[name],[number]\nAna,1\n")
    assert file.lines().to_list() == ["[name],[number]", "Ana,1"]
