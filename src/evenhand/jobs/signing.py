"""Sign off hours: a person confirms their own, a supervisor approves their people's, either is taken back.

A sign-off is bound to the very hours that were seen. It waives nothing: who confirms hours that were short is owed the
rest all the same (Brooklyn Savings Bank v. O'Neil, 324 U.S. 697 (1945)), and nobody is paid later for not confirming
(Cal. Lab. Code 206.5).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.jobs.closed import refuse_overtaken
from evenhand.jobs.reckoning import Reckoning, reckon_weeks
from evenhand.jobs.signed_hours import hours_to_sign, standing_of
from evenhand.jobs.statement_codes import CodeFound, find_code
from evenhand.jobs.workspace import Workspace
from evenhand.records.signing import Hours, digest_of, written
from evenhand.store import decisions, frames
from evenhand.terms.languages import DaySpan, said_of, told
from evenhand.terms.records import Refusal, Unknown

__all__ = [
    "Confirmed",
    "SignOffTakenBack",
    "confirm",
    "confirm_papers",
    "confirmation_of",
    "sign_off_row",
    "take_sign_off_back",
]


@dataclass(frozen=True)
class Confirmed:
    """A confirmation with its number; `is_known` says that these very hours had been confirmed before."""

    signoff: int
    person: str
    name: str
    first: date
    last: date
    is_known: bool


@dataclass(frozen=True)
class SignOffTakenBack:
    """A sign-off that counts no longer."""

    signoff: int
    action: str
    person: str
    first: date
    last: date


def confirm(
    workspace: Workspace,
    reckoning: Reckoning,
    found: CodeFound,
    *,
    seen: str = "",
    way: str,
    author: str = "",
    as_of: datetime,
) -> Confirmed:
    """Keep that a person confirms the hours on their statement, or those they were shown, whose digest is `seen`.

    `author` keyed it in for them; empty where they did so themselves. The same hours are confirmed once. Raises Refusal
    where the hours are no longer those.
    """
    (made,) = _confirm(workspace, [(reckoning, found)], seen=seen, way=way, author=author, as_of=as_of)
    return made


def confirm_papers(workspace: Workspace, codes: Sequence[str], *, author: str, as_of: datetime) -> list[Confirmed]:
    """Keep that whoever signed the papers with these codes confirms the hours on them: of all, or, refused, of none."""
    if not author.strip():
        raise Refusal(told("a code is keyed back from paper by somebody; say who."))
    found = dict.fromkeys(_find(workspace, code, as_of) for code in codes)
    over = {period: reckon_weeks(workspace, as_of, *period) for period in dict.fromkeys(one.period for one in found)}
    asked = [(over[one.period], one) for one in found]
    return _confirm(workspace, asked, way="paper", author=author, as_of=as_of)


def _find(workspace: Workspace, code: str, as_of: datetime) -> CodeFound:
    try:
        return find_code(workspace, code, as_of=as_of)
    except Refusal as refusal:
        raise type(refusal)(
            told("{code}: {says} Nothing was confirmed.", code=code, says=said_of(refusal))
        ) from refusal


def _confirm(
    workspace: Workspace,
    asked: Sequence[tuple[Reckoning, CodeFound]],
    *,
    seen: str = "",
    way: str,
    author: str,
    as_of: datetime,
) -> list[Confirmed]:
    hours = [_hours_printed(reckoning, found, seen) for reckoning, found in asked]
    known = [
        confirmation_of(reckoning, found.person, found.period, digest_of(one))
        for (reckoning, found), one in zip(asked, hours, strict=True)
    ]
    made = []
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        for reckoning, _ in asked:
            refuse_overtaken(conn, reckoning)
        for (reckoning, found), one, number in zip(asked, hours, known, strict=True):
            if number is None:
                by = author.strip() or found.person
                row = sign_off_row("confirm", found.person, found.period, one, way, by, as_of)
                signoff = decisions.add_row(conn, "signoffs", row)
            else:
                signoff = number
            name = reckoning.snapshot.names.get(found.person, found.person)
            made.append(Confirmed(signoff, found.person, name, *found.period, is_known=number is not None))
    return made


def _hours_printed(reckoning: Reckoning, found: CodeFound, seen: str) -> Hours:
    """Return the hours on a person's statement as they are now; raises Refusal where they are others."""
    hours = hours_to_sign(reckoning, found.person, *found.period)
    if digest_of(hours) != (seen or found.digest):
        name = reckoning.snapshot.names.get(found.person, found.person)
        raise Refusal(
            told(
                "the hours of {name}, {days}, are no longer those on this statement, so nothing was confirmed; print "
                "it again, with its new code.",
                name=name,
                days=DaySpan(*found.period),
            )
        )
    return hours


def take_sign_off_back(
    workspace: Workspace, number: int, *, author: str, reason: str, as_of: datetime
) -> SignOffTakenBack:
    """Take a confirmation or an approval back; raises Refusal where it does not stand, and where nobody says why."""
    if not author.strip() or not reason.strip():
        raise Refusal(told("a sign-off is taken back by somebody and for a reason; give both."))
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        made = frames.signoffs(conn)
        rows = made.filter(pl.col("signoff") == number, pl.col("action") != "withdraw")
        if rows.is_empty():
            raise Unknown(
                told("there is no sign-off {number}; `evenhand signoff list` lists those of a period.", number=number)
            )
        row = rows.row(0, named=True)
        if number in made["withdraws"]:
            raise Refusal(told("sign-off {number} was taken back already.", number=number))
        kept = {name: row[name] for name in ("person", "digest", "hours", "supervisor", "way")}
        dates = {name: row[name].isoformat() for name in ("first_day", "last_day")}
        said = {"author": author.strip(), "reason": reason.strip(), "made_at": int(as_of.timestamp())}
        decisions.add_row(conn, "signoffs", {**kept, **dates, **said, "action": "withdraw", "withdraws": number})
    return SignOffTakenBack(number, row["action"], row["person"], row["first_day"], row["last_day"])


def confirmation_of(reckoning: Reckoning, person: str, period: tuple[date, date], digest: str) -> int | None:
    """Return the number of the standing confirmation of these very hours; None where the person has not confirmed."""
    standing = standing_of(reckoning).filter(
        pl.col("action") == "confirm",
        pl.col("person") == person,
        pl.col("first_day") == period[0],
        pl.col("last_day") == period[1],
        pl.col("digest") == digest,
    )
    return standing["signoff"].to_list()[-1] if standing.height else None


def sign_off_row(
    action: str, person: str, period: tuple[date, date], hours: Hours, way: str, author: str, as_of: datetime
) -> dict[str, Any]:
    """Return the row of SIGNOFFS, without its number, that keeps what somebody says of a person's hours."""
    return {
        "action": action,
        "person": person,
        "first_day": period[0].isoformat(),
        "last_day": period[1].isoformat(),
        "digest": digest_of(hours),
        "hours": written(hours),
        "way": way,
        "author": author,
        "made_at": int(as_of.timestamp()),
    }
