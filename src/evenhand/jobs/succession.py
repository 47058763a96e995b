"""Who would take over when a supervisor leaves, in which order, so that two others are proved before anything goes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.consents import hands_given
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.supervision import supervision_of
from evenhand.terms.columns import Frame
from evenhand.terms.consent import IN_FORCE
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.supervision import STANDING_STATES, SUCCESSORS

__all__ = ["NEEDED", "ReaderSuccession", "Succession", "plan_succession"]

PROPOSED = 3
NEEDED = 2  # common practice, no source


@dataclass(frozen=True)
class ReaderSuccession:
    """One reader that somebody leaves as supervisor: who stays, who could follow (SUCCESSORS), and the steps in order.

    `steps` name what to do, one after the other; the number of whoever leaves is taken off in the last one, once
    `NEEDED` others are proved. It is missing, and `lacks` says why, where that cannot be reached.
    """

    reader: str
    state: str
    stay: tuple[str, ...]
    falls_to: int
    successors: Frame
    steps: tuple[str, ...]
    lacks: str = ""


@dataclass(frozen=True)
class Succession:
    """What must be done before somebody stops being a supervisor, reader by reader; `leaves_on` where it is known."""

    person: str
    name: str
    leaves_on: date | None
    readers: tuple[ReaderSuccession, ...]


AS_SUPERVISOR = sentence("Enrol {name} under {number} as supervisor at {reader}, {how}.")
AGAIN_AS_SUPERVISOR = sentence("Enrol {name} under {number} again, as supervisor, at {reader}, {how}.")


def plan_succession(reckoning: Reckoning, text: str) -> Succession:
    """Return what must be done before a person stops being a supervisor at the readers on which they may enrol others.

    Raises Refusal where nobody answers to the text, and where the person may enrol others nowhere.
    """
    who = reckoning.snapshot.find_person(text)
    standing = supervision_of(reckoning)
    theirs = standing.filter(pl.col("person") == who["person"])
    if theirs.is_empty():
        raise Refusal(
            told(
                "{name} may enrol others at no reader, so nothing is to be handed over.",
                name=f"{who['name']} ({who['person']})",
            )
        )
    return Succession(
        who["person"],
        who["name"],
        who["left_on"],
        tuple(_at_reader(reckoning, who, row, standing) for row in theirs.iter_rows(named=True)),
    )


def _at_reader(
    reckoning: Reckoning, who: Mapping[str, Any], leaving: Mapping[str, Any], standing: Frame
) -> ReaderSuccession:
    """Return what is to be done at one reader. Somebody who leaves soon as well does not stay."""
    reader = leaving["reader"]
    others = standing.filter(pl.col("reader") == reader, pl.col("person") != who["person"])
    stay = others.filter(pl.col("state").is_in(STANDING_STATES), pl.col("leaves_on").is_null())
    unproved = others.filter(pl.col("state") == "unproved", pl.col("leaves_on").is_null())
    successors = _successors(reckoning, reader, who["person"], others, stay)
    missing = max(0, NEEDED - stay.height)
    names = [f"{name} ({person})" for name, person in stay.select("name", "person").iter_rows()]
    to_prove = unproved.head(missing)
    chosen = successors.head(max(0, missing - to_prove.height))
    can_come = leaving["state"] in (*STANDING_STATES, "unproved")
    steps = [_prove(row, reader) for row in to_prove.iter_rows(named=True)]
    stands = names[0] if names else f"{who['name']} ({who['person']})" if can_come else ""
    for row in chosen.iter_rows(named=True):
        steps += _enrol(row, reader, stands)
    lacks = ""
    if not stands and (chosen.height or to_prove.height):
        lacks = told(
            "nobody who may enrol others can come to {reader}: it is begun as an empty reader is, supervisors first",
            reader=reader,
        )
    if to_prove.height + chosen.height < missing:
        lacks = told(
            "nobody else who may be enrolled is known to use {reader}: name a supervisor of its site on People",
            reader=reader,
        )
    if not lacks:
        steps.append(
            told(
                "Only now, with two others proved, take {number} ({name}) off {reader}, or enrol it again without "
                "authority where {name} goes on clocking there.",
                number=leaving["number"],
                name=who["name"],
                reader=reader,
            )
        )
    return ReaderSuccession(reader, leaving["state"], tuple(names), stay.height, successors, tuple(steps), lacks)


def _prove(row: Mapping[str, Any], reader: str) -> str:
    who = f"{row['name']} ({row['person']})"
    return told(
        "Have {name} key {number} at {reader} and lay the hand down: that is the proof.",
        name=who,
        number=row["number"],
        reader=reader,
    )


def _enrol(row: Mapping[str, Any], reader: str, stands: str) -> Iterator[str]:
    who = f"{row['name']} ({row['person']})"
    if not row["is_supervisor"]:
        yield told("Name {name} a supervisor on the roster, and take it.", name=who)
    by = told("with {name} standing by", name=stands) if stands else told("first of all")
    yield told(
        AGAIN_AS_SUPERVISOR if row["is_enrolled"] else AS_SUPERVISOR,
        name=who,
        number=row["number"],
        reader=reader,
        how=by,
    )
    yield _prove(row, reader)


def _successors(reckoning: Reckoning, reader: str, leaving: str, others: Frame, stay: Frame) -> Frame:
    """Return SUCCESSORS of the reader's site whose hand may be enrolled, who are here and do not leave soon.

    Supervisors of the roster come first, then who uses the reader most, then whose shifts nobody who stays covers.
    """
    of, since = reckoning.snapshot, int((reckoning.as_of - reconcile.LOOKED_BACK).timestamp())
    lately = reckoning.attribution.attributed.filter(pl.col("reader") == reader, pl.col("at") >= since)
    seen = lately.group_by("person").agg(presentations=pl.len().cast(pl.Int64))
    here = _may_follow(reckoning, reader, leaving).join(
        others.filter(pl.col("state") != "roster").select("person").drop_nulls(), on="person", how="anti"
    )
    could = here.join(seen, on="person", how="left").filter(
        pl.col("is_supervisor").fill_null(value=False) | pl.col("presentations").is_not_null()
    )
    held = of.enrolments.filter(pl.col("reader") == reader)["number"].implode()
    shifts = _shifts_beside(of.schedules, could, stay, since)
    ranked = could.join(shifts, on="person", how="left").select(
        pl.lit(reader).alias("reader"),
        "person",
        "name",
        "number",
        pl.col("is_supervisor").fill_null(value=False),
        pl.col("number").is_in(held).alias("is_enrolled"),
        pl.col("presentations").fill_null(0),
        pl.col("shifts").fill_null(0),
    )
    order = ("is_supervisor", "presentations", "shifts", "person")
    return SUCCESSORS.check(ranked.sort(order, descending=[True, True, True, False]).head(PROPOSED))


def _may_follow(reckoning: Reckoning, reader: str, leaving: str) -> Frame:
    """Return those of the roster (PEOPLE) who may be enrolled at the reader and will be there for a while."""
    of, today = reckoning.snapshot, reckoning.day
    site = dict(of.readers.select("reader", "site").iter_rows())[reader]
    states = hands_given(reckoning).states
    may = states.filter(~pl.col("is_required") | pl.col("kind").is_in(IN_FORCE))["person"].implode()
    return of.people.filter(
        (pl.col("site") == site).fill_null(value=True),
        pl.col("person") != leaving,
        pl.col("person").is_in(may),
        (pl.col("hired_on") <= today).fill_null(value=True),
        (pl.col("left_on") > today + reconcile.LEAVES_SOON).fill_null(value=True),
    ).drop_nulls("number")


def _shifts_beside(schedules: Frame, could: Frame, stay: Frame, since: int) -> Frame:
    """Return person and `shifts`: how many of theirs since an instant no shift of those who stay touches."""
    lately = schedules.filter(pl.col("ends_at") > since).select("person", "starts_at", "ends_at")
    there = pl.lit("").alias("reader")  # all at one reader
    theirs = lately.join(could.select("person"), on="person", how="semi").with_columns(there)
    mine = lately.join(stay.select("person"), on="person", how="semi").with_columns(there)
    return reconcile.untouched(theirs, mine).group_by("person").agg(shifts=pl.len().cast(pl.Int64))
