"""The parts of an access report that are rows of the store: what is kept of the person, table by table."""

from __future__ import annotations

import json
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from evenhand.records.access import BLANK, AccessPart, Blanks
from evenhand.store import held
from evenhand.store.database import Connection
from evenhand.store.kept import REFUSED_ROWS, SETTLED
from evenhand.terms.columns import Column, Table
from evenhand.terms.consent import CONSENT_DECISIONS
from evenhand.terms.languages import ENGLISH, Speech, sentence
from evenhand.terms.retention import HOLDS
from evenhand.terms.rounds import OUTCOMES, ROUND_ITEMS
from evenhand.terms.signing import DISPUTE_ANSWERS, DISPUTES, SIGNOFFS, STATEMENT_CODES
from evenhand.terms.sources import CONSENT, EARNINGS, ENROLMENTS, PEOPLE, RATES, SCHEDULES
from evenhand.terms.suggestions import SUGGESTION_ANSWERS, SUGGESTIONS
from evenhand.terms.tables import CORRECTIONS, PREMIUM_DECISIONS, REJECTED_ATTRIBUTIONS
from evenhand.terms.teaching import PRACTICES

__all__ = ["AUTHORED", "OF_PERSON", "Whose", "origin_of", "rows_held", "told"]

DESK, YOU = sentence("the desk"), sentence("you")
OF_PERSON: tuple[tuple[Table, str, str], ...] = (
    (PEOPLE, sentence("On the roster"), ""),
    (SCHEDULES, sentence("Schedules"), ""),
    (CONSENT, sentence("Consent, as files say"), ""),
    (CONSENT_DECISIONS, sentence("What you said of your hand"), sentence("whoever recorded it")),
    (RATES, sentence("Rates of pay"), ""),
    (EARNINGS, sentence("Earned beside the hours"), ""),
    (CORRECTIONS, sentence("Corrections of your punches"), DESK),
    (PREMIUM_DECISIONS, sentence("Decisions about hours owed to you"), DESK),
    (REJECTED_ATTRIBUTIONS, sentence("Punches said not to be yours"), DESK),
    (ROUND_ITEMS, sentence("Rounds at the readers"), ""),
    (STATEMENT_CODES, sentence("Statements printed for you"), ""),
    (SIGNOFFS, sentence("Hours you confirmed and supervisors approved"), sentence("whoever entered it")),
    (DISPUTES, sentence("What you disputed"), sentence("whoever entered it")),
    (SUGGESTIONS, sentence("What a supervisor said of your missing punches"), sentence("whoever entered it")),
    (PRACTICES, sentence("Rounds you practised"), sentence("whoever sent or keyed it")),
    (HOLDS, sentence("Legal holds on your records"), DESK),
)
"""The tables whose rows name the person, with their titles and what whoever wrote a row is called."""

AUTHORED = (
    *("corrections", "premium_decisions", "rejected_attributions", "settled", "handoffs", "adjustments"),
    *("take_decisions", "rounds", "outcomes", "signoffs", "disputes", "dispute_answers"),
    *("suggestions", "suggestion_answers"),
    *("consent_policies", "consent_decisions", "holds", "erasures", "practices", "own_steps", "settings_texts"),
)
"""The tables that say who decided."""

ANSWERED = {
    DISPUTES.name: (DISPUTE_ANSWERS, sentence("What was answered")),
    SUGGESTIONS.name: (SUGGESTION_ANSWERS, sentence("What was made of what a supervisor said")),
}
"""The tables whose rows are answered by rows of another."""

WRITTEN = frozenset(("reason", "says", "line", "title", "label", "seen", "text", "scores", "other_way", "name"))
"""Texts that people write by hand."""
OWN = frozenset(
    ("person", "phone", "address", "department", "site", "reader", "place", "rule", "digest", "form", "hours", "plan")
)
"""Texts that are the person's own, or name no person."""
ANOTHER = frozenset(("holder", "stands", "stood_by", "supervisor"))
HIDDEN = frozenset(("person", "code"))
"""Who it is stands above; a code is a key, and is not told twice."""
ORIGIN = Column("origin", "text", "The file, and the take, that it came with; empty where it was said in evenhand")
BY = Column("by", "text", "Who wrote it, by their part", required=True)


@dataclass(frozen=True)
class Whose:
    """Whose report it is: all identifiers of theirs, their numbers, their name, what names others, their language."""

    person: str
    identifiers: frozenset[str]
    numbers: frozenset[str]
    name: str
    blanks: Blanks
    files: Mapping[int, str]
    say: Speech = ENGLISH


def rows_held(conn: Connection, whose: Whose) -> Iterator[AccessPart]:
    """Yield a part for each table that holds rows of the person, also where it holds none."""
    for table, title, role in OF_PERSON:
        rows = held.rows_where(conn, table.name, "person", whose.identifiers)
        yield _part(table, title, whose, rows, role)
        if table is PEOPLE:
            yield _history(conn, whose)
            numbers = held.rows_where(conn, "enrolments", "number", whose.numbers)
            yield _part(ENROLMENTS, sentence("Enrolled under your numbers, as readers list them"), whose, numbers, "")
        if table is ROUND_ITEMS:
            came = held.rows_where(conn, "outcomes", "item", [row["item"] for row in rows])
            yield _part(OUTCOMES, sentence("What came of each"), whose, came, sentence("the supervisor at the reader"))
        if table.name in ANSWERED:
            answered, its_title = ANSWERED[table.name]
            asked = table.key[0]
            answers = held.rows_where(conn, answered.name, asked, [row[asked] for row in rows])
            yield _part(answered, its_title, whose, answers, DESK)
    about = [row for row in held.all_rows(conn, "settled") if _is_about(row["finding"].split("/"), whose)]
    yield _part(SETTLED, sentence("Findings about you that were settled"), whose, about, DESK)
    lines = [row for row in held.all_rows(conn, "refused_rows") if _names_me(row, whose)]
    yield _part(
        REFUSED_ROWS, sentence("Rows of files that were refused and hold your name or number"), whose, lines, ""
    )
    yield _decided(conn, whose)


def _decided(conn: Connection, whose: Whose) -> AccessPart:
    """How often the person decided something for the workplace; about whom is not theirs to be given."""
    mine = {*whose.identifiers, whose.name}
    counts = {name: sum(row["author"] in mine for row in held.all_rows(conn, name)) for name in AUTHORED}
    columns = (Column("table", "text", "What was decided"), Column("rows", "count", "How often"))
    rows = tuple({"table": name.replace("_", " "), "rows": count} for name, count in counts.items() if count)
    return AccessPart("decided", sentence("What was decided under your name"), columns, rows)


def _history(conn: Connection, whose: Whose) -> AccessPart:
    """What rows of the person said before a later file changed them, also those kept from before sources were."""
    columns = (
        Column("table", "text", "The table"),
        Column("was", "text", "What the row said"),
        Column("until", "text", "The file that changed it; empty for what was there before files were kept"),
    )
    rows = []
    for row in held.all_rows(conn, "changes"):
        if _holds(json.loads(row["row_key"]), whose):
            rows.append((row["table"], json.loads(row["was"]), origin_of(row["take"], whose)))
    for row in held.all_rows(conn, "earlier_rows"):
        content = json.loads(row["content"])
        if isinstance(content, dict) and _holds(content, whose):
            rows.append((row["table"], content, ""))
    listed = tuple({"table": table, "was": _in_words(was, whose), "until": until} for table, was, until in rows)
    return AccessPart("changes", sentence("What was on file before"), columns, listed)


def _in_words(values: Mapping[str, Any], whose: Whose) -> str:
    said = (f"{whose.say.said(name.replace('_', ' '))} {value}" for name, value in values.items() if value is not None)
    return whose.blanks.text("; ".join(said), is_written=True)


def _holds(values: Mapping[str, Any], whose: Whose) -> bool:
    if "person" in values:
        return values["person"] in whose.identifiers
    return values.get("number") in whose.numbers


def _is_about(parts: Collection[str], whose: Whose) -> bool:
    return any(part in whose.identifiers or part in whose.numbers for part in parts)


def _names_me(row: Mapping[str, Any], whose: Whose) -> bool:
    text = f"{row['seen'] or ''}\t{row['text'] or ''}"
    cells = {cell.strip(' "') for cell in text.replace(";", "\t").replace(",", "\t").replace("|", "\t").split("\t")}
    return _is_about(cells, whose) or whose.name.casefold() in text.casefold()


def _part(table: Table, title: str, whose: Whose, rows: Iterable[Mapping[str, Any]], role: str) -> AccessPart:
    kept = [column for column in table.columns if column.name not in HIDDEN and column.name != "author"]
    columns = (*kept, *((BY,) if role else ()), ORIGIN)
    made = []
    for row in rows:
        told_of = {column.name: told(column, row[column.name], whose, table) for column in kept}
        by = {"by": whose.say(YOU if row.get("author") in (*whose.identifiers, whose.name) else role)} if role else {}
        made.append({**told_of, **by, "origin": origin_of(row.get("take"), whose)})
    return AccessPart(table.name, title, columns, tuple(made))


def origin_of(take: int | None, whose: Whose) -> str:
    """Return the file and the take that something came with; '' for none."""
    if take is None:
        return ""
    file = whose.files.get(take) or whose.say("a file")
    return whose.blanks.text(whose.say("{file} (take {take})", file=file, take=take), is_written=False)


def told(column: Column, value: Any, whose: Whose, table: Table | None = None) -> Any:
    """Return a stored value as it is given away: of its kind, and without what names somebody else."""
    if value is None:
        return None
    if column.kind != "text":
        return KINDS.get(column.kind, lambda same: same)(value)
    if column.name in ANOTHER:
        return value if not value else whose.say(YOU) if value in whose.identifiers else BLANK
    if column.name in OWN or column.allowed or (table is PEOPLE and column.name == "name"):
        return value
    return whose.blanks.text(str(value), is_written=column.name in WRITTEN)


KINDS: Mapping[str, Callable[[Any], Any]] = {
    "date": lambda value: date.fromisoformat(value) if isinstance(value, str) else value,
    "money": lambda value: Decimal(str(value)),
    "yes_no": bool,
}
