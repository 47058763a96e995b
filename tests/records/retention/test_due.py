"""Due dates beyond the published cases: places, events that have not happened, months and leap days."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import polars as pl
import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from evenhand.records import retention
from evenhand.records.retention.lapses import Lapse, after, plus

DAYS = st.dates(date(1990, 1, 1), date(2090, 12, 31))


def events(*rows: dict[str, Any]) -> pl.DataFrame:
    return retention.EVENTS.rows({"person": "P1", "place": "US-IL", **row} for row in rows)


def bound(frame: pl.DataFrame, clock: str) -> dict[str, Any]:
    rows = retention.binding_dates(retention.due_dates(frame)).filter(pl.col("clock") == clock)
    return rows.row(0, named=True)


@given(DAYS, st.integers(0, 12), st.integers(0, 40), st.integers(0, 90))
def test_periods_are_as_dateutil_counts_them(day: date, years: int, months: int, days: int) -> None:
    # dateutil's relativedelta clips to the end of a shorter month, which is the reading that is wanted here.
    period = Lapse(years=years, months=months, days=days)
    expected = day + relativedelta(months=12 * years + months) + timedelta(days=days)
    assert plus(day, period) == expected
    assert pl.DataFrame({"day": [day]}).select(after(pl.col("day"), period)).item() == expected


def test_calendar_years_run_from_the_end_of_the_year() -> None:
    # WAC 192-310-050(1): four calendar years following the calendar year in which employment occurred.
    period = Lapse(calendar_years=4)
    assert plus(date(2026, 3, 2), period) == date(2030, 12, 31)
    assert pl.DataFrame({"day": [date(2026, 3, 2)]}).select(after(pl.col("day"), period)).item() == date(2030, 12, 31)


def test_nothing_is_due_while_nothing_has_happened() -> None:
    assert retention.due_dates(events({"reader": "GATE"})).is_empty()


def test_a_due_date_says_event_rule_version_and_reading() -> None:
    row = bound(events({"reader": "GATE", "last_interaction": date(2024, 2, 29)}), "destroy")
    assert (row["day"], row["event"], row["started_on"]) == (date(2027, 2, 28), "last_interaction", date(2024, 2, 29))
    assert (row["cites"], row["version"], row["checked"]) == ("740 ILCS 14/15(a)", date(2008, 10, 3), "seen")
    assert row["rule"] == "3 years after the last interaction"
    assert "28 February" in row["reading"]


def test_of_two_places_the_earlier_day_destroys_and_the_later_keeps() -> None:
    ended, entry = date(2026, 3, 31), date(2026, 3, 30)
    hand = [{"reader": "GATE", "place": place, "purpose_ended": ended} for place in ("US-TX", "US-IL")]
    row = bound(events(*hand), "destroy")
    assert (row["day"], row["law"]) == (ended, "us_il_bipa")
    assert row["chosen_from"].startswith("2027-03-31 by Tex. Bus. & Com. Code 503.001")
    time = [{"place": place, "last_entry": entry} for place in ("US-TX", "US-NY")]
    row = bound(events(*time), "keep")
    assert (row["day"], row["law"], row["place"]) == (date(2032, 3, 30), "us_ny_661", "US-NY")
    assert "2030-03-30 by 40 Tex. Admin. Code" in row["chosen_from"]


@pytest.mark.parametrize("place", ["US-OH", "CH", "US"])
def test_where_no_statute_is_on_file_common_practice_stands_in_and_says_so(place: str) -> None:
    row = bound(events({"reader": "GATE", "place": place, "purpose_ended": date(2026, 3, 31)}), "destroy")
    assert (row["day"], row["cites"]) == (date(2026, 3, 31), "common practice, no source")
    assert "does not mean that there is none" in row["reading"]


def test_no_law_for_keeping_is_invented_where_none_is_on_file() -> None:
    assert retention.laws_of("CH", "keep") == ()
    assert retention.due_dates(events({"place": "CH", "last_entry": date(2026, 3, 31)})).is_empty()


def test_europe_is_bound_by_its_countries_and_by_no_american_law() -> None:
    assert {law.code for law in retention.laws_of("DE-BY")} == {"eu_gdpr_17", "de_arbzg_16"}
    assert {law.code for law in retention.laws_of("NO")} == {"eu_gdpr_17"}


def test_proof_of_destruction_is_kept_for_the_years_in_which_somebody_may_sue_in_illinois() -> None:
    row = bound(events({"reader": "GATE", "gone_on": date(2026, 4, 2)}), "keep")
    assert (row["day"], row["law"]) == (date(2031, 4, 2), "us_il_limitation")


@pytest.mark.parametrize("law", retention.LAWS, ids=lambda law: law.code)
def test_every_law_says_where_it_is_written_and_how_far_that_was_read(law: retention.Law) -> None:
    assert law.cites and law.checked in ("seen", "memory") and law.terms
    assert law.since <= date(2026, 1, 1)
    assert {law.clock} == ({"destroy"} if any(term.event == "purpose_ended" for term in law.terms) else {"keep"})
    assert all(one.code != law.code for one in retention.LAWS if one is not law)
