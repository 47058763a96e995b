"""Rosters and lists are taken by key, and what they replace is kept."""

import json
from datetime import date
from decimal import Decimal
from typing import Any

from evenhand.store import Store, frames
from evenhand.store.takes import find_taken
from evenhand.terms.sources import PEOPLE
from tests.store.rows import list_readers, take

ADA = {"person": "P1", "name": "Ada Quill", "number": "0041", "hired_on": date(2024, 2, 29), "is_supervisor": True}
BEN = {"person": "P2", "name": "Ben Rook", "number": "0042", "hourly_rate": Decimal("17.3050")}


def people(store: Store) -> list[dict[str, Any]]:
    with store.reading() as conn:
        return PEOPLE.check(frames.people(conn)).to_dicts()


def test_a_person_comes_back_as_the_roster_said(store: Store) -> None:
    take(store, "people", [BEN, ADA])
    unsaid = dict.fromkeys(PEOPLE.names)
    assert people(store) == [unsaid | ADA, unsaid | BEN]


def test_a_changed_row_is_taken_and_its_old_values_are_kept(store: Store) -> None:
    take(store, "people", [ADA, BEN])
    kept = take(store, "people", [ADA, BEN | {"number": "0099", "hourly_rate": Decimal("18")}])
    assert (kept.taken, kept.known) == (1, 1)
    assert [row["number"] for row in people(store)] == ["0041", "0099"]
    with store.reading() as conn:
        (change,) = frames.changes(conn).to_dicts()
    assert (change["table"], json.loads(change["row_key"]), change["take"]) == ("people", {"person": "P2"}, kept.take)
    was = json.loads(change["was"])
    assert (was["number"], Decimal(was["hourly_rate"])) == ("0042", Decimal("17.305"))


def test_a_column_the_file_does_not_hold_keeps_its_stored_values(store: Store) -> None:
    take(store, "people", [ADA])
    kept = take(store, "people", [{"person": "P1", "name": "Ada Quill"}], given=["person", "name"])
    assert (kept.taken, kept.known) == (0, 1)
    assert people(store)[0]["number"] == "0041"


def test_a_column_the_file_holds_empty_empties_the_stored_value(store: Store) -> None:
    take(store, "people", [ADA])
    kept = take(store, "people", [{"person": "P1", "name": "Ada Quill"}], given=["person", "name", "number"])
    assert kept.taken == 1
    assert people(store)[0]["number"] is None


def test_a_roster_without_identifiers_uses_the_number(store: Store) -> None:
    take(store, "people", [{"name": "Ada Quill", "number": "0041"}])
    assert people(store)[0]["person"] == "0041"


def test_a_row_with_neither_identifier_nor_number_is_refused(store: Store) -> None:
    kept = take(store, "people", [ADA, {"name": "Cy Nash"}])
    assert kept.taken == 1
    (reject,) = kept.rejects.to_dicts()
    assert (reject["line"], reject["column"], reject["seen"]) == (3, "person", "Cy Nash")


def test_of_two_rows_that_contradict_each_other_the_later_is_refused(store: Store) -> None:
    kept = take(store, "people", [ADA, BEN, ADA | {"number": "0077"}, BEN])
    assert (kept.taken, kept.known) == (2, 1)
    (reject,) = kept.rejects.to_dicts()
    assert (reject["line"], reject["column"], reject["seen"]) == (4, "number", "0077")
    assert "line 2" in reject["reason"]
    assert people(store)[0]["number"] == "0041"


def test_two_people_with_one_number_are_taken(store: Store) -> None:
    kept = take(store, "people", [ADA, BEN | {"number": "0041"}])
    assert (kept.taken, kept.rejects.height) == (2, 0)


def enrolled(store: Store) -> list[tuple[str, str]]:
    with store.reading() as conn:
        return frames.enrolments(conn).select("reader", "number").rows()


def entry(number: str, reader: str = "GATE", **others: Any) -> dict[str, Any]:
    return {"reader": reader, "number": number} | others


def test_what_a_reader_lists_no_longer_is_gone_and_other_readers_stay(store: Store) -> None:
    list_readers(store)
    take(store, "enrolments", [entry("1"), entry("2"), entry("1", "DOCK")])
    kept = take(store, "enrolments", [entry("2"), entry("3")])
    assert (kept.taken, kept.known, kept.gone) == (1, 1, 1)
    assert enrolled(store) == [("DOCK", "1"), ("GATE", "2"), ("GATE", "3")]


def test_an_enrolment_that_is_listed_again_is_back(store: Store) -> None:
    list_readers(store)
    take(store, "enrolments", [entry("1"), entry("2")])
    take(store, "enrolments", [entry("2")])
    kept = take(store, "enrolments", [entry("1"), entry("2")])
    assert (kept.taken, kept.known, kept.gone) == (1, 1, 0)
    assert enrolled(store) == [("GATE", "1"), ("GATE", "2")]
    assert take(store, "enrolments", [entry("1"), entry("2")], given=["reader", "number"]).known == 2


def test_a_list_with_refused_rows_marks_nothing_gone(store: Store) -> None:
    list_readers(store)
    take(store, "enrolments", [entry("1"), entry("2")])
    assert take(store, "enrolments", [entry("2")], rejected=1).gone == 0
    assert take(store, "enrolments", [entry("2"), entry("2", name="ROOK")]).gone == 0
    assert enrolled(store) == [("GATE", "1"), ("GATE", "2")]


def test_schedules_and_consent_are_kept_by_their_keys(store: Store) -> None:
    shift = {"person": "P1", "starts_at": 1_767_600_000, "ends_at": 1_767_628_800}
    take(store, "schedules", [shift])
    assert take(store, "schedules", [shift | {"ends_at": 1_767_632_400}]).taken == 1
    form = {"person": "P1", "given_on": date(2025, 1, 2), "form": "A"}
    take(store, "consent", [form])
    take(store, "consent", [form | {"withdrawn_on": date(2025, 6, 1)}])
    with store.reading() as conn:
        assert frames.schedules(conn)["ends_at"].to_list() == [1_767_632_400]
        assert frames.consent(conn).to_dicts() == [form | {"withdrawn_on": date(2025, 6, 1)}]


def test_a_content_counts_as_taken_only_while_it_is_what_the_store_says(store: Store) -> None:
    def is_taken(digest: str) -> bool:
        with store.reading() as conn:
            return find_taken(conn, digest) is not None

    list_readers(store)
    take(store, "people", [ADA], digest="January")
    take(store, "punches", [], digest="log")
    assert is_taken("January")
    take(store, "people", [BEN], digest="February")
    assert not is_taken("January")
    assert is_taken("February")
    take(store, "punches", [], digest="later log")
    assert is_taken("log")
    take(store, "punches", [], rejected=3, digest="bad log")
    assert not is_taken("bad log")
