"""When a period has ended: not before the last workweek that begins in it, at whichever site."""

from __future__ import annotations

from datetime import UTC, date, datetime

from evenhand.jobs.period import period_of, when_worked_out
from evenhand.terms.settings import PayPeriod, SiteRules

SUNDAY = date(2026, 11, 1)
PERIOD = period_of(PayPeriod(SUNDAY), "America/Chicago", SUNDAY)


def ends(*rules: SiteRules) -> datetime:
    return datetime.fromtimestamp(when_worked_out(PERIOD, "America/Chicago", rules), UTC)


def test_it_ends_at_midnight_of_the_workplace_where_every_week_does() -> None:
    # Central Standard Time is UTC-6 on 8 November 2026.
    assert ends() == ends(SiteRules("A", "America/Chicago")) == datetime(2026, 11, 8, 6, tzinfo=UTC)


def test_a_site_further_west_ends_later() -> None:
    assert ends(SiteRules("A", "America/Chicago"), SiteRules("B", "America/Los_Angeles")) == datetime(
        2026, 11, 8, 8, tzinfo=UTC
    )


def test_a_workweek_that_begins_at_noon_ends_at_noon() -> None:
    assert ends(SiteRules("A", "America/New_York", workweek_s=12 * 3600)) == datetime(2026, 11, 8, 17, tzinfo=UTC)


def test_a_workweek_that_begins_on_monday_ends_after_the_sunday() -> None:
    assert ends(SiteRules("A", "America/Chicago", workweek_day=0)) == datetime(2026, 11, 9, 6, tzinfo=UTC)
