"""Rows of a file against those stored under the same keys: what is new, what changes, what is listed no longer."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import polars as pl

from evenhand.store.roster import identified_since
from evenhand.terms.columns import Frame, Table

__all__ = ["MissingRows", "RowChanges", "compare_rows", "missing_rows"]


@dataclass(frozen=True)
class RowChanges:
    """What the rows of a file change.

    `added` are rows that are new, `changed` those that say something else in one of `columns`, or are listed again,
    with the stored values under `<column>_before`; `gone` are stored rows that are listed no longer, and `identified`
    those of `gone` that stood under their numbers and have an identifier now, which is in `known_as`. `left_out` counts
    whom a list of people does not name that is a part of the roster: they stay listed.
    """

    added: Frame
    changed: Frame
    gone: Frame
    identified: Frame
    columns: tuple[str, ...]
    left_out: int = 0


def compare_rows(
    table: Table, before: Frame, frame: Frame, given: Collection[str], *, is_whole: bool = True, roster: str = ""
) -> RowChanges:
    """Return what `frame`, whose keys are unique, changes of the stored rows `before`, see `stored_rows`.

    About the columns that are not in `given` the file says nothing. What a list that is not `is_whole` does not name
    may have been on a row that was refused. `roster` is what was said of a list of people, see `missing_rows`.
    """
    columns = tuple(name for name in table.names if name in given and name not in table.key)
    met = frame.join(before, on=table.key, suffix="_before", maintain_order="left")
    differs = [pl.col(name).ne_missing(pl.col(f"{name}_before")) for name in columns]
    changed = met.filter(pl.any_horizontal(*differs, pl.col("gone").is_not_null()))
    added = frame.join(before, on=table.key, how="anti", maintain_order="left")
    identified = _named_now(table, before.filter(pl.col("gone").is_null()), frame, given)
    gone, left_out = identified.select(before.columns), 0
    if is_whole and table.name in ("enrolments", "people"):
        missing = missing_rows(table, before, frame, given, roster)
        gone = gone if missing.is_part else pl.concat([gone, missing.rows])
        left_out = missing.rows.height if missing.is_part else 0
    return RowChanges(added, changed, gone, identified, columns, left_out)


@dataclass(frozen=True)
class MissingRows:
    """The `rows` that were listed before and that a list does not name, of how many `listed`; `is_part` if it need not.

    A list of people is a part of the roster where somebody said so, or nobody did and it leaves out more than half,
    such as some people's new numbers; whoever a part leaves out stays listed.
    """

    rows: Frame
    listed: int
    is_part: bool


def missing_rows(table: Table, before: Frame, frame: Frame, given: Collection[str], roster: str = "") -> MissingRows:
    """Return what was listed before and is not among the rows; `roster` is what was said of a list of people.

    That is "whole" or "part", '' where nobody said.
    """
    listed = before.filter(pl.col("gone").is_null())
    again = _named_now(table, listed, frame, given)
    listed = listed.join(again, on=table.key, how="anti", maintain_order="left")
    if table.name == "people" and "site" in given:
        listed = listed.filter(pl.col("site").is_in(frame["site"].unique().implode(), nulls_equal=True))
    missing = listed.join(frame, on=table.key, how="anti")
    is_part = roster == "part" or (not roster and 2 * missing.height > listed.height)
    return MissingRows(missing, listed.height, table.name == "people" and is_part)


def _named_now(table: Table, listed: Frame, frame: Frame, given: Collection[str]) -> Frame:
    """Return the people that stood under their numbers and that the rows name by an identifier, with `known_as`."""
    if table.name == "people" and "person" in given:
        return identified_since(listed, frame)
    return listed.clear().with_columns(known_as=pl.lit(None, pl.String))
