"""The rows of a reader's log in order of time, and the runs in which a file tells of them.

Within one run every row is a presentation of its own, since a log writes each once; a run ends where the reader's time
steps back. So a hand laid down twice within what the reader's clock tells apart stays two punches, while a second
export of the same days, appended to the first, repeats them.
"""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["SAID", "in_time", "waves"]

SAID = ("direction", "outcome", "score")

LOG = ["take", "reader"]

WAVES = 50  # runs beyond these that tell of one minute are no overlapping exports, and count as one


def in_time(rows: Frame) -> Frame:
    """Return rows (`take`, `reader`, `number`, `at` and others, as the files have them) by LOG, in order of time.

    A log may stand in its file with the last row first. One that is sorted by people tells by the times of each.
    """
    ordered = rows.sort(LOG, maintain_order=True)
    if not ordered.select((_steps("at", LOG) < 0).any()).item():
        return ordered
    of_numbers = ordered.sort(*LOG, "number", maintain_order=True)
    steps = ordered.group_by(LOG).agg(pl.col("at").diff().sign().sum().alias("of_all"))
    own = of_numbers.select(*LOG, own=_steps("at", [*LOG, "number"]).sign()).group_by(LOG).agg(pl.col("own").sum())
    turned = steps.join(own, on=LOG).filter((pl.col("own") < 0) | ((pl.col("own") == 0) & (pl.col("of_all") < 0)))
    if turned.is_empty():
        return ordered
    place = pl.int_range(pl.len())
    placed = ordered.join(turned, on=LOG, how="left", maintain_order="left")
    placed = placed.with_columns(place=pl.when(pl.col("own").is_null()).then(place).otherwise(-place))
    return placed.sort([*LOG, "place"]).select(rows.columns)


def _steps(name: str, within: list[str]) -> pl.Expr:
    """Return by how much each row's value exceeds that of the row before, where both lie within the same."""
    same = pl.all_horizontal(pl.col(key) == pl.col(key).shift() for key in within)
    return pl.when(same).then(pl.col(name).diff())


def waves(rows: Frame) -> Iterator[Frame]:
    """Yield the rows (`reader`, `at`, `group`, SAID and others, in order of time) such that none is told twice at once.

    `group` is the same for the rows of one number in one minute at one reader. The first wave holds of each group what
    the first run tells, the next what the next tells; a run that only repeats what those before it told is left out.
    """
    run = (_steps("at", ["reader"]) < 0).fill_null(value=False).cum_sum()
    names = rows.columns
    rows = rows.with_columns(run=run)
    shared = rows.filter(pl.col("group").is_duplicated()) if rows["run"].max() else rows.clear()
    again = shared.filter((pl.col("run").min() != pl.col("run").max()).over("group"))
    if again.is_empty():
        yield rows.select(names)
        return
    once = rows.join(again, on="group", how="anti", maintain_order="left")
    alike = ["group", "at", *SAID]
    again = again.with_columns(ordinal=pl.int_range(pl.len()).over(*alike, "run"))
    again = again.with_columns(is_first=pl.struct(*alike, "ordinal").is_first_distinct())
    again = again.filter(pl.col("is_first").any().over("group", "run"))
    again = again.with_columns(wave=pl.col("run").rank("dense").over("group").clip(upper_bound=WAVES))
    for (wave,), part in sorted(again.partition_by("wave", as_dict=True, maintain_order=True).items()):
        yield pl.concat([once.select(names), part.select(names)]) if wave == 1 else part.select(names)
