"""The columns of the decision log, and what its parts share: days and counts in words, what was taken back by what."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import polars as pl

from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.languages import sentence

__all__ = ["LOG", "LOG_KINDS", "counted_in_words", "day_in_words", "is_last", "logged", "taken_back"]

_INSTANT = "s since 1970-01-01T00:00:00Z"
LOG_KINDS = (
    sentence("correction"),
    sentence("attribution"),
    sentence("hours owed"),
    sentence("settlement"),
    sentence("consent"),
    sentence("sign-off"),
    sentence("dispute"),
    sentence("suggestion"),
    sentence("hand-off"),
    sentence("file"),
    sentence("legal hold"),
    sentence("erasure"),
    sentence("round"),
    sentence("teaching"),
    sentence("settings"),
)

LOG = Table(
    "decision_log",
    "Every decision, the newest first; what was decided alike at one time is one row",
    (
        Column("kind", "text", "Of which kind", required=True, allowed=LOG_KINDS),
        Column("table", "text", "The table of the store that it stands in", required=True),
        Column("number", "text", "Its running number or name there; the last, where it is of several", required=True),
        Column("count", "count", "How many rows it is of", required=True),
        Column("made_at", "instant", "When it was made", required=True, unit=_INSTANT),
        Column("author", "text", "Who decided; empty for files of settings, of which nobody says so"),
        Column("person", "text", "Of whom, where it is of one person"),
        Column("reader", "text", "At which reader, where it is at one"),
        Column("about", "text", "What it is about: a stray, a finding's key, a file, a round"),
        Column("day", "date", "The civil day that it is about, where it is one"),
        Column("says", "text", "What was decided", required=True),
        Column("reason", "text", "Why, where that was said"),
        Column("stands", "yes_no", "Whether it stands; empty where nothing takes it back"),
        Column("taken_back_by", "text", "The number of what took it back, or overtook it"),
    ),
)


def logged(rows: Frame, kind: str | pl.Expr, table: str, number: str, **told: Any) -> Frame:
    """Return rows of a table (with `made_at`) as LOG; `told` are its other columns, those not given are empty."""
    given = {
        "kind": pl.lit(kind) if isinstance(kind, str) else kind,
        "table": pl.lit(table),
        "number": pl.col(number).cast(pl.String),
        "count": pl.lit(1),
        "made_at": pl.col("made_at"),
    } | told
    return rows.select(
        (pl.lit(None) if given.get(name) is None else given[name]).cast(dtype).alias(name)
        for name, dtype in LOG.schema.items()
    )


def day_in_words(column: str) -> pl.Expr:
    """Return a date as pages write it, such as `Wed 4 Mar 2026`."""
    return pl.col(column).dt.strftime("%a %-d %b %Y")


def counted_in_words(one: str, many: str) -> pl.Expr:
    """Return the column `count` with its noun; of one, the noun alone."""
    return pl.when(pl.col("count") == 1).then(pl.lit(one)).otherwise(pl.format("{} " + many, "count"))


def taken_back(pairs: Mapping[int, int]) -> dict[int, int]:
    """Return which rows count no longer, with the row that took each back; `pairs` are what such rows take back.

    A row that takes one back may be taken back itself, by a later one: then the first stands again.
    """
    found: dict[int, int] = {}
    for number in sorted(pairs, reverse=True):
        if number not in found:
            found[pairs[number]] = number
    return found


def is_last(*keys: str, number: str) -> pl.Expr:
    """Return whether a row is the last word on what its keys name."""
    return pl.col(number) == pl.col(number).max().over(keys)
