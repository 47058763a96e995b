"""Find whose punches arrive under numbers nobody holds, or under somebody else's."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, NamedTuple

import polars as pl

from evenhand import linkage
from evenhand.jobs.given_by_hand import overtaken_attributions
from evenhand.jobs.period import RECENT
from evenhand.jobs.reckoning import Reckoning
from evenhand.linkage.words import Part, parts_of
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.likeness.explain import explain
from evenhand.terms.records import Unknown
from evenhand.terms.sources import SCHEDULES
from evenhand.terms.zones import utc_start

__all__ = [
    "NOBODY",
    "PLAIN",
    "Candidate",
    "Decided",
    "Part",
    "StrayProposal",
    "StrayPunch",
    "Strays",
    "find_strays",
    "once_each",
    "proposal_of",
    "rough_word",
    "unattributed_lately",
    "why_rough",
]

NOBODY = ""
SHOWN = 5
LEAST_SHOWN = 1e-4
PLAIN = 0.99
FEWEST_PLAIN = 0.5
"""The share of strays that are plain, above which what is said of the others has held (docs/strays.md)."""
MUCH = 0.02
"""The chance of somebody who was not looked at from which it matters."""
MOST_SCHEDULED = 0.5
"""The share of people with a schedule below which being silent tells too little (docs/strays.md)."""
HARDLY = 0.05
"""The chance below which, where probabilities are rough, somebody is hardly whose punches they are."""


@dataclass(frozen=True)
class Candidate:
    """Who may have made a stray's punches: how likely, the evidence in parts that add up to `bits`, what is not theirs.

    `impossible` are punches the person cannot have made; they are left out when the stray is confirmed.
    """

    person: str
    name: str
    probability: float
    bits: float
    parts: tuple[Part, ...]
    is_best_together: bool
    impossible: frozenset[int]


class StrayPunch(NamedTuple):
    """One punch of a stray: its number, when, and which way it went, where that is known."""

    punch: int
    at: int
    direction: str | None


@dataclass(frozen=True)
class StrayProposal:
    """One stray with its candidates, the likeliest first; `nobody` is the probability that they are nobody's here.

    `others` is the probability that they are somebody's on the roster who was not looked at one by one. Where it
    `is_rough`, what is said below 99 % has not been seen to hold: a word stands for it (`rough_word`).

    `holder` is whose number it is, where the punches are attributed but fit somebody else better. `swapped_with` names
    the stray of the other half, where two people's numbers are exchanged at a reader; '' where they are not.
    """

    stray: str
    reader: str
    zone: str
    number: str
    holder: str
    holder_name: str
    minutes: int
    shifts: int
    nobody: float
    others: float
    punches: tuple[StrayPunch, ...]
    candidates: tuple[Candidate, ...]
    note: str
    swapped_with: str = ""
    is_rough: bool = False

    @property
    def best(self) -> Candidate | None:
        """Return the likeliest candidate; None where nobody here, or somebody not looked at, is likelier."""
        first = self.candidates[0] if self.candidates else None
        return first if first is not None and first.probability > max(self.nobody, self.others) else None


@dataclass(frozen=True)
class Decided:
    """Punches under one number at one reader that were given to somebody by hand.

    `holder` is whose number it is by a roster taken since, which asks again whose the punches are; else ''.
    """

    stray: str
    reader: str
    number: str
    person: str
    name: str
    punches: tuple[int, ...]
    author: str
    reason: str
    made_at: int
    holder: str = NOBODY
    holder_name: str = ""


@dataclass(frozen=True)
class Strays:
    """What was found: `proposals`, most minutes of pay first, and `decided` strays, with the frames they rest on.

    `why_rough` says why probabilities are, in a sentence; '' where what they say has been seen to hold.
    """

    proposals: tuple[StrayProposal, ...]
    decided: tuple[Decided, ...]
    why_rough: str
    people: Frame
    readers: Frame
    enrolments: Frame
    recorded: Frame
    schedules: Frame
    attributed: Frame
    impossible: Frame


def find_strays(reckoning: Reckoning) -> Strays:
    """Return the strays of the eight weeks up to the reckoning's day, with whose they probably are and why."""
    return reckoning.part("strays", lambda: _find(reckoning))


def _find(reckoning: Reckoning) -> Strays:
    of, day = reckoning.snapshot, reckoning.day
    recent = _recent(day)
    attributed = reckoning.attribution.attributed.filter(recent | (pl.col("punch") < 0))
    by_hand = _given_by_hand(of.standing_corrections, of.recorded, recent)
    roster = linkage.roster_of(of.people, of.readers, attributed, of.schedules)
    doubted = _doubted(reckoning, attributed, roster).join(by_hand, on="punch", how="anti")
    unattributed = unattributed_lately(reckoning)
    nobodys = unattributed.select("punch", "reader", "number", "at", "direction", holder=pl.lit(None, pl.String))
    asked = pl.concat([nobodys, doubted.rename({"person": "holder"})])
    found = linkage.link(
        asked,
        roster=roster,
        readers=of.readers,
        enrolments=of.enrolments,
        refused=of.recorded.filter(recent, pl.col("outcome") == "refused"),
        explanations=explain(asked["number"], of.people),
        policy=of.settings.policy,
        confirmed=by_hand.select("reader", "number", "person"),
        rejected=_rejected(of.rejected_attributions),
    )
    proposals = _paired(_proposals(found, asked, of.people, of.readers, of.names))
    rough = why_rough(proposals, scheduled=float(roster.has_schedule.mean()) if roster.size else 1.0)
    return Strays(
        proposals=tuple(replace(one, is_rough=True) for one in proposals) if rough else proposals,
        why_rough=rough,
        decided=_decided(by_hand, of.corrections, overtaken_attributions(reckoning), of.names),
        people=of.people,
        readers=of.readers,
        enrolments=of.enrolments,
        recorded=of.recorded,
        schedules=of.schedules,
        attributed=reckoning.attribution.attributed,
        impossible=found.impossible,
    )


def unattributed_lately(reckoning: Reckoning) -> Frame:
    """Return the accepted punches of the eight weeks up to the reckoning's day that belong to nobody yet."""
    return reckoning.attribution.unattributed.filter(_recent(reckoning.day))


def _recent(day: date) -> pl.Expr:
    # bounded by days, so that it holds all day long; the last is over everywhere, and a clock may run ahead
    return pl.col("at").is_between(utc_start(day - RECENT), utc_start(day + timedelta(days=2)), closed="left")


def _doubted(reckoning: Reckoning, attributed: Frame, roster: linkage.PeopleColumns) -> Frame:
    """Attributed punches that may be somebody else's, see `linkage.doubted`."""
    of = reckoning.snapshot

    def make(people: Collection[str] | None) -> Frame:
        mine, theirs = attributed, roster
        if people is not None:
            them = pl.col("person").is_in(list(people))
            mine = attributed.filter(them)
            theirs = linkage.roster_of(of.people.filter(them), of.readers, mine, SCHEDULES.empty())
        return linkage.doubted(mine, theirs, of.enrolments, of.settings.policy)

    return reckoning.frame_by_person("doubted", make)


def once_each(proposals: Sequence[StrayProposal]) -> list[tuple[StrayProposal, StrayProposal | None]]:
    """Return each stray with the other half of a swap, so that a pair to swap back is told once."""
    every, told, found = (
        {one.stray: one for one in proposals},
        set[str](),
        list[tuple[StrayProposal, StrayProposal | None]](),
    )
    for one in proposals:
        if one.stray not in told:
            found.append((one, every.get(one.swapped_with)))
            told.add(one.swapped_with)
    return found


def why_rough(proposals: Sequence[StrayProposal], *, scheduled: float = 1.0) -> str:
    """Return why the probabilities are rough, in a sentence; '' where what they say has been seen to hold.

    What makes a stray somebody's is learned from those that are plain, with thousands not everybody is looked at, and
    whoever has neither a schedule nor punches of their own is silent always: `scheduled` is the share with a schedule.
    """
    if not proposals:
        return ""
    if any(one.others >= MUCH for one in proposals):
        return told(
            "There are too many to look at everybody one by one: take every probability as rough, and ask before you "
            "confirm."
        )
    plain = sum(
        max(one.nobody, *(candidate.probability for candidate in one.candidates), 0.0) >= PLAIN for one in proposals
    )
    if plain < FEWEST_PLAIN * len(proposals):
        return told(
            "Most of these strays fit several people or nobody: take every probability below 99 % as rough, and ask "
            "before you confirm."
        )
    if scheduled < MOST_SCHEDULED:
        return told(
            "Most people have no schedule, so that being away tells little: take every probability below 99 % as "
            "rough, and ask before you confirm."
        )
    return ""


def rough_word(chance: float) -> str:
    """Return what is said for a probability where they are rough; '' for one that holds there too (docs/strays.md)."""
    if chance >= PLAIN:
        return ""
    return told("may be") if chance >= HARDLY else told("hardly")


def proposal_of(found: Strays, stray: str) -> StrayProposal:
    """Return the stray of this name; raises Refusal where there is none."""
    for proposal in found.proposals:
        if proposal.stray == stray:
            return proposal
    named = ", ".join(proposal.stray for proposal in found.proposals[:5])
    if not named:
        raise Unknown(told('there is no stray "{stray}"; there are none now.', stray=stray))
    raise Unknown(told('there is no stray "{stray}"; the first are {named}.', stray=stray, named=named))


def _given_by_hand(corrections: Frame, recorded: Frame, recent: pl.Expr) -> Frame:
    """Recent punches given to somebody and not returned: punch, reader, number, person, correction."""
    last = corrections.filter(pl.col("action") == "attribute").sort("correction").unique("punch", keep="last")
    given = last.filter(pl.col("person") != NOBODY)
    punches = recorded.filter(pl.col("punch").is_in(given["punch"].implode()), recent)
    return given.join(punches.select("punch", "reader", "number", "at"), on="punch", how="inner").select(
        "punch", "reader", "number", "person", "correction"
    )


def _rejected(said: Frame) -> Frame:
    """Whose the punches under a number at a reader are not (reader, number, person), by the last word on each."""
    last = said.unique(["reader", "number", "person"], keep="last", maintain_order=True)
    return last.filter(~pl.col("is_withdrawn")).select("reader", "number", "person")


def _proposals(
    found: linkage.Linkage, asked: Frame, people: Frame, readers: Frame, names: Mapping[str, str]
) -> tuple[StrayProposal, ...]:
    zones: dict[str, str] = dict(readers.select("reader", "zone").iter_rows())
    open_ones = _open(found).sort("minutes", "stray", descending=[True, False])
    punches = _listed(found.punches.join(asked, on="punch", maintain_order="left"), ("punch", "at", "direction"))
    likely = found.candidates.filter(pl.col("probability") >= LEAST_SHOWN).join(open_ones, on="stray", how="semi")
    shown = likely.group_by("stray", maintain_order=True).head(SHOWN)
    impossible = {(stray, person): frozenset(them) for stray, person, them in _barred(found, shown).iter_rows()}
    candidates: dict[str, list[Candidate]] = {}
    for one in shown.iter_rows(named=True):
        cannot = impossible.get((one["stray"], one["person"]), frozenset())
        candidates.setdefault(one["stray"], []).append(_candidate(one, names, cannot))
    notes = _notes(open_ones["number"], people)
    return tuple(
        StrayProposal(
            stray=row["stray"],
            reader=row["reader"],
            zone=zones.get(row["reader"], "UTC"),
            number=row["number"],
            holder=row["holder"] or NOBODY,
            holder_name=names.get(row["holder"] or NOBODY, ""),
            minutes=row["minutes"],
            shifts=row["shifts"],
            nobody=row["nobody"],
            others=row["others"],
            punches=tuple(map(StrayPunch._make, punches[row["stray"]])),
            candidates=tuple(candidates.get(row["stray"], ())),
            note=notes.get(row["number"], ""),
        )
        for row in open_ones.iter_rows(named=True)
    )


def _paired(proposals: tuple[StrayProposal, ...]) -> tuple[StrayProposal, ...]:
    """The proposals, each with the other half where the holder of each number is the likeliest for the other."""
    halves = {(one.reader, one.holder, one.best.person): one.stray for one in proposals if one.holder and one.best}
    return tuple(
        replace(one, swapped_with=halves.get((one.reader, one.best.person, one.holder), "")) if one.best else one
        for one in proposals
    )


def _open(found: linkage.Linkage) -> Frame:
    """The strays somebody has to look at: punches that fit the holder of their number best are left to them."""
    best = found.candidates.unique("stray", keep="first", maintain_order=True)
    ranked = found.strays.join(best.select("stray", "probability", likeliest="person"), on="stray", how="left")
    fits_another = (pl.col("probability") > pl.col("nobody")) & (pl.col("likeliest") != pl.col("holder"))
    return ranked.filter(pl.col("holder").is_null() | fits_another)


def _listed(rows: Frame, columns: Sequence[str]) -> dict[str, tuple[tuple[Any, ...], ...]]:
    grouped = rows.group_by("stray", maintain_order=True).agg(columns)
    return {stray: tuple(zip(*lists, strict=True)) for stray, *lists in grouped.iter_rows()}


def _barred(found: linkage.Linkage, shown: Frame) -> Frame:
    of_shown = found.impossible.join(shown.select("stray", "person"), on=["stray", "person"])
    return of_shown.group_by("stray", "person").agg("punch")


def _candidate(row: Mapping[str, Any], names: Mapping[str, str], impossible: frozenset[int]) -> Candidate:
    return Candidate(
        person=row["person"],
        name=names[row["person"]],
        probability=row["probability"],
        bits=row["bits"],
        parts=parts_of(row),
        is_best_together=row["is_best"],
        impossible=impossible,
    )


def _notes(numbers: pl.Series, people: Frame) -> dict[str, str]:
    """What the roster says of numbers that several people hold, or that somebody held who has left."""
    held = people.filter(pl.col("number").is_in(numbers.unique().implode()))
    grouped = held.group_by("number").agg("name", pl.col("left_on"))
    notes: dict[str, str] = {}
    for number, holders, days in grouped.iter_rows():
        if len(holders) > 1:
            notes[number] = told(
                "{number} is on the roster for {count} people: {people}.",
                number=number,
                count=len(holders),
                people=", ".join(holders),
            )
        elif days[0] is not None:
            notes[number] = told(
                "{number} was the number of {holder}, whose last day on the roster is {day}; if they "
                "worked on, correct the roster.",
                number=number,
                holder=holders[0],
                day=days[0].isoformat(),
            )
    return notes


def _decided(by_hand: Frame, corrections: Frame, overtaken: Frame, names: Mapping[str, str]) -> tuple[Decided, ...]:
    whole = by_hand.join(corrections.select("correction", "author", "reason", "made_at"), on="correction")
    whole = whole.join(overtaken.select("punch", "holder"), on="punch", how="left")
    grouped = whole.sort("correction").group_by("reader", "number", "person", maintain_order=True)
    said = pl.col("author", "reason", "made_at").last(), pl.col("holder").drop_nulls().last()
    rows = grouped.agg("punch", *said).iter_rows(named=True)
    return tuple(
        Decided(
            stray=f"{row['reader']}/{row['number']}",
            reader=row["reader"],
            number=row["number"],
            person=row["person"],
            name=names.get(row["person"], row["person"]),
            punches=tuple(row["punch"]),
            author=row["author"],
            reason=row["reason"],
            made_at=row["made_at"],
            holder=row["holder"] or NOBODY,
            holder_name=names.get(row["holder"] or NOBODY, ""),
        )
        for row in rows
    )
