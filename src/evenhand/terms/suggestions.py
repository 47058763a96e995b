"""The tables of what supervisors say about open questions of their people's punches, and what became of it."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = ["SUGGESTED", "SUGGESTIONS", "SUGGESTION_ANSWERS", "SUGGESTION_OUTCOMES"]

INSTANT = "s since 1970-01-01T00:00:00Z"
SUGGESTED = {
    "add": "a punch is missing",
    "leave_out": "a punch is one too many",
    "direct": "a punch went the other way",
    "look": "something else",
}
"""What may be suggested; of the last only the words count, and somebody looks at the day with them."""
SUGGESTION_OUTCOMES = ("accepted", "declined", "withdrawn")

SUGGESTIONS = Table(
    "suggestions",
    "What somebody who was there says about a question that a day's punches leave open; pays nothing by itself",
    (
        Column("suggestion", "count", "Running number", required=True),
        Column("person", "text", "Whose day", required=True),
        Column("day", "date", "The day whose question it answers", required=True),
        Column("action", "text", "What the record should have", required=True, allowed=tuple(SUGGESTED)),
        Column("at", "instant", "When the missing punch was, or the one that is meant", unit=INSTANT),
        Column("direction", "text", "Which way it went", allowed=("in", "out")),
        Column("says", "text", "What they say, in their own words"),
        Column("supervisor", "text", "The supervisor who says so, by the roster's identifier"),
        Column(
            "way",
            "text",
            "On paper, on a phone, in a file, or at the desk",
            required=True,
            allowed=("paper", "phone", "file", "desk"),
        ),
        Column("author", "text", "Who entered it; the supervisor, where they did so themselves", required=True),
        Column("made_at", "instant", "When", required=True, unit=INSTANT),
    ),
    key=("suggestion",),
)

SUGGESTION_ANSWERS = Table(
    "suggestion_answers",
    "What the administrator made of a suggestion; the last counts, unless its correction was taken back",
    (
        Column("answer", "count", "Running number", required=True),
        Column("suggestion", "count", "Of which suggestion", required=True),
        Column("outcome", "text", "What became of it", required=True, allowed=SUGGESTION_OUTCOMES),
        Column("correction", "count", "The correction that was made of it"),
        Column("reason", "text", "Why", required=True),
        Column("author", "text", "Who decided", required=True),
        Column("made_at", "instant", "When", required=True, unit=INSTANT),
    ),
    key=("answer",),
)
