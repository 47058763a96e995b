"""Two people deciding about the same punches or weeks at once: the second is told of what the first decided."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.correction_rows import NO_CORRECTION
from evenhand.jobs.hours import workweek_of
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.zones import civil_date

__all__ = [
    "as_seen",
    "corrections_since",
    "refuse_both",
    "refuse_corrected",
    "refuse_overtaken",
    "refuse_twice",
    "refuse_withdrawn",
]


def refuse_overtaken(seen: Snapshot, given: Mapping[int, str], corrections: Frame, rejected: Frame) -> None:
    """Refuse where one of these punches was decided about since `seen` was taken.

    `given` names for each punch the person it is, or is not, to be given to; `corrections` (CORRECTIONS) and
    `rejected` (REJECTED_ATTRIBUTIONS) are those there are now. A punch was decided about where it was corrected or
    given to anybody, or where punches like it were said not to be that person's.
    """
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
            told(
                "{author} has decided about {reader}/{number} meanwhile; nothing was changed, look at it again before "
                "you decide.",
                author=author,
                reader=reader,
                number=number,
            )
        )


def corrections_since(seen: Snapshot, person: str, corrections: Frame) -> Frame:
    """Return those of `corrections` (CORRECTIONS) that `seen` does not hold and that touch a person's punches.

    A correction touches whom it names and whose the punch was. `at` is when the punch is; those of punches that lie
    outside the snapshot, which change nothing in it, are left out.
    """
    newer = corrections.join(seen.corrections, on="correction", how="anti")
    if newer.is_empty():
        return newer
    about = newer["punch"].drop_nulls().unique().to_list()
    held = reconcile.attribute(
        seen.recorded, seen.holding, seen.readers, seen.corrections, policy=seen.settings.policy, punches=about
    ).attributed
    theirs = held.filter(pl.col("person") == person)["punch"].implode()
    added = corrections.filter(pl.col("action") == "add").select(-pl.col("correction").alias("punch"), "at")
    times = pl.concat([seen.recorded.filter(pl.col("punch").is_in(about)).select("punch", "at"), added])
    return (
        newer.filter((pl.col("person") == person) | pl.col("punch").is_in(theirs).fill_null(value=False))
        .join(times, on="punch", how="left", suffix="_of_punch", maintain_order="left")
        .with_columns(pl.coalesce("at", "at_of_punch").alias("at"))
        .drop("at_of_punch")
        .drop_nulls("at")
    )


def as_seen(reckoning: Reckoning, person: str, last_seen: int) -> Reckoning:
    """Return the reckoning without the corrections since `last_seen`, or with them where none touches the person."""
    was = reckoning.snapshot.up_to(last_seen)
    if corrections_since(was, person, reckoning.snapshot.corrections).is_empty():
        return reckoning
    return reckoning.following(was, reckoning.as_of)


def refuse_corrected(
    seen: Snapshot, who: Mapping[str, Any], newer: Frame, weeks: tuple[date, date] | None = None
) -> None:
    """Refuse where one of the corrections made since `seen` (`corrections_since`) lies in a person's workweeks.

    `who` is their row of PEOPLE, `weeks` the first days of the first and the last workweek that somebody decides on;
    None for any.
    """
    rules = seen.rules_of(who["site"])
    for author, at in newer.select("author", "at").iter_rows():
        day = civil_date(rules.zone, at)
        if weeks is None or weeks[0] <= workweek_of(rules, day) <= weeks[1]:
            raise Refusal(
                told(
                    "{author} has corrected {person}'s {day:of_year} meanwhile; nothing was changed, look at the day "
                    "again.",
                    author=author,
                    person=who["person"],
                    day=day,
                )
            )


def refuse_withdrawn(made: Frame, row: Mapping[str, Any]) -> None:
    """Refuse a row that takes a correction back which is taken back already among those `made`, or is not there."""
    if row["action"] != "withdraw":
        return
    number = row["withdraws"]
    if number not in made["correction"]:
        raise Refusal(told(NO_CORRECTION, number=number))
    by = reconcile.withdrawn_by(made).get(number)
    if by is not None:
        raise Refusal(
            told(
                "correction {number} is taken back already, by correction {by}; nothing was changed. Take {by} back to "
                "put it back.",
                number=number,
                by=by,
            )
        )


def refuse_both(made: Frame, row: Mapping[str, Any]) -> None:
    """Refuse a row that puts an added punch back which was changed, while the one in its place among `made` stands.

    Both would count.
    """
    if row["action"] != "withdraw":
        return
    by_number = {one["correction"]: one for one in made.iter_rows(named=True)}
    back = by_number.get(row["withdraws"])
    taken_back, standing = reconcile.withdrawn_by(made), set(reconcile.standing(made)["correction"])
    while back is not None and back["action"] == "withdraw":
        instead = reconcile.put_instead(by_number, back)
        if instead is None or instead["action"] != "add":
            return
        if instead["correction"] in standing:
            raise Refusal(
                told(
                    "correction {number} was made with {other}, which put another punch in place of the one that would "
                    "come back, and both would count; nothing was changed. Take {other} back first.",
                    number=row["withdraws"],
                    other=instead["correction"],
                )
            )
        # which may have been changed in its turn
        back = by_number.get(taken_back.get(instead["correction"], 0))


def refuse_twice(made: Frame, row: Mapping[str, Any]) -> None:
    """Refuse a correction (a row of CORRECTIONS) that stands already among those `made`, as when a form is sent twice.

    It stands as the same added punch, or as the last word on a punch.
    """
    made = reconcile.standing(made)
    if row["action"] == "withdraw":  # `refuse_withdrawn`
        return
    if row["action"] == "attribute":
        standing = made.filter(pl.col("punch") == row["punch"], pl.col("action") == "attribute").tail(1)
    elif row["action"] == "add":
        left_out = made.filter(pl.col("action") == "leave_out")["punch"]
        standing = made.filter(pl.col("action") == "add", ~(-pl.col("correction")).is_in(left_out.implode()))
    else:
        standing = made.filter(pl.col("punch") == row["punch"], pl.col("action") != "attribute").tail(1)
    alike = [pl.col(name).eq_missing(pl.lit(row[name])) for name in ("action", "person", "punch", "at", "direction")]
    same = standing.filter(*alike)
    if same.height:
        raise Refusal(told("correction {number} says this already; nothing was changed.", number=same["correction"][0]))
