"""Open alarms of the charts, as the checks take them up."""

from __future__ import annotations

from typing import Any

import polars as pl

from evenhand.checks.facts import Facts
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Finding, Stake
from evenhand.terms.said import how_it_came
from evenhand.terms.words import SPARED
from evenhand.terms.zones import civil_date

__all__ = ["is_spared", "open_alarms", "set_right", "since_when"]

NEXT = {
    "hand": told("Ask whether a ring, a bandage or a swelling explains it; if not, enrol again."),
    "reader": told("Clean the platen; if that does not help, calibrate the reader."),
    "both": told("Clean the platen first; then see whether the hand still scores high."),
    "cannot_tell": told("Ask for one presentation at another reader."),
    "neither": told("Look again in a few days."),
}
OF_A_READER = {
    "hand": told("Clean the platen first; then see of whom scores stay high."),
    "both": NEXT["reader"],
    "cannot_tell": told("Ask some of its people for one presentation at another reader."),
}
"""What to do where scores rose at a reader, of which no one hand is named."""
NOT_SPARED = told(
    "Ask whether a ring, a bandage or a swelling explains it. That a new enrolment would "
    "spare refusals is not known: wait with it."
)
CODES = {"person": "hand_changed", "reader": "reader_changed"}
"""The checks that tell of alarms, by what these are about."""
OF_RUNS = ("hand_refusals", "reader_refusals")
"""The charts of refusals; the others are of scores."""
OF_REFUSALS = told(
    "See how the hand is laid down, and ask for one presentation at another reader, which "
    "tells hand from reader; until then offer another way to clock."
)
FELL = told(
    "If the reader was cleaned or calibrated then, there is nothing to do; if not, look whether a part of it moved."
)


def open_alarms(facts: Facts, about: str) -> list[dict[str, Any]]:
    """Return the first alarm that lasts (ALARMS) of each `person`, or of each `reader`, with those `beside` it.

    Of a reader what its scores say comes before a run of refusals, whichever alarmed first: scores that rise go on
    until somebody cleans, and a run of refusals may be one hand's; so it is of a hand. What other kinds of charts say
    is beside it, so that neither hides the other. That scores fell comes last, since it asks for nothing. An alarm
    that somebody settled is put aside with what its kind of chart says while it lasts, and with what others had said
    before that day; whatever another kind says since is told.
    """
    ranked = pl.when(pl.col("size") < 0).then(2).when(pl.col("chart").is_in(OF_RUNS)).then(1).otherwise(0)
    lasting = facts.alarms.filter(pl.col("until").is_null(), pl.col(about).is_not_null()).with_columns(rank=ranked)
    firsts = _unsettled(facts, about, lasting).unique([about, "rank"], keep="last", maintain_order=True)
    told_of: dict[str, dict[str, Any]] = {}
    for row in firsts.sort("rank", maintain_order=True).drop("rank").rows(named=True):
        if row[about] in told_of:
            told_of[row[about]]["beside"].append(row)
        else:
            told_of[row[about]] = row | {"beside": []}
    return list(told_of.values())


def _unsettled(facts: Facts, about: str, lasting: Frame) -> Frame:
    """Return the alarms without those that were settled, or were told beside one that was."""
    key = pl.format("{}/{}/{}", pl.lit(CODES[about]), about, pl.col("on").dt.to_string("%Y-%m-%d"))
    keyed = lasting.with_columns(key=key)
    answered = keyed.filter(pl.col("key").is_in(list(facts.settled)))
    if answered.is_empty():
        return lasting
    days = [civil_date(facts.zone, facts.settled[key]) for key in answered["key"]]
    settled = answered.with_columns(settled_on=pl.Series(days, dtype=pl.Date))
    of_kind = lasting.join(settled, on=[about, "rank"], how="anti", maintain_order="left")
    last = settled.group_by(about).agg(pl.col("settled_on").max())
    since = of_kind.join(last, on=about, how="left", maintain_order="left")
    return since.filter(pl.col("settled_on").is_null() | (pl.col("on") >= pl.col("settled_on"))).select(lasting.columns)


def since_when(row: dict[str, Any]) -> str:
    """Return from when on things had changed, and when that was noticed."""
    return told("Since {since:long}, noticed on {day:long}.", since=row["since"], day=row["on"])


def is_spared(facts: Facts, person: str | None) -> bool:
    """Return whether a new enrolment of somebody's hand is believed to spare refusals, by the forecast."""
    theirs = facts.forecasts.filter(pl.col("person") == person)["saved"]
    return bool(theirs.len() and theirs[0] >= SPARED)


def set_right(facts: Facts, code: str, row: dict[str, Any], name: str) -> Finding:
    """Return the finding of one alarm; what to do depends on whose change it was, and on what it would spare."""
    about = "person" if row["person"] is not None else "reader"
    cause = row["cause"] or ("hand" if about == "person" else "reader")
    next_step = NEXT[cause]
    if row["size"] < 0:
        next_step = FELL
    elif row["chart"] in ("reader", "reader_drift") and cause in OF_A_READER:
        next_step = OF_A_READER[cause]
    elif about == "person" and row["cause"] is None:
        next_step = OF_REFUSALS
    elif cause == "hand" and about == "person" and not is_spared(facts, row["person"]):
        next_step = NOT_SPARED
    return Finding(
        code=code,
        subject=row[about],
        person=row["person"],
        reader=row["reader"],
        day=row["on"],
        says=told("{who}: {says:again}", who=name, says=row["says"]),
        evidence=(
            since_when(row),
            *([how_it_came(row["shape"])] if row["size"] > 0 and row["shape"] else []),
            *(
                told("Also since {since:long}: {says:again}", since=other["since"], says=other["says"])
                for other in row["beside"]
            ),
        ),
        stake=Stake(people=1 if about == "person" else 0),
        next_step=next_step,
        details={"cause": cause},
    )
