"""Decide about strays: confirm, reject, undo; punches stay as they are, corrections stand beside them."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.jobs.overtaken import refuse_overtaken
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.strays import NOBODY, StrayProposal, Strays, find_strays, proposal_of
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.zones import civil_date

__all__ = [
    "LEAST_THRESHOLD",
    "Confirmation",
    "PaidChange",
    "confirm_above",
    "confirm_stray",
    "mending_steps",
    "preview_confirmation",
    "reject_candidate",
    "take_back_rejection",
    "undo_stray",
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

    `steps` are what mends the cause, in order, at the reader and on the roster.
    """

    stray: str
    person: str
    name: str
    probability: float
    punches: tuple[int, ...]
    left: tuple[int, ...]
    changes: tuple[PaidChange, ...]
    steps: tuple[str, ...]


def preview_confirmation(reckoning: Reckoning, stray: str, person: str) -> Confirmation:
    """Return what confirming would do, writing nothing.

    Raises Refusal where there is no such stray or person, or none of the punches can be theirs.
    """
    return _confirmation(reckoning, find_strays(reckoning), stray, person)


def confirm_stray(
    workspace: Workspace,
    reckoning: Reckoning,
    stray: str,
    person: str,
    *,
    author: str,
    reason: str,
    as_of: datetime,
) -> Confirmation:
    """Give the stray's punches to the person, in one transaction, and return what it did."""
    _check_said(author, reason)
    confirmation = preview_confirmation(reckoning, stray, person)
    _write(workspace, reckoning, _given([confirmation]), author, reason, as_of)
    return confirmation


def confirm_above(
    workspace: Workspace, reckoning: Reckoning, threshold: float, *, author: str, reason: str, as_of: datetime
) -> tuple[Confirmation, ...]:
    """Confirm every stray whose likeliest candidate reaches `threshold`, all in one transaction.

    Raises Refusal for a threshold too low to tell people apart.
    """
    _check_said(author, reason)
    if not LEAST_THRESHOLD <= threshold <= 1:
        raise Refusal(
            f"a threshold of {threshold:g} confirms what is not sure; give one from {LEAST_THRESHOLD:g} to 1."
        )
    found = find_strays(reckoning)
    sure = [(one, one.best) for one in found.proposals if one.best is not None and one.best.probability >= threshold]
    confirmations = tuple(_confirmation(reckoning, found, one.stray, best.person) for one, best in sure)
    _write(workspace, reckoning, _given(confirmations), author, reason, as_of)
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
    _check_said(author, reason)
    decided = [one for one in find_strays(reckoning).decided if one.stray == stray]
    if not decided:
        raise Unknown(f'nothing is confirmed under "{stray}"; `evenhand strays` lists what is.')
    punches = tuple(punch for one in decided for punch in one.punches)
    _write(workspace, reckoning, dict.fromkeys(punches, NOBODY), author, reason, as_of)
    return punches


def mending_steps(found: Strays, proposal: StrayProposal, person: str) -> tuple[str, ...]:
    """Return what to do so that the next punch needs nobody's help, in an order that leaves no reader without them."""
    who = found.people.filter(pl.col("person") == person).row(0, named=True)
    right, name, reader = str(who["number"] or ""), who["name"], proposal.reader
    listed = found.enrolments.filter(pl.col("reader") == reader)
    is_listed = proposal.number in listed["number"].to_list()
    if not right:
        return (f"Give {name} a number on the roster; {proposal.number} is what they key.",)
    if proposal.number.lstrip("0") == right.lstrip("0") and len(proposal.number) > len(right):
        return (f"Correct the roster: {name}'s number is {proposal.number}, not {right}; zeros in front were lost.",)
    role = "as a supervisor" if who["is_supervisor"] else "with three presentations"
    steps = [
        f"At {reader}, enrol {name} under {right}, {role}." if right not in listed["number"].to_list() else "",
        f"Ask {name} to punch under {right} at {reader}, and see it accepted.",
        f"At {reader}, remove the enrolment under {proposal.number}." if is_listed or not listed.height else "",
    ]
    if proposal.holder:
        steps.append(f"At {reader}, enrol {proposal.holder_name} under {proposal.number}, if they use it.")
    return tuple(step for step in steps if step)


def _confirmation(reckoning: Reckoning, found: Strays, stray: str, person: str) -> Confirmation:
    proposal = proposal_of(found, stray)
    who = reckoning.snapshot.find_person(person)
    chosen = str(who["person"])
    candidate = next((one for one in proposal.candidates if one.person == chosen), None)
    asked = [punch for punch, _, _ in proposal.punches]
    cannot = _not_employed(found, asked, who) | _elsewhere(found, stray, chosen)
    given = [punch for punch in asked if punch not in cannot]
    if not given:
        raise Refusal(f"none of the punches of {stray} can be {who['name']}'s; choose somebody else.")
    affected = [chosen, *([proposal.holder] if proposal.holder else [])]
    after = reckoning.with_corrections([_row(punch, chosen, "", "", reckoning.as_of) for punch in given])
    before_s, after_s = (_paid_s(one, affected) for one in (reckoning, after))
    names = dict(found.people.select("person", "name").iter_rows())
    return Confirmation(
        stray=stray,
        person=chosen,
        name=str(who["name"]),
        probability=candidate.probability if candidate else 0.0,
        punches=tuple(given),
        left=tuple(punch for punch in asked if punch in cannot),
        changes=tuple(PaidChange(one, names[one], before_s[one], after_s[one]) for one in affected),
        steps=mending_steps(found, proposal, chosen),
    )


def _elsewhere(found: Strays, stray: str, person: str) -> set[int]:
    """Punches that a candidate, however unlikely, cannot have made."""
    return set(found.impossible.filter(pl.col("stray") == stray, pl.col("person") == person)["punch"])


def _not_employed(found: Strays, punches: Collection[int], who: Mapping[str, Any]) -> set[int]:
    """Punches on days the person was not employed, in the zone of their reader."""
    zones: dict[str, str] = dict(found.readers.select("reader", "zone").iter_rows())
    rows = found.recorded.filter(pl.col("punch").is_in(list(punches)))
    days = {
        punch: civil_date(zones[reader], at) for punch, reader, at in rows.select("punch", "reader", "at").iter_rows()
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


def _write(
    workspace: Workspace, reckoning: Reckoning, given: Mapping[int, str], author: str, reason: str, as_of: datetime
) -> None:
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        refuse_overtaken(reckoning.snapshot, given, frames.corrections(conn), frames.rejected_attributions(conn))
        decisions.add_corrections(conn, [_row(punch, person, author, reason, as_of) for punch, person in given.items()])


def _row(punch: int, person: str, author: str, reason: str, as_of: datetime) -> dict[str, Any]:
    return {
        "action": "attribute",
        "person": person,
        "punch": punch,
        "at": None,
        "direction": None,
        "author": author.strip(),
        "reason": reason.strip(),
        "made_at": int(as_of.timestamp()),
    }


def _check_said(author: str, reason: str) -> None:
    if not author.strip() or not reason.strip():
        raise Refusal("a decision is made by somebody and for a reason; give both.")
