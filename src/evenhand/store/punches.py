"""Store the punches of a file, each once, however often and in whatever overlap files bring them."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import polars as pl
import sqlalchemy as sa

from evenhand.store.bulk import insert_rows
from evenhand.store.parts import add_parts
from evenhand.store.tables import PUNCH_SHIFT, STORED
from evenhand.store.whole_columns import read_columns
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.tables import RECORDED

__all__ = ["IDENTITY", "add_columns", "clear", "identified", "publish", "stage"]

IDENTITY = ("reader", "at", "number", "direction", "outcome", "ordinal")
STAGED = (*IDENTITY, "score", "line")
LINES = Table("lines", "Lines of a file", (Column("line", "count", "The line", required=True),))


def identified(frame: Frame, lines: npt.NDArray[np.int64]) -> Frame:
    """Return the STAGED columns of a PUNCHES frame, sorted by identity; `lines` is each row's line in the file.

    `ordinal` counts identical rows within one run of a reader's log, from 0; a run ends where the reader's time
    steps back. So a hand laid down twice within the reader's clock resolution stays two punches, while a second
    export of the same days, in another file or appended to the first, repeats the ordinals and adds nothing.
    """
    texts = [pl.col(name).fill_null("") for name in ("direction", "outcome")]
    rows = frame.with_columns(*texts, pl.Series("line", lines))
    # Sorting small codes takes a fraction of the time that sorting texts takes.
    coded = rows.with_columns(_code(rows, name) for name in ("reader", "number", "direction", "outcome"))
    coded = coded.with_row_index("row").sort("reader", maintain_order=True)
    steps_back = (pl.col("at") < pl.col("at").shift()) & (pl.col("reader") == pl.col("reader").shift())
    coded = coded.with_columns(run=steps_back.fill_null(value=False).cum_sum())
    identity = ["reader", "at", "number", "direction", "outcome", "run"]
    coded = coded.sort(*identity, maintain_order=True)
    first = pl.any_horizontal(pl.col(name) != pl.col(name).shift() for name in identity).fill_null(value=True)
    place = pl.int_range(pl.len(), dtype=pl.Int64)
    ordinal = (place - pl.when(first).then(place).forward_fill()).alias("ordinal")
    coded = coded.select("row", ordinal)
    return rows[coded["row"]].with_columns(coded["ordinal"]).select(STAGED)


def stage(conn: sa.Connection, rows: Frame) -> None:
    """Lay identified rows in a table that only this connection sees and that dies with it, without any lock."""
    clear(conn)
    conn.exec_driver_sql(
        "CREATE TEMPORARY TABLE staged_punches (reader text, at bigint, number text, direction text, outcome text, "
        "ordinal bigint, score double precision, line bigint)"
    )
    insert_rows(conn, "staged_punches", rows)


def publish(conn: sa.Connection, take: int) -> int:
    """Store the staged rows that are not stored yet, as part of `take`, and return how many they were."""
    names = ", ".join((*STAGED, "take"))
    # "WHERE true" keeps SQLite from reading ON as the beginning of a join.
    result = conn.execute(
        sa.text(
            f"INSERT INTO {STORED['punches'].name} ({names}) SELECT {', '.join(STAGED)}, :take FROM staged_punches "
            "WHERE true ON CONFLICT DO NOTHING"
        ),
        {"take": take},
    )
    return int(result.rowcount)


def add_columns(conn: sa.Connection, take: int, rows: Frame, taken: int) -> None:
    """Write the columns of the staged `rows`, of which `publish` stored `taken`, beside them."""
    if taken < rows.height:
        stored = STORED["punches"].c
        of_take = sa.select(stored.line).where(stored["take"] == take)
        # Named with the key's first columns, the search reads the file's span of each reader and not every punch.
        span = (
            stored.reader.in_(rows["reader"].unique().to_list()),
            stored.at.between(rows["at"].min(), rows["at"].max()),
        )
        rows = rows.join(read_columns(conn, LINES, of_take.where(*span)), on="line", how="semi")
    texts = (pl.when(pl.col(name) != "").then(pl.col(name)) for name in ("direction", "outcome"))
    punch = pl.lit(take << PUNCH_SHIFT, pl.Int64) + pl.col("line")
    add_parts(conn, rows.with_columns(*texts, punch=punch).select(RECORDED.names))


def clear(conn: sa.Connection) -> None:
    """Drop what was staged."""
    conn.exec_driver_sql("DROP TABLE IF EXISTS staged_punches")


def _code(rows: Frame, name: str) -> pl.Expr:
    values = rows[name].unique().sort()
    return pl.col(name).cast(pl.Enum(values)).to_physical()
