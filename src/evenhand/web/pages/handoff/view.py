"""What Hand-off shows: the period, what keeps it from payroll, the totals, and what was handed off before."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import reduce
from typing import Any

import polars as pl

from evenhand.jobs.closed import Adjusted, ClosedPeriodListed, changes_of_lines, list_closed, pending
from evenhand.jobs.handoff import AdjustmentCarried, FilesForeseen, HandedOff, foresee_files
from evenhand.jobs.payroll_sample import SampleChecked
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.today import Today
from evenhand.terms.closing import PersonChange
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Sentence, said_of, told
from evenhand.terms.payroll import WORKED_ITEMS
from evenhand.terms.records import Finding, Refusal
from evenhand.terms.words import as_figures

__all__ = [
    "MEDIA_TYPES",
    "ColumnShown",
    "FileShown",
    "HandOffView",
    "HandedOffBefore",
    "WaitingAdjustment",
    "WorkedShown",
    "handed_off",
    "made_good_in_words",
    "view",
]

# The written forms of one hand-off, by what stands behind the stem of its name.
MEDIA_TYPES = {
    ".csv": "text/csv",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "-note.txt": "text/plain",
}


MOST_MARKED = 500
"""As many people as may be marked one by one in a form."""


@dataclass(frozen=True)
class HandedOffBefore:
    """A file handed off: of which period, by whom, its totals and digest; `is_latest` of its name, so on disk.

    `replaced_by` is the number of the file that counts in its place.
    """

    number: int
    row: Mapping[str, Any]
    total: Mapping[str, str]
    despite: Sequence[str]
    is_latest: bool
    replaced_by: int | None = None

    @property
    def files(self) -> list[tuple[str, str]]:
        """Return how each of its files is asked for, with what the link says; of several payrolls by name."""
        stem = self.row["file"].removesuffix(".csv")
        names = sorted(json.loads(self.row["files"] or "{}"))
        if names and names != sorted(stem + form for form in MEDIA_TYPES):
            return [(name, name) for name in names]
        return [(".csv", "CSV"), (".xlsx", told("sheet")), ("-note.txt", told("note"))]

    def name_of(self, asked: str) -> str | None:
        """Return the name of a file of this hand-off that was asked for as `files` say; None where it has none such."""
        if asked not in {one for one, _ in self.files}:
            return None
        return self.row["file"].removesuffix(".csv") + asked if asked in MEDIA_TYPES else asked


@dataclass(frozen=True)
class ColumnShown:
    """What a column, or a code with its `field`, adds up to: as printed, and the exact time behind it.

    `of_period` and `adjusting` are the two parts of `printed`: rows of the period, and rows that adjust earlier weeks.
    `unknown` rows are empty, since their pay is not known.
    """

    header: str
    field: str
    printed: str
    of_period: str
    adjusting: str
    exact: str
    unknown: int


@dataclass(frozen=True)
class FileShown:
    """A file as it would be written now: of which payroll, and its control total."""

    payroll: str
    rows: int
    rows_adjusting: int
    people: int
    columns: Sequence[ColumnShown]
    worked: str | None
    money: str | None


@dataclass(frozen=True)
class WorkedShown:
    """How one class of worked time comes from the period into the files, in exact seconds.

    `worked_s` in the period, less what `elsewhere_s` other files tell of it, and what `adjusting_s` adjusts earlier
    ones, are `in_files_s`.
    """

    name: str
    worked_s: int
    elsewhere_s: int
    adjusting_s: int
    in_files_s: int


@dataclass(frozen=True)
class WaitingAdjustment:
    """An adjustment of a period that the next file carries: whose decision it was, why, and what it changes."""

    first: date
    last: date
    author: str
    reason: str
    changes: Sequence[PersonChange]


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
    files: Sequence[FileShown]
    adjusts: Sequence[AdjustmentCarried]
    worked: Sequence[WorkedShown]
    refused: str
    payrolls: Sequence[str]
    has_columns: bool
    closed: Sequence[ClosedPeriodListed]
    is_handed_off: bool
    waiting: Sequence[WaitingAdjustment]
    checked: SampleChecked | None = None

    @property
    def changed(self) -> Sequence[ClosedPeriodListed]:
        """Return the periods handed off in which something has changed since."""
        return [one for one in self.closed if one.changes]

    @property
    def by_person(self) -> bool:
        """Whether what changed is made good person by person: a form holds so many answers and no more."""
        return sum(len(one.changes) for one in self.changed) <= MOST_MARKED

    @property
    def own_changes(self) -> Sequence[Finding]:
        """Return what keeps this period from payroll beside what changed in closed ones."""
        return [one for one in self.blockers if one.code != "closed_period_changed"]

    @property
    def is_as_worked(self) -> bool:
        """Whether the files hold the period's worked time and nothing beside or less."""
        return not any(one.elsewhere_s or one.adjusting_s for one in self.worked)

    @property
    def any_double_before(self) -> bool:
        """Whether any earlier file held double time; totals written before the law had it do not say."""
        return any(str(one.total.get("double_s", "0")) != "0" for one in self.before)


def view(reckoning: Reckoning, today: Today, checked: SampleChecked | None = None) -> HandOffView:
    """Return what Hand-off shows: the totals of files written now, or why there can be none; and a sample `checked`."""
    weeks, settings, closed = today.hours.weeks, reckoning.snapshot.settings, list_closed(reckoning)
    refused, foreseen = "", None
    try:
        foreseen = foresee_files(reckoning, today)
    except Refusal as refusal:
        refused = said_of(refusal)
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
        before=handed_off(reckoning.snapshot.handoffs),
        files=list(_files(foreseen)) if foreseen else (),
        adjusts=foreseen.adjusts if foreseen else (),
        worked=list(_worked(weeks, foreseen)) if foreseen else (),
        refused=refused,
        payrolls=[one.name for one in settings.payrolls],
        has_columns=any(one.columns for one in settings.import_definitions),
        closed=closed,
        is_handed_off=any((one.first, one.last) == (today.period.first, today.period.last) for one in closed),
        waiting=_waiting(reckoning, [one.adjustment for one in foreseen.adjusts] if foreseen else []),
        checked=checked,
    )


@dataclass(frozen=True)
class PeriodTurns:
    """Where the periods beside the one shown are, empty for one that has not begun; `period` is empty for the usual."""

    earlier: str
    later: str
    period: str


def turns(now: Reckoning, first: date, last: date) -> PeriodTurns:
    """Return the way to the periods beside one; `now` knows which period payroll waits for."""
    waited = now.period()

    def address(day: date) -> str:
        period = now.period(day)
        if period.first > now.day:
            return ""
        return "/hand-off" if period == waited else f"/hand-off?period={period.first}"

    around = address(first - timedelta(days=1)), address(last + timedelta(days=1))
    return PeriodTurns(*around, "" if first == waited.first else first.isoformat())


def _worked(weeks: Frame, foreseen: FilesForeseen) -> Iterator[WorkedShown]:
    elsewhere = dict(foreseen.elsewhere.group_by("item").agg(pl.col("seconds").sum()).iter_rows())
    days = [day for one in foreseen.adjusts for who in one.changes for day in who.days]
    for name, label in zip(WORKED_ITEMS, (told("Ordinary"), told("Overtime"), told("Double time")), strict=True):
        worked, in_files = (
            int(weeks[f"{name}_s"].sum()),
            sum(getattr(one.total, f"{name}_s") for one in foreseen.tables),
        )
        adjusting = sum(day.seconds for day in days if day.item == name)
        if name != "double" or worked or in_files:
            yield WorkedShown(label, worked, int(elsewhere.get(name, 0)), adjusting, in_files)


def _files(foreseen: FilesForeseen) -> Iterator[FileShown]:
    for table in foreseen.tables:
        total, by_code = table.total, bool(table.definition.codes)
        columns = [
            ColumnShown(
                one.header,
                one.field if by_code else "",
                one.as_printed,
                one.written(one.printed - one.adjusting),
                one.written(one.adjusting),
                as_figures(int(one.exact)) if one.is_time else f"{one.exact:.2f}",
                one.unknown,
            )
            for one in total.columns
        ]
        money = None if total.money is None else f"{total.money:.2f}"
        name = table.definition.name
        yield FileShown(name, total.rows, total.rows_adjusting, total.people, columns, total.worked, money)


def _waiting(reckoning: Reckoning, carried: Sequence[int]) -> list[WaitingAdjustment]:
    """Return the adjustments that no file carries yet, nor one written now (`carried`) would."""
    of = reckoning.snapshot
    waits = pending(reckoning, date.max).filter(~pl.col("adjustment").is_in(list(carried)))
    rows = of.adjustments.join(waits.select("adjustment").unique(), on="adjustment", how="semi")
    return [
        WaitingAdjustment(
            row["first_day"], row["last_day"], row["author"], row["reason"], changes_of_lines(lines, of.names)
        )
        for row in rows.iter_rows(named=True)
        for lines in [waits.filter(pl.col("adjustment") == row["adjustment"])]
    ]


def handed_off(handoffs: Frame) -> list[HandedOffBefore]:
    """Return what was handed off, the latest first."""
    seen: set[str] = set()
    listed = []
    replaced = {row["replaces"]: row["handoff"] for row in handoffs.iter_rows(named=True) if row["replaces"]}
    for row in handoffs.sort("handoff", descending=True).iter_rows(named=True):
        latest = row["file"] not in seen
        seen.add(row["file"])
        listed.append(
            HandedOffBefore(
                row["handoff"],
                row,
                json.loads(row["totals"]),
                json.loads(row["despite"]),
                latest,
                replaced.get(row["handoff"]),
            )
        )
    return listed


def made_good_in_words(made: HandedOff | Adjusted) -> Sentence:
    """Return what is told of a change that was made good."""
    if not isinstance(made, Adjusted):
        return told("Written: {file}, in place of {other}.", file=made.csv.name, other=made.replaces)
    given = {"first": str(made.first), "last": str(made.last), "people": ", ".join(made.people)}
    if made.way == "next_file":
        return told("The next period's file carries it: {first} to {last}, {people}.", **given)
    return told("Made good outside of payroll's files: {first} to {last}, {people}.", **given)


def all_made_good(made: Sequence[HandedOff | Adjusted]) -> Sentence:
    """Return what is told of several changes that were made good, one after another."""
    said = [made_good_in_words(one) for one in made]
    return reduce(lambda before, after: told("{before} {after}", before=before, after=after), said)
