"""Disputes: a person says that a line of their record is wrong; it becomes a case, and comes back with an answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.retention import place_of_site
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.records.retention import answer_by
from evenhand.records.retention.law import EUROPEAN
from evenhand.records.standing import open_disputes
from evenhand.store import decisions, frames
from evenhand.store.database import Connection
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence, told
from evenhand.terms.lines import as_line
from evenhand.terms.records import Refusal
from evenhand.terms.signing import DISPUTED_IN_WORDS, DISPUTED_KINDS
from evenhand.terms.words import as_day
from evenhand.terms.zones import civil_date

__all__ = [
    "DisputeAnswer",
    "DisputeListed",
    "as_stored",
    "disputes_of",
    "is_european",
    "kept_dispute",
    "list_disputes",
    "open_dispute",
    "said_cleanly",
]

EU = "eu_2003_88"
TO_RECTIFY = sentence(
    "A request to rectify is answered within one month (GDPR art. 12(3), 16), at the latest on {latest}; art. 12(3) "
    "allows two months more where the person is told why within the first."
)
WITHIN_DAY = sentence(
    "The workplace answers within {count} day, as its settings say; local law and agreements may want it sooner."
)
WITHIN_DAYS = sentence(
    "The workplace answers within {count} days, as its settings say; local law and agreements may want it sooner."
)


@dataclass(frozen=True)
class DisputeAnswer:
    """One answer to a dispute, with the correction or the decision about hours owed that mends what was wrong."""

    answer: int
    outcome: str
    correction: int | None
    decision: int | None
    reason: str
    author: str
    made_at: int


@dataclass(frozen=True)
class DisputeListed:
    """A dispute with its answers in order; `state` is `open` or the last outcome, `answer_by` the day set last."""

    dispute: int
    person: str
    name: str
    kind: str
    day: date | None
    line: str | None
    says: str
    way: str
    answer_by: date
    rule: str
    author: str
    made_at: int
    state: str
    answers: tuple[DisputeAnswer, ...]

    @property
    def is_open(self) -> bool:
        """Whether the person waits for an answer."""
        return self.state in ("open", "extended")


def list_disputes(of: Snapshot, *, with_answered: bool = False) -> list[DisputeListed]:
    """Return the disputes that wait, by the day they are due; or all, those that were answered after them."""
    every = [_listed(of.names, of.dispute_answers, row) for row in of.disputes.iter_rows(named=True)]
    asked = [one for one in every if with_answered or one.is_open]
    return sorted(asked, key=lambda one: (not one.is_open, one.answer_by if one.is_open else date.max, -one.dispute))


def disputes_of(of: Snapshot, person: str) -> list[DisputeListed]:
    """Return all disputes of a person, in the order in which they were said."""
    theirs = of.disputes.filter(pl.col("person") == person)
    return [_listed(of.names, of.dispute_answers, row) for row in theirs.iter_rows(named=True)]


def _listed(names: Mapping[str, str], made: Frame, row: Mapping[str, Any]) -> DisputeListed:
    answers = made.filter(pl.col("dispute") == row["dispute"]).sort("answer").rows(named=True)
    later = [one["answer_by"] for one in answers if one["answer_by"]]
    return DisputeListed(
        name=names.get(row["person"], row["person"]),
        state=answers[-1]["outcome"] if answers else "open",
        answers=tuple(
            DisputeAnswer(**{name: one[name] for name in DisputeAnswer.__dataclass_fields__}) for one in answers
        ),
        **{**row, "answer_by": (later or [row["answer_by"]])[-1]},
    )


def open_dispute(
    workspace: Workspace,
    reckoning: Reckoning,
    person: str,
    *,
    kind: str,
    says: str,
    day: date | None = None,
    line: str = "",
    way: str,
    author: str = "",
    as_of: datetime,
) -> DisputeListed:
    """Keep what a person says is wrong, and return it with the day by which it is to be answered.

    `author` enters it for them; empty where they did so themselves. The same, said twice while it waits, is one.
    Raises Refusal where it is not said what is wrong, or of which day.
    """
    of = reckoning.snapshot
    who = of.find_person(person)
    says, line = said_cleanly(says, sentence("say what it should say")), said_cleanly(line, "") if line.strip() else ""
    if kind not in DISPUTED_KINDS:
        raise Refusal(
            told('"{kind}" cannot be disputed; say one of {known}.', kind=kind, known=", ".join(DISPUTED_KINDS))
        )
    if kind in ("day", "punch", "premium") and day is None:
        raise Refusal(told("a {kind} is disputed of a day; say which.", kind=told(DISPUTED_IN_WORDS[kind])))
    rules = of.rules_of(who["site"])
    received = civil_date(rules.zone, int(as_of.timestamp()))
    if day is not None and day > received:
        raise Refusal(told("{day} has not come yet; a line is disputed once it is there.", day=day))
    due, rule = _due(of, who["site"], received)
    row = {
        "person": str(who["person"]),
        "kind": kind,
        "day": day,
        "line": line or None,
        "says": says,
        "way": way,
        "answer_by": due,
        "rule": rule,
        "author": author.strip() or str(who["person"]),
        "made_at": int(as_of.timestamp()),
    }
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        waiting = open_disputes(frames.disputes(conn), frames.dispute_answers(conn))
        same = [pl.col(name).eq_missing(pl.lit(row[name])) for name in ("person", "kind", "day", "line", "says")]
        known = waiting.filter(same)["dispute"].to_list()
        number = known[0] if known else decisions.add_row(conn, "disputes", as_stored(row))
        return kept_dispute(conn, of, number)


def is_european(of: Snapshot, site: str | None, on: date) -> bool:
    """Whether the GDPR sets the time to answer: by the site's place, or by its rules or those they are based on."""
    name = of.rules_of(site).on(on).jurisdiction
    return (of.own[name].based_on if name in of.own else name) == EU or (place_of_site(of, site)[:2] in EUROPEAN)


def _due(of: Snapshot, site: str | None, received: date) -> tuple[date, str]:
    """Return the day to plan for, and what sets it."""
    if is_european(of, site, received):
        due = answer_by(received)
        return due.nominal, TO_RECTIFY.format(latest=as_day(due.latest))
    days = of.settings.answer_days
    within = WITHIN_DAY if days == 1 else WITHIN_DAYS
    return received + timedelta(days=days), within.format(count=f"{days:,}")


def kept_dispute(conn: Connection, of: Snapshot, number: int) -> DisputeListed:
    """Return a dispute as it stands in the transaction `conn` is in."""
    row = frames.disputes(conn).filter(pl.col("dispute") == number).row(0, named=True)
    return _listed(of.names, frames.dispute_answers(conn), row)


def as_stored(row: Mapping[str, Any]) -> dict[str, Any]:
    """Return a row as the store keeps it: days as text."""
    return {name: value.isoformat() if isinstance(value, date) else value for name, value in row.items()}


def said_cleanly(text: str, asked: str) -> str:
    """Return a text as one clean line; raises Refusal where it says nothing, or too much."""
    if not text.strip():
        raise Refusal(told("{question}; nothing was kept.", question=told(asked)))
    return as_line(text)
