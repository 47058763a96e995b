"""Rosters that name people by their numbers only, before and after one that names them by identifiers."""

from collections.abc import Sequence
from typing import Any

import pytest

from evenhand.store import Store, frames
from tests.store.rows import take

ADA = {"person": "P1", "name": "Ada Quill", "number": "0041"}
BEN = {"person": "P2", "name": "Ben Rook", "number": "0042"}
CY = {"person": "P3", "name": "Cy Nash", "number": "0043"}
NUMBERS = ("name", "number")


def without_identifier(*people: dict[str, Any]) -> list[dict[str, Any]]:
    return [{"name": person["name"], "number": person["number"]} for person in people]


def listed(store: Store) -> list[Sequence[Any]]:
    with store.reading() as conn:
        people = frames.people(conn)
        gone = frames.gone_people(conn)["person"].to_list()
    return [row for row in people.select("person", "name", "number").rows() if row[0] not in gone]


def test_people_whose_numbers_and_names_are_known_are_known(store: Store) -> None:
    take(store, "people", [ADA, BEN])
    kept = take(store, "people", without_identifier(BEN, ADA, CY), given=NUMBERS)
    assert (kept.taken, kept.known, kept.gone, kept.rejects.height) == (1, 2, 0, 0)
    assert listed(store) == [("0043", "Cy Nash", "0043"), ("P1", "Ada Quill", "0041"), ("P2", "Ben Rook", "0042")]


@pytest.mark.parametrize("spelling", ["Quill, Ada", "QUILL ADA", "ada  quill"])
def test_a_name_is_the_same_in_another_order_and_in_other_letters(store: Store, spelling: str) -> None:
    take(store, "people", [ADA, BEN])
    take(store, "people", [{"name": spelling, "number": "0041"}, *without_identifier(BEN)], given=NUMBERS)
    assert [row[0] for row in listed(store)] == ["P1", "P2"]


def test_another_name_under_a_known_number_is_refused(store: Store) -> None:
    take(store, "people", [ADA, BEN])
    kept = take(store, "people", [{"name": "Eve Lund", "number": "0041"}, *without_identifier(BEN)], given=NUMBERS)
    assert (kept.taken, kept.known) == (0, 1)
    (reject,) = kept.rejects.to_dicts()
    assert (reject["line"], reject["column"], reject["seen"]) == (2, "number", "0041")
    assert "P1 Ada Quill" in reject["reason"]
    assert [row[0] for row in listed(store)] == ["P1", "P2"]


def test_who_is_named_by_an_identifier_later_is_one_person(store: Store) -> None:
    take(store, "people", without_identifier(ADA, BEN, CY), given=NUMBERS)
    kept = take(store, "people", [ADA, BEN, CY])
    assert (kept.taken, kept.gone) == (3, 3)
    assert listed(store) == [("P1", "Ada Quill", "0041"), ("P2", "Ben Rook", "0042"), ("P3", "Cy Nash", "0043")]
    with store.reading() as conn:
        numbers = frames.people(conn)["number"].drop_nulls().to_list()
    assert sorted(numbers) == ["0041", "0042", "0043"]  # each is one person's
    again = take(store, "people", without_identifier(ADA, BEN, CY), given=NUMBERS)
    assert again.rejects.height == 0
