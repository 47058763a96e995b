"""Find whose punches arrive under numbers nobody holds, or under somebody else's."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import polars as pl

from evenhand import linkage
from evenhand.jobs.given_by_hand import overtaken_attributions
from evenhand.jobs.period import RECENT
from evenhand.jobs.punches_read import numbers_of_several
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.stray_proposals import (
    NOBODY,
    Candidate,
    Decided,
    StrayProposal,
    StrayPunch,
    Strays,
    said_roughly,
    why_rough,
)
from evenhand.linkage.words import parts_of
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.likeness.explain import explain
from evenhand.terms.records import Unknown
from evenhand.terms.sources import SCHEDULES
from evenhand.terms.zones import utc_start

__all__ = ["find_strays", "once_each", "proposal_of", "unattributed_lately"]

SHOWN = 5
LEAST_SHOWN = 1e-4


def find_strays(reckoning: Reckoning) -> Strays:
    """Return the strays of the eight weeks up to the reckoning's day, with whose they probably are and why.

    Those under a number that changed hands are asked about as far back as the reckoning reaches: between two holders
    nobody else would ever ask.
    """
    return reckoning.part("strays", lambda: _find(reckoning))


def _find(reckoning: Reckoning) -> Strays:
    of = reckoning.snapshot
    unattributed = unattributed_lately(reckoning)
    recent, around = _recent(reckoning.day), _around(reckoning.day, unattributed)
    attributed = reckoning.attribution.attributed.filter(around | (pl.col("punch") < 0))
    several = pl.col("number").is_in(numbers_of_several(of.roster_told))
    by_hand = _given_by_hand(of.standing_corrections, of.recorded, recent | several)
    roster = linkage.roster_of(of.people, of.readers, attributed, of.schedules)
    lately = attributed.filter(recent | (pl.col("punch") < 0))
    doubted = _doubted(reckoning, lately, roster).join(by_hand, on="punch", how="anti")
    nobodys = unattributed.select("punch", "reader", "number", "at", "direction", holder=pl.lit(None, pl.String))
    asked = pl.concat([nobodys, doubted.rename({"person": "holder"})])
    found = linkage.link(
        asked,
        roster=roster,
        readers=of.readers,
        enrolments=of.enrolments,
        refused=of.recorded.filter(around, pl.col("outcome") == "refused"),
        explanations=explain(asked["number"], of.people),
        policy=of.settings.policy,
        confirmed=by_hand.select("reader", "number", "person"),
        rejected=_rejected(of.rejected_attributions),
    )
    proposals = _paired(_proposals(found, asked, of.people, of.readers, of.names))
    rough = why_rough(proposals, scheduled=float(roster.has_schedule.mean()) if roster.size else 1.0)
    return Strays(
        proposals=tuple(map(said_roughly, proposals)) if rough else proposals,
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
    """Return the accepted punches of the eight weeks up to the reckoning's day that belong to nobody yet.

    Of a number that several had one after the other, those before are among them.
    """
    day, several = reckoning.day, numbers_of_several(reckoning.snapshot.roster_told)
    before = (pl.col("at") < utc_start(day - RECENT)) & pl.col("number").is_in(several)
    return reckoning.attribution.unattributed.filter(_recent(day) | before)


def _around(day: date, asked: Frame) -> pl.Expr:
    """Return what lies within the eight weeks up to a day, and of those before the first punch that is older."""
    first, since = asked["at"].min(), utc_start(day - RECENT)
    if first is None or first >= since:  # type: ignore[operator]
        return _recent(day)
    return (pl.col("at") >= first - RECENT // timedelta(seconds=1)) & (pl.col("at") < since) | _recent(day)  # type: ignore[operator]


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


def proposal_of(found: Strays, stray: str) -> StrayProposal:
    """Return the stray of this name; raises Refusal where there is none."""
    for proposal in found.proposals:
        if proposal.stray == stray:
            return proposal
    named = ", ".join(proposal.stray for proposal in found.proposals[:5])
    if not named:
        raise Unknown(told('there is no stray "{stray}"; there are none now.', stray=stray))
    if len(found.proposals) == 1:
        raise Unknown(told('there is no stray "{stray}"; the only one is {named}.', stray=stray, named=named))
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
