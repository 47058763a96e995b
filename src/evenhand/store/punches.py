"""Store the punches of a file, each once, however often, in whatever overlap and however fully files tell of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import polars as pl
import sqlalchemy as sa

from evenhand.store.bulk import insert_rows
from evenhand.store.parts import add_parts, read_details, read_parts
from evenhand.store.same_punch import Matched, match
from evenhand.store.sealed import whole_of
from evenhand.store.tables import PUNCH_SHIFT, STORED
from evenhand.store.written import Whole, note_takes
from evenhand.terms.columns import Frame
from evenhand.terms.tables import RECORDED

__all__ = ["IDENTITY", "Prepared", "Published", "clear", "prepare", "publish"]

IDENTITY = ("reader", "at", "number", "direction", "outcome", "ordinal")
STAGED = (*IDENTITY, "score", "line")
# The type of each column laid beside the store; a punch of the file itself is named by its line until it is stored.
BESIDE = {
    "staged_punches": "reader text, at bigint, number text, direction text, outcome text, ordinal bigint, "
    "score double precision, line bigint",
    "staged_details": "punch bigint, at bigint, direction text, outcome text, score double precision",
}


@dataclass(frozen=True)
class Published:
    """What became of a file's punches: `taken` are stored now, `known` were there already.

    Of the known ones, `enriched` say more than was known of their punch, and `differing` contradict the punch of their
    second, which stands.
    """

    taken: int
    known: int
    enriched: int
    differing: int


@dataclass(frozen=True)
class Prepared:
    """A file's punches, matched to what was stored at a state of the store and laid beside it.

    `whole` is the digest of those that are new, by which the ledger seals them.
    """

    frame: Frame
    lines: npt.NDArray[np.int64]
    to_minute: bool
    matched: Matched
    whole: Whole
    state: tuple[int, ...]


def prepare(
    conn: sa.Connection, frame: Frame, lines: npt.NDArray[np.int64], take: int = 0, *, to_minute: bool = False
) -> Prepared:
    """Match a file's PUNCHES to what is stored now, and lay what is new in tables that only this connection sees.

    `lines` is each row's line in the file, `take` the number it has where it has one already; `to_minute` says that the
    file tells no seconds. That takes no lock, so that others can write meanwhile.

    What is stored for a number at a reader in a minute follows from the takes that tell of it, in their order. So a
    take is folded anew where an earlier one that shares a reader and a minute with it has changed.
    """
    rows = frame.with_columns(pl.Series("line", lines))
    stored = read_parts(conn, *_around(rows), is_sorted=False)
    stored = stored.with_columns(to_minute=_takes_to_minute(conn, stored))
    matched = match(rows, stored, read_details(conn, stored["punch"]), to_minute=to_minute)
    clear(conn)
    for name, columns in BESIDE.items():
        conn.exec_driver_sql(f"CREATE TEMPORARY TABLE {name} ({columns})")
    unsaid = (pl.col(name).fill_null("") for name in ("direction", "outcome"))
    staged = matched.fresh.with_columns(unsaid).select(STAGED)
    insert_rows(conn, "staged_punches", staged)
    insert_rows(conn, "staged_details", matched.details.drop("take"))
    return Prepared(frame, lines, to_minute, matched, whole_of(staged.sort("line")), _state(conn, take))


def publish(conn: sa.Connection, take: int, prepared: Prepared) -> Published:
    """Store what was prepared as part of `take`, in the caller's transaction.

    Where others have taken punches since, it is matched again, while they wait.
    """
    if prepared.state != _state(conn, take):
        prepared = prepare(conn, prepared.frame, prepared.lines, take, to_minute=prepared.to_minute)
    matched, names = prepared.matched, ", ".join(STAGED)
    conn.execute(
        sa.text(f"INSERT INTO punches ({names}, take) SELECT {names}, :take FROM staged_punches"), {"take": take}
    )
    punch = pl.lit(take << PUNCH_SHIFT, pl.Int64) + pl.col("line")
    add_parts(conn, matched.fresh.with_columns(punch=punch).select(RECORDED.names))
    if matched.fresh.height:
        note_takes(conn, "punches", [take], {take: prepared.whole})
    conn.execute(
        sa.text(
            "INSERT INTO punch_details (punch, take, at, direction, outcome, score) "
            "SELECT CASE WHEN punch < :shifted THEN punch + :own ELSE punch END, :take, at, direction, outcome, score "
            "FROM staged_details"
        ),
        {"take": take, "own": take << PUNCH_SHIFT, "shifted": 1 << PUNCH_SHIFT},
    )
    if matched.details.height:
        own = pl.when(pl.col("punch") < 1 << PUNCH_SHIFT).then(take << PUNCH_SHIFT).otherwise(0)
        details = matched.details.drop("take").with_columns(pl.col("punch") + own).sort("punch")
        note_takes(conn, "punch_details", [take], {take: whole_of(details)})
    taken = matched.fresh.height
    return Published(taken, prepared.frame.height - taken, matched.enriched, matched.differing)


def clear(conn: sa.Connection) -> None:
    """Drop what was laid beside the store."""
    for name in BESIDE:
        conn.exec_driver_sql(f"DROP TABLE IF EXISTS {name}")


def _around(rows: Frame) -> tuple[sa.ColumnElement[bool], ...]:
    """Return the bounds of the parts that may hold a punch of a row's reader and minute."""
    parts = STORED["punch_parts"].c
    first, last = rows["at"].min(), rows["at"].max()
    if first is None or last is None:
        return (sa.false(),)
    return (
        parts.reader.in_(rows["reader"].unique().to_list()),
        parts.last_at >= first // 60 * 60,  # type: ignore[operator]
        parts.first_at < last // 60 * 60 + 60,  # type: ignore[operator]
    )


def _takes_to_minute(conn: sa.Connection, punches: Frame) -> pl.Series:
    takes = STORED["takes"].c
    flagged = conn.scalars(sa.select(takes["take"]).where(takes.to_minute == 1)).all()
    return (punches["punch"] // (1 << PUNCH_SHIFT)).is_in(list(flagged))


def _state(conn: sa.Connection, take: int) -> tuple[int, ...]:
    """Return what changes whenever the punches of other takes than `take` do."""
    takes, decisions, latest = STORED["takes"].c, STORED["take_decisions"].c, sa.func.max
    others = conn.scalar(sa.select(latest(takes["take"])).where(takes["take"] != take))
    erased = conn.scalar(sa.select(latest(STORED["erasures"].c.erasure)))
    return others or 0, conn.scalar(sa.select(latest(decisions.decision))) or 0, erased or 0
