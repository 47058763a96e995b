"""Somebody decided about their own hours or enrolled their own hand.

To be silent is worse: nobody should have to trust it unseen, the person least of all. It tells no intent.
"""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.checks.disagreement import by
from evenhand.checks.facts import Check, Facts
from evenhand.checks.words import call
from evenhand.terms.languages import Moment, sentence, told
from evenhand.terms.records import Finding, Stake

CHECK = Check(
    code="decided_on_own",
    title=told("Decided about one's own hours or hand"),
    why=told(
        "Whoever keeps others' hours and hands has theirs kept by somebody else, so that both "
        "can be trusted (separation of duties: NIST SP 800-53 revision 5, control AC-5). It may "
        "well be right; a second person says so."
    ),
    next_step=told("Have another supervisor look at it, and settle it with their name and what they saw."),
)

MOST = 6
KINDS = {
    "correction": sentence("correction {number}"),
    "hours_owed": sentence("hours owed, decision {number}"),
    "enrolment": sentence("enrolment {number}"),
}


def find(facts: Facts) -> Iterator[Finding]:
    """Yield a finding per person and kind, named after the last such decision, so that a later one is asked anew."""
    rows = facts.own_decisions.sort("at").rows(named=True)
    for (person, kind), theirs in by(rows, "person", "kind").items():
        last, zone = theirs[-1], facts.zone_of(person)
        about = told("their own hand") if kind == "enrolment" else told("their own hours")
        lines = [
            told(
                "{what}{reader}, {at:short}, by {author}.",
                what=told(KINDS[kind], number=one["decision"]),
                reader=told(" at {reader}", reader=one["reader"]) if one["reader"] else "",
                at=Moment(one["at"], zone),
                author=one["author"],
            )
            for one in reversed(theirs)
        ]
        yield Finding(
            code=CHECK.code,
            subject=f"{person}/{kind}/{last['decision']}",
            person=person,
            reader=last["reader"],
            says=told(
                "{who} decided about {about}, {count:# time|# times}.",
                who=call(facts, person),
                about=about,
                count=len(theirs),
            ),
            evidence=(
                *lines[:MOST],
                *([told("And {count} more.", count=len(lines) - MOST)] if len(lines) > MOST else []),
            ),
            stake=Stake(people=1),
            next_step=told("Have somebody else look at it; settle it under their name, or have them decide."),
            details={"decisions": [one["decision"] for one in theirs]},
        )
