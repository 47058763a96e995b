"""The code on a statement: given once to a person's hours of a period, and found again when it is keyed."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import date, datetime, timedelta

import polars as pl

from evenhand.jobs.period import when_worked_out
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.signed_hours import hours_to_sign
from evenhand.jobs.workspace import Workspace
from evenhand.records.codes import drawn, read_code
from evenhand.records.signing import digest_of
from evenhand.store import decisions, frames
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.settings import Period

__all__ = ["KEPT_DAYS", "CodeFound", "find_code", "find_own_code", "has_ended", "issue_code", "refuse_running"]

KEPT_DAYS = 92
"""For how many days a code can be keyed after it was first printed (our own measure, no source)."""


@dataclass(frozen=True)
class CodeFound:
    """Whose statement of which period carries a code, and the digest of the hours that are printed on it."""

    person: str
    first: date
    last: date
    digest: str

    @property
    def period(self) -> tuple[date, date]:
        """Return the first and the last day of the pay period."""
        return self.first, self.last


def has_ended(reckoning: Reckoning, period: Period) -> bool:
    """Whether every workweek that begins in a period is over, at every site, so that its hours can be signed."""
    ends = when_worked_out(period, reckoning.zone, reckoning.snapshot.rules.values())
    return reckoning.as_of.timestamp() >= ends


def issue_code(
    workspace: Workspace, reckoning: Reckoning, person: str, day: date | None = None, *, as_of: datetime
) -> str:
    """Return the code, as it is printed, for a person's hours of a period; '' while it has not ended.

    A statement that is only looked at, as of another time, is given no code that it has not. The same hours keep their
    code; other hours get another. Raises Refusal where nobody answers to `person`.
    """
    of, period = reckoning.snapshot, reckoning.period(day)
    who = str(of.find_person(person)["person"])
    if not has_ended(reckoning, period):
        return ""
    digest = digest_of(hours_to_sign(reckoning, who, period.first, period.last))
    with workspace.store.reading() as conn:
        known = frames.statement_codes(conn, digest=digest)
    same = (
        (pl.col("person") == who)
        & (pl.col("first_day") == period.first)
        & (pl.col("last_day") == period.last)
        & (pl.col("made_at") > _oldest(as_of))
    )
    printed = known.filter(same)["code"].to_list()
    if printed:
        return str(printed[-1])
    if workspace.store.only_looks:
        return ""
    code = drawn(secrets.choice)
    with workspace.store.writing() as conn:
        values = {
            "code": code,
            "person": who,
            "first_day": period.first.isoformat(),
            "last_day": period.last.isoformat(),
            "digest": digest,
            "made_at": int(as_of.timestamp()),
        }
        decisions.add_row(conn, "statement_codes", values)
    return code


def find_code(workspace: Workspace, keyed: str, *, as_of: datetime) -> CodeFound:
    """Return whose statement carries the code that was keyed.

    Raises Refusal for a slip of the finger, and Unknown, in the same words, for a code that was never printed and for
    one that is too old.
    """
    code = read_code(keyed)
    if code is None:
        raise Refusal(
            told("this is no code of a statement, which has twelve letters and digits; key it as it is printed.")
        )
    with workspace.store.reading() as conn:
        found = frames.statement_codes(conn, code=code).filter(pl.col("made_at") > _oldest(as_of))
    if found.is_empty():
        raise Unknown(
            told("no statement of the last {count} days carries this code; ask for a new one.", count=KEPT_DAYS)
        )
    row = found.row(0, named=True)
    return CodeFound(row["person"], row["first_day"], row["last_day"], row["digest"])


def find_own_code(workspace: Workspace, keyed: str, number: str, *, as_of: datetime) -> CodeFound:
    """Return the same where the code is keyed by its own person, who knows the number they clock with.

    Zeros in front of the number may be left out; whoever has no number keys the code alone. Raises Unknown, in one
    sentence, for a code that was never printed, one that is too old, and one that is another's.
    """
    try:
        found = find_code(workspace, keyed, as_of=as_of)
    except Unknown:
        found = None
    with workspace.store.reading() as conn:
        roster = None if found is None else frames.people(conn, [found.person])
    own = "" if roster is None or roster.is_empty() else (roster["number"][0] or "").strip()
    if found is None or (own and own.lstrip("0") != number.strip().lstrip("0")) or (own and not number.strip()):
        raise Unknown(
            told(
                "no statement of the last {count} days goes with this number and code; look again, or ask for a new "
                "one.",
                count=KEPT_DAYS,
            )
        )
    return found


def _oldest(as_of: datetime) -> int:
    return int((as_of - timedelta(days=KEPT_DAYS)).timestamp())


def refuse_running(reckoning: Reckoning, period: Period) -> None:
    """Raise Refusal while the hours of a period can still grow."""
    if not has_ended(reckoning, period):
        raise Refusal(
            told(
                "{first} to {last} has not ended; its hours can be signed once it has.",
                first=period.first.isoformat(),
                last=period.last.isoformat(),
            )
        )
