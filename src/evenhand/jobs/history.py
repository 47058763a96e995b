"""What was decided about a person's day: by whom, when and why, and what of it stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.hours import DayHours
from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.columns import Frame

__all__ = ["DayDecision", "day_history"]


@dataclass(frozen=True)
class DayDecision:
    """One correction about a punch of the day, in the order in which they were made.

    `punch` and `at` are those of the punch, also where the row takes another back (`withdraws`). `stands` says that
    nothing takes it back; where something does, that is `withdrawn_by`. `is_changeable` says that another can be made
    in its place. `alike` counts the attributions that were made with it, and are taken back on Strays together.
    """

    correction: int
    action: str
    person: str
    name: str
    punch: int
    at: int
    direction: str | None
    author: str
    reason: str
    made_at: int
    withdraws: int | None
    withdrawn_by: int | None
    stands: bool
    is_changeable: bool
    alike: int


def day_history(reckoning: Reckoning, hours: DayHours) -> list[DayDecision]:
    """Return every correction about punches of a person's day, of those that are theirs or that name them."""
    of, who = reckoning.snapshot, hours.week.person["person"]
    made = of.corrections
    if made.is_empty():
        return []
    roots = reconcile.roots(made, made.filter(pl.col("action") == "withdraw")["correction"].to_list())
    told = _of_day(reckoning, hours, made, roots)
    theirs = {*hours.punches["punch"], *told.filter(pl.col("person") == who)["about"]}
    by = reconcile.withdrawn_by(made)
    return [
        _decision(row, row["correction"] not in roots, by.get(row["correction"]), of.names, _alike(made, row))
        for row in told.sort("correction").iter_rows(named=True)
        if row["about"] in theirs
    ]


def _of_day(reckoning: Reckoning, hours: DayHours, made: Frame, roots: Mapping[int, int]) -> Frame:
    """The corrections of punches that lie on the day, with the punch (`about`) and `when` that is."""
    punch = pl.when(pl.col("action") == "add").then(-pl.col("correction")).otherwise("punch")
    own = made.select("correction", about=punch)
    # what takes another back is about that one's punch, wherever it is stored by now
    taking = pl.select(
        correction=pl.Series(list(roots), dtype=pl.Int64), root=pl.Series(list(roots.values()), dtype=pl.Int64)
    )
    of_roots = taking.join(own.rename({"correction": "root"}), on="root").select("correction", of_root="about")
    about = own.join(of_roots, on="correction", how="left").select("correction", about=pl.coalesce("of_root", "about"))
    inside = pl.col("at").is_between(hours.starts, hours.ends, closed="left")
    added = made.filter(inside, pl.col("action") == "add").select(about=-pl.col("correction"), when="at")
    logged = reckoning.snapshot.recorded.filter(inside).select(about="punch", when="at")
    return made.join(about, on="correction").join(pl.concat([added, logged]), on="about")


def _alike(made: Frame, one: Mapping[str, Any]) -> int:
    if one["action"] != "attribute":
        return 1
    said = ("action", "person", "author", "reason", "made_at")
    return made.filter(*(pl.col(name) == one[name] for name in said)).height


def _decision(
    row: Mapping[str, Any], says_itself: bool, withdrawn_by: int | None, names: Mapping[str, str], alike: int
) -> DayDecision:
    return DayDecision(
        correction=row["correction"],
        action=row["action"],
        person=row["person"],
        name=names.get(row["person"], row["person"]),
        punch=row["about"],
        at=row["when"],
        direction=row["direction"],
        author=row["author"],
        reason=row["reason"],
        made_at=row["made_at"],
        withdraws=row["withdraws"],
        withdrawn_by=withdrawn_by,
        stands=withdrawn_by is None,
        is_changeable=says_itself and withdrawn_by is None and row["action"] != "leave_out",
        alike=alike,
    )
