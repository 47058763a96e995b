"""Who supervises at each reader and what proves it, and who decided about themselves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.consents import another_way, hands_given
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.columns import Frame
from evenhand.terms.supervision import OWN_DECISIONS, STANDING_STATES

__all__ = ["may_stand_by", "own_decisions", "person_behind", "supervision_of", "uncovered_of"]


def supervision_of(reckoning: Reckoning) -> Frame:
    """Return who may enrol others at each reader on the day of the reckoning, and what proves it (SUPERVISION)."""

    def make() -> Frame:
        of = reckoning.snapshot
        return reconcile.supervision(_enrolled(reckoning), of.recorded, reckoning.holders, today=reckoning.day)

    return reckoning.part(("supervision", reckoning.day), make)


def may_stand_by(reckoning: Reckoning, reader: str) -> list[str]:
    """Return the names of whoever counts as a supervisor beside somebody who signs at a reader on the reckoning's day.

    Those are whom the roster says so of, employed that day, and whoever stands at the reader as one.
    """
    on, of = reckoning.day, reckoning.snapshot
    began = (pl.col("hired_on") <= on).fill_null(value=True)
    told = of.here(on).filter("is_supervisor", began)
    standing = supervision_of(reckoning).filter(pl.col("reader") == reader, pl.col("state").is_in(STANDING_STATES))
    proved = of.here(on).join(standing, on="person", how="semi").filter(began)
    return pl.concat([told, proved])["name"].unique().sort().to_list()


def uncovered_of(reckoning: Reckoning) -> Frame:
    """Return how far readers' supervisors were there when others were, in the last four weeks (UNCOVERED)."""

    def make() -> Frame:
        standing = supervision_of(reckoning).filter(pl.col("state").is_in(STANDING_STATES))
        of, attributed = reckoning.snapshot, reckoning.attribution.attributed
        as_of = int(reckoning.as_of.timestamp())
        return reconcile.uncovered(_enrolled(reckoning), standing, of.schedules, attributed, as_of=as_of)

    return reckoning.part(("uncovered", reckoning.as_of), make)


def _enrolled(reckoning: Reckoning) -> reconcile.AuthorityTold:
    of = reckoning.snapshot
    tapped = (
        of.outcomes.filter(pl.col("result") == "enrolled")
        .join(of.round_items, on="item")
        .sort("made_at", "outcome")
        .group_by("reader", "number", maintain_order=True)
        .agg(at=pl.col("made_at").last(), may=pl.col("action").last() == "enrol_supervisor")
    )
    no_hand = another_way(hands_given(reckoning).states)
    return reconcile.AuthorityTold(of.people, of.readers, of.enrolments, tapped, frozenset(no_hand))


# ---- who decided about themselves


def person_behind(snapshot: Snapshot) -> dict[str, str]:
    """Return which person of the roster each author is, in small letters, as far as it is told.

    [authors] of the settings tells; else a name or identifier that is one person's alone.
    """
    people = snapshot.people.select("person", pl.col("name").str.strip_chars().str.to_lowercase())
    named = people.drop_nulls("name").unique("name", keep="none")
    by_name = dict(named.select("name", "person").iter_rows())
    by_identifier = {person.lower(): person for person in people["person"]}
    told = {name.strip().lower(): person for name, person in snapshot.settings.authors.items()}
    return by_name | by_identifier | told


def own_decisions(reckoning: Reckoning) -> Frame:
    """Return what stands that somebody decided about their own hours or hand (OWN_DECISIONS)."""
    return reckoning.part("own decisions", lambda: OWN_DECISIONS.rows(_own(reckoning.snapshot)))


def _own(of: Snapshot) -> Iterator[dict[str, Any]]:
    who = person_behind(of)
    for row in _of_themselves(of.standing_corrections, who):
        yield _row("correction", row["correction"], row)
    last = of.premium_decisions.sort("decision").unique(("person", "workday", "kind"), keep="last", maintain_order=True)
    for row in _of_themselves(last, who):
        yield _row("hours_owed", row["decision"], row)
    enrolled = of.outcomes.filter(pl.col("result") == "enrolled").join(of.round_items, on="item").sort("made_at")
    for row in _of_themselves(enrolled.unique("item", keep="last", maintain_order=True), who):
        yield _row("enrolment", row["item"], row) | {"reader": row["reader"]}


def _of_themselves(decided: Frame, who: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return the rows whose author is the person they are about."""
    author = pl.col("author").str.strip_chars().str.to_lowercase()
    known = author.replace_strict(dict(who), default=None, return_dtype=pl.String)
    return decided.filter(known == pl.col("person")).rows(named=True)


def _row(kind: str, decision: object, row: Mapping[str, Any]) -> dict[str, Any]:
    own = {name: row[name] for name in ("person", "author")}
    return {"kind": kind, "decision": str(decision), "at": row["made_at"], **own}
