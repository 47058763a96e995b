"""The list of everything planted, for the truth."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import numpy as np
import numpy.typing as npt

from evenhand.terms.columns import Frame
from evenhand.terms.zones import day_start
from evenhand.twin.enrol import Enrolled
from evenhand.twin.faults import DIRTY, DRIFTS, STEPS, days_of, place_of, quiet_days
from evenhand.twin.presentations import LOST, Visits
from evenhand.twin.readers import SITES, Reader
from evenhand.twin.staff import Staff
from evenhand.twin.truth import MISTAKES

__all__ = ["BROKEN_LINES", "list_mistakes"]

BROKEN_LINES = ("cut", "garbage", "no such time", "no such day", "cut", "words for a score")

Row = dict[str, Any]


def list_mistakes(
    *,
    staff: Staff,
    enrolled: Enrolled,
    hung: list[Reader],
    first: date,
    days: int,
    clocks: Frame,
    punches: Frame,
    owners: Frame,
    unseen: Visits,
    reasons: npt.NDArray[np.int64],
) -> Frame:
    """Return every mistake planted, by `truth.MISTAKES`; punches are listed as they came out in the logs."""
    return MISTAKES.rows(
        [
            *_of_people(staff, enrolled, hung, first, days),
            *_of_readers(hung, first, days, clocks),
            *_in_logs(punches, owners),
            *_unseen(staff, hung, unseen, reasons),
        ]
    )


def _of_people(staff: Staff, enrolled: Enrolled, hung: list[Reader], first: date, days: int) -> Iterator[Row]:
    def start(who: int, day: int) -> int:
        return day_start(SITES[staff.site[who]][1], first + timedelta(days=day))

    for who, (kind, typed) in staff.wrong.items():
        reader = hung[enrolled.own[who]].name
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
    for part, when in (("hand_drifts", DRIFTS), ("hand_steps", STEPS)):
        begin, end = days_of(when, days)
        for who in staff.parts[part].tolist():
            yield {"kind": part, "person": staff.person[who], "starts": start(who, begin), "ends": start(who, end)}


def _of_readers(hung: list[Reader], first: date, days: int, clocks: Frame) -> Iterator[Row]:
    place, starts, ends = quiet_days(hung, first, days)
    yield {"kind": "reader_quiet", "reader": hung[place].name, "starts": starts, "ends": ends}
    dirty = hung[place_of(hung, "dirty")]
    begin, end = (day_start(SITES[dirty.site][1], first + timedelta(days=day)) for day in days_of(DIRTY, days))
    yield {"kind": "plate_dirty", "reader": dirty.name, "starts": begin, "ends": end}
    for name, begin, end, ahead, gains in clocks.iter_rows():
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


def _unseen(staff: Staff, hung: list[Reader], unseen: Visits, reasons: npt.NDArray[np.int64]) -> Iterator[Row]:
    for who, place, at, goes_in, reason in zip(
        unseen.person.tolist(),
        unseen.reader.tolist(),
        unseen.at.tolist(),
        unseen.goes_in.tolist(),
        reasons.tolist(),
        strict=True,
    ):
        yield {
            "kind": "missed_punch",
            "person": staff.person[who],
            "reader": hung[place].name,
            "starts": at,
            "detail": f"{LOST[reason]}, {'in' if goes_in else 'out'}",
        }
