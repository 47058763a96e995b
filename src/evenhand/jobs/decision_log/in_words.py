"""Decisions of the log as sentences of the catalogue, by the table that they stand in: told in their reader's language.

The log is worked out in columns of text; a sentence is found again by the one pattern of its table that made it.
"""

from __future__ import annotations

from collections.abc import Mapping

from evenhand.terms.languages import form_of, sentence, told

__all__ = ["decision_told"]

PATTERNS: Mapping[str, tuple[str, ...]] = {
    "corrections": (
        sentence("a punch added at {clock}, {way}"),
        sentence("a punch added at {clock}"),
        sentence("a punch added, {way}"),
        sentence("a punch added"),
        sentence("the punch at {clock} left out"),
        sentence("the punch left out"),
        sentence("the punch at {clock} said to go {way}"),
        sentence("the punch said to go {way}"),
        sentence("correction {number} taken back"),
        sentence("{many} corrections taken back under {number} at {reader}"),
        sentence("{many} corrections taken back"),
        sentence("a punch under {number} at {reader} returned to whoever holds the number"),
        sentence("{many} punches under {number} at {reader} returned to whoever holds the number"),
        sentence("a punch returned to whoever holds the number"),
        sentence("{many} punches returned to whoever holds the number"),
        sentence("a punch under {number} at {reader} given to this person"),
        sentence("{many} punches under {number} at {reader} given to this person"),
        sentence("a punch given to this person"),
        sentence("{many} punches given to this person"),
    ),
    "rejected_attributions": (
        sentence("punches under {number} at {reader} may be theirs again"),
        sentence("punches under {number} at {reader} are not theirs"),
    ),
    "premium_decisions": (
        sentence("hours owed for {what} struck"),
        sentence("{hours} h owed for {what} entered"),
        sentence("hours owed for {what} left to the record again"),
    ),
    "settled": (sentence("opened again: {finding}"),),
    "handoffs": (sentence("{first:again} to {last:again} handed off: {file}"),),
    "adjustments": (
        sentence("difference of {first:again} to {last:again} made good outside of payroll's files"),
        sentence("difference of {first:again} to {last:again} made good in the next period's file"),
    ),
    "take_decisions": (
        sentence("{file}, take {take}, taken back"),
        sentence("{file}, take {take}, read again"),
        sentence("the store made anew from what was taken and decided"),
    ),
    "consent_decisions": (
        sentence("what was recorded as {number} was recorded by mistake, {how}"),
        sentence("chose another way to clock: {says}, {how}"),
        sentence("agreed to the policy on hands, {how}"),
        sentence("said no to the policy on hands, {how}"),
        sentence("withdrew their consent, {how}"),
    ),
    "consent_policies": (sentence("version {number} of {policy} added, in force from {day:again}"),),
    "signoffs": (
        sentence("hours of {first:again} to {last:again} confirmed, {how}"),
        sentence("hours of {first:again} to {last:again} approved by {name}"),
        sentence("sign-off {number} taken back"),
    ),
    "disputes": (sentence("dispute {number} opened, about {what}"),),
    "dispute_answers": (
        sentence("dispute {number} answered: the person is right"),
        sentence("dispute {number} answered: the person is not right"),
        sentence("dispute {number} answered: the person takes it back"),
        sentence("dispute {number} answered: answered by {day:again}"),
    ),
    "suggestions": (sentence("suggestion {number}: {what}"),),
    "suggestion_answers": (sentence("suggestion {number} {what}"),),
    "holds": (
        sentence("legal hold {number} lifted"),
        sentence("legal hold lifted"),
        sentence("legal hold {number} placed"),
    ),
    "erasures": (sentence("what came of somebody's hand erased"), sentence("somebody erased")),
    "rounds": (sentence("round planned: {title}"),),
    "outcomes": (sentence("number {number}: {what}"),),
    "practices": (sentence("the round to practise on played"), sentence("practice {number} taken back")),
    "own_steps": (sentence("own steps for {kind} written"),),
    "settings_texts": (
        sentence("{file} as before change {number}"),
        sentence("{file} found to be gone"),
        sentence("{file} found for the first time"),
        sentence("{file} found to have changed"),
        sentence("{file} changed"),
    ),
}
"""What is said of a decision, by the table that it stands in; of two that fit, the first."""
WITHIN = (
    *(sentence("in"), sentence("out"), sentence("paper"), sentence("phone"), sentence("desk"), sentence("reader")),
    *(sentence("meal"), sentence("rest"), sentence("split shift"), sentence("reporting time"), sentence("call back")),
    *(sentence("day"), sentence("punch"), sentence("premium"), sentence("pay"), sentence("enrolment")),
    *(sentence("release"), sentence("other"), sentence("accepted"), sentence("declined"), sentence("withdrawn")),
    *(sentence("enrolled"), sentence("taken off"), sentence("to be tried again"), sentence("did not come")),
    *(sentence("stopped after five presentations"), sentence("passed over"), sentence("put aside undone")),
    *(sentence("cannot be enrolled"), sentence("taken back"), sentence("The number alone"), sentence("Enrolment")),
    *(sentence("Removals"), sentence("a punch is missing"), sentence("a punch is one too many")),
    *(sentence("a punch went the other way"), sentence("something else")),
)
"""What stands within such a sentence, and is told in its language too."""


def decision_told(table: str, says: str) -> str:
    """Return what a decision of a table (a row of LOG) says as a Sentence; as it is where no pattern made it."""
    for pattern in PATTERNS.get(table, ()):
        if match := form_of(pattern).fullmatch(says):
            given = {name: told(value) if value in WITHIN else value for name, value in match.groupdict().items()}
            return told(pattern, **given)
    return says
