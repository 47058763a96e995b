"""What is made of a suggestion: accepted, with the correction that it asks for, declined, or withdrawn."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import polars as pl

from evenhand import reconcile
from evenhand.jobs.correct import CorrectionMade, correct
from evenhand.jobs.correction_rows import CorrectionRequest
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.suggestions import SuggestionListed, list_suggestions, suggestions_waiting
from evenhand.jobs.workspace import Workspace
from evenhand.store import decisions, frames
from evenhand.store.database import Connection
from evenhand.terms.languages import told
from evenhand.terms.lines import as_line
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.suggestions import SUGGESTION_OUTCOMES

__all__ = ["accept_suggestion", "answer_suggestion", "correct_as_suggested", "request_of", "waiting_suggestion"]


def waiting_suggestion(of: Snapshot, number: int) -> SuggestionListed:
    """Return a suggestion that waits; raises Unknown where there is none, and Refusal where it was decided on."""
    found = next((one for one in list_suggestions(of, with_answered=True) if one.suggestion == number), None)
    if found is None:
        raise Unknown(
            told("there is no suggestion {number}; `evenhand missing suggestions --all` lists them.", number=number)
        )
    if not found.is_open:
        raise Refusal(
            told(
                "suggestion {number} is {state:again} already, by {answered_by}; nothing was changed.",
                number=number,
                state=found.state,
                answered_by=found.answered_by,
            )
        )
    return found


def request_of(reckoning: Reckoning, one: SuggestionListed, author: str, reason: str) -> CorrectionRequest:
    """Return the correction that a suggestion asks for; raises Refusal where there is none to make of it."""
    if one.action == "look" or one.at is None:
        raise Refusal(
            told(
                "suggestion {number} is in words alone: correct the day by hand where they are right, and answer it "
                "then.",
                number=one.suggestion,
            )
        )
    at = datetime.fromtimestamp(one.at, UTC)
    if one.action == "add":
        return CorrectionRequest("add", one.person, author, reason, at=at, direction=one.direction)
    theirs = reckoning.attribution.attributed.filter(pl.col("person") == one.person, pl.col("at") == one.at)
    if theirs.is_empty():
        raise Refusal(
            told("{name} has no punch at that time any longer; decline the suggestion, and say so.", name=one.name)
        )
    return CorrectionRequest(
        one.action, one.person, author, reason, punch=int(theirs["punch"][0]), direction=one.direction
    )


def accept_suggestion(
    workspace: Workspace, reckoning: Reckoning, number: int, *, author: str, reason: str, as_of: datetime
) -> SuggestionListed:
    """Make the correction that a suggestion asks for, and answer it with that.

    Where the same correction stands already, it is answered with that one. Raises Refusal as `correct` does.
    """
    one = waiting_suggestion(reckoning.snapshot, number)
    made = _standing(reckoning, one)
    if made is None:
        asked = request_of(reckoning, one, author, reason)
        made = correct_as_suggested(workspace, reckoning, one, asked, as_of=as_of).number
        return _answered(one, "accepted", asked.reason, asked.author, made)
    return answer_suggestion(
        workspace, reckoning.snapshot, number, "accepted", reason=reason, author=author, correction=made, as_of=as_of
    )


def correct_as_suggested(
    workspace: Workspace,
    reckoning: Reckoning,
    one: SuggestionListed,
    asked: CorrectionRequest,
    *,
    as_of: datetime,
    last_seen: int | None = None,
) -> CorrectionMade:
    """Make the correction that is `asked` for and answer the suggestion with it, both or neither; see `correct`.

    Raises Refusal as that does, and where the suggestion was answered meanwhile.
    """

    def answered(conn: Connection, made: int) -> None:
        _add_answer(conn, one, "accepted", reason=asked.reason, author=asked.author, correction=made, as_of=as_of)

    return correct(workspace, reckoning, asked, as_of=as_of, last_seen=last_seen, beside=answered)


def _standing(reckoning: Reckoning, one: SuggestionListed) -> int | None:
    """Return the correction that stands and says what is suggested."""
    of = reckoning.snapshot
    punched = of.recorded.filter(pl.col("at") == one.at)["punch"].to_list()
    added = (pl.col("person") == one.person) & (pl.col("at") == one.at)
    same = reconcile.standing(of.corrections).filter(
        pl.col("action") == one.action,
        added if one.action == "add" else pl.col("punch").is_in(punched),
        pl.col("direction").eq_missing(pl.lit(one.direction)),
    )
    return int(same["correction"][-1]) if same.height else None


def _whose_standing(conn: Connection, correction: int) -> str | None:
    """Return of whom a correction is that nobody took back, as of this transaction."""
    found = reconcile.standing(frames.corrections(conn)).filter(pl.col("correction") == correction)
    return str(found["person"][0]) if found.height else None


def answer_suggestion(
    workspace: Workspace,
    of: Snapshot,
    number: int,
    outcome: str,
    *,
    reason: str,
    author: str,
    correction: int | None = None,
    as_of: datetime,
) -> SuggestionListed:
    """Say what became of a suggestion: `accepted`, with the correction made of it, `declined`, or `withdrawn`.

    Raises Refusal where it was answered already, where no such correction of the person stands, and where nobody says
    why.
    """
    if outcome not in SUGGESTION_OUTCOMES:
        raise Refusal(
            told(
                '"{outcome}" answers nothing; say one of {known}.',
                outcome=outcome,
                known=", ".join(SUGGESTION_OUTCOMES),
            )
        )
    reason = as_line(reason)
    if not author.strip() or not reason:
        raise Refusal(told("a suggestion is answered by somebody and for a reason; give both."))
    if outcome == "accepted" and correction is None:
        raise Refusal(told("what is accepted is corrected: make the correction, and name it."))
    one = waiting_suggestion(of, number)
    with workspace.store.writing() as conn:
        decisions.decide_alone(conn)
        _add_answer(conn, one, outcome, reason=reason, author=author, correction=correction, as_of=as_of)
    return _answered(one, outcome, reason, author, correction)


def _add_answer(
    conn: Connection,
    one: SuggestionListed,
    outcome: str,
    *,
    reason: str,
    author: str,
    correction: int | None,
    as_of: datetime,
) -> None:
    """Keep what became of a suggestion; raises Refusal where it waits no longer, or no such correction stands."""
    if correction is not None and _whose_standing(conn, correction) != one.person:
        raise Refusal(
            told(
                "no correction {correction} of {name} stands; the suggestion was not answered.",
                correction=correction,
                name=one.name,
            )
        )
    if one.suggestion not in suggestions_waiting(conn)["suggestion"]:
        raise Refusal(
            told("suggestion {suggestion} was answered meanwhile; nothing was changed.", suggestion=one.suggestion)
        )
    values = {
        "suggestion": one.suggestion,
        "outcome": outcome,
        "correction": correction,
        "reason": reason,
        "author": author.strip(),
        "made_at": int(as_of.timestamp()),
    }
    decisions.add_row(conn, "suggestion_answers", values)


def _answered(
    one: SuggestionListed, outcome: str, reason: str, author: str, correction: int | None
) -> SuggestionListed:
    return replace(one, state=outcome, answered_by=author.strip(), reason=reason, correction=correction)
