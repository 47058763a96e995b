"""The tables a workplace hands over."""

from __future__ import annotations

from evenhand.terms.columns import Column, Table
from evenhand.terms.languages import sentence
from evenhand.terms.wages import EARNINGS, RATES

__all__ = ["CONSENT", "EARNINGS", "ENROLMENTS", "PEOPLE", "PUNCHES", "RATES", "READERS", "SCHEDULES", "SOURCES"]

PEOPLE = Table(
    "people",
    sentence("The roster: everybody who clocks, and the one number each of them keys"),
    (
        Column(
            "person",
            "text",
            sentence("The personnel or payroll identifier; the number, where there is no other"),
        ),
        Column(
            "name",
            "text",
            sentence("The person's name, as payroll writes it"),
            required=True,
        ),
        Column(
            "number",
            "text",
            sentence("The number the person keys at a reader; text, so that leading zeros stay"),
        ),
        Column(
            "site",
            "text",
            sentence("The site where the person works"),
        ),
        Column(
            "department",
            "text",
            sentence("The department or cost centre"),
        ),
        Column(
            "is_supervisor",
            "yes_no",
            sentence("Whether the person may enrol others at a reader"),
        ),
        Column(
            "hired_on",
            "date",
            sentence("First day of employment"),
        ),
        Column(
            "left_on",
            "date",
            sentence("Last day of employment; empty for everybody still here"),
        ),
        Column(
            "phone",
            "text",
            sentence("Telephone number; people key its last four by mistake"),
        ),
        Column(
            "address",
            "text",
            sentence("Street address; people key its number by mistake"),
        ),
        Column(
            "hourly_rate",
            "money",
            sentence("Hourly rate of pay"),
            minimum=0,
            unit="currency per hour",
        ),
    ),
    key=("person",),
)

READERS = Table(
    "readers",
    sentence("The readers: where each hangs, in which time zone its clock runs, how many digits and people it holds"),
    (
        Column(
            "reader",
            "text",
            sentence("The reader's short name, as it stands in its log"),
            required=True,
        ),
        Column(
            "site",
            "text",
            sentence("The site where the reader hangs"),
            required=True,
        ),
        Column(
            "place",
            "text",
            sentence("Where at the site it hangs"),
        ),
        Column(
            "zone",
            "text",
            sentence("The time zone of its clock, by its IANA name, such as America/Chicago"),
            required=True,
        ),
        Column(
            "max_digits",
            "count",
            sentence("The longest number it accepts"),
            unit="digits",
        ),
        Column(
            "capacity",
            "count",
            sentence("How many hands it can hold"),
            unit="enrolments",
        ),
    ),
    key=("reader",),
)

ENROLMENTS = Table(
    "enrolments",
    sentence("The numbers enrolled on each reader, as the reader itself lists them"),
    (
        Column(
            "reader",
            "text",
            sentence("The reader that holds the enrolment"),
            required=True,
        ),
        Column(
            "number",
            "text",
            sentence("The number the hand was enrolled under"),
            required=True,
        ),
        Column(
            "name",
            "text",
            sentence("The name the reader holds beside the number, often cut short"),
        ),
        Column(
            "is_supervisor",
            "yes_no",
            sentence("Whether the reader lets this number enrol others"),
        ),
        Column(
            "enrolled_on",
            "date",
            sentence("The day the hand was enrolled"),
        ),
        Column(
            "presentations",
            "count",
            sentence("How many presentations the enrolment took"),
            unit="presentations",
        ),
    ),
    key=("reader", "number"),
)

PUNCHES = Table(
    "punches",
    sentence("The readers' logs: every accepted and refused presentation under a number"),
    (
        Column(
            "reader",
            "text",
            sentence("The reader at which the hand was laid"),
            required=True,
        ),
        Column(
            "number",
            "text",
            sentence("The number that was keyed"),
            required=True,
        ),
        Column(
            "at",
            "instant",
            sentence("When, by the reader's clock in the reader's zone"),
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column(
            "direction",
            "text",
            sentence("Which way the person said they went"),
            allowed=("in", "out"),
        ),
        Column(
            "outcome",
            "text",
            sentence("Whether the reader accepted the hand; a log without it holds accepted ones only"),
            allowed=("accepted", "refused"),
        ),
        Column(
            "score",
            "score",
            sentence("The dissimilarity the reader answered with; lower is closer"),
            unit="reader's own scale",
        ),
    ),
    key=("reader", "number", "at", "direction", "outcome"),
)

SCHEDULES = Table(
    "schedules",
    sentence("When each person is meant to work"),
    (
        Column(
            "person",
            "text",
            sentence("The person, by the roster's identifier"),
            required=True,
        ),
        Column(
            "starts_at",
            "instant",
            sentence("Scheduled start, in civil time at the person's site"),
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
        ),
        Column(
            "ends_at",
            "instant",
            sentence("Scheduled end, in civil time at the person's site"),
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
        ),
    ),
    key=("person", "starts_at"),
)

CONSENT = Table(
    "consent",
    sentence("Consent to biometric enrolment: when it was given, on which form, and when it was withdrawn"),
    (
        Column(
            "person",
            "text",
            sentence("The person, by the roster's identifier"),
            required=True,
        ),
        Column(
            "given_on",
            "date",
            sentence("The day consent was signed"),
            required=True,
        ),
        Column(
            "form",
            "text",
            sentence("Which form was signed"),
        ),
        Column(
            "withdrawn_on",
            "date",
            sentence("The day consent was withdrawn; empty while it stands"),
        ),
    ),
    key=("person", "given_on"),
)

SOURCES: dict[str, Table] = {
    table.name: table for table in (PEOPLE, READERS, ENROLMENTS, PUNCHES, SCHEDULES, CONSENT, RATES, EARNINGS)
}
