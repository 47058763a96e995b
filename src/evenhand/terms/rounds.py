"""The tables of a round: who is called to which reader, and what came of it."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table
from evenhand.terms.languages import LANGUAGES, sentence

__all__ = ["JUDGED", "OFF_ROUND", "OUTCOMES", "PROVED", "RESULTS", "ROUNDS", "ROUND_ITEMS"]

_INSTANT = "s since 1970-01-01T00:00:00Z"
RESULTS = (
    "enrolled",
    "removed",
    "try_again",
    "stopped",
    "did_not_come",
    "passed_over",
    "not_done",
    "cannot",
    "undone",
)
"""What may come of an item. `stopped`: five presentations did not agree; `passed_over`: somebody else goes first, for
now; `not_done`: not in this round, with why; `undone`: put back, as if nothing had come of it."""

OFF_ROUND = sentence("taken back off the round at the desk")
"""Why an item is not done that was taken off before anybody began it: no hand was laid down for it."""

PROVED = {
    "proved": sentence("proved"),
    "unproved": sentence("not proved yet: no hand laid down under the number"),
    "refused_only": sentence("not proved: the hand was refused; enrol it again"),
    "other_number": sentence("a number nobody holds was keyed"),
    "many_presentations": sentence("took more than five presentations"),
    "presentations_disagree": sentence("the presentations disagree"),
    "high_first_score": sentence("first score is high for this reader; watch the next ones"),
    "quiet": sentence("taken off, and not used since"),
    "removed_used": sentence("a hand was accepted under it after it was taken off"),
}
"""What the punches say of an item that was done, in words, by what was found."""

ROUNDS = Table(
    "rounds",
    "Rounds at the readers: enrolling, enrolling again and removing, planned for a day",
    (
        Column("round", "text", "Its short name, as it stands in its address", required=True),
        Column("title", "text", "What it is about, in the words of whoever made it", required=True),
        Column("day", "date", "The day it is for", required=True),
        Column("asked", "text", "The day as asked for, as JSON, so that it can be planned again", required=True),
        Column("author", "text", "Who made it", required=True),
        Column("made_at", "instant", "When it was made", required=True, unit=_INSTANT),
    ),
    key=("round",),
)

ROUND_ITEMS = Table(
    "round_items",
    "What is to be done at each reader, in order",
    (
        Column("item", "text", "The round and a running number", required=True),
        Column("round", "text", "The round", required=True),
        Column("reader", "text", "At which reader", required=True),
        Column("position", "count", "The place in the reader's order, from 1", required=True),
        Column("starts_at", "instant", "When the person is called; empty where it does not matter", unit=_INSTANT),
        Column(
            "action",
            "text",
            "What to do",
            required=True,
            allowed=("enrol_supervisor", "enrol", "enrol_again", "remove"),
        ),
        Column("number", "text", "The number to key", required=True),
        Column("person", "text", "Whose hand"),
        Column("name", "text", "The person's name"),
        Column("language", "text", "The language to speak", required=True, allowed=LANGUAGES),
        Column("stands", "text", "The supervisor who stands at the reader then, by name"),
    ),
    key=("item",),
)

OUTCOMES = Table(
    "outcomes",
    "What came of each item, as tapped at the reader; never changed, a later one counts",
    (
        Column(
            "outcome",
            "text",
            "A name given where it was tapped, so that sending it twice changes nothing",
            required=True,
        ),
        Column("item", "text", "Of which item", required=True),
        Column("result", "text", "What came of it", required=True, allowed=RESULTS),
        Column("presentations", "count", "Presentations the enrolment took", unit="presentations"),
        Column(
            "scores", "text", "The scores the reader showed, in order, with spaces between", unit="reader's own scale"
        ),
        Column("reason", "text", "Why the person cannot be enrolled, or why it was not done"),
        Column("other_way", "text", "The other way to clock that was offered"),
        Column("author", "text", "The supervisor at the reader", required=True),
        Column("made_at", "instant", "When it was tapped, by the phone's clock", required=True, unit=_INSTANT),
        Column("received_at", "instant", "When it arrived", required=True, unit=_INSTANT),
    ),
    key=("outcome",),
)

JUDGED = Table(
    "judged",
    "What the scores noted at an enrolment say of its presentations",
    (
        Column("item", "text", "The item", required=True),
        Column("presentations", "count", "Presentations judged", required=True),
        Column(
            "advice",
            "text",
            "What to do",
            required=True,
            allowed=("accept", "one_more", "leave_one_out", "another_way"),
        ),
        Column("leave_out", "count", "Which presentation to leave out, from 1, where one lies apart"),
        Column("expected", "score", "What a usual hand scores at first", required=True, unit="reader's own scale"),
        Column("says", "text", "The advice in words", required=True),
    ),
    key=("item",),
)
