"""Find whose punches arrive under numbers nobody owns, or under somebody else's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

import polars as pl

from evenhand import linkage, reconcile
from evenhand.jobs.reckoning import Reckoning
from evenhand.linkage.words import Part, parts_of
from evenhand.terms.columns import Frame
from evenhand.terms.likeness.explain import explain
from evenhand.terms.records import Refusal
from evenhand.terms.tables import OWNED

__all__ = ["NOBODY", "Candidate", "Decided", "Proposal", "Strays", "find_strays", "proposal_of"]

HISTORY = timedelta(weeks=8)
NOBODY = ""
SHOWN = 5
LEAST_SHOWN = 1e-4


@dataclass(frozen=True)
class Candidate:
    """Who may own a stray: the probability, the parts of the evidence that add up to `bits`, and what cannot be theirs.

    `impossible` are punches the person cannot have made; they are left out when the stray is confirmed.
    """

    person: str
    name: str
    probability: float
    bits: float
    parts: tuple[Part, ...]
    is_best_together: bool
    impossible: frozenset[int]


@dataclass(frozen=True)
class Proposal:
    """One stray with its candidates, the likeliest first; `nobody` is the probability that nobody here owns it.

    `holder` is whose number it is, where the punches are owned but fit somebody else better.
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
    punches: tuple[tuple[int, int, str | None], ...]
    candidates: tuple[Candidate, ...]
    note: str

    @property
    def best(self) -> Candidate | None:
        """Return the likeliest owner; None where nobody on the roster is likelier."""
        return self.candidates[0] if self.candidates and self.candidates[0].probability > self.nobody else None


@dataclass(frozen=True)
class Decided:
    """Punches under one number at one reader that were given to somebody by hand."""

    stray: str
    reader: str
    number: str
    person: str
    name: str
    punches: tuple[int, ...]
    author: str
    reason: str
    made_at: int


@dataclass(frozen=True)
class Strays:
    """What was found: `proposals`, most minutes of pay first, and `decided` strays, with the frames they rest on."""

    as_of: datetime
    proposals: tuple[Proposal, ...]
    decided: tuple[Decided, ...]
    weights: linkage.Weights
    people: Frame
    readers: Frame
    enrolments: Frame
    recorded: Frame
    corrections: Frame
    schedules: Frame
    owned: Frame


def find_strays(reckoning: Reckoning) -> Strays:
    """Return the strays of the eight weeks before the reckoning's instant, with whose they probably are and why."""
    return reckoning.part("strays", lambda: _find(reckoning))


def _find(reckoning: Reckoning) -> Strays:
    of, as_of = reckoning.snapshot, reckoning.as_of
    people, readers, enrolments, corrections = of.people, of.readers, of.enrolments, of.corrections
    recent = pl.col("at").is_between(int((as_of - HISTORY).timestamp()), int(as_of.timestamp()))
    recorded = of.recorded.filter(recent)
    added = pl.col("punch") < 0
    parted = reconcile.Attribution(
        reckoning.attribution.owned.filter(recent | added), reckoning.attribution.unowned.filter(recent)
    )
    by_hand = _given_by_hand(corrections, recorded)
    doubted = linkage.doubted(parted.owned, people, readers, enrolments, of.settings.policy)
    doubted = doubted.filter(~pl.col("punch").is_in(by_hand["punch"].implode()))
    unowned = parted.unowned.select("punch", "reader", "number", "at", "direction", holder=pl.lit(None, pl.String))
    asked = pl.concat([unowned, doubted])
    found = linkage.link(
        asked,
        people=people,
        readers=readers,
        enrolments=enrolments,
        owned=parted.owned.filter(~pl.col("punch").is_in(doubted["punch"].implode())).select(OWNED.names),
        schedules=of.schedules,
        refused=recorded.filter(pl.col("outcome") == "refused"),
        explanations=explain(asked["number"], people),
        policy=of.settings.policy,
        confirmed=by_hand.select("reader", "number", "person").unique().rows(),
        rejected=_rejected(of.rejected_attributions),
    )
    names: dict[str, str] = dict(people.select("person", "name").iter_rows())
    return Strays(
        as_of=as_of,
        proposals=_proposals(found, asked, people, readers, names),
        decided=_decided(by_hand, corrections, names),
        weights=found.weights,
        people=people,
        readers=readers,
        enrolments=enrolments,
        recorded=recorded,
        corrections=corrections,
        schedules=of.schedules,
        owned=parted.owned,
    )


def proposal_of(found: Strays, stray: str) -> Proposal:
    """Return the stray of this name; raises Refusal where there is none."""
    for proposal in found.proposals:
        if proposal.stray == stray:
            return proposal
    named = ", ".join(proposal.stray for proposal in found.proposals[:5])
    raise Refusal(f'there is no stray "{stray}"' + (f"; the first are {named}." if named else "; there are none now."))


def _given_by_hand(corrections: Frame, recorded: Frame) -> Frame:
    """Punches given to somebody and not returned: punch, reader, number, person, correction."""
    last = corrections.filter(pl.col("action") == "attribute").sort("correction").unique("punch", keep="last")
    return (
        last.filter(pl.col("person") != NOBODY)
        .join(recorded.select("punch", "reader", "number", "at"), on="punch", how="inner")
        .select("punch", "reader", "number", "person", "correction")
    )


def _rejected(said: Frame) -> list[tuple[str, str, str]]:
    """Whose the punches under a number at a reader are not, by the last word on each."""
    last = said.unique(["reader", "number", "person"], keep="last", maintain_order=True)
    return last.filter(~pl.col("is_withdrawn")).select("reader", "number", "person").rows()


def _proposals(
    found: linkage.Linkage, asked: Frame, people: Frame, readers: Frame, names: Mapping[str, str]
) -> tuple[Proposal, ...]:
    zones: dict[str, str] = dict(readers.select("reader", "zone").iter_rows())
    rows = found.candidates.filter(pl.col("probability") >= LEAST_SHOWN).partition_by("stray", as_dict=True)
    punches = {row[0]: (row[0], row[1], row[2]) for row in asked.select("punch", "at", "direction").iter_rows()}
    proposals = [
        Proposal(
            stray=row["stray"],
            reader=row["reader"],
            zone=zones.get(row["reader"], "UTC"),
            number=row["number"],
            holder=row["holder"] or NOBODY,
            holder_name=names.get(row["holder"] or NOBODY, ""),
            minutes=row["minutes"],
            shifts=row["shifts"],
            nobody=row["nobody"],
            punches=tuple(punches[punch] for punch in found.punches_of[row["stray"]]),
            candidates=tuple(
                Candidate(
                    person=one["person"],
                    name=names[one["person"]],
                    probability=one["probability"],
                    bits=one["bits"],
                    parts=parts_of(one),
                    is_best_together=one["is_best"],
                    impossible=found.impossible.get((row["stray"], one["person"]), frozenset()),
                )
                for one in (rows[row["stray"],].head(SHOWN).iter_rows(named=True) if (row["stray"],) in rows else ())
            ),
            note=_note(row["number"], people),
        )
        for row in found.strays.iter_rows(named=True)
    ]
    # punches that fit the holder of their number best are nobody's business here
    open_ones = [one for one in proposals if not one.holder or (one.best is not None and one.best.person != one.holder)]
    return tuple(sorted(open_ones, key=lambda one: (-one.minutes, one.stray)))


def _note(number: str, people: Frame) -> str:
    held = people.filter(pl.col("number") == number)
    if held.height > 1:
        return f"{number} is on the roster for {held.height} people: " + ", ".join(held["name"].to_list()) + "."
    if held.height == 1 and held["left_on"][0] is not None:
        return (
            f"{number} was the number of {held['name'][0]}, whose last day on the roster is {held['left_on'][0]}; "
            "if they worked on, correct the roster."
        )
    return ""


def _decided(by_hand: Frame, corrections: Frame, names: Mapping[str, str]) -> tuple[Decided, ...]:
    whole = by_hand.join(corrections.select("correction", "author", "reason", "made_at"), on="correction")
    grouped = whole.sort("correction").group_by("reader", "number", "person", maintain_order=True)
    rows = grouped.agg("punch", pl.col("author", "reason", "made_at").last()).iter_rows(named=True)
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
        )
        for row in rows
    )
