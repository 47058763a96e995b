"""Build owned punches from wall-clock times, so that a test reads like a time sheet."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from evenhand.law import Hours, compute_hours
from evenhand.terms.columns import Frame
from evenhand.terms.parameters import OwnRules
from evenhand.terms.settings import Policy, SiteRules
from evenhand.terms.tables import OWNED

CHICAGO = "America/Chicago"


def instant(text: str, zone: str = CHICAGO) -> int:
    """Return the instant of an ISO time; one without an offset is a wall-clock time in `zone`."""
    when = datetime.fromisoformat(text)
    return int((when if when.tzinfo else when.replace(tzinfo=ZoneInfo(zone))).timestamp())


def sheet(*presses: str, zone: str = CHICAGO, person: str = "Ada") -> Frame:
    """Return punches written as '2026-03-02 08:00', with ' in' or ' out' behind where they are marked."""
    rows: list[dict[str, Any]] = []
    for press in presses:
        text, way = press, None
        for mark in ("in", "out"):
            if press.endswith(f" {mark}"):
                text, way = press.removesuffix(f" {mark}"), mark
        row = {"punch": len(rows) + 1, "person": person, "reader": "R1", "zone": zone}
        rows.append(row | {"at": instant(text, zone), "direction": way})
    return OWNED.rows(rows)


def hours_of(
    owned: Frame,
    zone: str = CHICAGO,
    policy: Policy | None = None,
    *,
    schedules: Frame | None = None,
    rates: Mapping[str, Decimal | None] | None = None,
    own: Mapping[str, OwnRules] | None = None,
    **rules: Any,
) -> Hours:
    bound = SiteRules("invented", zone, **rules)
    beside = {"schedules": schedules, "rates": rates, "own": own}
    return compute_hours(owned, bound, policy or Policy(), keep_steps=True, **beside)  # type: ignore[arg-type]


def paid(hours: Hours) -> list[tuple[int, int]]:
    """Return (first punch, last punch) of each paid span, by their numbers in the sheet."""
    spans = hours.classed.select("punch_in", "punch_out").unique(maintain_order=True)
    return [(int(first), int(last)) for first, last in spans.iter_rows()]


def questions(hours: Hours) -> list[tuple[str, int]]:
    return [(str(kind), int(punch)) for kind, punch in hours.questions.select("kind", "punch").iter_rows()]


def paid_minutes(hours: Hours) -> float:
    return float(sum(hours.weeks[name].sum() for name in ("ordinary_s", "overtime_s", "double_s"))) / 60
