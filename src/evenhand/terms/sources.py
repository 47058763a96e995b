"""The tables a workplace hands over."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table
from evenhand.terms.wages import EARNINGS, RATES

__all__ = ["CONSENT", "EARNINGS", "ENROLMENTS", "PEOPLE", "PUNCHES", "RATES", "READERS", "SCHEDULES", "SOURCES"]

PEOPLE = Table(
    "people",
    "The roster: everybody who clocks, and the one number each of them keys",
    (
        Column(
            "person",
            "text",
            "The personnel or payroll identifier; the number, where there is no other",
        ),
        Column(
            "name",
            "text",
            "The person's name, as payroll writes it",
            required=True,
        ),
        Column(
            "number",
            "text",
            "The number the person keys at a reader; text, so that leading zeros stay",
        ),
        Column(
            "site",
            "text",
            "The site where the person works",
        ),
        Column(
            "department",
            "text",
            "The department or cost centre",
        ),
        Column(
            "is_supervisor",
            "yes_no",
            "Whether the person may enrol others at a reader",
        ),
        Column(
            "hired_on",
            "date",
            "First day of employment",
        ),
        Column(
            "left_on",
            "date",
            "Last day of employment; empty for everybody still here",
        ),
        Column(
            "phone",
            "text",
            "Telephone number; people key its last four by mistake",
        ),
        Column(
            "address",
            "text",
            "Street address; people key its number by mistake",
        ),
        Column(
            "hourly_rate",
            "money",
            "Hourly rate of pay",
            minimum=0,
            unit="currency per hour",
        ),
    ),
    key=("person",),
)

READERS = Table(
    "readers",
    "The readers: where each hangs, in which time zone its clock runs, how many digits and people it holds",
    (
        Column(
            "reader",
            "text",
            "The reader's short name, as it stands in its log",
            required=True,
        ),
        Column(
            "site",
            "text",
            "The site where the reader hangs",
            required=True,
        ),
        Column(
            "place",
            "text",
            "Where at the site it hangs",
        ),
        Column(
            "zone",
            "text",
            "The time zone of its clock, by its IANA name, such as America/Chicago",
            required=True,
        ),
        Column(
            "max_digits",
            "count",
            "The longest number it accepts",
            unit="digits",
        ),
        Column(
            "capacity",
            "count",
            "How many hands it can hold",
            unit="enrolments",
        ),
    ),
    key=("reader",),
)

ENROLMENTS = Table(
    "enrolments",
    "The numbers enrolled on each reader, as the reader itself lists them",
    (
        Column(
            "reader",
            "text",
            "The reader that holds the enrolment",
            required=True,
        ),
        Column(
            "number",
            "text",
            "The number the hand was enrolled under",
            required=True,
        ),
        Column(
            "name",
            "text",
            "The name the reader holds beside the number, often cut short",
        ),
        Column(
            "is_supervisor",
            "yes_no",
            "Whether the reader lets this number enrol others",
        ),
        Column(
            "enrolled_on",
            "date",
            "The day the hand was enrolled",
        ),
        Column(
            "presentations",
            "count",
            "How many presentations the enrolment took",
            unit="presentations",
        ),
    ),
    key=("reader", "number"),
)

PUNCHES = Table(
    "punches",
    "The readers' logs: every accepted and refused presentation under a number",
    (
        Column(
            "reader",
            "text",
            "The reader at which the hand was laid",
            required=True,
        ),
        Column(
            "number",
            "text",
            "The number that was keyed",
            required=True,
        ),
        Column(
            "at",
            "instant",
            "When, by the reader's clock in the reader's zone",
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column(
            "direction",
            "text",
            "Which way the person said they went",
            allowed=("in", "out"),
        ),
        Column(
            "outcome",
            "text",
            "Whether the reader accepted the hand; a log without it holds accepted ones only",
            allowed=("accepted", "refused"),
        ),
        Column(
            "score",
            "score",
            "The dissimilarity the reader answered with; lower is closer",
            unit="reader's own scale",
        ),
    ),
    key=("reader", "number", "at", "direction", "outcome"),
)

SCHEDULES = Table(
    "schedules",
    "When each person is meant to work",
    (
        Column(
            "person",
            "text",
            "The person, by the roster's identifier",
            required=True,
        ),
        Column(
            "starts_at",
            "instant",
            "Scheduled start, in civil time at the person's site",
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column(
            "ends_at",
            "instant",
            "Scheduled end, in civil time at the person's site",
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
        ),
    ),
    key=("person", "starts_at"),
)

CONSENT = Table(
    "consent",
    "Consent to biometric enrolment: when it was given, on which form, and when it was withdrawn",
    (
        Column(
            "person",
            "text",
            "The person, by the roster's identifier",
            required=True,
        ),
        Column(
            "given_on",
            "date",
            "The day consent was signed",
            required=True,
        ),
        Column(
            "form",
            "text",
            "Which form was signed",
        ),
        Column(
            "withdrawn_on",
            "date",
            "The day consent was withdrawn; empty while it stands",
        ),
    ),
    key=("person", "given_on"),
)

SOURCES: dict[str, Table] = {
    table.name: table for table in (PEOPLE, READERS, ENROLMENTS, PUNCHES, SCHEDULES, CONSENT, RATES, EARNINGS)
}
