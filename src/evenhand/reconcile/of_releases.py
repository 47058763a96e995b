"""What roster and readers owe to people who clock another way by their own word: no enrolment, and none left."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import polars as pl

from evenhand.reconcile.roster import holders_now, roster_on
from evenhand.terms.columns import Frame
from evenhand.terms.tables import DISCREPANCIES

__all__ = ["with_releases"]

ASKS_FOR_A_HAND = ("not_enrolled", "unproved")
THEIR_HAND = ("wrong_number", "lost_zeros")


def with_releases(
    discrepancies: Frame, people: Frame, enrolments: Frame, another_way: Mapping[str, str], *, as_of: date
) -> Frame:
    """Return DISCREPANCIES as they are where those in `another_way` give no hand; it says in words why, by person.

    Nobody of them is told as not enrolled or not proved. Each number under which a reader still holds their hand is
    told as `release_ended`; a number that two people hold is not, since it may be the other's hand.
    """
    if not another_way:
        return discrepancies
    theirs = pl.col("person").is_in(list(another_way)).fill_null(value=False)
    alone = holders_now(roster_on(people, as_of)).filter(pl.col("holders").list.len() == 1)
    listed = enrolments.select("reader", "number").join(alone.select("number", person="holder"), on="number")
    elsewhere = discrepancies.filter(theirs, pl.col("kind").is_in(THEIR_HAND)).select("reader", "number", "person")
    held = pl.concat([listed.filter(theirs), elsewhere]).unique(maintain_order=True)
    ended = DISCREPANCIES.rows(
        {
            "kind": "release_ended",
            **row,
            "punches": 0,
            "evidence": f"{another_way[row['person']]}, and {row['number']} is listed at {row['reader']}",
        }
        for row in held.iter_rows(named=True)
    )
    kept = discrepancies.filter(~(theirs & pl.col("kind").is_in([*ASKS_FOR_A_HAND, *THEIR_HAND])))
    return pl.concat([kept, ended]).sort("kind", "reader", "person", "number", "other", nulls_last=True)
