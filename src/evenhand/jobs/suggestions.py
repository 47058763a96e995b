"""Suggestions: what a supervisor says of a question about their people's punches, and which of them wait.

A suggestion pays nothing and changes nothing. The administrator accepts it, which makes a correction with that reason,
or declines it and says why (`suggestion_answers`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.records.standing import open_suggestions, standing_answers
from evenhand.records.supervising import supervisors_of
from evenhand.store import decisions, frames
from evenhand.store.database import Connection
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.lines import as_line
from evenhand.terms.open_punches import say_suggested
from evenhand.terms.records import Refusal
from evenhand.terms.suggestions import SUGGESTED
from evenhand.terms.zones import civil_date, day_start

__all__ = [
    "Suggested",
    "SuggestionListed",
    "check_suggested",
    "list_suggestions",
    "may_answer",
    "suggest",
    "suggestions_waiting",
]


@dataclass(frozen=True)
class SuggestionListed:
    """A suggestion with what became of it: `state` is `open` or the outcome, `answered_by` and `reason` who and why.

    `at` is when the missing punch was, or the one that is meant [s since 1970-01-01T00:00:00Z], and `zone` the site's.
    """

    suggestion: int
    person: str
    name: str
    day: date
    action: str
    at: int | None
    direction: str | None
    says: str | None
    supervisor: str | None
    said_by: str
    way: str
    author: str
    made_at: int
    zone: str
    state: str
    answered_by: str | None
    reason: str | None
    correction: int | None

    @property
    def is_open(self) -> bool:
        """Whether it waits for a decision."""
        return self.state == "open"

    @property
    def told(self) -> str:
        """Return what the record should have, in words."""
        return say_suggested(vars(self), self.zone, self.day)


def list_suggestions(of: Snapshot, *, with_answered: bool = False) -> list[SuggestionListed]:
    """Return the suggestions that wait, the oldest day first; or all, those that were answered after them."""
    stands = standing_answers(of.suggestion_answers, reconcile.undone(of.corrections))
    last = {row["suggestion"]: row for row in stands.iter_rows(named=True)}
    every = [_listed(of, row, last.get(row["suggestion"])) for row in of.suggestions.iter_rows(named=True)]
    asked = [one for one in every if with_answered or one.is_open]
    return sorted(asked, key=lambda one: (not one.is_open, one.day, one.name, one.suggestion))


def _listed(of: Snapshot, row: Mapping[str, Any], answer: Mapping[str, Any] | None) -> SuggestionListed:
    known = of.people.filter(pl.col("person") == row["person"])
    site = known["site"][0] if known.height else None
    by = row["supervisor"]
    return SuggestionListed(
        **{name: row[name] for name in ("suggestion", "person", "day", "action", "at", "direction", "says")},
        **{name: row[name] for name in ("supervisor", "way", "author", "made_at")},
        name=of.names.get(row["person"], row["person"]),
        said_by=of.names.get(by, by) if by else row["author"],
        zone=of.rules_of(site).on(row["day"]).zone,
        state=answer["outcome"] if answer else "open",
        answered_by=answer["author"] if answer else None,
        reason=answer["reason"] if answer else None,
        correction=answer["correction"] if answer else None,
    )


def may_answer(of: Snapshot, supervisor: str, day: date) -> list[str]:
    """Return whose questions a supervisor is asked; raises Unknown where nobody is, and Refusal for no supervisor."""
    who = of.find_person(supervisor)
    theirs = [person for person, some in supervisors_of(of.people, day).items() if who["person"] in some]
    if not who["is_supervisor"]:
        raise Refusal(
            told("{name} is no supervisor, as the roster says.", name=of.names.get(who["person"], who["person"]))
        )
    return theirs


@dataclass(frozen=True)
class Suggested:
    """What somebody says of a day's question, as it comes in; `author` enters it, empty where the supervisor does.

    `supervisor` is who says so, by identifier, number or name; None where it is nobody on the roster.
    """

    person: str
    day: date
    action: str
    way: str
    at: datetime | None = None
    direction: str | None = None
    says: str = ""
    supervisor: str | None = None
    author: str = ""


def suggest(
    workspace: Workspace, reckoning: Reckoning, asked: Sequence[Suggested], *, as_of: datetime
) -> list[SuggestionListed]:
    """Keep what somebody says of days' questions, all or none; the same, said twice while it waits, is one.

    Raises Refusal where it is not whole, where a time does not belong to its day or has not come, and where the
    supervisor is not asked about the person.
    """
    of = reckoning.snapshot
    rows = [_row(of, one, as_of) for one in asked]
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        waiting = suggestions_waiting(conn)
        kept = {_said(row): row for row in waiting.iter_rows(named=True)}
        for row in rows:
            if _said(row) not in kept:
                number = decisions.add_row(conn, "suggestions", {**row, "day": row["day"].isoformat()})
                kept[_said(row)] = {**row, "suggestion": number}
    return [_listed(of, kept[_said(row)], None) for row in rows]


def check_suggested(reckoning: Reckoning, asked: Suggested, *, as_of: datetime) -> None:
    """Raise Refusal where `suggest` would, of one of several that are kept together, so that it can be named."""
    _row(reckoning.snapshot, asked, as_of)


SAID = ("person", "day", "action", "at", "direction", "says", "supervisor")


def _said(row: Mapping[str, Any]) -> tuple[object, ...]:
    """Return what makes two suggestions one."""
    return tuple(row[name] for name in SAID)


def _row(of: Snapshot, asked: Suggested, as_of: datetime) -> dict[str, Any]:
    """Return a suggestion (SUGGESTIONS without its number); raises Refusal as `suggest` does."""
    who = of.find_person(asked.person)
    person, supervisor = str(who["person"]), None
    if asked.supervisor is not None:
        supervisor = str(of.find_person(asked.supervisor)["person"])
        if person not in may_answer(of, supervisor, asked.day):
            raise Refusal(
                told(
                    "{supervisor} is not asked about {name}: a supervisor answers for the people of their own "
                    "department, and nobody for themselves.",
                    supervisor=of.names.get(supervisor, supervisor),
                    name=who["name"],
                )
            )
    if not (asked.author.strip() or supervisor):
        raise Refusal(told("say who says so; nothing was kept."))
    row = {
        "person": person,
        "day": asked.day,
        "action": asked.action,
        "at": None if asked.at is None else int(asked.at.timestamp()),
        "direction": asked.direction,
        "says": as_line(asked.says) or None,
        "supervisor": supervisor,
        "way": asked.way,
        "author": asked.author.strip() or supervisor,
        "made_at": int(as_of.timestamp()),
    }
    _check_whole(row, of.rules_of(who["site"]).on(asked.day).zone, as_of)
    return row


def _check_whole(row: Mapping[str, Any], zone: str, as_of: datetime) -> None:
    action, at = row["action"], row["at"]
    if action not in SUGGESTED:
        raise Refusal(
            told('"{action}" cannot be suggested; say one of {known}.', action=action, known=", ".join(SUGGESTED))
        )
    if action == "look":
        if not row["says"] or at is not None:
            raise Refusal(told("say in words what happened; nothing was kept."))
    elif at is None:
        raise Refusal(told("give the time of the punch, or say in words what happened; nothing was kept."))
    if action in ("add", "direct") and row["direction"] not in ("in", "out"):
        raise Refusal(told("say which way the punch went, in or out; nothing was kept."))
    if row["day"] > civil_date(zone, int(as_of.timestamp())):
        raise Refusal(told("{day} has not come yet; nothing was kept.", day=row["day"]))
    if at is None:
        return
    # a night belongs to the day on which it begins, so that what ends it may lie on the next
    starts, ends = (day_start(zone, row["day"] + timedelta(days=later)) for later in (-1, 2))
    if not starts <= at < ends:
        raise Refusal(told("the time does not belong to {day}; nothing was kept.", day=row["day"]))
    if at > as_of.timestamp():
        raise Refusal(told("the time has not come yet; nothing was kept."))


def suggestions_waiting(conn: Connection) -> Frame:
    """Return the suggestions (SUGGESTIONS) that wait, as of this transaction."""
    undone = reconcile.undone(frames.corrections(conn))
    return open_suggestions(frames.suggestions(conn), frames.suggestion_answers(conn), undone)
