"""Everything held on one person, as a report for them: readable as PDF, and as JSON for a machine."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from evenhand.jobs.access_hours import worked_out
from evenhand.jobs.access_rows import AUTHORED, OF_PERSON, Whose, rows_held
from evenhand.jobs.added_turns import spoken_languages
from evenhand.jobs.languages import say_in
from evenhand.jobs.reckoning import Reckoning, reckon_weeks
from evenhand.jobs.workspace import Workspace
from evenhand.records.access import BLANK, RIGHTS, AccessPart, Blanks, Right
from evenhand.store import held
from evenhand.store.database import Connection
from evenhand.terms import cautions
from evenhand.terms.languages import Sentence, Speech, told

__all__ = [
    "COVERED",
    "NOT_COVERED",
    "AccessReport",
    "access_report",
]

BEGINNING = date(2000, 1, 1)

COVERED: Mapping[str, str] = {
    **{table.name: table.name for table, _, _ in OF_PERSON},
    "enrolments": "enrolments",
    "outcomes": "outcomes",
    "dispute_answers": "dispute_answers",
    "suggestion_answers": "suggestion_answers",
    "settled": "settled",
    "changes": "changes",
    "earlier_rows": "changes",
    "refused_rows": "refused_rows",
    "punches": "punches",
    "punch_details": "punches",
    "punch_parts": "punches",
    "takes": "punches",
    "handoffs": "handoffs",
    "handoff_lines": "handoffs",
    "handoff_figures": "handoff_figures",
    "adjustments": "handoffs",
    "adjustment_lines": "handoffs",
}
"""Each table of the store that the report covers, and the part that does."""

NOT_COVERED: Mapping[str, str] = {
    "alembic_version": "says which version of evenhand made the tables",
    "consent_policies": "the policy itself, which is public; what the person said of it is in the report",
    "corrected_punches": "finds a correction's punch again; both are in the report",
    "clearing": "is empty but while a transaction erases",
    "erased_sources": "says which kept files were written anew, and not for whom",
    "erasing": "is empty but while a transaction erases",
    "erasures": "says that something was erased, and not of whom",
    "folding": "is empty but while a transaction folds takes anew",
    "ledger": "holds salted digests alone; no value can be read from it",
    "ledger_authors": "holds each name that decided something once; how often they did is in the report",
    "ledger_nodes": "holds hashes of digests",
    "ledger_rows": "holds salts and digests of rows that are in the report",
    "own_steps": "says how things are done at a kind of reader, and names no person but who wrote it",
    "readers": "describes readers, not people",
    "rounds": "describes days at the readers; what concerned the person is in the report",
    "settings_texts": "holds the workplace's settings, and who changed them",
    "take_decisions": "says which files count; the rows they brought are in the report",
    "take_spans": "says from when to when a file's punches reach",
}
"""Each table that it leaves out, and why."""


@dataclass(frozen=True)
class AccessReport:
    """The report: its parts in order, what the person is told beside them, and how often somebody else was blanked.

    `language` is that of what evenhand says in its rows; titles, notes and rights are said when it is printed.
    """

    workplace: str
    person: str
    name: str
    made: str
    zone: str
    language: str
    parts: tuple[AccessPart, ...]
    rights: tuple[Right, ...]
    blanked: int
    paper: str
    names_zones: bool

    @property
    def says(self) -> Sentence:
        """Return what to know before it is read, or given away."""
        says = told(
            "Names misspelt in what people wrote are not found: somebody at the workplace reads this before it is "
            "given to {name}, and makes sure that it is them who asks (GDPR art. 12(6)).",
            name=self.name,
        )
        if not self.blanked:
            return told("{says} {caution}", says=says, caution=told(cautions.CALCULATION))
        blanks = told(
            "{count:# place names somebody else and is|# places name somebody else and are} left out: {blank}.",
            count=self.blanked,
            blank=told(BLANK),
        )
        return told("{blanks} {says} {caution}", blanks=blanks, says=says, caution=told(cautions.CALCULATION))


def access_report(workspace: Workspace, person: str, *, as_of: datetime, language: str = "") -> AccessReport:
    """Return everything held on whoever answers to `person`; Refusal where nobody, or more than one, does.

    Where no `language` is named it is the person's own, in which they read the policy, and English where that is not
    known.
    """
    reckoning = reckon_weeks(workspace, as_of, BEGINNING)
    of = reckoning.snapshot
    who = of.find_person(person)
    with workspace.store.reading() as conn:
        spoken = language or spoken_languages(of).get(str(who["person"]), "en")
        whose = _whose(conn, reckoning, who, say_in(spoken, names_zones=of.zones_meet))
        parts = (*rows_held(conn, whose), *worked_out(conn, reckoning, whose))
    zone = of.rules_of(who["site"]).zone
    return AccessReport(
        of.settings.workplace,
        whose.person,
        whose.name,
        whose.say.zoned_moment(as_of, zone),
        zone,
        whose.say.language,
        parts,
        RIGHTS,
        whose.blanks.made,
        of.paper,
        of.zones_meet,
    )


def _whose(conn: Connection, reckoning: Reckoning, who: Mapping[str, Any], say: Speech) -> Whose:
    of, person = reckoning.snapshot, str(who["person"])
    everybody = of.people.select("person", "name", "number").rows(named=True)
    others = [row for row in everybody if row["person"] != person]
    identifiers = held.earlier_identifiers(conn, person)
    before = [
        (json.loads(row["row_key"]).get("person"), json.loads(row["was"]))
        for row in held.all_rows(conn, "changes")
        if row["table"] == "people"
    ]
    theirs = {row["number"] for row in others} | {row["person"] for row in others}
    numbers = {who["number"], *(was.get("number") for key, was in before if key in identifiers)} - {None} - theirs
    earlier = {was.get("number") for key, was in before if key not in identifiers} - numbers
    own_names = {
        str(who["name"] or ""),
        *(str(was["name"]) for key, was in before if key in identifiers and was.get("name")),
    }
    names = {row["name"] for row in others} | {
        str(was["name"]) for key, was in before if key not in identifiers and was.get("name")
    }
    names |= _authors(conn) - identifiers
    blanks = Blanks(
        own_names, {*identifiers, *numbers}, names - own_names - {None}, {code for code in theirs | earlier if code}
    )
    files = dict(of.takes.select("take", "file").iter_rows())
    return Whose(person, frozenset(identifiers), frozenset(numbers), str(who["name"] or person), blanks, files, say)


def _authors(conn: Connection) -> set[str]:
    """Return every name under which somebody decided anything."""
    found = {str(row["author"]) for name in AUTHORED for row in held.all_rows(conn, name) if row["author"]}
    return found | {str(row["stands"]) for row in held.all_rows(conn, "round_items") if row["stands"]}
