"""Coverage: a second reader for everybody, and room to grow."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenhand.enrolment.coverage import STRANDED, WITHIN_REACH, growth, one_more_each, stranded
from evenhand.terms.sources import ENROLMENTS, READERS


def _enrolled(*pairs):
    return STRANDED.rows({"person": person, "reader": reader} for person, reader in pairs).select("person", "reader")


def _reach(*rows):
    return WITHIN_REACH.rows(
        {"person": person, "reader": reader, "minutes": minutes} for person, reader, minutes in rows
    )


def test_who_has_one_reader_only_is_stranded_when_it_fails() -> None:
    enrolled = _enrolled(("P1", "A"), ("P1", "B"), ("P2", "A"), ("P3", "B"))
    assert stranded(enrolled, WITHIN_REACH.empty()).rows() == [("A", "P2"), ("B", "P3")]


def test_a_second_reader_out_of_reach_does_not_help() -> None:
    enrolled = _enrolled(("P1", "A"), ("P1", "FAR"))
    assert stranded(enrolled, _reach(("P1", "A", 1), ("P1", "B", 4))).rows() == [("A", "P1")]


def test_everybody_gets_the_nearest_second_reader() -> None:
    reach = _reach(("P1", "A", 1), ("P1", "B", 5), ("P1", "C", 3), ("P2", "A", 1), ("P2", "B", 2))
    covered = one_more_each(_enrolled(("P1", "A"), ("P2", "A"), ("P2", "B")), reach, {})
    assert covered.extra.rows() == [("P1", "C", 3)]
    assert covered.lacking == {}


def test_somebody_walks_further_so_that_nobody_goes_without() -> None:
    # B holds one hand more. P2 reaches only B, so P1, who is nearer to B, goes to C.
    reach = _reach(("P1", "A", 0), ("P1", "B", 1), ("P1", "C", 9), ("P2", "A", 0), ("P2", "B", 8))
    covered = one_more_each(_enrolled(("P1", "A"), ("P2", "A")), reach, {"B": 1, "C": None})
    assert covered.extra.rows() == [("P1", "C", 9), ("P2", "B", 8)]


def test_who_cannot_be_helped_is_named() -> None:
    covered = one_more_each(_enrolled(("P1", "A")), _reach(("P1", "A", 0), ("P1", "B", 1), ("P2", "A", 0)), {"B": 0})
    assert covered.extra.rows() == [("P2", "A", 0)]
    assert covered.lacking == {"P1": 1, "P2": 1}


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.sets(st.sampled_from("BCD"), max_size=3), min_size=1, max_size=4), st.integers(0, 2), st.integers(0, 2)
)
def test_no_way_to_add_enrolments_helps_more_people(reaches: list[set[str]], b: int, c: int) -> None:
    people = [f"P{n}" for n in range(len(reaches))]
    reach = _reach(
        *((who, "A", 0) for who in people),
        *((who, reader, 1) for who, within in zip(people, reaches, strict=True) for reader in sorted(within)),
    )
    free = {"B": b, "C": c, "D": 1}
    covered = one_more_each(_enrolled(*((who, "A") for who in people)), reach, free)
    options = [(who, reader) for who, within in zip(people, reaches, strict=True) for reader in within]

    def allowed(chosen: tuple[tuple[str, str], ...]) -> bool:
        fits = all(sum(reader == of for _, of in chosen) <= places for reader, places in free.items())
        return fits and len({who for who, _ in chosen}) == len(chosen)

    most = max(n for n in range(len(people) + 1) for chosen in combinations(options, n) if allowed(chosen))
    assert covered.extra.height == most
    assert allowed(tuple(covered.extra.select("person", "reader").iter_rows()))


def test_growth_counts_a_rate_with_its_exact_interval() -> None:
    # Ten additions in ten weeks: Garwood's 95 % interval for a count of 10 is 4.795 to 18.390 (table in Garwood 1936).
    as_of = date(2026, 3, 9)
    recent = [{"reader": "A", "number": str(n), "enrolled_on": as_of - timedelta(days=7 * n)} for n in range(10)]
    old = [{"reader": "A", "number": f"9{n}", "enrolled_on": date(2024, 1, 1)} for n in range(10)]
    readers = READERS.rows([{"reader": "A", "site": "North", "zone": "UTC", "capacity": 50}])
    row = growth(ENROLMENTS.rows(recent + old), readers, as_of=as_of, weeks=10).row(0, named=True)
    assert row["held"] == 20
    assert row["a_week"] == 1.0
    assert (row["low"], row["high"]) == (pytest.approx(0.4795, abs=1e-4), pytest.approx(1.8390, abs=1e-4))
    assert row["full_on"] == as_of + timedelta(weeks=30)
    assert row["full_earliest"] == as_of + timedelta(days=int(30 / 1.8390 * 7))


def test_a_full_reader_is_full_today_and_one_without_days_has_no_rate() -> None:
    as_of = date(2026, 3, 9)
    readers = READERS.rows([{"reader": r, "site": "North", "zone": "UTC", "capacity": 1} for r in "AB"])
    held = ENROLMENTS.rows([{"reader": "A", "number": "1", "enrolled_on": as_of}, {"reader": "B", "number": "1"}])
    a, b = growth(held, readers, as_of=as_of).to_dicts()
    assert a["full_on"] == as_of
    assert (b["a_week"], b["full_on"]) == (None, None)
