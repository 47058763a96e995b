"""From presentations to minutes of work: which are one act, which way each went, what is paid and what stays open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

__all__ = ["Press", "Record", "Run", "Settings", "record_of"]


class Press(NamedTuple):
    """One presentation: the minute since 1970, 'in', 'out' or '', the reader, and what its clock shows [min]."""

    at: int
    way: str
    reader: str
    shown: int


class Run(NamedTuple):
    """Minutes of work, from one up to another, the reader at which they began, and the number of their shift."""

    since: int
    until: int
    reader: str
    shift: int = 0


@dataclass(frozen=True)
class Settings:
    """The workplace's own settings [min].

    `grace` is how far before and after a scheduled start, then end, a punch counts as it; `automatic` is a meal
    deducted without punches: how long, in shifts longer than this, so far into them.
    """

    rounding: int = 0
    double: int = 1
    longest: int = 14 * 60
    long: int = 13 * 60
    shift_gap: int = 5 * 60
    meal: int = 30
    call_back: int = 0
    trifle: int = 0
    grace: tuple[int, int, int, int] = (0, 0, 0, 0)
    automatic: tuple[int, int, int] = (0, 0, 0)


Shift = list[int]
Planned = Sequence[tuple[int, int]]


@dataclass(frozen=True)
class Record:
    """A person's acts, what follows each (off, same, work, rest), and the acts that leave something open."""

    acts: list[Press]
    label: list[str]
    open: dict[int, str]
    settings: Settings
    planned: Planned

    @property
    def asked(self) -> set[tuple[str, int]]:
        """Return the open questions, with their minute."""
        return {(kind, self.acts[k].at) for k, kind in self.open.items()}

    @cached_property
    def shifts(self) -> list[Shift]:
        """Return the acts of each shift, by place."""
        found: list[Shift] = [[0]]
        for k in range(1, len(self.acts)):
            away = self.acts[k].at - self.acts[k - 1].at
            if self.label[k - 1] in {"off", "same"} and away > self.settings.shift_gap:
                found.append([])
            found[-1].append(k)
        return found

    def worked(self, shift: Sequence[int]) -> int:
        """Return the minutes of work, with paid rests, between the acts of a shift."""
        return sum(self.acts[k + 1].at - self.acts[k].at for k in shift[:-1] if self.label[k] in {"work", "rest"})

    def toward(self, k: int) -> str:
        """Return which scheduled bound lies within an hour of an act: 'in', 'out', or '' for neither or both."""
        return _toward(self.acts[k].at, self.planned)

    def recorded(self) -> list[Run]:
        """Return the runs of minutes between paired punches."""
        return [
            Run(act.at, self.acts[k + 1].at, act.reader) for k, act in enumerate(self.acts) if self.label[k] == "work"
        ]

    @cached_property
    def _stretches_of_pay(self) -> list[tuple[int, int, int, int]]:
        """Return the first and last act of each stretch of work and rests, and when its pay begins and ends."""
        bounds: list[tuple[int, int]] = []
        k = 0
        while k < len(self.acts):
            end = k
            while self.label[end] in {"work", "rest"}:
                end += 1
            if end > k:
                bounds.append((k, end))
            k = end + 1
        found: list[tuple[int, int, int, int]] = []
        for number, (first, last) in enumerate(bounds):
            following = 10**9
            if number + 1 < len(bounds):
                back = self.acts[bounds[number + 1][0]]
                following = min(back.at, _rounded(back, self.settings.rounding))
            starts, stops = self._by_schedule(first, last, found[-1][3] if found else 0, following)
            # A shift that is one stretch and shorter than a trifle is not paid, but for a call-back, which is promised.
            whole = any(shift == [*range(first, last + 1)] and not self.is_promised(shift) for shift in self.shifts)
            if whole and self.acts[last].at - self.acts[first].at < self.settings.trifle:
                stops = starts
            found.append((first, last, starts, stops))
        return found

    def is_promised(self, shift: Sequence[int]) -> bool:
        """Return whether the policy pays a least time for the shift: outside the schedule, within a day after it."""
        begins, ends = self.acts[shift[0]].at, self.acts[shift[-1]].at
        outside = not any(starts < ends and stops > begins for starts, stops in self.planned)
        after = any(begins - 24 * 60 < stops <= begins for _, stops in self.planned)
        whole = not any(k in self.open for k in shift)
        return self.settings.call_back > 0 and outside and after and whole and self.worked(shift) > 0

    def _by_schedule(self, first: int, last: int, paid_until: int, following: int) -> tuple[int, int]:
        """Return when a stretch's pay begins and ends: rounded, or as scheduled where the policy's grace reaches.

        No minute is paid twice for it: not what was paid before, nor what begins after.
        """
        starts, stops = (_rounded(self.acts[k], self.settings.rounding) for k in (first, last))
        start_early, start_late, end_early, end_late = self.settings.grace
        for begins, ends in self.planned if any(self.settings.grace) else ():
            if begins - start_early <= self.acts[first].at <= begins + start_late:
                starts = max(paid_until, min(begins, stops))
            if ends - end_early <= self.acts[last].at <= ends + end_late:
                stops = max(min(ends, following), starts)
        return starts, stops

    def paid(self) -> list[Run]:
        """Return the runs of minutes paid, each with the reader at which it began, a paid rest too."""
        found: list[Run] = []
        shift_of = {k: number for number, shift in enumerate(self.shifts) for k in shift}
        for first, last, starts, stops in self._stretches_of_pay:
            for at in range(first, last):
                since = starts if at == first else max(starts, self.acts[at].at)
                until = stops if at + 1 == last else min(stops, self.acts[at + 1].at)
                if since < until:
                    found.append(Run(since, until, self.acts[at].reader, shift_of[first]))
        return [part for run in found for part in self._without_meal(run)]

    def _without_meal(self, run: Run) -> list[Run]:
        """Return what a meal deducted without punches leaves of a run: none is where a punch or a question speaks."""
        length, after, into = self.settings.automatic
        shift = self.shifts[run.shift]
        first, last = self.acts[shift[0]], self.acts[shift[-1]]
        punched = any(self.label[k] in {"off", "same"} for k in shift[:-1]) or any(k in self.open for k in shift)
        if not length or punched or last.at - first.at <= after:
            return [run]
        (_, _, begins, ends), *_ = (one for one in self._stretches_of_pay if one[0] == shift[0])
        starts = begins + into
        stops = min(starts + length, ends)
        if starts >= stops or any(starts < self.acts[k].at < stops for k in shift[1:-1]):
            return [run]
        halves = (run._replace(until=min(run.until, starts)), run._replace(since=max(run.since, stops)))
        return [half for half in halves if half.since < half.until]


def record_of(presses: Sequence[Press], settings: Settings, planned: Planned = ()) -> Record:
    """Return what a person's presentations say."""
    acts = _one_act_each(presses, settings.double)
    ways = _read(acts, settings, planned)
    return Record(acts, *_label_gaps(acts, ways, settings), settings, planned)


def _one_act_each(presses: Sequence[Press], double: int) -> list[Press]:
    acts: list[list[Press]] = []
    for press in sorted(presses, key=lambda p: p.at):
        ways = {p.way for p in acts[-1]} - {""} if acts else set()
        near = bool(acts) and press.at - acts[-1][-1].at < double
        if near and (not ways or not press.way or press.way in ways):
            acts[-1].append(press)
        else:
            acts.append([press])
    kept = []
    for act in acts:
        way = next((p.way for p in act if p.way), "")
        kept.append((act[-1] if way == "out" else act[0])._replace(way=way))
    return kept


def _stretches(acts: Sequence[Press], longest: int) -> list[list[Press]]:
    parts: list[list[Press]] = []
    for act in acts:
        if parts and act.at - parts[-1][-1].at <= longest:
            parts[-1].append(act)
        else:
            parts.append([act])
    return parts


def _toward(at: int, planned: Planned) -> str:
    start, end = (any(abs(at - one[side]) <= 60 for one in planned) for side in (0, 1))
    return "" if start == end else "in" if start else "out"


def _slot(act: Press) -> int:
    return act.shown % 1440 // 10


def _unlike(way: str, act: Press, habit: Sequence[tuple[int, str]]) -> int:
    """Return what it costs [s] to read an act against the person's habit at its time of day."""
    weight = {"in": 0, "out": 0}
    for seen, seen_way in habit:
        distance = min((seen - _slot(act)) % 144, (_slot(act) - seen) % 144)
        weight[seen_way] += {0: 2, 1: 1}.get(distance, 0)
    other = "out" if way == "in" else "in"
    return max(0, weight[other] - weight[way]) * 86_400 // (weight["in"] + weight["out"] + 2)


def _cheapest(part: Sequence[Press], odd: dict[str, list[int]], shift_gap: int) -> list[str]:
    """Return the reading that supposes the fewest missing punches, then the least unusual [s].

    Of equal ones, the last punch is a start, and each before it, from the last on, an end.
    """
    allowed = [[act.way] if act.way else ["in", "out"] for act in part]
    best: dict[str, tuple[int, int, tuple[bool, ...]]] = {
        way: (int(way == "out"), odd[way][0] if not part[0].way else 0, ()) for way in allowed[0]
    }
    for k in range(1, len(part)):
        gap = part[k].at - part[k - 1].at
        rest = 60 * max(0, gap - 60) if gap <= shift_gap else 0
        other = 60 * (gap if gap > shift_gap else max(0, 60 - gap))
        found = {}
        for way in allowed[k]:
            strange = 0 if part[k].way else odd[way][k]
            found[way] = min(
                (
                    missing + ((before, way) not in {("in", "out"), ("out", "in")}),
                    unusual + strange + (rest if (before, way) == ("out", "in") else other),
                    (before == "in", *earlier),
                )
                for before, (missing, unusual, earlier) in best.items()
            )
        best = found
    _, _, ends, earlier = min(
        (missing + (way == "in"), unusual, way == "out", earlier) for way, (missing, unusual, earlier) in best.items()
    )
    return [*("in" if starts else "out" for starts in reversed(earlier)), "out" if ends else "in"]


def _keys_swapped(part: Sequence[Press], planned: Planned) -> bool:
    """Tell whether marks that cannot be in this order are those of alternating punches, two keys being swapped."""
    ways = [act.way for act in part]
    gaps = [after.at - before.at for before, after in pairwise(part)]
    balanced = ways.count("in") == ways.count("out") and (ways[0], ways[-1]) == ("in", "out")
    said_otherwise = _toward(part[0].at, planned) == "out" or _toward(part[-1].at, planned) == "in"
    return balanced and not said_otherwise and min(gaps[::2]) >= 60 and max(gaps[1::2], default=0) <= 60


def _read(acts: Sequence[Press], settings: Settings, planned: Planned) -> list[str]:
    ways: list[str] = []
    habit: list[tuple[int, str]] = []
    for part in _stretches(acts, settings.longest):
        plain = ["in" if k % 2 == 0 else "out" for k in range(len(part))]
        marks = [act.way for act in part]
        fits = all(not mark or mark == way for mark, way in zip(marks, plain, strict=True))
        sure = True
        if all(marks):
            chosen = plain if _keys_swapped(part, planned) else marks
        elif len(part) % 2 == 0 and fits:
            chosen = plain
        else:
            against = {"in": "out", "out": "in", "": ""}
            odd = {
                way: [_unlike(way, act, habit) + 86_400 * (_toward(act.at, planned) == against[way]) for act in part]
                for way in ("in", "out")
            }
            chosen, sure = _cheapest(part, odd, settings.shift_gap), False
        if sure:
            habit += [(_slot(act), way) for act, way in zip(part, chosen, strict=True)]
        ways += chosen
    return ways


def _label_gaps(acts: Sequence[Press], ways: Sequence[str], settings: Settings) -> tuple[list[str], dict[int, str]]:
    """Return what follows each act, and the questions by the place of their act."""
    label = ["off"] * len(acts)
    asked: dict[int, str] = {}
    for k, act in enumerate(acts):
        gap = acts[k + 1].at - act.at if k + 1 < len(acts) else 10**9
        follows = ways[k + 1] if k + 1 < len(acts) else ""
        if ways[k] == "in" and follows == "out" and gap <= settings.longest:
            label[k] = "work" if gap else "same"
            if not gap:
                asked[k] = "same_time"
            elif gap > settings.long:
                asked[k] = "long_span"
        elif ways[k] == "in":
            asked[k] = "missing_out"
        elif k == 0 or label[k - 1] not in {"work", "same"}:
            asked[k] = "missing_in"
    for k in range(1, len(acts) - 2):
        gap = acts[k + 1].at - acts[k].at
        if (label[k - 1], label[k], label[k + 1]) == ("work", "off", "work") and gap < settings.meal:
            label[k] = "rest"
    return label, asked


def _rounded(act: Press, unit: int) -> int:
    """Move a time so that its own clock shows the nearest multiple of `unit` minutes, half up."""
    if not unit:
        return act.at
    past = act.shown % unit
    return act.at + (unit - past if 2 * past >= unit else -past)
