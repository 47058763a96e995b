"""What other files told of the rows of a file, and as what they printed it, so that figures add up as printed.

Each source (a file's own rows, a file's adjusting rows, what was made good outside of files) printed its time rounded;
a figure is what all of it together is printed as, less what they printed.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.handed_off import PRINTED_BEFORE, TOLD_BEFORE

__all__ = ["ToldBefore", "told_before"]

OUTSIDE = -1
"""The file of what was made good outside of files, or is still to be carried: none."""


@dataclass(frozen=True)
class ToldBefore:
    """What was told of a file's rows before (TOLD_BEFORE), and the figures it was printed as (PRINTED_BEFORE)."""

    time: Frame = field(default_factory=TOLD_BEFORE.empty)
    figures: Frame = field(default_factory=PRINTED_BEFORE.empty)

    def of(self, people: Collection[str]) -> ToldBefore:
        """Return the same of some people."""
        theirs = pl.col("person").is_in(list(people))
        return ToldBefore(self.time.filter(theirs), self.figures.filter(theirs))


def told_before(of_period: Frame, of_earlier: Frame, printed: Mapping[int, Frame]) -> ToldBefore:
    """Return what lines (HANDED_OFF_LINES) told of a file's own rows, and of those that adjust earlier periods.

    `printed` are the figures (PRINTED) of files, by number; of a file without, its exact time counts, rounded. So it
    does for a week of a file that printed a row for its whole period.
    """
    lines = pl.concat(
        [of_period.with_columns(adjusts=pl.lit(value=False)), of_earlier.with_columns(adjusts=pl.lit(value=True))]
    )
    is_own = pl.col("adjustment").is_null()
    file = pl.when(is_own).then("handoff").otherwise(pl.col("carrier").fill_null(OUTSIDE))
    by_source = lines.with_columns(source=2 * file + is_own.cast(pl.Int64))
    key = ("source", "person", "workweek", "adjusts")
    time = by_source.group_by(*key, "item", maintain_order=True).agg(pl.col("seconds").sum())
    rows = time.select(key).unique()
    figures = [PRINTED_BEFORE.empty()]
    for number, of_file in printed.items():
        source = 2 * number + (~pl.col("adjusts")).cast(pl.Int64)
        theirs = of_file.with_columns(source=source).drop("adjusts").join(rows, on=["source", "person", "workweek"])
        figures.append(PRINTED_BEFORE.frame(theirs.select(PRINTED_BEFORE.names).to_dict()))
    return ToldBefore(TOLD_BEFORE.frame(time.select(TOLD_BEFORE.names).to_dict()), pl.concat(figures))
