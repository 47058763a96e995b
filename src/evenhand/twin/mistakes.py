"""The list of everything planted, for the truth."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import numpy as np

from evenhand.terms.columns import Frame
from evenhand.terms.zones import day_start
from evenhand.twin.events import Events
from evenhand.twin.faults import DIRTY, DRIFTS, JUMPS_AT, days_of, place_of, quiet_days
from evenhand.twin.presentations import LOST
from evenhand.twin.readers import SITES
from evenhand.twin.truth import MISTAKES

__all__ = ["BROKEN_LINES", "list_mistakes"]

BROKEN_LINES = ("cut", "garbage", "no such time", "no such day", "cut", "words for a score")

Row = dict[str, Any]


def list_mistakes(events: Events, punches: Frame, owners: Frame) -> Frame:
    """Return every mistake planted, by `truth.MISTAKES`; punches are listed as they came out in the logs."""
    return MISTAKES.rows(
        [*_of_people(events), *_of_hands(events), *_of_readers(events), *_in_logs(punches, owners), *_unseen(events)]
    )


def _of_people(events: Events) -> Iterator[Row]:
    staff, hung = events.staff, events.hung
    for who, (kind, typed) in staff.wrong.items():
        reader = hung[events.enrolled.own[who]].name
        yield {"kind": "wrong_number", "person": staff.person[who], "reader": reader, "number": typed, "detail": kind}
    kinds = {
        "leaver_listed": "leaver_enrolled",
        "leaver_punching": "leaver_punches",
        "not_enrolled": "not_enrolled",
        "never_punched": "never_punched",
        "no_consent": "no_consent",
        "consent_withdrawn": "consent_withdrawn",
    }
    for part, kind in kinds.items():
        for who in staff.parts[part].tolist():
            yield {"kind": kind, "person": staff.person[who], "number": staff.number[who]}
    for who in staff.parts["roster_zeros"].tolist():
        yield {"kind": "roster_zeros", "person": staff.person[who], "number": staff.number[who].lstrip("0")}
    for who in staff.parts["long_number"].tolist():
        reader = next(each.name for each in hung if each.spare_digits == 0)
        yield {"kind": "too_long", "person": staff.person[who], "reader": reader, "number": staff.number[who]}


def _of_hands(events: Events) -> Iterator[Row]:
    staff = events.staff
    for part, when in (("hand_drifts", DRIFTS), ("hand_steps", JUMPS_AT)):
        for who in staff.parts[part].tolist():
            starts, ends = _instants(events, staff.site[who], when)
            yield {"kind": part, "person": staff.person[who], "starts": starts, "ends": ends}


def _instants(events: Events, site: int, part: tuple[float, float]) -> tuple[int, int]:
    begin, end = (events.first + timedelta(days=day) for day in days_of(part, events.days))
    return day_start(SITES[site][1], begin), day_start(SITES[site][1], end)


def _of_readers(events: Events) -> Iterator[Row]:
    hung = events.hung
    place, starts, ends = quiet_days(hung, events.first, events.days)
    yield {"kind": "reader_quiet", "reader": hung[place].name, "starts": starts, "ends": ends}
    dirty = hung[place_of(hung, "dirty")]
    starts, ends = _instants(events, dirty.site, DIRTY)
    yield {"kind": "plate_dirty", "reader": dirty.name, "starts": starts, "ends": ends}
    for name, begin, end, ahead, gains in events.clocks.iter_rows():
        if gains:
            yield {"kind": "clock_runs_off", "reader": name, "starts": begin, "ends": end, "detail": f"{gains} s a day"}
        if ahead >= 3000:
            yield {"kind": "clock_set_back_late", "reader": name, "starts": begin, "ends": end, "detail": "one hour"}
    for reader in hung:
        if reader.supervisors < 2:
            yield {"kind": "few_supervisors", "reader": reader.name, "detail": str(reader.supervisors)}
        if "near_capacity" in reader.faults:
            yield {"kind": "near_capacity", "reader": reader.name}
        if "broken_lines" in reader.faults:
            yield from ({"kind": "broken_line", "reader": reader.name, "detail": how} for how in BROKEN_LINES)


def _in_logs(punches: Frame, owners: Frame) -> Iterator[Row]:
    kinds = {"double": "double_punch", "wrong_direction": "wrong_direction", "other_number": "other_number"}
    planted = np.flatnonzero(owners["planted"].is_not_null().to_numpy())
    for owner, punch in zip(owners[planted].iter_rows(named=True), punches[planted].iter_rows(named=True), strict=True):
        yield {
            "kind": kinds[owner["planted"]],
            "person": owner["person"],
            "reader": punch["reader"],
            "number": punch["number"],
            "starts": owner["at"],
        }


def _unseen(events: Events) -> Iterator[Row]:
    for who, place, at, goes_in, reason in zip(
        events.unseen.person.tolist(),
        events.unseen.reader.tolist(),
        events.unseen.at.tolist(),
        events.unseen.goes_in.tolist(),
        events.reasons.tolist(),
        strict=True,
    ):
        yield {
            "kind": "missed_punch",
            "person": events.staff.person[who],
            "reader": events.hung[place].name,
            "starts": at,
            "detail": f"{LOST[reason]}, {'in' if goes_in else 'out'}",
        }
