"""What becomes of people, punches, hours, pay and periods handed off where takes are folded anew, looked at before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import polars as pl

from evenhand.jobs.fold import Folded
from evenhand.jobs.pay import is_in_money
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot, take_snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.tables import KEYED
from evenhand.terms.columns import Frame

__all__ = [
    "Foreseen",
    "Hanging",
    "PeriodTouched",
    "Side",
    "TableChange",
    "WeekChange",
    "compare",
    "look",
    "reach_of",
]

AROUND = timedelta(weeks=2)  # a punch counts in a workweek that begins at most this much before or after it


@dataclass(frozen=True)
class TableChange:
    """What becomes of the rows of one keyed table, each named as people name it ("P2031 Ada Quill", "GATE/1041")."""

    table: str
    new: tuple[str, ...]
    changed: tuple[str, ...]
    gone: tuple[str, ...]


@dataclass(frozen=True)
class WeekChange:
    """A person's workweek whose paid seconds or pay change; pay is None where it is not known."""

    person: str
    name: str
    workweek: date
    paid_before_s: int
    paid_after_s: int
    pay_before: Decimal | None
    pay_after: Decimal | None


@dataclass(frozen=True)
class PeriodTouched:
    """A period that was handed off already and of which weeks change, with the file that payroll has."""

    first_day: date
    last_day: date
    file: str
    made_at: int
    people: tuple[str, ...]


@dataclass(frozen=True)
class Hanging:
    """A correction whose punch would no longer be there; it counts again as soon as the same presentation is back."""

    correction: int
    action: str
    person: str
    author: str
    reason: str
    reader: str
    number: str
    at: int


@dataclass(frozen=True)
class Foreseen:
    """What taking a file back, or reading it again, does to everything that follows from it.

    `moved` counts punches that keep their take and line and change what they say. `others` are the takes that are
    read anew with it, since they overlap it or were placed in time by it.
    """

    take: int
    file: str
    tables: tuple[TableChange, ...]
    punches_gone: int
    punches_new: int
    punches_moved: int
    weeks: tuple[WeekChange, ...]
    periods: tuple[PeriodTouched, ...]
    hanging: tuple[Hanging, ...]
    others: tuple[int, ...]
    notices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Side:
    """All that is looked at on one side of the change: a snapshot, and what the store says besides."""

    snapshot: Snapshot
    gone: Frame
    hanging: Frame


def reach_of(conn: Connection, folded: Folded) -> tuple[date, date | None]:
    """Return between which days the workweeks begin that may change: around the punches folded anew, or all of them.

    `conn` is in the transaction in which they were folded.
    """
    if folded.tables - {"readers"} or not folded.spans:
        return date(2000, 1, 1), None
    first, last = min(one.first_at for one in folded.spans), max(one.last_at for one in folded.spans)
    days = (datetime.fromtimestamp(at, UTC).date() for at in (first, last))
    return next(days) - AROUND, next(days) + AROUND


def look(workspace: Workspace, conn: Connection, reach: tuple[date, date | None]) -> Side:
    """Return one side of a change, as it is in the transaction that `conn` is in."""
    snapshot = take_snapshot(workspace, *reach, within=conn)
    return Side(snapshot, frames.gone_people(conn), frames.hanging(conn))


def compare(take: int, file: str, before: Side, after: Side, folded: Folded, as_of: datetime) -> Foreseen:
    """Return what the change does to everything that follows from the takes."""
    was, now = before.snapshot, after.snapshot
    gone, new, moved = _punches(was.recorded, now.recorded)
    weeks = tuple(_weeks(was, now, as_of))
    return Foreseen(
        take=take,
        file=file,
        tables=tuple(_tables(before, after)),
        punches_gone=gone,
        punches_new=new,
        punches_moved=moved,
        weeks=weeks,
        periods=tuple(_periods(was, weeks)),
        hanging=tuple(_hanging(before, after)),
        others=tuple(sorted(set(folded.punched) - {take})),
        notices=folded.notices,
    )


def _tables(before: Side, after: Side) -> Iterator[TableChange]:
    names = dict(after.snapshot.people.select("person", "name").iter_rows())
    names |= dict(before.snapshot.people.select("person", "name").iter_rows())
    for table in KEYED.values():
        was, now = (getattr(side.snapshot, table.name) for side in (before, after))
        if table.name == "people":
            was, now = (
                side.snapshot.people.with_columns(gone=pl.col("person").is_in(side.gone["person"].implode()))
                for side in (before, after)
            )
        if was.equals(now):
            continue
        both = was.join(now, on=table.key, how="semi", maintain_order="left")
        same = was.join(now, on=was.columns, how="semi", nulls_equal=True)
        changed = both.join(same, on=table.key, how="anti", maintain_order="left")
        new = now.join(was, on=table.key, how="anti", maintain_order="left")
        gone = was.join(now, on=table.key, how="anti", maintain_order="left")
        yield TableChange(table.name, *(_called(table.key, rows, names) for rows in (new, changed, gone)))


def _called(key: tuple[str, ...], rows: Frame, names: dict[str, str]) -> tuple[str, ...]:
    """Return how people name each row: its key, with the name of whomever it is about."""
    told = []
    for row in rows.iter_rows(named=True):
        parts = [
            datetime.fromtimestamp(row[name], UTC).isoformat() if name.endswith("_at") else str(row[name])
            for name in key
            if row[name] not in (None, "")
        ]
        if "person" in key:
            parts.insert(1, names.get(row["person"], row["person"]))
            told.append(" ".join(parts))
        else:
            told.append("/".join(parts))
    return tuple(told)


def _punches(was: Frame, now: Frame) -> tuple[int, int, int]:
    """Return how many presentations go, how many come, and how many stay under their number and say otherwise."""
    said = ["reader", "number", "at", "direction", "outcome"]
    counted = pl.int_range(pl.len()).over(said).alias("ordinal")  # two that say the same are two
    was, now = (rows.sort("punch").with_columns(counted) for rows in (was, now))
    went = was.join(now, on=[*said, "ordinal"], how="anti", nulls_equal=True)
    came = now.join(was, on=[*said, "ordinal"], how="anti", nulls_equal=True)
    moved = went.join(came, on="punch", how="semi").height
    return went.height - moved, came.height - moved, moved


def _weeks(was: Snapshot, now: Snapshot, as_of: datetime) -> Iterator[WeekChange]:
    key = ["person", "workweek"]
    sides = [_paid_weeks(Reckoning(of, as_of)) for of in (was, now)]
    both = sides[0].join(sides[1], on=key, how="full", coalesce=True, suffix="_after")
    # Whoever has no such week is paid nothing for it, where pay is known at all.
    for side, of in (("", was), ("_after", now)):
        has_none = pl.col(f"paid_s{side}").is_null()
        nothing = pl.when(has_none).then(pl.lit(0 if is_in_money(of) else None, pl.Decimal(18, 4)))
        both = both.with_columns(
            nothing.otherwise(pl.col(f"total_pay{side}")).alias(f"total_pay{side}"),
            pl.col(f"paid_s{side}").fill_null(0),
        )
    differs = pl.col("paid_s").ne(pl.col("paid_s_after")) | pl.col("total_pay").ne_missing(pl.col("total_pay_after"))
    names = dict(was.people.select("person", "name").iter_rows()) | now.names
    for row in both.filter(differs).sort("workweek", "person").iter_rows(named=True):
        yield WeekChange(
            row["person"],
            names.get(row["person"], row["person"]),
            row["workweek"],
            row["paid_s"],
            row["paid_s_after"],
            row["total_pay"],
            row["total_pay_after"],
        )


def _paid_weeks(reckoning: Reckoning) -> Frame:
    """Return each person's workweeks with `paid_s` [s] and `total_pay`, which is null where it is not known."""
    key = ["person", "workweek"]
    paid = pl.sum_horizontal("ordinary_s", "overtime_s", "double_s").alias("paid_s")
    weeks = reckoning.hours.weeks.select(*key, paid)
    if weeks.is_empty() or not is_in_money(reckoning.snapshot):
        return weeks.with_columns(total_pay=pl.lit(None, pl.Decimal(18, 4)))
    first, last = weeks["workweek"].min(), weeks["workweek"].max()
    assert isinstance(first, date) and isinstance(last, date)
    money = reckoning.pay_between(first, last).weeks.select(*key, "total_pay")
    return weeks.join(money, on=key, how="left")


def _periods(was: Snapshot, weeks: tuple[WeekChange, ...]) -> Iterator[PeriodTouched]:
    """Yield each period handed off, by the last file of it, in which weeks change."""
    last = was.handoffs.unique("first_day", keep="last", maintain_order=True)
    for row in last.iter_rows(named=True):
        people = {
            one.person
            for one in weeks
            if one.workweek <= row["last_day"] and one.workweek + timedelta(days=6) >= row["first_day"]
        }
        if people:
            yield PeriodTouched(row["first_day"], row["last_day"], row["file"], row["made_at"], tuple(sorted(people)))


def _hanging(before: Side, after: Side) -> Iterator[Hanging]:
    new = after.hanging.join(before.hanging, on="correction", how="anti")
    made = after.snapshot.standing_corrections.select("correction", "action", "person", "author", "reason")
    for row in new.join(made, on="correction").sort("correction").iter_rows(named=True):
        yield Hanging(
            row["correction"],
            row["action"],
            row["person"],
            row["author"],
            row["reason"],
            row["reader"],
            row["number"],
            row["at"],
        )
