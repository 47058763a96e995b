"""Decide about strays: confirm, reject, undo; punches stay as they are, corrections stand beside them."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.correction_rows import attribution_row, holders_of
from evenhand.jobs.effects import PeriodChange, period_changes
from evenhand.jobs.mending_steps import mending_steps
from evenhand.jobs.misfits import misfits
from evenhand.jobs.overtaken import refuse_overtaken
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import undone_by
from evenhand.jobs.stray_proposals import NOBODY, PLAIN_ROUGH, StrayProposal, StrayPunch, Strays, plain_from
from evenhand.jobs.strays import find_strays, proposal_of
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.zones import civil_date

__all__ = [
    "LEAST_THRESHOLD",
    "Confirmation",
    "PaidChange",
    "confirm_above",
    "confirm_stray",
    "given_to",
    "least_threshold",
    "plain_threshold",
    "preview_confirmation",
    "reaching",
    "reject_candidate",
    "rows_giving",
    "same_times",
    "take_back_rejection",
    "undo_stray",
    "undo_strays",
    "write_given",
]

# At or below even odds two people could each be confirmed for the same punches.
LEAST_THRESHOLD = 0.8


@dataclass(frozen=True)
class PaidChange:
    """A person's paid seconds over the weeks looked at, before and after."""

    person: str
    name: str
    before_s: int
    after_s: int


@dataclass(frozen=True)
class Confirmation:
    """What giving a stray to somebody does: `punches` given, `left` because they cannot be theirs, pay, and steps.

    `periods` tell time and pay of the same workweeks, by person and pay period, `warnings` what does not fit,
    `undoes` whose sign-off of these hours counts no longer.
    `same_times` are instants at which the person has a punch of their own already; given these, somebody has to say
    that they are meant. Where it `is_rough`, the probability is, below 99.9 %. `steps` are what mends the cause, in
    order, at the reader and on the roster.
    """

    stray: str
    person: str
    name: str
    probability: float
    punches: tuple[int, ...]
    left: tuple[int, ...]
    changes: tuple[PaidChange, ...]
    steps: tuple[str, ...]
    periods: tuple[PeriodChange, ...] = ()
    warnings: tuple[str, ...] = ()
    undoes: tuple[str, ...] = ()
    same_times: tuple[int, ...] = ()
    is_rough: bool = False


def preview_confirmation(reckoning: Reckoning, stray: str, person: str) -> Confirmation:
    """Return what confirming would do, writing nothing.

    A stray that was given to somebody already is looked at again where the roster gives its number to another since.
    Raises Refusal where there is no such stray or person, or none of the punches can be theirs.
    """
    return _confirmation(reckoning, find_strays(reckoning), stray, person, in_money=True)


def confirm_stray(
    workspace: Workspace,
    reckoning: Reckoning,
    stray: str,
    person: str,
    *,
    author: str,
    reason: str,
    as_of: datetime,
    same_times: bool = False,
) -> Confirmation:
    """Give the stray's punches to the person, in one transaction, and return what it did.

    Raises Refusal where the person has punches of their own at the same instants, unless `same_times` says that these
    are meant.
    """
    _check_said(author, reason)
    confirmation = _confirmation(reckoning, find_strays(reckoning), stray, person)
    if confirmation.same_times and not same_times:
        raise Refusal(
            told(
                "{name} has {count:# punch|# punches} of their own at the same instants as {stray}; nothing was "
                "changed. Look at those days, and say that they are meant.",
                name=confirmation.name,
                count=len(confirmation.same_times),
                stray=stray,
            )
        )
    write_given(workspace, reckoning, _given([confirmation]), author, reason, as_of)
    return confirmation


def least_threshold(found: Strays) -> float:
    """Return the lowest threshold by which many may be confirmed: where probabilities are rough, only what is plain."""
    return PLAIN_ROUGH if found.why_rough else LEAST_THRESHOLD


def plain_threshold(found: Strays) -> float:
    """Return the probability from which a person is as good as certain."""
    return plain_from(is_rough=bool(found.why_rough))


def reaching(found: Strays, threshold: float) -> tuple[StrayProposal, ...]:
    """Return the strays whose likeliest person reaches `threshold`; raises Refusal where it is too low."""
    least = least_threshold(found)
    if not least <= threshold <= 1:
        raise Refusal(
            told(
                "a threshold of {threshold:g} confirms what is not sure; give one from {least:g} to 1.",
                threshold=threshold,
                least=least,
            )
        )
    return tuple(one for one in found.proposals if one.best is not None and one.best.probability >= threshold)


def confirm_above(
    workspace: Workspace, reckoning: Reckoning, threshold: float, *, author: str, reason: str, as_of: datetime
) -> tuple[Confirmation, ...]:
    """Confirm every stray whose likeliest candidate reaches `threshold`, all in one transaction.

    One whose candidate has punches of their own at the same instants is left to be confirmed by itself.
    Raises Refusal for a threshold too low to tell people apart.
    """
    _check_said(author, reason)
    found = find_strays(reckoning)
    sure = [(one, one.best) for one in reaching(found, threshold) if one.best is not None]
    looked_at = [_confirmation(reckoning, found, one.stray, best.person) for one, best in sure]
    # whoever has punches of their own at the same instants is asked, stray by stray
    confirmations = tuple(one for one in looked_at if not one.same_times)
    write_given(workspace, reckoning, _given(confirmations), author, reason, as_of)
    return confirmations


def reject_candidate(
    workspace: Workspace, reckoning: Reckoning, stray: str, person: str, *, author: str, reason: str, as_of: datetime
) -> None:
    """Say that a stray is not this person's; raises Refusal where there is no such stray or person."""
    _say(workspace, reckoning, stray, person, author, reason, as_of, is_withdrawn=False)


def take_back_rejection(
    workspace: Workspace, reckoning: Reckoning, stray: str, person: str, *, author: str, reason: str, as_of: datetime
) -> None:
    """Let a person who was rejected for a stray be proposed again."""
    _say(workspace, reckoning, stray, person, author, reason, as_of, is_withdrawn=True)


def _say(
    workspace: Workspace,
    reckoning: Reckoning,
    stray: str,
    person: str,
    author: str,
    reason: str,
    as_of: datetime,
    *,
    is_withdrawn: bool,
) -> None:
    _check_said(author, reason)
    proposal = proposal_of(find_strays(reckoning), stray)
    who = str(reckoning.snapshot.find_person(person)["person"])
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        given = {punch: who for punch, _, _ in proposal.punches}
        refuse_overtaken(reckoning.snapshot, given, frames.corrections(conn), frames.rejected_attributions(conn))
        decisions.add_rejection(
            conn,
            reader=proposal.reader,
            number=proposal.number,
            person=who,
            is_withdrawn=is_withdrawn,
            author=author.strip(),
            reason=reason.strip(),
            made_at=int(as_of.timestamp()),
        )


def undo_stray(
    workspace: Workspace, reckoning: Reckoning, stray: str, *, author: str, reason: str, as_of: datetime
) -> tuple[int, ...]:
    """Return the stray's punches to whoever holds the number, or to nobody; returns the punches.

    Raises Refusal where nothing of that name was confirmed.
    """
    return undo_strays(workspace, reckoning, [stray], author=author, reason=reason, as_of=as_of)


def undo_strays(
    workspace: Workspace,
    reckoning: Reckoning,
    strays: Collection[str],
    *,
    author: str,
    reason: str,
    as_of: datetime,
) -> tuple[int, ...]:
    """Return the punches of several strays as `undo_stray`, all or none."""
    _check_said(author, reason)
    decided = [one for one in find_strays(reckoning).decided if one.stray in strays]
    known = {one.stray for one in decided}
    for stray in strays:
        if stray not in known:
            raise Unknown(told('nothing is confirmed under "{stray}"; `evenhand strays` lists what is.', stray=stray))
    punches = tuple(punch for one in decided for punch in one.punches)
    write_given(workspace, reckoning, dict.fromkeys(punches, NOBODY), author, reason, as_of)
    return punches


def _confirmation(
    reckoning: Reckoning, found: Strays, stray: str, person: str, *, in_money: bool = False
) -> Confirmation:
    proposal = _given_already(found, stray) or proposal_of(found, stray)
    who = reckoning.snapshot.find_person(person)
    chosen = str(who["person"])
    candidate = next((one for one in proposal.candidates if one.person == chosen), None)
    given, left = given_to(reckoning, found, proposal, who)
    had = reckoning.attribution.attributed.filter(pl.col("punch").is_in(given))["person"].unique().sort()
    affected = list(dict.fromkeys([chosen, *([proposal.holder] if proposal.holder else []), *had]))
    after = reckoning.with_corrections(rows_giving(reckoning, dict.fromkeys(given, chosen), "", "", reckoning.as_of))
    before_s, after_s = (_paid_s(one, affected) for one in (reckoning, after))
    names = dict(found.people.select("person", "name").iter_rows())
    return Confirmation(
        stray=stray,
        person=chosen,
        name=str(who["name"]),
        probability=candidate.probability if candidate else 0.0,
        punches=tuple(given),
        left=left,
        changes=tuple(PaidChange(one, names[one], before_s[one], after_s[one]) for one in affected),
        steps=mending_steps(found, proposal, chosen),
        periods=period_changes(reckoning, after, affected, in_money=in_money),
        warnings=misfits(reckoning, after, chosen),
        undoes=undone_by(reckoning, after, affected),
        same_times=same_times(reckoning, given, chosen),
        is_rough=bool(candidate) and proposal.is_rough,
    )


def given_to(
    reckoning: Reckoning, found: Strays, proposal: StrayProposal, who: Mapping[str, Any]
) -> tuple[list[int], tuple[int, ...]]:
    """Return the punches of a stray that may be somebody's (a row of PEOPLE), and those that cannot be.

    Raises Refusal where none can.
    """
    asked = [punch for punch, _, _ in proposal.punches]
    cannot = _not_employed(reckoning, asked, who) | _elsewhere(found, proposal.stray, str(who["person"]))
    given = [punch for punch in asked if punch not in cannot]
    if not given:
        raise Refusal(
            told(
                "none of the punches of {stray} can be {name}'s; choose somebody else.",
                stray=proposal.stray,
                name=who["name"],
            )
        )
    return given, tuple(punch for punch in asked if punch in cannot)


def _given_already(found: Strays, stray: str) -> StrayProposal | None:
    """Return a stray that was given to somebody and is asked about again, as if it were open; None where it is not."""
    asked = [one for one in found.decided if one.stray == stray and one.holder]
    if not asked:
        return None
    punches = found.recorded.filter(pl.col("punch").is_in([punch for one in asked for punch in one.punches])).sort("at")
    return StrayProposal(
        stray=stray,
        reader=asked[0].reader,
        zone=dict(found.readers.select("reader", "zone").iter_rows()).get(asked[0].reader, "UTC"),
        number=asked[0].number,
        holder=asked[-1].holder,
        holder_name=asked[-1].holder_name,
        minutes=0,
        shifts=0,
        nobody=0.0,
        others=0.0,
        punches=tuple(map(StrayPunch._make, punches.select("punch", "at", "direction").iter_rows())),
        candidates=(),
        note="",
    )


def same_times(reckoning: Reckoning, given: Collection[int], person: str) -> tuple[int, ...]:
    """Return the instants of given punches at which the person has another punch."""
    attributed, recorded = reckoning.attribution.attributed, reckoning.snapshot.recorded
    own = attributed.filter(pl.col("person") == person, ~pl.col("punch").is_in(list(given)))
    times = recorded.filter(pl.col("punch").is_in(list(given)), pl.col("at").is_in(own["at"].implode()))["at"]
    return tuple(times.unique().sort())


def _elsewhere(found: Strays, stray: str, person: str) -> set[int]:
    """Punches that a candidate, however unlikely, cannot have made."""
    return set(found.impossible.filter(pl.col("stray") == stray, pl.col("person") == person)["punch"])


def _not_employed(reckoning: Reckoning, punches: Collection[int], who: Mapping[str, Any]) -> set[int]:
    """Punches of shifts that began on days the person was not employed, in the zone of their reader."""
    of = reckoning.snapshot
    zones: dict[str, str] = dict(of.readers.select("reader", "zone").iter_rows())
    rows = of.recorded.filter(pl.col("punch").is_in(list(punches)))
    shifts = reconcile.shifts_begin(rows, ["reader", "number"], of.settings.policy)
    days = {
        punch: civil_date(zones[reader], begins)
        for punch, reader, begins in shifts.select("punch", "reader", "begins").iter_rows()
    }
    hired, left = who["hired_on"] or date.min, who["left_on"] or date.max
    return {punch for punch, day in days.items() if not hired <= day <= left}


def _paid_s(reckoning: Reckoning, people: Collection[str]) -> dict[str, int]:
    """Each person's paid seconds over the weeks looked at, under the rules of their site; a failing week is refused."""
    paid_s = {}
    for person in people:
        hours = reckoning.person_hours(person)
        hours.refuse_failing()
        paid_s[person] = int((hours.classed["ends"] - hours.classed["starts"]).sum())
    return paid_s


def _given(confirmations: Collection[Confirmation]) -> dict[int, str]:
    """Whom each punch is given to."""
    given: dict[int, str] = {}
    for one in confirmations:
        for punch in one.punches:
            if given.setdefault(punch, one.person) != one.person:
                raise AssertionError(f"punch {punch} would be given to two people")
    return given


def write_given(
    workspace: Workspace, reckoning: Reckoning, given: Mapping[int, str], author: str, reason: str, as_of: datetime
) -> None:
    """Give each punch to whom it is given, all in one transaction; Refusal where somebody decided otherwise since."""
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        refuse_overtaken(reckoning.snapshot, given, frames.corrections(conn), frames.rejected_attributions(conn))
        decisions.add_corrections(conn, rows_giving(reckoning, given, author, reason, as_of))


def rows_giving(
    reckoning: Reckoning, given: Mapping[int, str], author: str, reason: str, as_of: datetime
) -> list[dict[str, Any]]:
    """Return the corrections that give each punch to whom it is given, each with whose number it is now."""
    holders = holders_of(reckoning, list(given))
    return [attribution_row(punch, to, holders.get(punch), author, reason, as_of) for punch, to in given.items()]


def _check_said(author: str, reason: str) -> None:
    if not author.strip() or not reason.strip():
        raise Refusal(sentence("a decision is made by somebody and for a reason; give both."))
