"""Which laws of retention bind a place. No record here is advice; local codes and licensed counsel decide."""

from __future__ import annotations

from collections.abc import Collection

from evenhand.records.retention.destroying import OF_DESTROYING, PRACTICE
from evenhand.records.retention.keeping import OF_KEEPING
from evenhand.records.retention.law import Clock, Law

__all__ = ["LAWS", "laws_of"]

LAWS = (*OF_DESTROYING, *OF_KEEPING)
"""Every law there is a record of; a place without one of its own is bound by those of its country."""


def laws_of(place: str, clock: Clock | None = None, *, own: Collection[Law] = ()) -> tuple[Law, ...]:
    """Return the laws that bind a place (ISO 3166), of one clock or of both, with the workplace's `own` rules.

    Where no law says when a hand must go, common practice stands in and says so.
    """
    found = tuple(law for law in (*LAWS, *own) if law.binds(place) or law in own)
    if not any(law.clock == "destroy" for law in found):
        found = (PRACTICE, *found)
    return tuple(law for law in found if clock is None or law.clock == clock)
