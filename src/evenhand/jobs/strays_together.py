"""Give several strays together whose owner is as good as certain: what that does to time and pay, and doing it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from evenhand.jobs.effects import PeriodChange, period_changes
from evenhand.jobs.misfits import misfits
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import undone_by
from evenhand.jobs.stray_decisions import given_to, rows_giving, same_times, write_given
from evenhand.jobs.stray_proposals import StrayProposal, Strays
from evenhand.jobs.strays import find_strays
from evenhand.jobs.workspace import Workspace
from evenhand.terms.languages import Sentence, told
from evenhand.terms.records import Refusal

__all__ = ["StraysChanged", "StraysForeseen", "foresee_strays", "give_strays", "plain_strays"]


class StraysChanged(Refusal):
    """What was marked cannot be given together, or nothing was marked; what can be is to be looked at again."""


@dataclass(frozen=True)
class StraysForeseen:
    """What giving strays to their likeliest owners does, by person and period, and what does not fit or is undone.

    `given` are the strays, `left` those whose owner has punches of their own at the same instants: they are looked at
    one by one. `punches` says to whom each goes.
    """

    given: tuple[StrayProposal, ...]
    left: tuple[StrayProposal, ...]
    punches: dict[int, str]
    changes: tuple[PeriodChange, ...]
    warnings: tuple[str, ...]
    undoes: tuple[str, ...]


def plain_strays(reckoning: Reckoning) -> list[StrayProposal]:
    """Return the strays of nobody's number whose likeliest owner is as good as certain, most minutes of pay first.

    Where the roster lost the zeros of their number, the number is mended and what came under it is theirs by itself.
    """
    return [
        one
        for one in find_strays(reckoning).proposals
        if one.best is not None
        and one.is_plain
        and not (one.holder or one.swapped_with)
        and not _has_lost_zeros(one.number, reckoning.snapshot.find_person(one.best.person)["number"])
    ]


def _has_lost_zeros(keyed: str, number: str | None) -> bool:
    """Whether a number of the roster is the one that is keyed without its zeros in front."""
    return bool(number) and keyed != number and keyed.lstrip("0") == str(number).lstrip("0")


def foresee_strays(reckoning: Reckoning, strays: Sequence[str]) -> StraysForeseen:
    """Return what giving the strays would do, writing nothing; StraysChanged where one is not plain any longer."""
    if not strays:
        raise StraysChanged(told("no stray was marked, so nothing was given; mark those that are right."))
    plain, found = {one.stray: one for one in plain_strays(reckoning)}, find_strays(reckoning)
    if gone := next((stray for stray in strays if stray not in plain), ""):
        raise StraysChanged(_why_gone(found, gone))
    given: list[StrayProposal] = []
    left: list[StrayProposal] = []
    punches: dict[int, str] = {}
    for stray in dict.fromkeys(strays):
        proposal = plain[stray]
        assert proposal.best is not None
        who = reckoning.snapshot.find_person(proposal.best.person)
        theirs, _ = given_to(reckoning, found, proposal, who)
        if same_times(reckoning, theirs, str(who["person"])):
            left.append(proposal)
            continue
        given.append(proposal)
        punches |= dict.fromkeys(theirs, str(who["person"]))
    people = list(dict.fromkeys(punches.values()))
    after = reckoning.with_corrections(rows_giving(reckoning, punches, "", "", reckoning.as_of))
    return StraysForeseen(
        tuple(given),
        tuple(left),
        punches,
        period_changes(reckoning, after, people),
        tuple(
            told("{who}: {says:again}", who=reckoning.snapshot.names.get(person, person), says=says)
            for person in people
            for says in misfits(reckoning, after, person)
        ),
        undone_by(reckoning, after, people),
    )


def _why_gone(found: Strays, stray: str) -> Sentence:
    given = next((one for one in found.decided if one.stray == stray), None)
    if given is not None:
        return told(
            "{stray} was given to {name} by {author} meanwhile, so nothing was given now; look at those that are left.",
            stray=stray,
            name=given.name,
            author=given.author,
        )
    return told(
        "the owner of {stray} is no longer as good as certain, so nothing was given; look at those that are.",
        stray=stray,
    )


def give_strays(
    workspace: Workspace, reckoning: Reckoning, strays: Sequence[str], *, author: str, reason: str, as_of: datetime
) -> StraysForeseen:
    """Give the strays to their likeliest owners, all in one transaction, and return what that did."""
    foreseen = foresee_strays(reckoning, strays)
    if not foreseen.given:
        raise StraysChanged(told("none of these can be given together; look at each by itself. Nothing was changed."))
    write_given(workspace, reckoning, foreseen.punches, author, reason, as_of)
    return foreseen
