"""The one place where rows become frames."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import Any

import numpy as np
import polars as pl
import sqlalchemy as sa

from evenhand.store import kept
from evenhand.store.tables import KEYED, STORED
from evenhand.terms.columns import Frame, Kind, Table
from evenhand.terms.rounds import OUTCOMES, ROUND_ITEMS, ROUNDS
from evenhand.terms.tables import CORRECTIONS, RECORDED

__all__ = [
    "changes",
    "consent",
    "corrections",
    "earnings",
    "enrolments",
    "handoffs",
    "keyed",
    "outcomes",
    "people",
    "rates",
    "readers",
    "recorded",
    "recorded_punch",
    "revision",
    "round_items",
    "rounds",
    "schedules",
    "settled",
    "takes",
]

PUNCH_SHIFT = 32
GROWING = ("takes", "corrections", "settled", "handoffs", "rounds", "outcomes")
CHUNK = 20_000


def people(conn: sa.Connection) -> Frame:
    """Return the roster, by person."""
    return keyed(conn, KEYED["people"])


def readers(conn: sa.Connection) -> Frame:
    """Return the readers, by name."""
    return keyed(conn, KEYED["readers"])


def enrolments(conn: sa.Connection) -> Frame:
    """Return the enrolments that the readers list now, by reader and number."""
    gone = STORED["enrolments"].c.gone
    return keyed(conn, KEYED["enrolments"], gone.is_(None))


def schedules(conn: sa.Connection, since: int | None = None, until: int | None = None) -> Frame:
    """Return the schedules, by person and start; those that end after `since` and start before `until`."""
    stored = STORED["schedules"].c
    bounds = [] if since is None else [stored.ends_at > since]
    if until is not None:
        bounds.append(stored.starts_at < until)
    return keyed(conn, KEYED["schedules"], sa.and_(*bounds) if bounds else None)


def consent(conn: sa.Connection) -> Frame:
    """Return the consents, by person and day."""
    return keyed(conn, KEYED["consent"])


def rates(conn: sa.Connection) -> Frame:
    """Return what people are paid by, by person, first day and reader."""
    return keyed(conn, KEYED["rates"])


def earnings(conn: sa.Connection) -> Frame:
    """Return what was earned beside the hours, by person and first day."""
    return keyed(conn, KEYED["earnings"])


def corrections(conn: sa.Connection) -> Frame:
    """Return the corrections, in the order they were made."""
    return keyed(conn, CORRECTIONS)


def takes(conn: sa.Connection) -> Frame:
    """Return the files taken (TAKES), in order."""
    return keyed(conn, kept.TAKES)


def changes(conn: sa.Connection) -> Frame:
    """Return what rows said before they were changed (CHANGES), in order."""
    return keyed(conn, kept.CHANGES)


def settled(conn: sa.Connection) -> Frame:
    """Return the findings answered (SETTLED), in order."""
    return keyed(conn, kept.SETTLED)


def handoffs(conn: sa.Connection) -> Frame:
    """Return the files handed to payroll (HANDOFFS), in order."""
    return keyed(conn, kept.HANDOFFS)


def rounds(conn: sa.Connection) -> Frame:
    """Return the rounds (ROUNDS), by name."""
    return keyed(conn, ROUNDS)


def round_items(conn: sa.Connection, round_name: str | None = None) -> Frame:
    """Return the items (ROUND_ITEMS) of one round, or of all, by item."""
    stored = STORED["round_items"].c.round
    return keyed(conn, ROUND_ITEMS, None if round_name is None else stored == round_name)


def outcomes(conn: sa.Connection, round_name: str | None = None) -> Frame:
    """Return the outcomes (OUTCOMES) of one round, or of all, by outcome."""
    items = STORED["round_items"]
    of_round = sa.select(items.c.item).where(items.c.round == round_name)
    return keyed(conn, OUTCOMES, None if round_name is None else STORED["outcomes"].c.item.in_(of_round))


def revision(conn: sa.Connection) -> tuple[int, ...]:
    """Return what changes whenever a file is taken or somebody decides something: the heights of what only grows."""
    heights = (sa.select(sa.func.count()).select_from(STORED[name]).scalar_subquery() for name in GROWING)
    return tuple(conn.execute(sa.select(*heights)).one())


def keyed(conn: sa.Connection, table: Table, where: sa.ColumnElement[bool] | None = None) -> Frame:
    """Return the stored rows of `table` in the order of its key, with exactly its declared columns."""
    stored = STORED[table.name]
    query = sa.select(*(stored.c[name] for name in table.names)).order_by(*(stored.c[name] for name in table.key))
    chunks = _chunks(conn, query if where is None else query.where(where))
    return pl.concat([table.empty(), *(_frame(table, columns) for columns in chunks)])


def recorded(
    conn: sa.Connection,
    since: int | None = None,
    until: int | None = None,
    *,
    numbers: Collection[str] | None = None,
    punches: Collection[int] = (),
) -> Frame:
    """Return the punches from `since` on and before `until` [s since 1970-01-01T00:00:00Z], by reader and time.

    Where `numbers` are given, only the punches under them, and those that `punches` names.
    """
    stored = STORED["punches"].c
    bounds = [] if since is None else [stored.at >= since]
    if until is not None:
        bounds.append(stored.at < until)
    if numbers is not None:
        named = [_is_punch(punch) for punch in punches]
        bounds.append(sa.or_(stored.number.in_(list(numbers)), *named))
    return _recorded(conn, bounds)


def recorded_punch(conn: sa.Connection, punch: int) -> Frame:
    """Return the one punch of this number (RECORDED); no row where there is none."""
    return _recorded(conn, [_is_punch(punch)])


def _is_punch(punch: int) -> sa.ColumnElement[bool]:
    stored = STORED["punches"].c
    return sa.and_(stored.take == punch >> PUNCH_SHIFT, stored.line == punch & (1 << PUNCH_SHIFT) - 1)


def _recorded(conn: sa.Connection, bounds: Sequence[sa.ColumnElement[bool]]) -> Frame:
    punches, listed = STORED["punches"], STORED["readers"]
    names = ["take", "line", "reader", "number", "at", "direction", "outcome", "score"]
    # Ordered by the readers' own key, the search goes reader by reader and finds each one's span in the key
    # (reader, at) of the punches; ordered by the punches' column, SQLite would read all of them.
    query = (
        sa.select(*(punches.c[name] for name in names))
        .select_from(listed.join(punches, sa.and_(punches.c.reader == listed.c.reader, *bounds)))
        .order_by(listed.c.reader, punches.c.at)
    )
    chunks = (dict(zip(names, columns, strict=True)) for columns in _chunks(conn, query))
    frame = pl.concat([RECORDED.empty(), *(_recorded_frame(columns) for columns in chunks)])
    # Within one instant of a reader the file's own order says what came first.
    return frame.sort("reader", "at", "punch")


def _recorded_frame(columns: dict[str, tuple[Any, ...]]) -> Frame:
    take, line = (np.array(columns.pop(name), dtype=np.int64) for name in ("take", "line"))
    frame = RECORDED.frame({"punch": take << PUNCH_SHIFT | line, **columns})
    return frame.with_columns(pl.when(pl.col(name) != "").then(pl.col(name)) for name in ("direction", "outcome"))


def _chunks(conn: sa.Connection, query: sa.Select[Any]) -> Iterator[list[tuple[Any, ...]]]:
    """Yield the answer column by column, straight from the driver, some rows at a time so that few are held."""
    cursor = conn.execute(query).cursor
    assert cursor is not None
    while rows := cursor.fetchmany(CHUNK):
        yield list(zip(*rows, strict=True))


def _frame(table: Table, columns: list[tuple[Any, ...]]) -> Frame:
    return table.frame({of.name: _series(of.kind, column) for of, column in zip(table.columns, columns, strict=True)})


def _series(kind: Kind, values: tuple[Any, ...]) -> pl.Series:
    series = pl.Series(values, strict=False)
    return series.cast(pl.String).str.to_date("%Y-%m-%d") if kind == "date" else series
