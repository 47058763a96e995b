"""Who stands at each reader as a supervisor, and the punch that proves it.

Somebody is proved at a reader by a punch of their own there, accepted under their own number, on or after the day on
which they were enrolled there as supervisor: of what the list tells and what a round told, the later day. Where neither
tells a day, any punch there proves. A list alone proves nothing: it may hold another's hand under the number.
That a proof is a punch is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, timedelta

import polars as pl

from evenhand.reconcile.roster import roster_on
from evenhand.terms.columns import Frame
from evenhand.terms.supervision import PROOF_DAYS, SUPERVISION, UNCOVERED
from evenhand.terms.zones import DAY_S, day_start

__all__ = ["LEAVES_SOON", "LOOKED_BACK", "AuthorityTold", "supervision", "uncovered", "untouched"]

LEAVES_SOON = timedelta(days=28)
LOOKED_BACK = timedelta(days=28)


@dataclass(frozen=True)
class AuthorityTold:
    """What tells who is enrolled where: the roster (PEOPLE), READERS, the readers' lists (ENROLMENTS), and rounds.

    `tapped` has reader, number, `at` and `may` of the last enrolment of each number in a round, `may` where that was as
    supervisor. `no_hand` are people whose hand is not to be enrolled any longer.
    """

    people: Frame
    readers: Frame
    enrolments: Frame
    tapped: Frame
    no_hand: Collection[str] = ()


def supervision(of: AuthorityTold, recorded: Frame, holders: pl.Series, *, today: date) -> Frame:
    """Return SUPERVISION on a day, by reader and number.

    `recorded` (RECORDED) are the presentations that can prove, `holders` who held the number of each.
    """
    zones = dict(of.readers.select("reader", "zone").iter_rows())
    roster = roster_on(of.people, today)
    rows = _with_authority(of).join(_holders(roster), on="number", how="left", maintain_order="left")
    since = rows.select("reader", "since").rows()
    begins = [None if day is None else day_start(zones[reader], day) for reader, day in since]
    oldest = [day_start(zones[reader], today - timedelta(days=PROOF_DAYS)) for reader, _ in since]
    rows = rows.with_columns(
        begins=pl.max_horizontal(pl.Series(begins, dtype=pl.Int64), "tapped_at"),
        oldest=pl.Series(oldest, dtype=pl.Int64),
    )
    shown = rows.join(_last_punch(rows, recorded, holders), on=("reader", "number"), how="left", maintain_order="left")
    told = roster["is_supervisor"].is_not_null().any()
    near = (pl.col("left_on") <= today + LEAVES_SOON).fill_null(value=False)
    state = (
        pl.when(pl.col("person").is_null())
        .then(pl.lit("number"))
        .when((pl.col("left_on") < today).fill_null(value=False))
        .then(pl.lit("left"))
        .when(pl.col("person").is_in(list(of.no_hand)))
        .then(pl.lit("withdrew"))
        .when(pl.lit(told) & ~pl.col("is_supervisor").fill_null(value=False))
        .then(pl.lit("roster"))
        .when(pl.col("proved_at").is_null())
        .then(pl.lit("unproved"))
        .when(pl.col("proved_at") < pl.col("oldest"))
        .then(pl.lit("old"))
        .otherwise(pl.lit("proved"))
    )
    found = shown.with_columns(
        state=state, leaves_on=pl.when(near).then("left_on"), name=pl.coalesce("name", "listed_name")
    )
    return SUPERVISION.check(found.select(SUPERVISION.names).sort("reader", "number"))


def _with_authority(of: AuthorityTold) -> Frame:
    """Return reader, number, `listed_name`, `told_by`, `since` and `tapped_at` of every number with authority.

    What the list says of a number goes before a round, except where the list does not tell who may enrol others.
    """
    known = of.readers.select("reader")
    listed = of.enrolments.join(known, on="reader", how="semi").select(
        "reader", "number", listed_name="name", may_by_list="is_supervisor", since="enrolled_on"
    )
    tapped = of.tapped.filter("may").join(known, on="reader", how="semi").select("reader", "number", tapped_at="at")
    both = listed.join(tapped, on=("reader", "number"), how="full", coalesce=True)
    by_list = pl.col("may_by_list").fill_null(value=False)
    by_round = pl.col("may_by_list").is_null() & pl.col("tapped_at").is_not_null()
    told_by = pl.when(by_list).then(pl.lit("list")).otherwise(pl.lit("round"))
    return both.filter(by_list | by_round).select(
        "reader", "number", "listed_name", told_by=told_by, since="since", tapped_at="tapped_at"
    )


def _holders(roster: Frame) -> Frame:
    """Return number, person, name, `left_on` and `is_supervisor` of whoever alone holds a number, or held it last."""
    numbered = roster.filter(pl.col("number").is_not_null())
    here = numbered.filter(~pl.col("has_left")).unique("number", keep="none", maintain_order=True)
    gone = numbered.filter("has_left").join(
        numbered.filter(~pl.col("has_left")), on="number", how="anti", maintain_order="left"
    )
    last = gone.sort("left_on").unique("number", keep="last", maintain_order=True)
    return pl.concat([here, last]).select("number", "person", "name", "left_on", "is_supervisor")


def _last_punch(rows: Frame, recorded: Frame, holders: pl.Series) -> Frame:
    """Return reader, number and `proved_at` of those accepted there as themselves since their enrolment."""
    accepted = pl.col("outcome").fill_null("accepted") == "accepted"
    theirs = recorded.select("reader", "number", "at", "outcome").with_columns(holder=holders)
    return (
        theirs.lazy()
        .filter(accepted)
        .join(rows.lazy().select("reader", "number", "person", "begins"), on=("reader", "number"))
        .filter(pl.col("holder") == pl.col("person"), pl.col("at") >= pl.col("begins").fill_null(0))
        .group_by("reader", "number")
        .agg(proved_at=pl.col("at").max())
        .collect()
    )


def uncovered(of: AuthorityTold, standing: Frame, schedules: Frame, attributed: Frame, *, as_of: int) -> Frame:
    """Return UNCOVERED over the last four weeks for readers where supervisors stand (SUPERVISION).

    Shifts are those of SCHEDULES; where nobody's are told, none is counted. Days are spans of 24 hours before `as_of`;
    those on which fewer than half as many came as on a usual one, as at weekends, are left aside.
    """
    since = as_of - LOOKED_BACK // timedelta(seconds=1)
    there = standing.select("reader", "person").unique()
    roster = of.people.select("person", "number").drop_nulls()
    others = of.enrolments.select("reader", "number").join(roster, on="number").select("reader", "person").unique()
    others = others.join(there, on=("reader", "person"), how="anti")
    lately = schedules.filter(pl.col("ends_at") > since, pl.col("starts_at") < as_of).select(
        "person", "starts_at", "ends_at"
    )
    mine, theirs = there.join(lately, on="person"), others.join(lately, on="person")
    shifts = theirs.group_by("reader").agg(shifts=pl.len())
    alone = untouched(theirs, mine).group_by("reader").agg(alone=pl.len())
    punched = attributed.filter(pl.col("at").is_between(since, as_of)).select(
        "reader", "person", day=(pl.lit(as_of) - pl.col("at")) // DAY_S
    )
    many = (
        punched.join(others, on=("reader", "person"), how="semi")
        .group_by("reader", "day")
        .agg(came=pl.col("person").n_unique())
    )
    usual = pl.col("came").median().over("reader")
    of_others = many.filter(pl.col("came") >= usual / 2).select("reader", "day")
    of_mine = there.join(punched.select("person", "day").unique(), on="person").select("reader", "day").unique()
    days = of_others.group_by("reader").agg(days=pl.len())
    absent = of_others.join(of_mine, on=("reader", "day"), how="anti").group_by("reader").agg(absent=pl.len())
    found = there.select("reader").unique().sort("reader")
    for one in (shifts, alone, days, absent):
        found = found.join(one, on="reader", how="left", maintain_order="left")
    counts = ("shifts", "alone", "days", "absent")
    return UNCOVERED.check(found.select("reader", *(pl.col(name).fill_null(0).cast(pl.Int64) for name in counts)))


def untouched(theirs: Frame, mine: Frame) -> Frame:
    """Return the spans (reader, person, starts_at, ends_at) that none of `mine` at the same reader overlaps."""
    # Of the spans that begin before one ends, the one that ends last tells whether any of them touches it.
    ends_last = mine.sort("starts_at").select(
        "reader", begins="starts_at", until=pl.col("ends_at").cum_max().over("reader")
    )
    before = theirs.sort("ends_at").join_asof(
        ends_last, left_on="ends_at", right_on="begins", by="reader", allow_exact_matches=False, check_sortedness=False
    )
    return before.filter((pl.col("until") <= pl.col("starts_at")).fill_null(value=True)).select(theirs.columns)
