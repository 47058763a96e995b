"""Whose hours a supervisor approves, as far as the roster tells.

A roster says who may enrol others at a reader, where everybody works and in which department, and not who answers to
whom. So a supervisor approves the people of their own department at their own site; where a department has none, the
supervisors of the site do; where a site has none, any supervisor may. Nobody approves their own hours (common practice
of separating duties, no source).
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.workplace import not_left

__all__ = ["GROUP", "supervisors_of"]

GROUP = ("site", "department")


def supervisors_of(people: Frame, day: date, gone: Collection[str] = ()) -> dict[str, tuple[str, ...]]:
    """Return who may approve each person's hours of a period that begins on `day`, by identifier, in order.

    Those `gone`, whom the roster lists no longer, approve nobody's.
    """
    there = not_left(day) & ~pl.col("person").is_in(list(gone)) & pl.col("is_supervisor").fill_null(value=False)
    groups: dict[tuple[str, str], list[str]] = {}
    sites: dict[str, list[str]] = {}
    everybody: list[str] = []
    for person, site, department in people.filter(there).sort("person").select("person", *GROUP).iter_rows():
        groups.setdefault((site or "", department or ""), []).append(person)
        sites.setdefault(site or "", []).append(person)
        everybody.append(person)
    found = {}
    for person, site, department in people.select("person", *GROUP).iter_rows():
        ranked = (groups.get((site or "", department or ""), []), sites.get(site or "", []), everybody)
        others = ([one for one in some if one != person] for some in ranked)
        found[person] = tuple(next((some for some in others if some), []))
    return found
