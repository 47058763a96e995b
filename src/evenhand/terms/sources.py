"""The tables a workplace hands over, with the words by which its files may call their columns."""

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
            headers=(
                "person",
                "employee id",
                "employee no",
                "emp id",
                "personnel number",
                "payroll id",
                "file number",
                "personalnummer",
                "matricule",
                "id empleado",
                "id",
            ),
        ),
        Column(
            "name",
            "text",
            "The person's name, as payroll writes it",
            required=True,
            headers=(
                "name",
                "full name",
                "employee",
                "employee name",
                "nombre",
                "nom",
                "last name first name",
            ),
        ),
        Column(
            "number",
            "text",
            "The number the person keys at a reader; text, so that leading zeros stay",
            headers=(
                "number",
                "badge",
                "badge number",
                "badge no",
                "pin",
                "clock number",
                "id number",
                "numero",
                "número",
                "nummer",
                "ausweis",
            ),
        ),
        Column(
            "site",
            "text",
            "The site where the person works",
            headers=("site", "location", "plant", "building", "sede", "standort", "lieu", "sitio"),
        ),
        Column(
            "department",
            "text",
            "The department or cost centre",
            headers=(
                "department",
                "dept",
                "cost centre",
                "cost center",
                "departamento",
                "abteilung",
                "service",
            ),
        ),
        Column(
            "is_supervisor",
            "yes_no",
            "Whether the person may enrol others at a reader",
            headers=("supervisor", "is supervisor", "supervisora", "vorgesetzte", "encargado", "role"),
        ),
        Column(
            "hired_on",
            "date",
            "First day of employment",
            headers=(
                "hired on",
                "hire date",
                "hired",
                "start date",
                "fecha de alta",
                "eintritt",
                "date entree",
            ),
        ),
        Column(
            "left_on",
            "date",
            "Last day of employment; empty for everybody still here",
            headers=(
                "left on",
                "end date",
                "leave date",
                "termination date",
                "left",
                "fecha de baja",
                "austritt",
            ),
        ),
        Column(
            "phone",
            "text",
            "Telephone number; people key its last four by mistake",
            headers=("phone", "telephone", "mobile", "telefono", "teléfono", "telefon", "cell"),
        ),
        Column(
            "address",
            "text",
            "Street address; people key its number by mistake",
            headers=("address", "street", "direccion", "dirección", "adresse", "anschrift"),
        ),
        Column(
            "hourly_rate",
            "money",
            "Hourly rate of pay",
            minimum=0,
            unit="currency per hour",
            headers=("hourly rate", "rate", "pay rate", "wage", "tarifa", "stundenlohn"),
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
            headers=(
                "reader",
                "device",
                "reader id",
                "reader name",
                "unit",
                "lector",
                "leser",
                "lecteur",
                "terminal",
                "name",
                "nombre",
                "nom",
            ),
        ),
        Column(
            "site",
            "text",
            "The site where the reader hangs",
            required=True,
            headers=("site", "location", "plant", "building", "sede", "standort", "lieu", "sitio"),
        ),
        Column(
            "place",
            "text",
            "Where at the site it hangs",
            headers=("place", "door", "where", "entrance", "lugar", "ort", "position"),
        ),
        Column(
            "zone",
            "text",
            "The time zone of its clock, by its IANA name, such as America/Chicago",
            required=True,
            headers=("zone", "time zone", "timezone", "tz", "zona horaria", "zeitzone"),
        ),
        Column(
            "max_digits",
            "count",
            "The longest number it accepts",
            unit="digits",
            headers=("max digits", "digits", "number length", "digitos", "dígitos", "stellen"),
        ),
        Column(
            "capacity",
            "count",
            "How many hands it can hold",
            unit="enrolments",
            headers=("capacity", "max users", "places", "capacidad", "kapazität", "memory"),
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
            headers=("reader", "device", "unit", "lector", "leser", "terminal"),
        ),
        Column(
            "number",
            "text",
            "The number the hand was enrolled under",
            required=True,
            headers=(
                "number",
                "badge",
                "badge number",
                "id number",
                "id",
                "numero",
                "número",
                "nummer",
                "pin",
            ),
        ),
        Column(
            "name",
            "text",
            "The name the reader holds beside the number, often cut short",
            headers=("name", "nombre", "nom", "label"),
        ),
        Column(
            "is_supervisor",
            "yes_no",
            "Whether the reader lets this number enrol others",
            headers=("supervisor", "authority", "is supervisor", "nivel", "stufe", "level"),
        ),
        Column(
            "enrolled_on",
            "date",
            "The day the hand was enrolled",
            headers=("enrolled on", "enrolled", "date", "fecha", "datum", "added"),
        ),
        Column(
            "presentations",
            "count",
            "How many presentations the enrolment took",
            unit="presentations",
            headers=("presentations", "tries", "placements", "intentos"),
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
            headers=("reader", "device", "unit", "lector", "leser", "terminal", "clock", "location"),
        ),
        Column(
            "number",
            "text",
            "The number that was keyed",
            required=True,
            headers=(
                "number",
                "badge",
                "badge number",
                "id number",
                "id",
                "numero",
                "número",
                "nummer",
                "pin",
            ),
        ),
        Column(
            "at",
            "instant",
            "When, by the reader's clock in the reader's zone",
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
            headers=(
                "at",
                "time",
                "date time",
                "datetime",
                "timestamp",
                "when",
                "punch time",
                "fecha y hora",
                "zeitpunkt",
                "horodatage",
            ),
        ),
        Column(
            "direction",
            "text",
            "Which way the person said they went",
            allowed=("in", "out"),
            headers=("direction", "in/out", "in out", "type", "sentido", "richtung", "status", "io"),
        ),
        Column(
            "outcome",
            "text",
            "Whether the reader accepted the hand; a log without it holds accepted ones only",
            allowed=("accepted", "refused"),
            headers=("outcome", "result", "accepted", "resultado", "ergebnis", "verdict"),
        ),
        Column(
            "score",
            "score",
            "The dissimilarity the reader answered with; lower is closer",
            unit="reader's own scale",
            headers=("score", "dissimilarity", "puntaje", "puntuación", "wert"),
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
            headers=("person", "employee id", "emp id", "personnel number", "id", "id empleado"),
        ),
        Column(
            "starts_at",
            "instant",
            "Scheduled start, in civil time at the person's site",
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
            headers=("starts at", "start", "from", "inicio", "beginn"),
        ),
        Column(
            "ends_at",
            "instant",
            "Scheduled end, in civil time at the person's site",
            required=True,
            unit="s since 1970-01-01T00:00:00Z",
            headers=("ends at", "end", "to", "fin", "ende"),
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
            headers=("person", "employee id", "emp id", "personnel number", "id", "id empleado"),
        ),
        Column(
            "given_on",
            "date",
            "The day consent was signed",
            required=True,
            headers=("given on", "signed on", "signed", "consent date", "firmado", "datum"),
        ),
        Column("form", "text", "Which form was signed", headers=("form", "version", "document", "formulario")),
        Column(
            "withdrawn_on",
            "date",
            "The day consent was withdrawn; empty while it stands",
            headers=("withdrawn on", "withdrawn", "revoked", "retirado"),
        ),
    ),
    key=("person", "given_on"),
)

SOURCES: dict[str, Table] = {
    table.name: table for table in (PEOPLE, READERS, ENROLMENTS, PUNCHES, SCHEDULES, CONSENT, RATES, EARNINGS)
}
