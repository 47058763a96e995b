"""What becomes of people, punches, hours, pay and periods handed off where takes are folded anew, looked at before."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

import polars as pl

from evenhand.jobs.fold import Folded
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import undone_by
from evenhand.jobs.snapshot import Snapshot, edge_days, take_snapshot
from evenhand.jobs.week_changes import PeriodTouched, WeekChange, periods_touched, weeks_changed
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.tables import KEYED, PUNCH_SHIFT
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Settings

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

NEAR = ("reader", "number", "minute")


@dataclass(frozen=True)
class TableChange:
    """What becomes of the rows of one keyed table, each named as people name it ("P2031 Ada Quill", "GATE/1041")."""

    table: str
    new: tuple[str, ...]
    changed: tuple[str, ...]
    gone: tuple[str, ...]


@dataclass(frozen=True)
class PunchesHeld:
    """How many punches stay, by another `take` that holds them too, and of how many it tells less or otherwise."""

    take: int
    punches: int
    otherwise: int


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

    `moved` counts punches that keep their take and line and change what they say; those that other takes hold too are
    neither gone nor new. `others` are the takes that are
    read anew with it, since they overlap it or were placed in time by it.
    """

    take: int
    file: str
    tables: tuple[TableChange, ...]
    punches_gone: int
    punches_new: int
    punches_moved: int
    punches_held: tuple[PunchesHeld, ...]
    weeks: tuple[WeekChange, ...]
    periods: tuple[PeriodTouched, ...]
    hanging: tuple[Hanging, ...]
    others: tuple[int, ...]
    notices: tuple[str, ...] = ()
    undoes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Side:
    """All that is looked at on one side of the change: a snapshot, and what the store says besides."""

    snapshot: Snapshot
    gone: Frame
    hanging: Frame


def reach_of(conn: Connection, folded: Folded, settings: Settings) -> tuple[date, date | None]:
    """Return between which days the workweeks begin that may change: around the punches folded anew, or all of them.

    `conn` is in the transaction in which they were folded. A punch counts in workweeks that begin at most as long
    before or after it as the longest period of the settings lasts.
    """
    if folded.tables - {"readers"} or not folded.spans:
        return date(2000, 1, 1), None
    first, last = min(one.first_at for one in folded.spans), max(one.last_at for one in folded.spans)
    days = (datetime.fromtimestamp(at, UTC).date() for at in (first, last))
    around = timedelta(days=edge_days(settings))
    return next(days) - around, next(days) + around


def look(workspace: Workspace, conn: Connection, reach: tuple[date, date | None]) -> Side:
    """Return one side of a change, as it is in the transaction that `conn` is in."""
    snapshot = take_snapshot(workspace, *reach, within=conn)
    return Side(snapshot, frames.gone_people(conn), frames.hanging(conn))


def compare(take: int, file: str, before: Side, after: Side, folded: Folded, as_of: datetime) -> Foreseen:
    """Return what the change does to everything that follows from the takes."""
    was, now = before.snapshot, after.snapshot
    gone, new, moved, held = _punches(was.recorded, now.recorded)
    sides = Reckoning(was, as_of), Reckoning(now, as_of)
    weeks = tuple(weeks_changed(*sides))
    return Foreseen(
        take=take,
        file=file,
        tables=tuple(_tables(before, after)),
        punches_gone=gone,
        punches_new=new,
        punches_moved=moved,
        punches_held=held,
        weeks=weeks,
        periods=tuple(periods_touched(was, weeks)),
        hanging=tuple(_hanging(before, after)),
        others=tuple(sorted(set(folded.punched) - {take})),
        notices=folded.notices,
        undoes=undone_by(*sides),
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


def _punches(was: Frame, now: Frame) -> tuple[int, int, int, tuple[PunchesHeld, ...]]:
    """Return how many presentations go, come, stay under their number and say otherwise, and stay by other takes."""
    said = ["reader", "number", "at", "direction", "outcome"]
    was, now = (_counted(rows.sort("punch"), said) for rows in (was, now))
    same = was.join(now, on=[*said, "ordinal"], nulls_equal=True, suffix="_now")
    went = was.join(same, on="punch", how="anti", maintain_order="left")
    came = now.join(same.select(punch="punch_now"), on="punch", how="anti", maintain_order="left")
    moved = went.join(came, on="punch", how="semi")
    # An export that tells less, or another, of the same presentations holds them too.
    went, came = (
        _counted(
            rows.join(moved, on="punch", how="anti").sort("at", "punch").with_columns(minute=pl.col("at") // 60), NEAR
        )
        for rows in (went, came)
    )
    agrees = [(pl.col(name) == pl.col(f"{name}_now")).fill_null(value=True) for name in ("direction", "outcome")]
    alike = went.join(came, on=[*NEAR, "ordinal"], suffix="_now").filter(*agrees)
    held = pl.concat(
        [rows.select("punch", "punch_now", otherwise=pl.lit(differs)) for rows, differs in ((same, 0), (alike, 1))]
    ).with_columns((pl.col(name) // (1 << PUNCH_SHIFT)).alias(f"take_{name}") for name in ("punch", "punch_now"))
    by_take = held.filter(pl.col("take_punch") != pl.col("take_punch_now")).group_by("take_punch_now")
    stays = by_take.agg(pl.len(), pl.col("otherwise").sum()).sort("take_punch_now").rows()
    gone, new = went.height - alike.height, came.height - alike.height
    return gone, new, moved.height, tuple(PunchesHeld(*row) for row in stays)


def _counted(rows: Frame, by: Sequence[str]) -> Frame:
    """Return rows with their place among those alike: two that say the same are two."""
    return rows.with_columns(pl.int_range(pl.len()).over(by).alias("ordinal"))


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
