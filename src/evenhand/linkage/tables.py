"""The frames that linkage gives."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table

__all__ = [
    "ABSENT",
    "CANDIDATES",
    "DECIDED",
    "EVIDENCE",
    "IMPOSSIBLE_PUNCHES",
    "PAIRS",
    "SOUGHT",
    "STRAYS",
    "STRAY_PUNCHES",
    "TIES",
]

_INSTANT = "s since 1970-01-01T00:00:00Z"

STRAYS = Table(
    "strays",
    "Unattributed or doubted punches: one row a reader and number",
    (
        Column("stray", "text", "The stray's name: reader and number", required=True),
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "The number that was keyed", required=True),
        Column("holder", "text", "Whose number it is on the roster, where it is doubted that the punches are theirs"),
        Column("punches", "count", "Accepted punches under it", required=True),
        Column("shifts", "count", "Stretches of work they form", required=True),
        Column("first_at", "instant", "The first", required=True, unit=_INSTANT),
        Column("last_at", "instant", "The last", required=True, unit=_INSTANT),
        Column(
            "minutes", "count", "Minutes of pay in doubt, an estimate from the stretches", required=True, unit="min"
        ),
        Column("nobody", "score", "Probability that it is nobody's on the roster", required=True),
        Column(
            "others", "score", "Probability that it is somebody's on the roster who was not looked at", required=True
        ),
    ),
    key=("stray",),
)

# In the order they are shown; they add up to `bits`.
EVIDENCE = (
    "prior",
    "former",
    "number",
    "name",
    "days",
    "parity",
    "time",
    "site",
    "enrolment",
    "dates",
    "refused",
    "confirmed",
    "elsewhere",
    "employed",
)

CANDIDATES = Table(
    "candidates",
    "Who could have made each stray's punches, how likely, and the parts of the evidence in bits, against nobody known",
    (
        Column("stray", "text", "The stray", required=True),
        Column("person", "text", "The person", required=True),
        Column("probability", "score", "P(the stray is this person's), all strays taken together", required=True),
        Column("alone", "score", "The same, this stray taken alone", required=True),
        Column("is_best", "yes_no", "Whether the likeliest assignment of all strays gives it to them", required=True),
        Column("bits", "score", "The sum of the parts", required=True, unit="bit"),
        *(
            Column(part, "score", f"The part of the evidence called {part}", required=True, unit="bit")
            for part in EVIDENCE
        ),
        Column("kind", "text", "The likeliest kind of error in the number"),
        Column("meant", "text", "The number it came from"),
        *(
            Column(f"{field}_{what}", "count", f"{said} for the part called {field}", required=True)
            for field in ("days", "parity", "name", "enrolment", "dates", "refused", "confirmed")
            for what, said in (("k", "Agreements"), ("n", "Trials"))
        ),
        Column("minutes_off", "score", "Mean minutes from the person's scheduled or usual times", unit="min"),
        Column("impossible", "count", "Punches the person cannot have made, being elsewhere", required=True),
        Column("unemployed", "count", "Punches on days the person was not employed", required=True),
    ),
    key=("stray", "person"),
)

DECIDED = Table(
    "decided",
    "Whose the punches under a number at a reader are, or are not, as somebody decided before",
    (
        Column("reader", "text", "The reader", required=True),
        Column("number", "text", "The number that was keyed", required=True),
        Column("person", "text", "The person", required=True),
    ),
    key=("reader", "number", "person"),
)

PAIRS = Table(
    "pairs",
    "Pairs of a stray and a person",
    (
        Column("stray", "count", "The stray's place", required=True),
        Column("who", "count", "The person's place on the roster", required=True),
    ),
    key=("stray", "who"),
)

SOUGHT = Table(
    "sought",
    "Where and when strays were seen, in buckets of four hours",
    (
        Column("stray", "count", "The stray's place", required=True),
        Column("site", "count", "The site's code", required=True),
        Column("bucket", "count", "The bucket", required=True),
    ),
)

ABSENT = Table(
    "absent",
    "Who should have punched and did not, over buckets of four hours",
    (
        Column("site", "count", "The site's code", required=True),
        Column("who", "count", "The person's place on the roster", required=True),
        Column("begins", "count", "The first bucket", required=True),
        Column("ends", "count", "The last bucket", required=True),
    ),
)

IMPOSSIBLE_PUNCHES = Table(
    "impossible_punches",
    "Punches of a stray that a candidate cannot have made, being elsewhere or not employed that day",
    (
        Column("stray", "text", "The stray", required=True),
        Column("person", "text", "The person", required=True),
        Column("punch", "count", "The punch", required=True),
    ),
)

TIES = Table(
    "ties",
    "Strays that bear on each other",
    (
        Column("one", "count", "A stray's place", required=True),
        Column("other", "count", "The place of a later one", required=True),
        Column("kind", "text", "How", required=True, allowed=("apart", "same_number", "two_numbers")),
    ),
    key=("one", "other"),
)

STRAY_PUNCHES = Table(
    "stray_punches",
    "The punches of each stray, in order of time",
    (
        Column("stray", "text", "The stray", required=True),
        Column("punch", "count", "The punch", required=True),
    ),
    key=("punch",),
)
