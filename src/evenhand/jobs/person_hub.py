"""Everything about one person beside their hours: what they keyed, their hand, rounds, consent, decisions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import polars as pl

from evenhand.jobs.consent_listing import PersonConsent, person_consent
from evenhand.jobs.decision_log import LogAsked, narrowed
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.today import Today
from evenhand.terms.columns import Column, Frame, Table

__all__ = ["KEYED_OF_LATE", "TURNS_PLANNED", "PersonHub", "person_hub", "turns"]

_INSTANT = "s since 1970-01-01T00:00:00Z"
LATEST = 24

KEYED_OF_LATE = Table(
    "keyed_of_late",
    "What one person keyed of late, under whichever number, with what was added or given to them by hand",
    (
        Column("punch", "count", "The stored punch; negative for one that a correction added", required=True),
        Column("at", "instant", "When", required=True, unit=_INSTANT),
        Column("zone", "text", "The zone of the clock that tells it", required=True),
        Column("reader", "text", "At which reader; empty for one that was added"),
        Column("number", "text", "The number keyed; empty for one that was added"),
        Column("direction", "text", "Which way, where it is known", allowed=("in", "out")),
        Column("score", "score", "How far the hand lay from its enrolment", unit="reader's own scale"),
        Column("came", "text", "What came of it", required=True, allowed=("accepted", "refused", "given", "added")),
    ),
    key=("punch",),
)
TURNS_PLANNED = Table(
    "turns_planned",
    "Turns at readers in rounds, the latest first, with what came of each last",
    (
        Column("round", "text", "The round", required=True),
        Column("title", "text", "What it is about", required=True),
        Column("day", "date", "The day it is for", required=True),
        Column("reader", "text", "At which reader", required=True),
        Column("person", "text", "Whose hand"),
        Column("number", "text", "The number to key", required=True),
        Column("action", "text", "What to do", required=True),
        Column("result", "text", "What came of it; empty while nothing has"),
        Column("author", "text", "Who said so at the reader"),
    ),
)


@dataclass(frozen=True)
class PersonHub:
    """What is known of a person beside their row on the roster and their weeks.

    `presented` (KEYED_OF_LATE) is the latest of what they keyed, `scores` the scores of what was accepted of that, the
    oldest first. `gone` (ENROLMENT_HISTORY) are readers that list their number no longer; `elsewhere` (DISCREPANCIES)
    tells where their hand may stand under another number; `former` (FORMER_NUMBERS) which numbers were theirs. `turns`
    (TURNS_PLANNED) are theirs in rounds, `decisions` (LOG) are about them.
    """

    presented: Sequence[Mapping[str, Any]]
    scores: Sequence[float]
    gone: Sequence[Mapping[str, Any]]
    elsewhere: Sequence[Mapping[str, Any]]
    former: Sequence[Mapping[str, Any]]
    turns: Sequence[Mapping[str, Any]]
    consent: PersonConsent
    decisions: Frame


def person_hub(reckoning: Reckoning, today: Today, who: Mapping[str, Any]) -> PersonHub:
    """Return everything about a person of the roster (a row of PEOPLE)."""
    of, person = reckoning.snapshot, str(who["person"])
    mine = pl.col("person") == person
    presented = _presented(reckoning, person, today.since)
    latest = presented.head(LATEST)
    scored = presented.filter(pl.col("came") == "accepted", pl.col("score").is_not_null()).head(2 * LATEST)
    gone = of.enrolment_history.filter(pl.col("number") == who["number"], pl.col("gone_at").is_not_null())
    is_another = pl.col("number").ne_missing(pl.lit(who["number"], pl.String)) & pl.col("number").is_not_null()
    elsewhere = today.discrepancies.filter(mine, pl.col("kind") != "unattributed_punches", is_another)
    elsewhere = elsewhere.filter(pl.col("reader").is_not_null())
    return PersonHub(
        presented=latest.rows(named=True),
        scores=scored["score"].reverse().to_list(),
        gone=gone.rows(named=True),
        elsewhere=elsewhere.rows(named=True),
        former=of.former_numbers.filter(mine).sort("until", descending=True).rows(named=True),
        turns=turns(reckoning, mine).rows(named=True),
        consent=person_consent(of, person, reckoning.day),
        decisions=narrowed(reckoning, LogAsked(person=person)),
    )


def turns(reckoning: Reckoning, wanted: pl.Expr) -> Frame:
    """Return the turns (TURNS_PLANNED) of rounds that are wanted, by columns of ROUND_ITEMS."""
    of = reckoning.snapshot
    last = of.outcomes.sort("made_at", "received_at").unique("item", keep="last")
    rows = (
        of.round_items.filter(wanted)
        .join(of.rounds.select("round", "title", "day"), on="round", how="left")
        .join(last.select("item", "result", "author"), on="item", how="left")
        .sort("day", "round", "position", descending=[True, True, False])
    )
    return TURNS_PLANNED.check(rows.select(TURNS_PLANNED.names))


def _presented(reckoning: Reckoning, person: str, since: int) -> Frame:
    """Return what a person keyed since an instant, and what was given to them (KEYED_OF_LATE), the latest first."""
    of, holders = reckoning.snapshot, reckoning.holders
    theirs = reckoning.attribution.attributed.filter(pl.col("person") == person, pl.col("at") >= since)
    given = of.standing_corrections.filter(pl.col("action") == "attribute", pl.col("person") == person)["punch"]
    logged = of.recorded.filter(pl.col("punch").is_in(theirs["punch"].implode())).select("punch", "number", "score")
    came = (
        pl.when(pl.col("punch") < 0)
        .then(pl.lit("added"))
        .when(pl.col("punch").is_in(given.implode()))
        .then(pl.lit("given"))
        .otherwise(pl.lit("accepted"))
    )
    accepted = theirs.join(logged, on="punch", how="left").with_columns(came=came)
    known = isinstance(holders.dtype, pl.Enum) and person in holders.dtype.categories
    is_held = holders == person if known else pl.lit(value=False)
    refused = (
        of.recorded.filter(is_held, pl.col("at") >= since, pl.col("outcome") == "refused")
        .join(of.readers.select("reader", "zone"), on="reader", how="left")
        .with_columns(pl.col("zone").fill_null(reckoning.zone), came=pl.lit("refused"))
    )
    both = [
        frame.select(pl.col(name).cast(dtype) for name, dtype in KEYED_OF_LATE.schema.items())
        for frame in (accepted, refused)
    ]
    return KEYED_OF_LATE.check(pl.concat(both).sort("at", "punch", descending=True))
