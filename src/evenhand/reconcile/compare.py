"""Hold roster, readers' enrolments and punches against each other, and say where they disagree."""

from __future__ import annotations

from datetime import date
from itertools import chain

import polars as pl

from evenhand.reconcile.of_enrolments import of_enrolments
from evenhand.reconcile.of_punches import of_punches
from evenhand.reconcile.of_readers import of_readers
from evenhand.reconcile.of_roster import of_roster
from evenhand.reconcile.picture import Picture
from evenhand.reconcile.roster import roster_on
from evenhand.reconcile.seen import count_seen
from evenhand.reconcile.standing import standings
from evenhand.terms.columns import Frame
from evenhand.terms.tables import DISCREPANCIES

__all__ = ["compare"]


def compare(
    people: Frame, readers: Frame, enrolments: Frame, seen: Frame, unattributed: Frame, *, as_of: date
) -> Frame:
    """Return DISCREPANCIES as of a civil day, by kind, reader, person and number; every row carries its evidence.

    `seen` (SEEN) counts all presentations looked at, `unattributed` the punches (RECORDED) that belong to
    nobody. `number` is the number at the reader (or on the roster, where no reader is concerned). `other` is the
    roster's number for it (wrong_number, lost_zeros) or the other person (shared_number). `punches` counts the accepted
    punches under that number at that reader.
    """
    roster = roster_on(people, as_of)
    accepted = seen.filter(pl.col("punches") > 0)
    facts = Picture(roster, readers, standings(roster, readers, enrolments), accepted, count_seen(unattributed))
    found = chain.from_iterable(find(facts) for find in (of_roster, of_enrolments, of_readers, of_punches))
    every = pl.concat([DISCREPANCIES.empty(), *found])
    return every.sort("kind", "reader", "person", "number", "other", nulls_last=True)
