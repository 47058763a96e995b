"""Hold corrections to the presentation they were made on, under whatever number it is stored.

A punch's number names its take and its line. Where a take is taken back or read again, the same presentation may stand
under another number, of a file that overlaps it, or nowhere; then the correction hangs until it is back.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any

import polars as pl
import sqlalchemy as sa

from evenhand.store.parts import read_parts
from evenhand.store.punches import IDENTITY
from evenhand.store.standing import decisions_made, standing
from evenhand.store.tables import PUNCH_SHIFT, STORED
from evenhand.store.whole_columns import read_columns
from evenhand.store.written import add_rows
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.tables import CORRECTIONS

__all__ = ["CORRECTED", "keep_presentations", "placed"]

INSTANT = "s since 1970-01-01T00:00:00Z"
CORRECTED = Table(
    "corrected",
    "The presentations that corrections were made on, each with the punch that it is now",
    (
        Column("correction", "count", "The correction", required=True),
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "The number keyed", required=True),
        Column("at", "instant", "When", required=True, unit=INSTANT),
        Column("punch", "count", "The punch that is this presentation now; empty where it is not stored"),
    ),
    key=("correction",),
)
SAID = ("at", "direction", "outcome", "ordinal")
CANDIDATES = Table(
    "candidates",
    "For each presentation that was corrected the punches near it, one a row",
    (
        *CORRECTED.columns[:4],
        Column("direction", "text", "Which way; empty where it was not said", required=True),
        Column("outcome", "text", "Whether the hand was accepted; empty where it was not said", required=True),
        Column("ordinal", "count", "Its place among those that say the same", required=True),
        CORRECTED.columns[4],
        Column("at_now", "instant", "When the punch was", unit=INSTANT),
        Column("direction_now", "text", "Which way it went; empty where it is not said"),
        Column("outcome_now", "text", "Whether it was accepted; empty where it is not said"),
        Column("ordinal_now", "count", "Its place among those that say the same"),
    ),
)
MINUTE_S = 60
LINE = (1 << PUNCH_SHIFT) - 1


def keep_presentations(conn: sa.Connection, made_on: Mapping[int, int]) -> None:
    """Keep beside each correction the punch that it was made on; nothing where that is not stored."""
    punches = sorted(set(made_on.values()))
    takes = sorted({punch >> PUNCH_SHIFT for punch in punches})
    of_takes = read_parts(conn, STORED["punch_parts"].c["take"].in_(takes))
    stored = STORED["punches"].c
    identities: dict[int, dict[str, Any]] = {}
    for row in of_takes.filter(pl.col("punch").is_in(punches)).iter_rows(named=True):
        same = [stored[name] == row[name] for name in ("reader", "at", "number")]
        same += [stored["take"] == row["punch"] >> PUNCH_SHIFT, stored.line == row["punch"] & LINE]
        identity = conn.execute(sa.select(*(stored[name] for name in IDENTITY)).where(*same)).mappings().one()
        identities[row["punch"]] = dict(identity)
    kept = [
        {"correction": correction, **identities[punch]} for correction, punch in made_on.items() if punch in identities
    ]
    add_rows(conn, "corrected_punches", kept)


def placed(conn: sa.Connection, corrections: Frame) -> tuple[Frame, Frame]:
    """Return `corrections` (CORRECTIONS) under the numbers that their punches have now, and those that hang.

    A correction holds on to the same take and line where that is stored, and is a line of the same sheet, else to the
    same presentation. One that hangs is under a number that no punch has; it is returned as CORRECTED.
    """
    if not decisions_made(conn):  # nothing that was stored has ever gone
        return corrections, CORRECTED.empty()
    made_on = _made_on(conn)
    if made_on.is_empty():
        return corrections, made_on
    told = corrections.select("correction", "made_at", was="punch").join(made_on, on="correction")
    unsure = told.filter(pl.col("punch").ne_missing(pl.col("was")))
    takes = (unsure["was"] // (1 << PUNCH_SHIFT)).unique().to_list()
    still = (
        read_parts(conn, STORED["punch_parts"].c["take"].in_(takes))["punch"]
        if takes
        else pl.Series([], dtype=pl.Int64)
    )
    is_there = pl.col("was").is_in(still.implode())
    elsewhere = _of_another_sheet(conn, unsure.filter(is_there))
    moved = unsure.filter(~is_there | pl.col("correction").is_in(elsewhere))
    # What stands on the line of a sheet now that was not read then must not be corrected: take 0 is nobody's.
    now = moved.select("correction", now=pl.coalesce("punch", pl.col("was") % (1 << PUNCH_SHIFT)))
    hanging = moved.filter(pl.col("punch").is_null()).select(CORRECTED.names)
    under = corrections.join(now, on="correction", how="left", maintain_order="left")
    return CORRECTIONS.check(under.with_columns(punch=pl.coalesce("now", "punch")).drop("now")), hanging


def _of_another_sheet(conn: sa.Connection, made: Frame) -> list[int]:
    """Return the corrections that were made when another sheet of the take's workbook was read than is now.

    `made` has `correction`, `made_at` and the punch each `was` made on. A line is one of its sheet.
    """
    if made.is_empty():
        return []
    decided = STORED["take_decisions"].c
    again = conn.execute(
        sa.select(decided["take"], decided.made_at, decided.layout)
        .where(decided.action == "again", decided.layout.is_not(None))
        .order_by(decided.decision)
    ).all()
    stands = {one.take: one for one in standing(conn)}
    found = []
    for correction, made_at, was in made.select("correction", "made_at", "was").iter_rows():
        one = stands[was >> PUNCH_SHIFT]
        before = [layout for take, at, layout in again if take == one.take and at < made_at]
        then = before[-1] if before else one.first_layout
        if _sheet(then) != _sheet(one.layout):
            found.append(correction)
    return found


def _sheet(layout: str | None) -> str:
    return str(tomllib.loads(layout or "").get("sheet", ""))


def _made_on(conn: sa.Connection) -> Frame:
    """Return every presentation that was corrected (CORRECTED)."""
    kept, stored = STORED["corrected_punches"].c, STORED["punches"].c
    minute = kept.at - kept.at % MINUTE_S
    near = sa.and_(
        kept.reader == stored.reader,
        stored.at.between(minute, minute + MINUTE_S - 1),
        kept.number == stored.number,
    )
    now = STORED["corrected_punches"].outerjoin(STORED["punches"], near)
    punch = (stored["take"] * (1 << PUNCH_SHIFT) + stored.line).label("punch")
    others = (stored[name].label(f"{name}_now") for name in SAID)
    query = sa.select(*kept, punch, *others).select_from(now)
    return _same(read_columns(conn, CANDIDATES, query))


def _same(candidates: Frame) -> Frame:
    """Return each presentation (CORRECTED) with the one punch that is the same, of those near it (CANDIDATES).

    That is one that says all the same, else the only one that contradicts it in nothing; a full minute contradicts no
    second in it, since exports without seconds write that.
    """
    is_exact = pl.all_horizontal(pl.col(name) == pl.col(f"{name}_now") for name in SAID)
    is_full_minute = (pl.col("at") % MINUTE_S == 0) | (pl.col("at_now") % MINUTE_S == 0)
    agrees = [(pl.col("at") == pl.col("at_now")) | is_full_minute]
    for name in ("direction", "outcome"):
        agrees.append((pl.col(name) == pl.col(f"{name}_now")) | (pl.col(name) == "") | (pl.col(f"{name}_now") == ""))
    alike = candidates.filter(pl.all_horizontal(agrees)).with_columns(is_exact.alias("is_exact"))
    best = alike.filter(pl.col("is_exact") | ~pl.col("is_exact").any().over("correction"))
    only = best.filter(pl.len().over("correction") == 1).select("correction", "punch")
    made_on = candidates.select("correction", "reader", "number", "at").unique("correction")
    return made_on.join(only, on="correction", how="left").select(CORRECTED.names).sort("correction")
