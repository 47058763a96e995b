"""What the offices and the readers list: roster, readers, enrolments, schedules, consent."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import numpy as np

from evenhand.terms.columns import Frame
from evenhand.terms.sources import CONSENT, ENROLMENTS, PEOPLE, READERS, SCHEDULES
from evenhand.twin.enrol import Enrolled, digit_limit
from evenhand.twin.readers import SITES, Reader
from evenhand.twin.shifts import Shifts
from evenhand.twin.staff import STAYS, Staff

__all__ = ["consent", "enrolments", "people", "readers", "schedules"]

NAME_LENGTH = 16  # what a reader keeps of a name, which it writes without marks


def people(staff: Staff, first: date) -> Frame:
    """Return the roster, in which a few numbers have lost their leading zeros."""
    number = list(staff.number)
    for who in staff.parts["roster_zeros"].tolist():
        number[who] = number[who].lstrip("0")
    return PEOPLE.frame(
        {
            "person": staff.person,
            "name": staff.name,
            "number": number,
            "site": [SITES[site][0] for site in staff.site.tolist()],
            "department": staff.department,
            "is_supervisor": staff.is_supervisor,
            "hired_on": [first + timedelta(days=day) for day in staff.hired.tolist()],
            "left_on": [None if day == STAYS else first + timedelta(days=day) for day in staff.left.tolist()],
            "phone": staff.phone,
            "address": staff.address,
            "hourly_rate": [Decimal(cents) / 100 for cents in staff.rate_cents.tolist()],
        }
    )


def enrolments(rng: np.random.Generator, staff: Staff, enrolled: Enrolled, hung: list[Reader], first: date) -> Frame:
    """Return the enrolments the readers list, by reader and number; some leavers are still there."""
    removed = set(staff.parts["leaver_removed"].tolist())
    opened = first - timedelta(days=400)
    rows = []
    for who, place in np.argwhere(enrolled.number != "").tolist():
        after, presentations = int(rng.integers(0, 20)), int(rng.choice([3, 3, 3, 3, 4, 5]))
        if who in removed:
            continue
        hired = first + timedelta(days=int(staff.hired[who]))
        is_new = staff.hired[who] >= 0
        rows.append(
            {
                "reader": hung[place].name,
                "number": enrolled.number[who, place],
                "name": staff.name[who].replace(",", "")[:NAME_LENGTH].rstrip(),
                "is_supervisor": bool(staff.is_supervisor[who]),
                "enrolled_on": hired if is_new else max(hired, opened) + timedelta(days=after),
                "presentations": presentations,
            }
        )
    return ENROLMENTS.rows(rows).sort("reader", "number")


def readers(hung: list[Reader], staff: Staff, listed: Frame) -> Frame:
    """Return the readers; the one near its capacity has two places left."""
    held = dict(listed.group_by("reader").len().iter_rows())
    return READERS.rows(
        {
            "reader": reader.name,
            "site": SITES[reader.site][0],
            "place": reader.place,
            "zone": SITES[reader.site][1],
            "max_digits": digit_limit(reader, staff),
            "capacity": held[reader.name] + 2
            if "near_capacity" in reader.faults
            else 512 * (1 + held[reader.name] // 400),
        }
        for reader in hung
    )


def schedules(staff: Staff, shifts: Shifts) -> Frame:
    """Return the planned shifts of everybody whom the roster still has, worked or not."""
    listed = np.flatnonzero(shifts.day <= staff.left[shifts.person])
    return SCHEDULES.frame(
        {
            "person": np.array(staff.person, dtype=object)[shifts.person[listed]].tolist(),
            "starts_at": shifts.starts[listed],
            "ends_at": shifts.ends[listed],
        }
    )


def consent(rng: np.random.Generator, staff: Staff, first: date) -> Frame:
    """Return the signed consents: a few are missing, one has been withdrawn by somebody still enrolled."""
    missing, withdrawn = set(staff.parts["no_consent"].tolist()), set(staff.parts["consent_withdrawn"].tolist())
    opened = first - timedelta(days=410)
    rows = []
    for who, days in enumerate(staff.hired.tolist()):
        before = int(rng.integers(1, 9))
        if who in missing:
            continue
        given = max(first + timedelta(days=days), opened) - timedelta(days=before)
        rows.append(
            {
                "person": staff.person[who],
                "given_on": given,
                "form": "H-2" if given >= date(first.year, 1, 1) else "H-1",
                "withdrawn_on": first + timedelta(days=9) if who in withdrawn else None,
            }
        )
    return CONSENT.rows(rows)
