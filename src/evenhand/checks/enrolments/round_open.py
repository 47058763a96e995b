"""What a round did has not been proved by the punches."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from evenhand.checks.disagreement import by
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import Moment, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="round_open",
    title=told("Enrolments of a round still open"),
    why=told(
        "A round is over when each hand enrolled has been accepted once under its own number, "
        "and no number taken off is used again. What is left shows within a day; after that "
        "people lose hours."
    ),
    next_step=told("Go through them at the reader: key the number from the roster, not from memory."),
)

DAY_S = 86_400
MOST = 12
KEYS = ["reader", "number"]


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per reader; an enrolment of the last day, or one told as unproved already, is left out."""
    unproved = set(facts.discrepancies_of("unproved").join(facts.proof, on=KEYS, how="semi").select(KEYS).iter_rows())
    proof = facts.proof.to_dicts()
    good = _proved_well(proof)
    rows = [row for row in proof if _is_open(facts, row, unproved) and (row["item"], row["kind"]) not in good]
    for (reader,), found in by(rows, "reader").items():
        lines = [_line(facts, row) for row in found]
        people = {row["person"] or row["number"] for row in found}
        yield Finding(
            code=CHECK.code,
            subject=str(reader),
            reader=str(reader),
            person=found[0]["person"] if len(people) == 1 else None,
            says=told(
                "What the last rounds did at {reader} is open for {count:# person|# people}.",
                reader=reader,
                count=len(people),
            ),
            evidence=(
                *lines[:MOST],
                *((told("And {count} more.", count=len(lines) - MOST),) if len(lines) > MOST else ()),
            ),
            stake=Stake(people=len(people)),
            next_step=CHECK.next_step,
            details={"people": sorted(people)},
        )


def _proved_well(proof: list[dict[str, Any]]) -> set[tuple[str, str]]:
    """A first score as low as any makes up for presentations that disagreed."""
    items = {kind: {row["item"] for row in proof if row["kind"] == kind} for kind in ("proved", "high_first_score")}
    return {(item, "presentations_disagree") for item in items["proved"] - items["high_first_score"]}


def _is_open(facts: Facts, row: dict[str, Any], unproved: set[tuple[str, str]]) -> bool:
    if row["kind"] in ("proved", "quiet"):
        return False
    if row["kind"] == "unproved":
        return facts.as_of - row["at"] > DAY_S and (row["reader"], row["number"]) not in unproved
    return True


def _line(facts: Facts, row: dict[str, Any]) -> str:
    who = (
        told("{who} under {number}", who=call(facts, row["person"]), number=row["number"])
        if row["person"]
        else row["number"]
    )
    if row["kind"] == "unproved":
        zone = facts.reader_zones.get(row["reader"], facts.zone)
        return told("{who}: enrolled {at:zoned}, and no hand laid down since.", who=who, at=Moment(row["at"], zone))
    if row["kind"] == "refused_only":
        return told("{who}: the hand was refused since; enrol it again under the same number.", who=who)
    if row["kind"] == "other_number":
        whose = (
            told("{who} is not proved yet and nearest to it", who=who)
            if row["person"]
            else told("whose it is, is not known")
        )
        return told(
            "{other}, which nobody holds, was accepted within a day of the round; {whose}.",
            other=row["other"],
            whose=whose,
        )
    if row["kind"] == "many_presentations":
        return told("{who}: enrolling took more than five presentations; watch whether the hand is accepted.", who=who)
    if row["kind"] == "presentations_disagree":
        return told("{who}: {says:again}", who=who, says=row["says"])
    if row["kind"] == "high_first_score":
        return told(
            "{who}: first score {score:g}, where 95 % stay within {expected:g}; watch the next ones.",
            who=who,
            score=row["score"],
            expected=row["expected"],
        )
    return told("{who}: a hand was accepted after the number was taken off; take it off again.", who=who)
