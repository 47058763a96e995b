"""The rows of a reader's log in order of time, and the runs in which a file tells of them.

Within one run every row is a presentation of its own, since a log writes each once; a run ends where the reader's time
steps back. So a hand laid down twice within what the reader's clock tells apart stays two punches, while a second
export of the same days, appended to the first, repeats them.
"""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["SAID", "in_time", "is_to_minute", "waves"]

SAID = ("direction", "outcome", "score")

ENOUGH = 5  # instants of whole minutes, which no clock that keeps seconds writes by chance: 1 in 60^5
WAVES = 50  # runs beyond these that tell of one minute are no overlapping exports, and count as one


def is_to_minute(at: pl.Series) -> bool:
    """Whether instants [s] are those of a clock that keeps whole minutes, although seconds may be written."""
    return at.n_unique() >= ENOUGH and bool((at % 60 == 0).all())


def in_time(rows: Frame) -> Frame:
    """Return rows (`take`, `reader`, `at` and others, as the files have them) by take and reader, in order of time.

    A log that mostly steps back stands in the file with the last row first.
    """
    log = ["take", "reader"]
    ordered = rows.with_row_index("place").with_columns(pl.col("place").cast(pl.Int64))
    ordered = ordered.sort(log, maintain_order=True)
    steps = ordered.group_by(log).agg(pl.col("at").diff().sign().sum().alias("steps"))
    backward = steps.filter(pl.col("steps") < 0)
    if backward.is_empty():
        return ordered.drop("place")
    turned = ordered.join(backward, on=log, how="left", maintain_order="left")
    place = pl.when(pl.col("steps").is_null()).then("place").otherwise(-pl.col("place"))
    return turned.with_columns(place=place).sort([*log, "place"]).drop("place", "steps")


def waves(rows: Frame) -> Iterator[Frame]:
    """Yield the rows (`reader`, `at`, `group`, SAID and others, in order of time) such that none is told twice at once.

    `group` is the same for the rows of one number in one minute at one reader. The first wave holds of each group what
    the first run tells, the next what the next tells; a run that only repeats what those before it told is left out.
    """
    steps_back = (pl.col("at") < pl.col("at").shift()) & (pl.col("reader") == pl.col("reader").shift())
    run = steps_back.fill_null(value=False).cum_sum()
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
