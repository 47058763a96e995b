"""Two people deciding about the same punches at once: the second is told, instead of undoing what the first decided."""

from __future__ import annotations

from collections.abc import Mapping

import polars as pl

from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal

__all__ = ["refuse_overtaken"]


def refuse_overtaken(seen: Snapshot, given: Mapping[int, str], corrections: Frame, rejected: Frame) -> None:
    """Refuse where one of these punches was decided about since `seen` was taken.

    `given` names for each punch the person it is, or is not, to be given to; `corrections` (CORRECTIONS) and
    `rejected` (REJECTED_ATTRIBUTIONS) are those there are now. A punch was decided about where it was corrected or
    given to anybody, or where punches like it were said not to be that person's.
    """
    # By each number, not by the last: of two that write at once the lower number may be there later.
    made = corrections.join(seen.corrections, on="correction", how="anti")
    said = rejected.join(seen.rejected_attributions, on="rejection", how="anti")
    whose = pl.select(
        punch=pl.Series(list(given), dtype=pl.Int64), person=pl.Series(list(given.values()), dtype=pl.String)
    )
    asked = seen.recorded.select("punch", "reader", "number").join(whose, on="punch")
    both = asked.join(made, on="punch"), asked.join(said, on=["reader", "number", "person"])
    newer = pl.concat([rows.select("reader", "number", "author") for rows in both])
    if newer.height:
        reader, number, author = newer.row(0)
        raise Refusal(
            f"{author} has decided about {reader}/{number} meanwhile; nothing was changed, "
            "look at it again before you decide."
        )
