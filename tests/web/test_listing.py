"""Long lists are searched, sorted and turned over."""

from __future__ import annotations

from evenhand.web.listing import ListQuery, list_rows

COLUMNS = {"name": lambda row: row[0], "count": lambda row: row[1]}
ROWS = [("b", 2), ("a", None), ("c", 1)]


def listed(asked: ListQuery, rows: list[tuple[str, int | None]] = ROWS) -> object:
    return list_rows(rows, asked, COLUMNS, lambda row: f"name {row[0]}", "name")


def test_rows_without_a_value_come_last_either_way() -> None:
    assert [row[0] for row in listed(ListQuery("/x", sort="count")).rows] == ["c", "b", "a"]
    assert [row[0] for row in listed(ListQuery("/x", sort="count", descending=True)).rows] == ["b", "c", "a"]


def test_a_column_that_does_not_exist_sorts_as_usual() -> None:
    assert [row[0] for row in listed(ListQuery("/x", sort="salary", descending=True)).rows] == ["a", "b", "c"]


def test_every_word_must_be_found_in_any_case() -> None:
    assert [row[0] for row in listed(ListQuery("/x", search="NAME b")).rows] == ["b"]
    assert listed(ListQuery("/x", search="name z")).found == 0


def test_a_hundred_rows_stand_on_a_page_and_pages_beyond_the_last_show_the_last() -> None:
    rows = [(f"{place:03}", place) for place in range(250)]
    last = listed(ListQuery("/x", page=99), rows)
    assert (last.page, last.pages, len(last.rows), last.rows[0][0]) == (3, 3, 50, "200")


def test_all_rows_stand_on_one_page_where_that_is_asked_for() -> None:
    rows = [(f"{place:03}", place) for place in range(250)]
    first = listed(ListQuery("/x", sort="count", descending=True), rows)
    assert first.whole() == "/x?sort=count&order=down&page=0"
    whole = listed(ListQuery("/x", sort="count", descending=True, page=0), rows)
    assert (len(whole.rows), whole.pages, whole.rows[0][0], whole.sorted_by("count")) == (
        250,
        1,
        "249",
        "/x?sort=count",
    )


def test_links_keep_the_rest_of_the_question() -> None:
    asked = ListQuery("/x", "a&b", "count", page=2, kept=(("week", "2026-03-01"),))
    assert listed(asked, [("a&b", 1)]).sorted_by("count") == "/x?week=2026-03-01&q=a%26b&sort=count&order=down"
    assert listed(asked, [("a&b", 1)]).turned_to(2) == "/x?week=2026-03-01&q=a%26b&sort=count&page=2"
