"""Hours of pay owed beside time worked, from the record of a person's acts.

Sources: Labor Code 512(a), 226.7(c) and 11 Cal.5th 58 (meal periods, counted by hours of work within the shift: a
reading); wage orders, sections 4(C) (split shift; 197 Cal.App.4th 115) and 5(A), 5(B) (reporting time); 29 CFR 778.221
and the workplace's policy (call-backs). Which shifts count for which schedule are readings, which docs/hours.md names.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tests.oracle.punches import Record, Shift

__all__ = ["Owed", "call_backs", "in_california"]

Owed = tuple[int, str, int]
"""The workday (days from 1970), what is owed for, and how much [s]."""
DayOf = Callable[[int], int]
HOUR_S = 3600


def in_california(record: Record, day_of: DayOf, waived: tuple[bool, bool] = (False, False)) -> list[Owed]:
    """Return what is owed for meal periods, split shifts and reporting; `waived` are the first and second meal."""
    found = [(day, "meal", HOUR_S) for day in meals(record, day_of, waived)]
    found += [(day, "split_shift", HOUR_S) for day in splits(record, day_of)]
    return found + [(day, "reporting", seconds) for day, seconds in [*reports(record, day_of), *again(record, day_of)]]


def meals(record: Record, day_of: DayOf, waived: tuple[bool, bool]) -> set[int]:
    """Return the workdays owed an hour for a meal period, walking each shift minute by minute."""
    return {day_of(due) for shift in record.shifts for due in _meals_due(record, shift, waived)}


def _meals_due(record: Record, shift: Shift, waived: tuple[bool, bool]) -> list[int]:
    worked: list[int] = []
    taken: list[int] = []
    acts, label = record.acts, record.label
    for k in shift[:-1]:
        apart = acts[k + 1].at - acts[k].at
        if label[k] in {"work", "rest"}:
            worked += range(acts[k].at, acts[k + 1].at)
        elif label[k] == "off" and apart >= 30 and shift[0] < k < shift[-1] - 1:
            between = {label[k - 1], label[k + 1]} <= {"work", "rest"}
            taken += [len(worked)] if between else []
    # Both may waive the first where no more than six hours are worked, the second where no more than twelve are and
    # the first was had.
    agreed = (waived[0] and len(worked) <= 6 * 60, waived[1] and len(worked) <= 12 * 60 and bool(taken))
    due = []
    for which, limit in enumerate((5 * 60, 10 * 60)):
        late = len(taken) <= which or taken[which] > limit
        if len(worked) > limit and late and not agreed[which]:
            due.append(worked[limit - 1] + 1)
    return due


def splits(record: Record, day_of: DayOf) -> set[int]:
    """Return the workdays that an unpaid gap of more than an hour splits."""
    acts, label = record.acts, record.label
    found: set[int] = set()
    for number, shift in enumerate(record.shifts):
        for k in shift:
            if k == 0 or k + 1 == len(acts) or label[k] != "off":
                continue
            worked = {label[k - 1], label[k + 1]} <= {"work", "rest"}
            out, back = day_of(acts[k].at), day_of(acts[k + 1].at)
            ends = k == shift[-1] and number + 1 < len(record.shifts)
            begun_that_day = day_of(acts[shift[0]].at) == out
            if worked and acts[k + 1].at - acts[k].at > 60 and out == back and (begun_that_day or not ends):
                found.add(out)
    return found


def reports(record: Record, day_of: DayOf) -> list[tuple[int, int]]:
    """Return workday and seconds owed of each scheduled day reported for of which less than half was worked."""
    by_day: dict[int, list[tuple[int, int]]] = {}
    for planned in record.planned:
        by_day.setdefault(day_of(planned[0]), []).append(planned)
    found, taken = [], set[int]()
    for day, of_day in sorted(by_day.items()):
        opens, closes = of_day[0][0] - 120, of_day[-1][1]
        later = [planned[0] for planned in record.planned if day_of(planned[0]) > day]
        theirs = []
        for number, shift in enumerate(record.shifts):
            begins = record.acts[shift[0]].at
            in_day = day_of(begins) == day or opens <= begins < closes
            toward_next = bool(later) and begins >= later[0] - 120 and begins > of_day[-1][0]
            if in_day and not toward_next and number not in taken:
                theirs.append(number)
        taken |= set(theirs)
        reported = any(opens <= record.acts[record.shifts[one][0]].at < closes for one in theirs)
        is_open = any(_is_open(record, record.shifts[one]) for one in theirs)
        scheduled = 60 * sum(ends - starts for starts, ends in of_day)
        furnished = 60 * sum(record.worked(record.shifts[one]) for one in theirs)
        due = min(max(scheduled // 2, 2 * HOUR_S), 4 * HOUR_S) - furnished
        if reported and not is_open and 2 * furnished < scheduled and due > 0:
            found.append((day, due))
    return found


def again(record: Record, day_of: DayOf) -> list[tuple[int, int]]:
    """Return workday and seconds owed of each further report in a workday that was given less than two hours."""
    # Who comes back toward the start of a schedule, after more than a meal's hour, reports anew.
    stretches: list[Shift] = []
    for shift in record.shifts:
        for k in shift:
            away = record.acts[k].at - record.acts[k - 1].at
            back = k != shift[0] and record.label[k - 1] == "off" and away > 60 and record.toward(k) == "in"
            if k == shift[0] or back:
                stretches.append([])
            stretches[-1].append(k)
    paid = {k: seconds for k, _, seconds in _called_back(record)}
    found = []
    before: tuple[int, bool] | None = None
    for stretch in stretches:
        day, is_open = day_of(record.acts[stretch[0]].at), _is_open(record, stretch)
        # What the workplace pays for a call-back is not owed twice.
        due = 2 * HOUR_S - 60 * record.worked(stretch) - paid.get(stretch[0], 0)
        if before == (day, False) and not is_open and due > 0:
            found.append((day, due))
        before = (day, is_open)
    return found


def call_backs(record: Record, day_of: DayOf) -> list[Owed]:
    """Return what shifts outside the schedule, within a day after a scheduled one, lack to the policy's least."""
    return [(day_of(at), "call_back", seconds) for _, at, seconds in _called_back(record)]


def _called_back(record: Record) -> list[tuple[int, int, int]]:
    least = record.settings.call_back
    found = []
    for shift in record.shifts:
        begins, worked = record.acts[shift[0]].at, record.worked(shift)
        if worked < least and record.is_promised(shift):
            found.append((shift[0], begins, 60 * (least - worked)))
    return found


def _is_open(record: Record, acts: Sequence[int]) -> bool:
    return any(k in record.open for k in acts)
