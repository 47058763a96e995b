"""Who held a number when, by rosters one after the other: what was said for a time holds for that time."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from evenhand.reconcile import NumbersHeld, numbers_held
from evenhand.terms.columns import Frame
from evenhand.terms.files_told import GONE_PEOPLE, ROSTER_TOLD
from evenhand.terms.sources import PEOPLE

DAYS = {1: date(2026, 9, 1), 2: date(2026, 9, 8), 3: date(2026, 9, 15), 4: date(2026, 9, 22), 5: date(2026, 9, 22)}
"""On which day each roster was taken; the last two on one."""
HIRED, AUTUMN = date(2020, 1, 2), date(2026, 9, 12)

Span = tuple[str, str, date | None, date | None]


def told(**people: list[dict[str, Any]]) -> tuple[Frame, Frame]:
    """The roster of now and what was said before: of each person the statements, the earliest first."""
    rows, now = [], []
    for person, said in people.items():
        for position, one in enumerate(said, start=1):
            ended = said[position]["by"] if position < len(said) else None
            of_first = one.get("by") if position > 1 or len(said) == 1 else None
            by = one.get("by", said[min(position, len(said) - 1)].get("by"))
            rows.append(
                {**one, "person": person, "position": position, "told": of_first, "told_by": by, "ended": ended}
            )
        now.append({"name": person, "person": person, **{name: said[-1].get(name) for name in ("number", *BOUNDS)}})
    return PEOPLE.rows(now), ROSTER_TOLD.rows(rows)


BOUNDS = ("hired_on", "left_on")


def held(found: NumbersHeld) -> set[Span]:
    return set(found.people.select("person", "number", *BOUNDS).iter_rows())


def of(gone: dict[str, int] | None = None, **people: list[dict[str, Any]]) -> NumbersHeld:
    rows = [{"person": person, "take": take, "file": "f", "taken_at": 0} for person, take in (gone or {}).items()]
    return numbers_held(*told(**people), GONE_PEOPLE.rows(rows), DAYS)


def said(number: str | None, by: int | None = None, first: date | None = HIRED, last: date | None = None) -> Any:
    return {"number": number, "hired_on": first, "left_on": last} | ({} if by is None else {"by": by})


def test_a_number_changed_and_given_to_somebody_new_stays_the_earlier_ones_until_the_new_one_came() -> None:
    found = of(ada=[said("100"), said("200", 3)], bo=[said("100", 3, AUTUMN)])
    assert held(found) == {
        ("ada", "100", HIRED, date(2026, 9, 11)),
        ("ada", "200", HIRED, None),
        ("bo", "100", AUTUMN, None),
    }
    assert found.in_doubt.is_empty()


def test_of_two_who_are_both_there_the_roster_parts_the_number_on_its_day_and_asks_of_the_days_since_the_last() -> None:
    found = of(ada=[said("100"), said("200", 3)], bo=[said("300"), said("100", 3)])
    assert held(found) >= {("ada", "100", HIRED, date(2026, 9, 14)), ("bo", "100", date(2026, 9, 15), None)}
    (doubt,) = found.in_doubt.rows(named=True)
    assert (doubt["person"], doubt["later"], doubt["take"]) == ("ada", "bo", 3)
    assert (doubt["first_on"], doubt["last_on"]) == (date(2026, 9, 9), date(2026, 9, 14))


def test_somebody_new_to_the_roster_who_was_employed_all_along_is_asked_about() -> None:
    found = of(ada=[said("100"), said("200", 3)], bo=[said("100", 3, date(2021, 5, 3))])
    assert ("ada", "100", HIRED, date(2026, 9, 14)) in held(found)
    (doubt,) = found.in_doubt.rows(named=True)
    assert (doubt["first_on"], doubt["last_on"]) == (date(2021, 5, 3), date(2026, 9, 14))


@pytest.mark.parametrize("first", [HIRED, None])
def test_what_another_roster_of_the_same_day_took_back_was_mistaken(first: date | None) -> None:
    found = of(
        ada=[said("300", 3), said("100", 4), said("300", 5)], bo=[said("200", None, first), said("100", 5, first)]
    )
    assert ("bo", "100", first, None) in held(found)
    assert not [one for one in held(found) if one[:2] == ("ada", "100") and one[2] != date.max]
    assert found.in_doubt.is_empty()


def test_a_leaver_who_keeps_the_number_on_the_roster_keeps_what_was_keyed_until_the_last_day() -> None:
    left = date(2026, 9, 4)
    found = of(ada=[said("100"), said("100", 2, last=left)], bo=[said("300"), said("100", 3)])
    assert held(found) >= {("ada", "100", HIRED, left), ("bo", "100", date(2026, 9, 5), None)}
    assert found.in_doubt.is_empty()


def test_whom_the_roster_lists_no_longer_held_the_number_until_somebody_else_had_it() -> None:
    found = of(gone={"ada": 3}, ada=[said("100", 1)], bo=[said("100", 3, AUTUMN)])
    assert held(found) == {("ada", "100", HIRED, date(2026, 9, 11)), ("bo", "100", AUTUMN, None)}


def test_whoever_comes_back_under_another_number_held_the_first_one_until_they_left() -> None:
    """Only the last day and the number changed; somebody else had the number in between."""
    left = date(2026, 9, 4)
    found = of(ada=[said("100"), said("100", 2, last=left), said("200", 4)], bo=[said("100", 3, AUTUMN)])
    assert held(found) >= {("ada", "100", HIRED, left), ("bo", "100", date(2026, 9, 12), None)}
    assert found.in_doubt.is_empty()


def test_whoever_came_back_was_employed_before_too() -> None:
    left = date(2026, 9, 4)
    back = [said("100"), said("100", 2, last=left), said("100", 4, AUTUMN)]
    assert held(of(ada=back)) == {("ada", "100", HIRED, left), ("ada", "100", AUTUMN, None)}
    in_one_row = of(ada=[said("100", 1, AUTUMN, left)])
    assert held(in_one_row) == {("ada", "100", None, left), ("ada", "100", AUTUMN, None)}


def test_two_who_are_both_there_by_the_roster_of_now_hold_it_both() -> None:
    found = of(ada=[said("100", 1)], bo=[said("100", 1)])
    assert held(found) == {("ada", "100", HIRED, None), ("bo", "100", HIRED, None)}


def test_somebody_whose_number_was_emptied_stays_on_the_roster() -> None:
    found = of(ada=[said("100"), said(None, 3)])
    assert held(found) == {("ada", "100", HIRED, date(2026, 9, 15))}
    assert found.people["number"].to_list() == ["100"]
