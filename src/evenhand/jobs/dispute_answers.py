"""Answer a dispute: with what mends it where the person is right, with the reason where they are not, or later."""

from __future__ import annotations

from datetime import date, datetime

import polars as pl

from evenhand import reconcile
from evenhand.jobs.disputes import (
    DisputeListed,
    as_stored,
    is_european,
    kept_dispute,
    list_disputes,
    said_cleanly,
)
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.records.retention import answer_by
from evenhand.records.standing import open_disputes
from evenhand.store import decisions, frames
from evenhand.store.database import Connection
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.signing import DISPUTE_OUTCOMES
from evenhand.terms.zones import civil_date

__all__ = ["answer_dispute"]


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

    What is accepted of a day or a punch names the correction of that day that mends it, of a premium the decision about
    hours owed, or a correction. Raises Refusal where it does not wait any longer, where what is named is of another
    person or day, where no law extends the time, and where nobody says why.
    """
    if not author.strip():
        raise Refusal(told("a dispute is answered by somebody; say who."))
    if outcome not in DISPUTE_OUTCOMES:
        raise Refusal(
            told('"{outcome}" answers nothing; say one of {known}.', outcome=outcome, known=", ".join(DISPUTE_OUTCOMES))
        )
    reason = said_cleanly(reason, sentence("say why, in words for the person"))
    of = reckoning.snapshot
    found = next((one for one in list_disputes(of, with_answered=True) if one.dispute == number), None)
    if found is None:
        raise Unknown(told("there is no dispute {number}; `evenhand dispute list --all` lists them.", number=number))
    mended = {"correction": correction, "decision": decision}
    if outcome == "accepted":
        with workspace.store.reading() as conn:
            _refuse_unmended(conn, reckoning, found, correction, decision)
    elif correction is not None or decision is not None:
        raise Refusal(told("a correction or a decision is named where a dispute is accepted, and only there."))
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
            raise Refusal(
                told(
                    "dispute {number} has its answer already; who is not content with it says so in another.",
                    number=number,
                )
            )
        decisions.add_row(conn, "dispute_answers", as_stored(row))
        return kept_dispute(conn, of, number)


def _refuse_unmended(
    conn: Connection, reckoning: Reckoning, found: DisputeListed, correction: int | None, decision: int | None
) -> None:
    """Refuse what is accepted without what mends it, or with what mends something else."""
    if found.kind in ("day", "punch") and correction is None:
        raise Refusal(told("what is accepted is mended: make the correction, and name it."))
    if found.kind == "premium" and correction is None and decision is None:
        raise Refusal(told("what is accepted is mended: decide about the hours owed, and name the decision."))
    of = reckoning.snapshot
    if correction is not None:
        standing = reconcile.standing(of.corrections).filter(pl.col("correction") == correction)
        if standing.is_empty() or standing["person"][0] != found.person:
            raise Refusal(
                told(
                    "no correction {number} of {name} stands; `evenhand hours why` lists those of a day.",
                    number=correction,
                    name=found.name,
                )
            )
        _refuse_another_day(told("correction {number}", number=correction), found, _days_of(conn, reckoning, standing))
    if decision is not None:
        made = of.premium_decisions.filter(pl.col("decision") == decision)
        if made.is_empty() or made["person"][0] != found.person:
            raise Refusal(
                told("there is no decision {number} about hours owed to {name}.", number=decision, name=found.name)
            )
        _refuse_another_day(told("decision {number}", number=decision), found, [made["workday"][0]])


def _refuse_another_day(what: str, found: DisputeListed, days: list[date]) -> None:
    if found.day is not None and days and found.day not in days:
        raise Refusal(
            told(
                "{what} is of {day}, and what is disputed of {other}; name what mends that day.",
                what=what,
                day=days[0],
                other=found.day,
            )
        )


def _days_of(conn: Connection, reckoning: Reckoning, correction: Frame) -> list[date]:
    """Return the civil day of what a correction is about, and the day on which the shift began that it is in.

    Empty where the punch is stored no more.
    """
    row = correction.row(0, named=True)
    of, punch = reckoning.snapshot, -row["correction"] if row["action"] == "add" else row["punch"]
    zone = of.rules_of(of.find_person(row["person"])["site"]).zone
    at = row["at"]
    if at is None:
        told = frames.recorded_punch(conn, punch)
        if told.is_empty():
            return []
        at = told["at"][0]
        zone = dict(of.readers.select("reader", "zone").iter_rows()).get(told["reader"][0], zone)
    theirs = reckoning.attribution.attributed.filter(pl.col("person") == row["person"])
    begun = reconcile.shifts_begin(theirs, ["person"], of.settings.policy).filter(pl.col("punch") == punch)
    return [civil_date(zone, instant) for instant in (at, *begun["begins"])]


def _extended(of: Snapshot, found: DisputeListed, as_of: datetime) -> date:
    """Return the day to plan for once two months are added; the person is told within the first month."""
    site = of.find_person(found.person)["site"]
    rules = of.rules_of(site)
    received = civil_date(rules.zone, found.made_at)
    if not is_european(of, site, received):
        raise Refusal(told("the time to answer is the workplace's own, so that no law extends it; answer the dispute."))
    if any(one.outcome == "extended" for one in found.answers):
        raise Refusal(
            told(
                "the time to answer dispute {number} was extended already, which can be done once.",
                number=found.dispute,
            )
        )
    if civil_date(rules.zone, int(as_of.timestamp())) > answer_by(received).latest:
        raise Refusal(
            told("the first month is over, within which the person is told of an extension and why; answer now.")
        )
    return answer_by(received, is_extended=True).nominal
