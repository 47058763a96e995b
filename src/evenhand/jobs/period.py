"""Find the pay period a day belongs to, and when payroll wants its file."""

from __future__ import annotations

from collections import Counter
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from evenhand.jobs.workspace import Workspace
from evenhand.terms.settings import PayPeriod, Period
from evenhand.terms.zones import day_start

__all__ = ["period_of", "period_waited_for", "workplace_zone"]


def period_of(pay: PayPeriod, zone: str, day: date) -> Period:
    """Return the pay period that holds `day`; `zone` places its deadline."""
    length = timedelta(days=7 * pay.weeks)
    first = pay.anchor + ((day - pay.anchor) // length) * length
    last = first + length - timedelta(days=1)
    return Period(first, last, day_start(zone, last + timedelta(days=1)) + pay.deadline_s)


def period_waited_for(workspace: Workspace, as_of: datetime) -> Period:
    """Return the last pay period that has ended as of an instant: the one payroll waits for."""
    zone, pay = workplace_zone(workspace), workspace.settings.period
    current = period_of(pay, zone, as_of.astimezone(ZoneInfo(zone)).date())
    return period_of(pay, zone, current.first - timedelta(days=1))


def workplace_zone(workspace: Workspace) -> str:
    """Return the zone that places the workplace's days and deadlines: its own, else its largest site's, else UTC."""
    if workspace.settings.zone:
        return workspace.settings.zone
    zones = [rules.zone for rules in workspace.settings.sites.values()] or list(workspace.site_zones().values())
    return Counter(zones).most_common(1)[0][0] if zones else "UTC"
