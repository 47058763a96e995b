"""Disputes: a person says that a line of their record is wrong; it becomes a case, and comes back with an answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.retention import place_of_site
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.records.retention import answer_by
from evenhand.records.retention.laws import EUROPEAN
from evenhand.records.standing import open_disputes
from evenhand.store import decisions, frames
from evenhand.store.database import Connection
from evenhand.terms.columns import Frame
from evenhand.terms.lines import as_line
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.signing import DISPUTE_OUTCOMES, DISPUTED_KINDS
from evenhand.terms.words import as_day, counted
from evenhand.terms.zones import civil_date

__all__ = [
    "DisputeAnswer",
    "DisputeListed",
    "answer_dispute",
    "disputes_of",
    "list_disputes",
    "open_dispute",
]

EU = "eu_2003_88"


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
    says, line = _clean(says, "what it should say"), _clean(line, "") if line.strip() else ""
    if kind not in DISPUTED_KINDS:
        raise Refusal(f'"{kind}" cannot be disputed; say one of {", ".join(DISPUTED_KINDS)}.')
    if kind in ("day", "punch", "premium") and day is None:
        raise Refusal(f"a {kind} is disputed of a day; say which.")
    rules = of.rules_of(who["site"])
    received = civil_date(rules.zone, int(as_of.timestamp()))
    if day is not None and day > received:
        raise Refusal(f"{day} has not come yet; a line is disputed once it is there.")
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
        number = known[0] if known else decisions.add_row(conn, "disputes", _stored(row))
        return _kept(conn, of, number)


def _is_european(of: Snapshot, site: str | None, on: date) -> bool:
    """Whether the GDPR sets the time to answer: by the site's place, or by its rules or those they are based on."""
    name = of.rules_of(site).on(on).jurisdiction
    return (of.own[name].based_on if name in of.own else name) == EU or (place_of_site(of, site)[:2] in EUROPEAN)


def _due(of: Snapshot, site: str | None, received: date) -> tuple[date, str]:
    """Return the day to plan for, and what sets it."""
    if _is_european(of, site, received):
        due = answer_by(received)
        return due.nominal, (
            f"A request to rectify is answered within one month (GDPR art. 12(3), 16), at the latest on "
            f"{as_day(due.latest)}; art. 12(3) allows two months more where the person is told why within the first."
        )
    days = of.settings.answer_days
    return received + timedelta(days=days), (
        f"The workplace answers within {counted(days, 'day')}, as its settings say; local law and agreements may "
        "want it sooner."
    )


def answer_dispute(
    workspace: Workspace,
    reckoning: Reckoning,
    number: int,
    outcome: str,
    *,
    reason: str,
    author: str,
    correction: int | None = None,
    decision: int | None = None,
    as_of: datetime,
) -> DisputeListed:
    """Answer a dispute: `accepted`, `rejected`, `withdrawn` by the person, or the time to answer `extended`.

    What is accepted of a day or a punch names the correction that mends it, of a premium the decision about hours owed
    or a correction. Raises Refusal where it does not wait any longer, where that is another person's, where no law
    extends the time, and where nobody says why.
    """
    if not author.strip():
        raise Refusal("a dispute is answered by somebody; say who with --author.")
    if outcome not in DISPUTE_OUTCOMES:
        raise Refusal(f'"{outcome}" answers nothing; say one of {", ".join(DISPUTE_OUTCOMES)}.')
    reason = _clean(reason, "why, in words for the person")
    of = reckoning.snapshot
    found = next((one for one in list_disputes(of, with_answered=True) if one.dispute == number), None)
    if found is None:
        raise Unknown(f"there is no dispute {number}; `evenhand dispute list --all` lists them.")
    mended = {"correction": correction, "decision": decision}
    if outcome == "accepted":
        _check_mended(of, found, correction, decision)
    elif correction is not None or decision is not None:
        raise Refusal("a correction or a decision is named where a dispute is accepted, and only there.")
    later = _extended(of, found, as_of) if outcome == "extended" else None
    row = {
        "dispute": number,
        "outcome": outcome,
        **mended,
        "reason": reason,
        "answer_by": later,
        "author": author.strip(),
        "made_at": int(as_of.timestamp()),
    }
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        if number not in open_disputes(frames.disputes(conn), frames.dispute_answers(conn))["dispute"]:
            raise Refusal(f"dispute {number} has its answer already; who is not content with it says so in another.")
        decisions.add_row(conn, "dispute_answers", _stored(row))
        return _kept(conn, of, number)


def _kept(conn: Connection, of: Snapshot, number: int) -> DisputeListed:
    row = frames.disputes(conn).filter(pl.col("dispute") == number).row(0, named=True)
    return _listed(of.names, frames.dispute_answers(conn), row)


def _check_mended(of: Snapshot, found: DisputeListed, correction: int | None, decision: int | None) -> None:
    if found.kind in ("day", "punch") and correction is None:
        raise Refusal("what is accepted is mended: make the correction, and name it with --correction.")
    if found.kind == "premium" and correction is None and decision is None:
        raise Refusal("what is accepted is mended: decide about the hours owed, and name it with --decision.")
    if correction is not None:
        standing = reconcile.standing(of.corrections).filter(pl.col("correction") == correction)
        if standing.is_empty() or standing["person"][0] != found.person:
            raise Refusal(
                f"no correction {correction} of {found.name} stands; `evenhand hours why` lists those of a day."
            )
    if decision is not None:
        made = of.premium_decisions.filter(pl.col("decision") == decision)
        if made.is_empty() or made["person"][0] != found.person:
            raise Refusal(f"there is no decision {decision} about hours owed to {found.name}.")


def _extended(of: Snapshot, found: DisputeListed, as_of: datetime) -> date:
    """Return the day to plan for once two months are added; the person is told within the first month."""
    site = of.find_person(found.person)["site"]
    rules = of.rules_of(site)
    received = civil_date(rules.zone, found.made_at)
    if not _is_european(of, site, received):
        raise Refusal("the time to answer is the workplace's own, so that no law extends it; answer the dispute.")
    if any(one.outcome == "extended" for one in found.answers):
        raise Refusal(f"the time to answer dispute {found.dispute} was extended already, which can be done once.")
    if civil_date(rules.zone, int(as_of.timestamp())) > answer_by(received).latest:
        raise Refusal("the first month is over, within which the person is told of an extension and why; answer now.")
    return answer_by(received, is_extended=True).nominal


def _stored(row: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value.isoformat() if isinstance(value, date) else value for name, value in row.items()}


def _clean(text: str, asked: str) -> str:
    """Return a text as one clean line; raises Refusal where it says nothing, or too much."""
    if not text.strip():
        raise Refusal(f"say {asked}; nothing was kept.")
    return as_line(text)
