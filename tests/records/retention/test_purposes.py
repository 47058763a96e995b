"""When the purpose of holding a hand ended, and when there is one again."""

from __future__ import annotations

from datetime import date
from typing import Any

import polars as pl

from evenhand.records import retention
from evenhand.terms.sources import PEOPLE

ON = date(2026, 11, 27)


def ended(person: dict[str, Any], *, gone: date | None = None, withdrawn: date | None = None) -> list[tuple[Any, ...]]:
    people = PEOPLE.rows([{"person": "P1", "name": "Ada", **person}])

    def endings(day: date | None, why: str) -> pl.DataFrame:
        return retention.ENDINGS.rows([{"person": "P1", "day": day, "why": why}] if day else [])

    found = retention.purposes_ended(people, endings(gone, "not listed"), endings(withdrawn, "withdrawn"), ON)
    return found.select("purpose_ended", "purpose_why", "employment_ended").rows()


def test_the_last_day_of_work_ends_it_on_that_very_day() -> None:
    assert ended({"left_on": ON}) == [(ON, "last day of work", ON)]
    assert ended({"left_on": date(2026, 11, 28)}) == []


def test_whoever_returned_has_a_purpose_again() -> None:
    assert ended({"left_on": date(2024, 3, 1), "hired_on": date(2026, 1, 5)}) == []
    # A roster that gives the first day of all is not one of a return.
    assert ended({"left_on": date(2024, 3, 1), "hired_on": date(2020, 1, 5)}) != []


def test_of_several_endings_the_earliest_counts_and_employment_ends_with_work() -> None:
    early, late = date(2026, 2, 2), date(2026, 5, 5)
    assert ended({"left_on": late}, withdrawn=early) == [(early, "withdrawn", late)]
    assert ended({}, withdrawn=early) == [(early, "withdrawn", None)]


def test_the_roster_that_lists_somebody_no_longer_counts_only_without_a_last_day() -> None:
    early, late = date(2026, 2, 2), date(2026, 5, 5)
    assert ended({}, gone=early) == [(early, "not listed", early)]
    assert ended({"left_on": late}, gone=early) == [(late, "last day of work", late)]
