"""The tables that go into this room and come out of it."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = ["ERROR_RATES", "PRESENTED", "TRANSACTIONS"]

INSTANT = "s since 1970-01-01T00:00:00Z"

PRESENTED = Table(
    "presented",
    "Presentations with the person whose number was keyed: what this room works on",
    (
        Column("punch", "count", "The stored punch", required=True),
        Column("person", "text", "The person who holds the number that was keyed", required=True),
        Column("reader", "text", "The reader", required=True),
        Column("at", "instant", "When", required=True, unit=INSTANT),
        Column("day", "date", "The civil day at the reader", required=True),
        Column("is_refused", "yes_no", "Whether the reader refused the hand", required=True),
        Column("score", "score", "The dissimilarity; lower is closer", unit="reader's own scale"),
    ),
    key=("punch",),
)

TRANSACTIONS = Table(
    "transactions",
    "Attempts made for one purpose: consecutive presentations of one person at one reader",
    (
        Column("person", "text", "Who", required=True),
        Column("reader", "text", "Where", required=True),
        Column("day", "date", "The civil day of the first attempt", required=True),
        Column("at", "instant", "The first attempt", required=True, unit=INSTANT),
        Column("attempts", "count", "Presentations made", required=True),
        Column("seconds", "seconds", "From the first attempt to the last", required=True, unit="s"),
        Column("is_rejected", "yes_no", "Whether it ended without an acceptance", required=True),
        Column("is_suspect", "yes_no", "Whether it was probably another hand, or a number keyed by a slip", required=True),
    ),
)

ERROR_RATES = Table(
    "error_rates",
    "Rates of refusal with their intervals",
    (
        Column("of", "text", "What the row is about", required=True, allowed=("all", "site", "reader", "person")),
        Column("name", "text", "Which site, reader or person", required=True),
        Column(
            "measure",
            "text",
            "Which rate, in the words of ISO/IEC 19795-1; refused_presentation_rate is what a log gives where it "
            "does not tell a non-match from a failure to acquire",
            required=True,
            allowed=(
                "false_non_match_rate",
                "failure_to_acquire_rate",
                "refused_presentation_rate",
                "false_rejection_rate",
            ),
        ),
        Column("errors", "count", "Errors counted", required=True),
        Column("trials", "count", "Trials counted", required=True),
        Column("people", "count", "People they come from", required=True),
        Column("rate", "score", "Errors by trials", required=True, unit="share"),
        Column("low", "score", "Lower end of the interval", required=True, unit="share"),
        Column("high", "score", "Upper end of the interval", required=True, unit="share"),
        Column("effective_trials", "score", "Independent trials that would tell as much", required=True),
        Column("note", "text", "What the numbers are too few for, if anything", required=True),
    ),
)
