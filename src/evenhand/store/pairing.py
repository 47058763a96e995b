"""Pair the rows that one export tells with the punches that are known, where they can be the same presentation."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import polars as pl

from evenhand.store.runs import SAID
from evenhand.terms.columns import Column, Frame, Table

__all__ = ["pair"]

# What an agreement weighs where several presentations of a minute could be the same: a second says most.
WEIGHTS = {"score": 3, "direction": 1, "outcome": 1}
SECOND = 4
OUTWEIGHS = 1e4  # any difference of order
IMPOSSIBLE = 1e9
LARGE = 8  # presentations of one number at one reader in a minute; more are paired by second and order alone

PAIRS = Table(
    "pairs",
    "Rows of a file that are punches known already",
    (
        Column("row", "count", "The row of the file", required=True),
        Column("punch", "count", "The punch that it is", required=True),
        Column("differs", "yes_no", "Whether the row contradicts what is known of the punch", required=True),
    ),
    key=("row",),
)


def pair(rows: Frame, known: Frame) -> Frame:
    """Return which row (`row`) is which known `punch` (PAIRS), at most one each.

    Both have `group`, `at`, `to_minute` and SAID and stand in order of time; `rows` have `row`. A row that differs
    contradicts the punch of the same second, where there cannot be two.
    """
    if known.is_empty():
        return PAIRS.empty()
    one, only = (frame.filter(pl.col("group").is_unique()) for frame in (rows, known))
    lone = one.join(only, on="group", suffix="_known")
    found = [lone.filter(_fits()).select("row", "punch")]
    if lone.height < known.height:
        left = known.join(lone, on="group", how="anti", maintain_order="left")
        found += _pair_groups(rows.join(left, on="group", how="semi", maintain_order="left"), left)
    fitting = pl.concat(found).with_columns(differs=False)
    if fitting.height in (rows.height, known.height):
        return fitting
    rows, known = (
        frame.join(fitting, on=key, how="anti", maintain_order="left").filter(pl.col("at") % 60 != 0)
        for frame, key in ((rows, "row"), (known, "punch"))
    )
    second = ["group", "at"]
    differing = _ranked(rows, second).join(_ranked(known, second), on=[*second, "rank"])
    return pl.concat([fitting, differing.select("row", "punch", differs=True)])


def _pair_groups(rows: Frame, known: Frame) -> Iterator[Frame]:
    """Yield the pairs of groups of several: in order where that fits throughout, else as they agree most."""
    known = known.sort("group", "at", maintain_order=True)
    rows, known = _ranked(rows, ["group"]), _ranked(known, ["group"])
    in_order = rows.join(known, on=["group", "rank"], suffix="_known").with_columns(fits=_fits())
    sizes = rows.group_by("group").len("of_rows").join(known.group_by("group").len("of_known"), on="group")
    fitting = in_order.group_by("group").agg(pl.col("fits").all())
    sizes = sizes.join(fitting, on="group")
    whole = pl.col("fits") & (pl.col("of_rows") == pl.col("of_known"))
    yield in_order.join(sizes.filter(whole), on="group", how="semi").select("row", "punch")
    is_large = pl.max_horizontal("of_rows", "of_known") > LARGE
    for groups, pair_them in (
        (sizes.filter(~whole, is_large), _in_seconds),
        (sizes.filter(~whole, ~is_large), _assigned),
    ):
        if groups.height:
            yield pair_them(
                *(frame.join(groups, on="group", how="semi", maintain_order="left") for frame in (rows, known))
            )


def _in_seconds(rows: Frame, known: Frame) -> Frame:
    """Return the pairs that fit in the order of their second, or of their minute where a side tells no seconds."""
    cut = pl.concat([rows.filter("to_minute").select("group"), known.filter("to_minute").select("group")])
    slot = pl.when(pl.col("group").is_in(cut["group"].unique().implode())).then(0).otherwise("at")
    within = ["group", "slot"]
    rows, known = (_ranked(frame.with_columns(slot=slot), within) for frame in (rows, known))
    paired = rows.join(known, on=[*within, "rank"], suffix="_known")
    return paired.filter(_fits()).select("row", "punch")


def _assigned(rows: Frame, known: Frame) -> Frame:
    """Return the pairs that leave the fewest rows alone, agree most and keep the order best, group by group."""
    second = ~pl.col("to_minute") & ~pl.col("to_minute_known")
    agreement = sum(
        ((pl.col(name) == pl.col(f"{name}_known")).fill_null(value=False) * weight for name, weight in WEIGHTS.items()),
        start=second * SECOND,
    )
    apart = (pl.col("rank") - pl.col("rank_known")).cast(pl.Float64) ** 2
    cost = pl.when(_fits()).then(apart - OUTWEIGHS * agreement).otherwise(IMPOSSIBLE)
    every = rows.join(known, on="group", suffix="_known").sort("group", "rank", "rank_known")
    every = every.with_columns(cost=cost)
    costs, ranks = every["cost"].to_numpy(), every["rank"].to_numpy()
    ends = (np.flatnonzero(np.diff(every["group"].to_numpy(), append=-1)) + 1).tolist()
    chosen: list[int] = []
    begin = 0
    for end in ends:
        height = int(ranks[end - 1]) + 1
        table = costs[begin:end].reshape(height, -1)
        chosen += [
            begin + row * table.shape[1] + place for row, place in _cheapest(table) if table[row, place] < IMPOSSIBLE
        ]
        begin = end
    return every[chosen].select("row", "punch")


def _cheapest(table: np.ndarray) -> Iterator[tuple[int, int]]:
    if 1 in table.shape:
        row, place = divmod(int(table.argmin()), table.shape[1])
        return iter([(row, place)])
    from scipy.optimize import linear_sum_assignment

    return zip(*(found.tolist() for found in linear_sum_assignment(table)), strict=True)


def _fits() -> pl.Expr:
    """Whether a row and a known punch of its group can be one presentation."""
    fits = pl.col("to_minute") | pl.col("to_minute_known") | (pl.col("at") == pl.col("at_known"))
    for name in SAID:
        fits &= (pl.col(name) == pl.col(f"{name}_known")).fill_null(value=True)
    return fits


def _ranked(rows: Frame, keys: list[str]) -> Frame:
    return rows.with_columns(rank=pl.int_range(pl.len()).over(keys))
