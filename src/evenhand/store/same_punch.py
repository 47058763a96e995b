"""Which rows of a file are presentations that are stored already, whatever the file tells of them, and which are new.

Two rows under one number at one reader are the same presentation where they lie in the same second, or in the same
minute where one of the two says no seconds, and where neither contradicts the other: what a row does not say
(direction, outcome, score) is no difference.

Rows that contradict each other are two presentations wherever there can be two: within a minute a hand is laid down
twice often enough. Within one and the same second it is not: there, what was stored first stands. A second of 00
proves nothing, since clocks that keep whole minutes write it.
"""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from evenhand.store.pairing import pair
from evenhand.store.runs import SAID, in_time, waves
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.tables import PUNCH_SHIFT

__all__ = ["DETAILS", "Matched", "lay_over", "match"]

INSTANT = "s since 1970-01-01T00:00:00Z"

DETAILS = Table(
    "punch_details",
    "What a later export tells of a stored punch beyond what was known; empty where it adds nothing",
    (
        Column("punch", "count", "The stored punch", required=True),
        Column("take", "count", "The taking that tells it", required=True),
        Column("at", "instant", "When, to the second, where no seconds were known", unit=INSTANT),
        Column("direction", "text", "Which way", allowed=("in", "out")),
        Column("outcome", "text", "Whether the hand was accepted", allowed=("accepted", "refused")),
        Column("score", "score", "The comparison score"),
    ),
    key=("punch", "take"),
)
ADDED = ("at", *SAID)
KEY = ["group", "at", "direction", "outcome"]


@dataclass(frozen=True)
class Matched:
    """What becomes of a file's rows.

    `fresh` are those to be stored: the file's columns, `line`, and `ordinal`, which counts what is alike in the store's
    key, in about the order of that key. `details` (DETAILS, take 0) are to be laid over what is stored; the punch of a
    fresh row is its line. `enriched` counts the rows that add to a punch, `differing` those that say otherwise than
    the punch that stands.
    """

    fresh: Frame
    details: Frame
    enriched: int
    differing: int


def match(rows: Frame, stored: Frame, details: Frame, *, to_minute: bool) -> Matched:
    """Match a file's `rows` (PUNCHES and `line`, as the file has them) to what is stored.

    `stored` (RECORDED and `to_minute`) holds at least every punch of the rows' readers, numbers and minutes, as it was
    stored, `details` (DETAILS) what is laid over them. `to_minute` says that the file tells no seconds.
    """
    if rows.is_empty():
        return Matched(rows.with_columns(ordinal=pl.lit(0, pl.Int64)), DETAILS.empty(), 0, 0)
    coded, before = _coded(rows, stored, to_minute=to_minute)
    known = lay_over(before, details)
    fresh: list[Frame] = []
    added: list[Frame] = []
    enriched = differing = 0
    for wave in waves(coded):
        now = _with(known, fresh, added, wave) if fresh else known
        pairs = pair(wave, now)
        found = _added(wave, now, pairs)
        enriched, differing = enriched + found.height, differing + int(pairs["differs"].sum())
        added.append(found)
        fresh.append(wave.join(pairs, on="row", how="anti", maintain_order="left"))
    return Matched(_in_order_of_the_key(rows, pl.concat(fresh), before), _joined(pl.concat(added)), enriched, differing)


def lay_over(punches: Frame, details: Frame) -> Frame:
    """Return punches (`punch`, `at`, SAID and others) with what the details tell of them, in the same order.

    Where there is a column `to_minute`, it is false for a punch whose second the details tell.
    """
    if details.is_empty():
        return punches
    known = punches.join(_joined(details), on="punch", how="left", suffix="_told", maintain_order="left")
    columns = [pl.coalesce("at_told", "at").alias("at")]
    columns += [pl.coalesce(name, f"{name}_told").alias(name) for name in SAID]
    if "to_minute" in punches.columns:
        columns.append((pl.col("to_minute") & pl.col("at_told").is_null()).alias("to_minute"))
    return known.with_columns(columns).select(punches.columns)


def _joined(details: Frame) -> Frame:
    """Return one row for each punch (DETAILS); the first that tells something counts."""
    if not details["punch"].is_duplicated().any():
        return details
    told = (pl.col(name).drop_nulls().first() for name in ("take", *ADDED))
    return details.sort("punch", "take").group_by("punch", maintain_order=True).agg(told)


def _coded(rows: Frame, stored: Frame, *, to_minute: bool) -> tuple[Frame, Frame]:
    """Return rows, and the stored punches of their groups, in order of time, with `group` and readers as codes.

    Codes are in the order of the texts, and take a fraction of the time that texts take. A group is one number in one
    minute at one reader.
    """
    readers, numbers = (pl.Enum(rows[name].unique().sort()) for name in ("reader", "number"))
    first, last = rows.select(first=pl.col("at").min() // 60, last=pl.col("at").max() // 60).row(0)
    minutes = last - first + 1
    if len(readers.categories) * len(numbers.categories) * minutes >= 1 << 63:
        raise OverflowError("more readers, numbers and minutes than can be told apart")

    def code(frame: Frame) -> Frame:
        frame = in_time(
            frame.with_columns(
                pl.col(name).cast(of, strict=False).to_physical().cast(pl.Int64)
                for name, of in (("reader", readers), ("number", numbers))
            )
        ).drop_nulls(["reader", "number"])
        who = pl.col("reader") * len(numbers.categories) + pl.col("number")
        return frame.with_columns(group=who * minutes + (pl.col("at") // 60 - first))

    told = rows.with_columns(
        row=pl.int_range(pl.len(), dtype=pl.Int64), take=pl.lit(0, pl.Int64), to_minute=pl.lit(value=to_minute)
    )
    coded = code(told)
    before = code(stored.sort("punch").with_columns(take=pl.col("punch") // (1 << PUNCH_SHIFT)))
    before = before.filter(pl.col("at").is_between(first * 60, last * 60 + 59))
    before = before.join(coded, on="group", how="semi", maintain_order="left")
    return coded, before.select("punch", "take", "reader", "group", "at", "to_minute", *SAID)


def _with(known: Frame, fresh: list[Frame], added: list[Frame], wave: Frame) -> Frame:
    """Return what is known of the groups of `wave`, with what the waves before it brought."""
    before = pl.concat(fresh).with_columns(punch=pl.col("line")).select(known.columns)
    here = (frame.join(wave, on="group", how="semi", maintain_order="left") for frame in (known, before))
    return lay_over(pl.concat(here), pl.concat(added))


def _added(wave: Frame, known: Frame, pairs: Frame) -> Frame:
    """Return what the paired rows tell beyond what is known (DETAILS)."""
    both = pairs.join(wave, on="row").join(known, on="punch", suffix="_known")
    second = pl.when(pl.col("to_minute_known") & ~pl.col("to_minute")).then("at").alias("at")
    said = (pl.when(pl.col(f"{name}_known").is_null()).then(name).alias(name) for name in SAID)
    told = both.select("punch", pl.lit(0, pl.Int64).alias("take"), second, *said)
    return DETAILS.check(told.filter(pl.any_horizontal(pl.col(name).is_not_null() for name in ADDED)))


def _in_order_of_the_key(rows: Frame, fresh: Frame, before: Frame) -> Frame:
    ordered = fresh.sort("reader", "at", "number", maintain_order=True)
    stored = before.join(fresh, on="group", how="semi").select(*KEY, row=pl.lit(None, pl.Int64))
    # Only rows that share their group can be alike; numbering all of a million takes longer than finding these.
    shared = pl.col("group").is_duplicated() | pl.col("group").is_in(stored["group"].implode())
    alike = pl.concat([stored, ordered.filter(shared).select(*KEY, "row")])
    numbered = alike.with_columns(ordinal=pl.int_range(pl.len()).over(KEY)).drop_nulls("row")
    placed = ordered.select("row").join(numbered, on="row", how="left", maintain_order="left")
    return rows[ordered["row"]].with_columns(placed["ordinal"].fill_null(0))
