"""What Hand-off shows: the period, what keeps it from payroll, the totals, and what was handed off before."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from evenhand.jobs.today import Today
from evenhand.terms.columns import Frame
from evenhand.terms.records import Finding

__all__ = ["MEDIA_TYPES", "HandOffView", "HandedOffBefore", "handed_off", "view"]

# The written forms of one hand-off, by what stands behind the stem of its name.
MEDIA_TYPES = {
    ".csv": "text/csv",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "-note.txt": "text/plain",
}


@dataclass(frozen=True)
class HandedOffBefore:
    """A file handed off: of which period, by whom, its totals and digest; `is_latest` of its period, so on disk."""

    number: int
    row: Mapping[str, Any]
    total: Mapping[str, str]
    despite: Sequence[str]
    is_latest: bool


@dataclass(frozen=True)
class HandOffView:
    """The whole of Hand-off."""

    first: date
    last: date
    deadline: int
    zone: str
    has_ended: bool
    blockers: Sequence[Finding]
    people: int
    recorded_s: int
    ordinary_s: int
    overtime_s: int
    double_s: int
    before: Sequence[HandedOffBefore]

    @property
    def any_double_before(self) -> bool:
        """Whether any earlier file held double time; totals written before the law had it do not say."""
        return any(one.total.get("double_s", "0") != "0" for one in self.before)


def view(today: Today, handoffs: Frame) -> HandOffView:
    """Return what Hand-off shows; the totals are those a file written now would hold."""
    weeks = today.hours.weeks
    return HandOffView(
        first=today.period.first,
        last=today.period.last,
        deadline=today.period.deadline,
        zone=today.zone,
        has_ended=today.has_ended,
        blockers=today.blockers,
        people=weeks["person"].n_unique(),
        recorded_s=int(weeks["recorded_s"].sum()),
        ordinary_s=int(weeks["ordinary_s"].sum()),
        overtime_s=int(weeks["overtime_s"].sum()),
        double_s=int(weeks["double_s"].sum()),
        before=handed_off(handoffs),
    )


def handed_off(handoffs: Frame) -> list[HandedOffBefore]:
    """Return what was handed off, the latest first."""
    seen: set[str] = set()
    listed = []
    for row in handoffs.sort("handoff", descending=True).iter_rows(named=True):
        latest = row["file"] not in seen
        seen.add(row["file"])
        listed.append(
            HandedOffBefore(row["handoff"], row, json.loads(row["totals"]), json.loads(row["despite"]), latest)
        )
    return listed
