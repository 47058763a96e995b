"""Who of the supervisors can do their part at the reader: what they practised, and what became of their enrolments."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import polars as pl

from evenhand.enrolment.proof import prove
from evenhand.enrolment.rounds import round_states
from evenhand.enrolment.teaching.shown_again import REMEMBERED, SMALL, EnrolmentWork, not_known_yet, shown_again
from evenhand.jobs.practice import standing_practices, theme_names
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.supervision import person_behind
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Unknown

__all__ = [
    "SMALL",
    "FirstScores",
    "PracticeSeen",
    "Supervisor",
    "SupervisorWork",
    "see_work",
    "supervisor_of",
    "supervisors_named",
    "work_of",
]

PROVED_WITHIN = timedelta(days=14)
"""A punch may take so long to come, with days off and exports, before an enrolment is told as not proved."""
AGAIN_WITHIN_S = 28 * 86_400


@dataclass(frozen=True)
class Supervisor:
    """A supervisor of the roster."""

    person: str
    name: str
    site: str | None


@dataclass(frozen=True)
class PracticeSeen:
    """A practice of somebody: on which day, what went well and what not, how it came and who sent or keyed it."""

    practice: int
    day: date
    well: tuple[str, ...]
    not_well: tuple[str, ...]
    way: str
    author: str


@dataclass(frozen=True)
class FirstScores:
    """Where first scores lie among all scores accepted at their sites: the median share below, from 0 to 1, of `count`.

    `usual` and `usual_count` are the same of everybody's enrolments there: a first score runs higher than later ones.
    """

    median: float
    count: int
    usual: float
    usual_count: int


@dataclass(frozen=True)
class SupervisorWork:
    """A supervisor with their practices, latest first, and enrolments, and why they should be shown again.

    `not_known` says why nothing on file shows yet whether they can, empty where something does. `waiting` enrolments
    are too new to be told as not proved. `scores` are None where no first score is told.
    """

    who: Supervisor
    practices: tuple[PracticeSeen, ...]
    work: EnrolmentWork
    waiting: int
    scores: FirstScores | None
    reasons: tuple[str, ...]
    not_known: str

    @property
    def can(self) -> bool:
        """Whether something shows that they can, and nothing speaks for showing them again."""
        return not self.reasons and not self.not_known

    @property
    def is_small(self) -> bool:
        """Whether their counts say little, being small."""
        return self.work.enrolled < SMALL


def supervisors_named(reckoning: Reckoning) -> list[Supervisor]:
    """Return the supervisors of the roster who are here, by name."""
    here = reckoning.snapshot.people.filter(
        pl.col("is_supervisor").fill_null(value=False),
        (pl.col("left_on") >= reckoning.day).fill_null(value=True),
    )
    rows = here.sort("name", "person").select("person", "name", "site").iter_rows()
    return [Supervisor(person, name or person, site) for person, name, site in rows]


def supervisor_of(reckoning: Reckoning, person: str) -> Supervisor:
    """Return a supervisor by identifier; raises Unknown where the roster names no such supervisor."""
    for one in supervisors_named(reckoning):
        if one.person == person:
            return one
    raise Unknown(told('"{name}" is no supervisor on the roster; `evenhand people` lists everybody.', name=person))


def work_of(reckoning: Reckoning, person: str) -> SupervisorWork:
    """Return one supervisor's work; raises Unknown where the roster names no such supervisor."""
    supervisor_of(reckoning, person)
    return next(one for one in see_work(reckoning) if one.who.person == person)


def see_work(reckoning: Reckoning) -> list[SupervisorWork]:
    """Return the supervisors' practices, and their enrolments of the last half year, by name: this is no ranking."""
    return reckoning.part(("supervisors' work", reckoning.as_of), lambda: _see(reckoning))


def _see(reckoning: Reckoning) -> list[SupervisorWork]:
    named = supervisors_named(reckoning)
    practices = standing_practices(reckoning.snapshot.practices).sort("day", "practice", descending=True)
    enrolled = _enrolled(reckoning)
    works = {one.person: _counted(enrolled.filter(pl.col("supervisor") == one.person)) for one in named}
    everybody = _counted(enrolled)
    seen = []
    for one in named:
        mine = tuple(_practice(row) for row in practices.filter(pl.col("person") == one.person).iter_rows(named=True))
        last = mine[0] if mine else None
        theirs = works[one.person]
        work = replace(
            theirs,
            practised_on=last.day if last else None,
            well=len(last.well) if last else 0,
            not_well=len(last.not_well) if last else 0,
        )
        rows = enrolled.filter(pl.col("supervisor") == one.person)
        seen.append(
            SupervisorWork(
                one,
                mine,
                work,
                rows.height - work.told,
                _first_scores(rows, enrolled),
                shown_again(work, everybody.without(theirs)),
                not_known_yet(work, reckoning.day),
            )
        )
    return seen


def _practice(row: Mapping[str, Any]) -> PracticeSeen:
    kept = {name: row[name] for name in ("practice", "day", "way", "author")}
    return PracticeSeen(**kept, well=tuple(theme_names(row["well"])), not_well=tuple(theme_names(row["not_well"])))


def _counted(enrolled: Frame) -> EnrolmentWork:
    told = enrolled.filter(pl.col("is_proved") | pl.col("is_old"))
    return EnrolmentWork(
        enrolled=enrolled.height,
        told=told.height,
        proved=int(told["is_proved"].sum()),
        other_number=int(enrolled["is_other_number"].sum()),
        again=int(enrolled["is_again"].sum()),
    )


def _enrolled(reckoning: Reckoning) -> Frame:
    """Return the enrolments of the last half year, with the `supervisor` who tapped each, where that is known.

    Columns: item, reader, site, supervisor, is_proved, is_old (a punch should have come), is_other_number, is_again,
    and `place`: the share of scores accepted at the site that lie below the first, 0 to 1, null where none is told.
    """
    of = reckoning.snapshot
    now = int(reckoning.as_of.timestamp())
    states = round_states(of.round_items, of.outcomes).filter(
        pl.col("result") == "enrolled", pl.col("at") >= now - int(REMEMBERED.total_seconds())
    )
    proof = _proof(reckoning, states)
    sites = dict(of.readers.select("reader", "site").iter_rows())
    who = person_behind(of)
    author = pl.col("author").str.strip_chars().str.to_lowercase()
    shown = states.join(_flags(proof), on="item", how="left").with_columns(
        supervisor=author.replace_strict(who, default=None, return_dtype=pl.String),
        site=pl.col("reader").replace_strict(sites, default="", return_dtype=pl.String),
        is_old=pl.col("at") < now - int(PROVED_WITHIN.total_seconds()),
        is_again=pl.col("at").shift(-1).over("reader", "number", order_by="at").sub(pl.col("at")) < AGAIN_WITHIN_S,
    )
    flags = ("is_proved", "is_other_number", "is_again")
    return shown.with_columns(
        *(pl.col(name).fill_null(value=False) for name in flags), place=_places(shown, of.recorded, sites)
    )


def _proof(reckoning: Reckoning, states: Frame) -> Frame:
    """Return what the punches prove of enrolments (PROOF), looked for among their numbers and those of nobody."""
    of = reckoning.snapshot
    others = (
        of.people["number"].drop_nulls().filter(~of.people["number"].drop_nulls().is_in(states["number"].implode()))
    )
    at_readers = pl.col("reader").is_in(states["reader"].unique().implode())
    return prove(states, of.recorded.filter(at_readers, ~pl.col("number").is_in(others.implode())), of.people)


def _flags(proof: Frame) -> Frame:
    kind = pl.col("kind")
    return (
        proof.drop_nulls("item")
        .group_by("item")
        .agg(
            is_proved=(kind == "proved").any(),
            is_other_number=(kind == "other_number").any(),
            score=pl.col("score").filter(kind == "proved").first(),
        )
    )


def _places(shown: Frame, recorded: Frame, sites: Mapping[str, str]) -> pl.Series:
    """Return where each first score lies among all accepted at its site; ties count half."""
    places: list[float | None] = [None] * shown.height
    accepted = recorded.filter(
        pl.col("outcome").fill_null("accepted") == "accepted", pl.col("score").is_not_null()
    ).select("score", site=pl.col("reader").replace_strict(dict(sites), default="", return_dtype=pl.String))
    for site in shown["site"].unique().to_list():
        usual = np.sort(accepted.filter(pl.col("site") == site)["score"].to_numpy())
        for row, (of_site, score) in enumerate(shown.select("site", "score").iter_rows()):
            if of_site == site and score is not None and len(usual):
                below = np.searchsorted(usual, score, "left") + np.searchsorted(usual, score, "right")
                places[row] = float(below / 2 / len(usual))
    return pl.Series("place", places, dtype=pl.Float64)


def _first_scores(rows: Frame, enrolled: Frame) -> FirstScores | None:
    mine = rows["place"].drop_nulls()
    if mine.is_empty():
        return None
    usual = enrolled.filter(pl.col("site").is_in(rows["site"].unique().implode()))["place"].drop_nulls()
    return FirstScores(float(np.median(mine)), mine.len(), float(np.median(usual)), usual.len())
