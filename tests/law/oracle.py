"""The hours rules once more, written otherwise: minute by minute, with datetime and zoneinfo, slowly.

It knows whole minutes only, and shares no line with the room it checks.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise, product
from zoneinfo import ZoneInfo

MINUTE = timedelta(minutes=1)


@dataclass(frozen=True)
class Press:
    """One presentation: an aware time in the zone of its reader, and 'in', 'out' or ''."""

    when: datetime
    way: str


@dataclass
class Settings:
    zone: str
    week_day: int = 6
    week_minute: int = 0
    rounding: int = 0
    double: int = 1
    longest: int = 14 * 60
    long: int = 13 * 60
    shift_gap: int = 5 * 60
    meal: int = 30
    california: bool = False
    alternative: int = 0
    care: bool = False
    scheduled: tuple[int, ...] = ()


def minutes_between(a: datetime, b: datetime) -> int:
    return int((b.astimezone(UTC) - a.astimezone(UTC)) / MINUTE)


def one_act_each(presses: list[Press], double: int) -> list[Press]:
    acts: list[list[Press]] = []
    for press in sorted(presses, key=lambda p: p.when.astimezone(UTC)):
        ways = {p.way for p in acts[-1]} - {""} if acts else set()
        near = bool(acts) and minutes_between(acts[-1][-1].when, press.when) < double
        if near and (not ways or not press.way or press.way in ways):
            acts[-1].append(press)
        else:
            acts.append([press])
    kept = []
    for act in acts:
        way = next((p.way for p in act if p.way), "")
        kept.append(Press(act[-1].when if way == "out" else act[0].when, way))
    return kept


def stretches(acts: list[Press], longest: int) -> list[list[Press]]:
    parts: list[list[Press]] = []
    for act in acts:
        if parts and minutes_between(parts[-1][-1].when, act.when) <= longest:
            parts[-1].append(act)
        else:
            parts.append([act])
    return parts


def slot(act: Press) -> int:
    return (act.when.hour * 60 + act.when.minute) // 10


def unlike(way: str, act: Press, habit: list[tuple[int, str]]) -> int:
    weight = {"in": 0, "out": 0}
    for seen, seen_way in habit:
        distance = min((seen - slot(act)) % 144, (slot(act) - seen) % 144)
        weight[seen_way] += {0: 2, 1: 1}.get(distance, 0)
    other = "out" if way == "in" else "in"
    return max(0, weight[other] - weight[way]) * 86_400 // (weight["in"] + weight["out"] + 2)


def price(
    ways: tuple[str, ...], acts: list[Press], odd: dict[str, list[int]], gaps: list[int], shift_gap: int
) -> tuple[int, int]:
    """Return how many punches must be missing, and how unusual the reading is, in seconds."""
    missing = (ways[0] == "out") + (ways[-1] == "in")
    unusual = sum(odd[way][k] for k, way in enumerate(ways) if not acts[k].way)
    for k, gap in enumerate(gaps):
        pair = (ways[k], ways[k + 1])
        if pair == ("out", "in"):
            unusual += 60 * max(0, gap - 60) if gap <= shift_gap else 0
        else:
            missing += pair != ("in", "out")
            unusual += 60 * (gap if gap > shift_gap else max(0, 60 - gap))
    return missing, unusual


def keys_swapped(part: list[Press]) -> bool:
    """Tell whether marks that cannot be in this order are those of alternating punches, two keys being swapped."""
    ways = [act.way for act in part]
    gaps = [minutes_between(a.when, b.when) for a, b in pairwise(part)]
    balanced = ways.count("in") == ways.count("out")
    return (
        balanced and (ways[0], ways[-1]) == ("in", "out") and min(gaps[::2]) >= 60 and max(gaps[1::2], default=0) <= 60
    )


def read(acts: list[Press], settings: Settings) -> list[str]:
    ways: list[str] = []
    habit: list[tuple[int, str]] = []
    for part in stretches(acts, settings.longest):
        plain = tuple("in" if k % 2 == 0 else "out" for k in range(len(part)))
        marks = tuple(act.way for act in part)
        fits = all(not mark or mark == way for mark, way in zip(marks, plain, strict=True))
        if all(marks):
            chosen, sure = (plain if keys_swapped(part) else marks), True
        elif len(part) % 2 == 0 and fits:
            chosen, sure = plain, True
        else:
            options = product(*([mark] if mark else ["in", "out"] for mark in marks))
            odd = {way: [unlike(way, act, habit) for act in part] for way in ("in", "out")}
            gaps = [minutes_between(a.when, b.when) for a, b in pairwise(part)]
            # Ties: the last punch as a start, each before it as an end.
            chosen = min(
                options,
                key=lambda o: (
                    *price(o, part, odd, gaps, settings.shift_gap),
                    o[-1] == "out",
                    *(way == "in" for way in reversed(o[:-1])),
                ),
            )
            sure = False
        if sure:
            habit += [(slot(act), way) for act, way in zip(part, chosen, strict=True)]
        ways += chosen
    return ways


def first_minute(day: date, settings: Settings) -> datetime:
    """Walk minute by minute, in real time, to the first minute of the workweek that begins on `day`."""
    zone = ZoneInfo(settings.zone)
    minute = datetime(day.year, day.month, day.day, tzinfo=zone).astimezone(UTC)
    wall = minute.astimezone(zone)
    while wall.date() == day and wall.hour * 60 + wall.minute < settings.week_minute:
        minute += MINUTE
        wall = minute.astimezone(zone)
    return minute


def week_beginnings(acts: list[Press], settings: Settings) -> list[tuple[datetime, date]]:
    day, last = acts[0].when.date() - timedelta(days=9), acts[-1].when.date() + timedelta(days=9)
    days = [day + timedelta(days=n) for n in range((last - day).days)]
    return [(first_minute(day, settings), day) for day in days if day.weekday() == settings.week_day]


def rounded(moment: datetime, unit: int) -> datetime:
    """Move a time so that its own wall clock shows the nearest multiple of `unit` minutes, half up."""
    if not unit:
        return moment.astimezone(UTC)
    past = (moment.hour * 60 + moment.minute) % unit
    shift = unit - past if 2 * past >= unit else -past
    return moment.astimezone(UTC) + shift * MINUTE


def label_gaps(acts: list[Press], ways: list[str], settings: Settings) -> tuple[list[str], set[tuple[str, datetime]]]:
    """Return what follows each act (off, same, work, rest), and the open questions."""
    label = ["off"] * len(acts)
    asked: set[tuple[str, datetime]] = set()
    for k, act in enumerate(acts):
        gap = minutes_between(act.when, acts[k + 1].when) if k + 1 < len(acts) else 10**9
        follows = ways[k + 1] if k + 1 < len(acts) else ""
        at = act.when.astimezone(UTC)
        if ways[k] == "in" and follows == "out" and gap <= settings.longest:
            if gap == 0:
                asked.add(("same_time", at))
                label[k] = "same"
                continue
            label[k] = "work"
            if gap > settings.long:
                asked.add(("long_span", at))
        elif ways[k] == "in":
            asked.add(("missing_out", at))
        elif k == 0 or label[k - 1] not in {"work", "same"}:
            asked.add(("missing_in", at))
    for k in range(1, len(acts) - 2):
        gap = minutes_between(acts[k].when, acts[k + 1].when)
        if (label[k - 1], label[k], label[k + 1]) == ("work", "off", "work") and gap < settings.meal:
            label[k] = "rest"
    return label, asked


def minutes_of(acts: list[Press], label: list[str], settings: Settings) -> tuple[list[datetime], list[datetime]]:
    """Return every minute recorded between paired punches, and every minute paid."""
    recorded: list[datetime] = []
    paid: list[datetime] = []
    k = 0
    while k < len(acts):
        end = k
        while label[end] in {"work", "rest"}:
            minute = acts[end].when.astimezone(UTC)
            while label[end] == "work" and minute < acts[end + 1].when.astimezone(UTC):
                recorded.append(minute)
                minute += MINUTE
            end += 1
        if end > k:
            minute, stop = rounded(acts[k].when, settings.rounding), rounded(acts[end].when, settings.rounding)
            while minute < stop:
                paid.append(minute)
                minute += MINUTE
        k = end + 1
    return recorded, paid


def hours(
    presses: list[Press], settings: Settings
) -> tuple[dict[date, tuple[int, int, int, int]], set[tuple[str, datetime]]]:
    """Return (recorded, ordinary, overtime, double) minutes by workweek, and the open questions."""
    acts = one_act_each(presses, settings.double)
    label, asked = label_gaps(acts, read(acts, settings), settings)
    recorded, paid = minutes_of(acts, label, settings)
    beginnings = week_beginnings(acts, settings)
    weeks: dict[date, list[int]] = {}
    for minute in recorded:
        weeks.setdefault(holding(minute, beginnings), [0, 0, 0, 0])[0] += 1
    of_week: dict[date, list[datetime]] = {}
    for minute in paid:
        of_week.setdefault(holding(minute, beginnings), []).append(minute)
    for week, minutes in of_week.items():
        amounts = weeks.setdefault(week, [0, 0, 0, 0])
        for pay_class in class_week(minutes, week, settings):
            amounts[pay_class] += 1
    return {week: (a[0], a[1], a[2], a[3]) for week, a in weeks.items()}, asked


def holding(minute: datetime, lines: list[tuple[datetime, date]]) -> date:
    return [day for begins, day in lines if begins <= minute][-1]


def class_week(minutes: list[datetime], week: date, settings: Settings) -> list[int]:
    """Return the class of each paid minute of one workweek: 1 ordinary, 2 overtime, 3 double."""
    if not settings.california:
        return [1 if k < 40 * 60 else 2 for k in range(len(minutes))]
    lines = [(first_minute(week + timedelta(days=k), settings), week + timedelta(days=k)) for k in range(7)]
    days: dict[date, list[datetime]] = {}
    for minute in minutes:
        days.setdefault(holding(minute, lines), []).append(minute)
    classes: dict[datetime, int] = {}
    for place, (day, of_day) in enumerate(sorted(days.items())):
        seventh = len(days) == 7 and day == max(days)
        for k, minute in enumerate(of_day):
            if seventh:
                classes[minute] = 2 if k < 8 * 60 else 3
            elif settings.alternative:
                classes[minute] = alternative_class(k, place, day, settings)
            else:
                classes[minute] = 1 if k < 8 * 60 else 2 if k < 12 * 60 else 3
    straight = [minute for minute in minutes if classes[minute] == 1]
    for minute in straight[40 * 60 :]:
        classes[minute] = 2
    return [classes[minute] for minute in minutes]


def alternative_class(worked: int, place: int, day: date, settings: Settings) -> int:
    """Return the class of the minute after so many of the day (Labor Code 511(b); wage orders, 3(B)(1) and (8))."""
    if settings.care:
        return 1 if worked < 12 * 60 else 3
    needed = -(-40 * 60 // settings.alternative)
    if day.weekday() not in settings.scheduled if settings.scheduled else place >= needed:
        return 2 if worked < 8 * 60 else 3
    return 1 if worked < settings.alternative else 2 if worked < 12 * 60 else 3


def splits(presses: list[Press], settings: Settings) -> set[date]:
    """Return the workdays split by an unpaid gap of more than an hour (wage orders, 4(C); 197 Cal.App.4th 115)."""
    acts = one_act_each(presses, settings.double)
    label, _ = label_gaps(acts, read(acts, settings), settings)
    first = acts[0].when.date() - timedelta(days=9)
    lines = [(first_minute(first + timedelta(days=k), settings), first + timedelta(days=k)) for k in range(30)]
    split: set[date] = set()
    begun = acts[0]
    for k in range(len(acts) - 1):
        gap = minutes_between(acts[k].when, acts[k + 1].when)
        out, back, began = (holding(act.when.astimezone(UTC), lines) for act in (acts[k], acts[k + 1], begun))
        worked = k > 0 and {label[k - 1], label[k + 1]} <= {"work", "rest"}
        ends = label[k] in {"off", "same"} and gap > settings.shift_gap
        if worked and label[k] == "off" and gap > 60 and out == back and (began == out or not ends):
            split.add(out)
        if ends:
            begun = acts[k + 1]
    return split


def second_reports(presses: list[Press], settings: Settings) -> set[tuple[date, int]]:
    """Return the workday and minutes owed of each further shift of less than two hours (wage orders, 5(B))."""
    acts = one_act_each(presses, settings.double)
    label, asked = label_gaps(acts, read(acts, settings), settings)
    open_at = {at for _, at in asked}
    first = acts[0].when.date() - timedelta(days=9)
    lines = [(first_minute(first + timedelta(days=k), settings), first + timedelta(days=k)) for k in range(30)]
    owed: set[tuple[date, int]] = set()
    shifts: list[tuple[date, int, bool]] = []
    shift: list[int] = []
    for k in range(len(acts)):
        shift.append(k)
        if k + 1 < len(acts):
            gap = minutes_between(acts[k].when, acts[k + 1].when)
            if label[k] not in {"off", "same"} or gap <= settings.shift_gap:
                continue
        worked = sum(
            minutes_between(acts[i].when, acts[i + 1].when) for i in shift[:-1] if label[i] in {"work", "rest"}
        )
        is_open = any(acts[i].when.astimezone(UTC) in open_at for i in shift)
        day = holding(acts[shift[0]].when.astimezone(UTC), lines)
        if shifts and shifts[-1][0] == day and not shifts[-1][2] and not is_open and worked < 120:
            owed.add((day, 120 - worked))
        shifts.append((day, worked, is_open))
        shift = []
    return owed


def meals_missed(presses: list[Press], settings: Settings) -> set[date]:
    """Return the workdays owed an hour for a meal period, walking each shift minute by minute (Cal. Labor Code 512)."""
    acts = one_act_each(presses, settings.double)
    label, _ = label_gaps(acts, read(acts, settings), settings)
    first = acts[0].when.date() - timedelta(days=9)
    lines = [(first_minute(first + timedelta(days=k), settings), first + timedelta(days=k)) for k in range(30)]
    owed: set[date] = set()
    shift: list[int] = []
    for k in range(len(acts)):
        shift.append(k)
        ends = k + 1 == len(acts) or (
            label[k] in {"off", "same"} and minutes_between(acts[k].when, acts[k + 1].when) > settings.shift_gap
        )
        if ends:
            owed |= {holding(due, lines) for due in meals_due(acts, label, shift)}
            shift = []
    return owed


def meals_due(acts: list[Press], label: list[str], shift: list[int]) -> list[datetime]:
    worked: list[datetime] = []
    meals: list[int] = []
    for k in shift[:-1]:
        apart = minutes_between(acts[k].when, acts[k + 1].when)
        if label[k] in {"work", "rest"}:
            worked += [acts[k].when.astimezone(UTC) + m * MINUTE for m in range(apart)]
        elif label[k] == "off" and apart >= 30 and shift[0] < k < shift[-1] - 1:
            between = {label[k - 1], label[k + 1]} <= {"work", "rest"}
            meals += [len(worked)] if between else []
    due = []
    for which, limit in enumerate((5 * 60, 10 * 60)):
        if len(worked) > limit and (len(meals) <= which or meals[which] > limit):
            due.append(worked[limit - 1] + MINUTE)
    return due
