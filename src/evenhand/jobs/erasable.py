"""What erasing somebody would do, in words: what goes, what stays, and what holds it back."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import polars as pl

from evenhand.jobs.cutting import What
from evenhand.jobs.retention import Clocked
from evenhand.jobs.traces import Whom
from evenhand.records.retention import first_disposal_day
from evenhand.store.part_names import NamingText
from evenhand.terms.words import as_day, called, counted, listed

__all__ = ["Erasable", "laws_of", "may_be_erased", "what_stays"]

CALLED = {
    "people": "row of the roster|rows of the roster",
    "enrolments": "enrolment|enrolments",
    "schedules": "shift planned|shifts planned",
    "consent": "consent|consents",
    "rates": "rate of pay|rates of pay",
    "earnings": "entry of earnings|entries of earnings",
    "punches": "presentation|presentations",
    "punch_details": "detail of a presentation|details of presentations",
    "changes": "value that a file replaced|values that files replaced",
    "refused_rows": "rejected row|rejected rows",
    "corrections": "correction|corrections",
    "settled": "answer to a finding|answers to findings",
    "round_items": "turn of a round|turns of rounds",
    "outcomes": "outcome of a turn|outcomes of turns",
    "suggestions": "suggestion|suggestions",
    "suggestion_answers": "answer to a suggestion|answers to suggestions",
    "own_steps": "version of the workplace's own steps|versions of the workplace's own steps",
    "practices": "practice of a round|practices of rounds",
    "rounds": "round|rounds",
    "disputes": "dispute|disputes",
    "dispute_answers": "answer to a dispute|answers to disputes",
    "signoffs": "sign-off|sign-offs",
    "statement_codes": "code of a statement|codes of statements",
    "take_decisions": "decision about a file|decisions about files",
    "settings_texts": "text of the settings|texts of the settings",
    "consent_decisions": "entry about consent|entries about consent",
    "consent_policies": "version of the policy|versions of the policy",
    "premium_decisions": "decision about a premium|decisions about premiums",
    "rejected_attributions": "owner that was ruled out|owners that were ruled out",
    "adjustments": "adjustment|adjustments",
    "adjustment_lines": "line of an adjustment|lines of adjustments",
    "erasures": "earlier erasure|earlier erasures",
    "earlier_rows": "row stored before files were kept|rows stored before files were kept",
    "holds": "legal hold|legal holds",
    "handoffs": "hand-off that names them|hand-offs that name them",
    "handoff_lines": "line told to payroll|lines told to payroll",
    "handoff_figures": "figure printed for payroll|figures printed for payroll",
}

OF_HAND = {
    "punches": "score of a presentation|scores of presentations",
    "punch_details": "score of a presentation told later|scores of presentations told later",
    "enrolments": "count of presentations at an enrolment|counts of presentations at enrolments",
    "outcomes": "enrolment's scores noted on a round|enrolments' scores noted on rounds",
}


@dataclass(frozen=True)
class Erasable:
    """What erasing somebody would do now: `what` goes, row by row of the tables, or why nothing may.

    `holds_back` are the sentences that keep `what` from being erased; `stays` what remains, and why; `others` are rows
    about other people that would change too. `texts` may name them by a part of their name, or mean somebody else, or
    nobody: whoever erases says which. `reworded` are rows that stay and only lose the name, `renamed` the names of
    files taken that do, and `hold` is why a legal hold stands, empty where none does. `state` names what all this was
    worked out from, so that it can be told whether it still is so.
    """

    person: str
    name: str
    what: What
    holds_back: tuple[str, ...]
    rows: Mapping[str, int]
    sources: int
    files: int
    stays: tuple[str, ...]
    others: tuple[str, ...]
    laws: tuple[str, ...]
    texts: tuple[NamingText, ...] = ()
    reworded: Mapping[str, int] = field(default_factory=dict)
    renamed: tuple[str, ...] = ()
    hold: str = ""
    state: str = ""

    @property
    def shown(self) -> str:
        """Return what names all that is shown here, whatever else has happened in the workspace."""
        told = (
            self.person,
            self.what,
            self.holds_back,
            self.rows,
            self.reworded,
            self.renamed,
            self.sources,
            self.files,
            self.stays,
            self.others,
            self.laws,
            self.texts,
            self.hold,
        )
        return hashlib.sha256(repr(told).encode()).hexdigest()

    @property
    def is_nothing(self) -> bool:
        """Whether nothing is left of it that could be erased."""
        return not (self.rows or self.sources or self.files or self.texts or self.reworded or self.renamed)

    @property
    def asks_of_hold(self) -> bool:
        """Whether scores would go under a legal hold, so that somebody has to say that counsel was asked."""
        return self.what == "hand" and bool(self.hold) and not self.is_nothing

    @property
    def goes(self) -> list[str]:
        """Return what goes, in words."""
        return _counted(self.rows, OF_HAND if self.what == "hand" else CALLED)

    @property
    def loses_name(self) -> list[str]:
        """Return what stays and only loses the name, in words."""
        return [*_counted(self.reworded, CALLED), *(f"the name of the file “{name}”" for name in self.renamed)]


def _counted(rows: Mapping[str, int], told: Mapping[str, str]) -> list[str]:
    words = {name: told.get(name, f"row of {name}|rows of {name}").split("|") for name in rows}
    return [counted(many, *words[name]) for name, many in rows.items()]


def may_be_erased(clocked: Clocked, person: str, what: What) -> list[str]:
    """Return what keeps somebody's records from being erased as of the clocks' day, each with what to do."""
    found = []
    who = called(clocked.of.names.get(person), person)
    if clocked.purposes.filter(pl.col("person") == person).is_empty():
        found.append(f"{who} is employed and has not withdrawn consent, so nothing is to be erased.")
    for row in clocked.hands.filter(pl.col("person") == person).iter_rows(named=True):
        if row["is_listed"]:
            found.append(
                f"{row['reader']} still lists the hand under {row['number']}; take it off there, and take a list of "
                "the reader made after that."
            )
        elif row["gone_on"] is None:
            found.append(
                f"no list of {row['reader']} was ever taken, so nothing proves that it holds no hand under "
                f"{row['number']}; take one."
            )
    return found if what == "hand" else [*found, *_kept_still(clocked, person)]


def _kept_still(clocked: Clocked, person: str) -> list[str]:
    found = []
    left = clocked.purposes.filter(pl.col("person") == person, pl.col("employment_ended").is_not_null())
    if left.is_empty():
        found.append("they are employed, so that their time records go on; only what came of the hand may go.")
    if person in clocked.held:
        found.append(
            f"a legal hold stops disposal of their time records ({clocked.held[person]}); lift it once counsel says so."
        )
    kept = clocked.kept.filter(pl.col("person") == person).to_dicts()
    if not kept:
        named = listed(clocked.places.filter(pl.col("person") == person)["place"].to_list())
        found.append(
            f"no law on time records is on file here for {named}; set keep_years under [retention] in evenhand.toml as "
            "counsel says."
        )
    elif clocked.on <= kept[0]["day"]:
        found.append(
            f"time records must stay through {as_day(kept[0]['day'])} ({kept[0]['rule']} {kept[0]['started_on']}, "
            f"{kept[0]['cites']}); erase them on {as_day(first_disposal_day(kept[0]['day']))} or later."
        )
    return found


def laws_of(clocked: Clocked, person: str) -> list[str]:
    """Return the due dates of a person, with their laws."""
    due = clocked.due.filter(pl.col("person") == person).sort("clock", "day")
    return [
        f"{'destroy by' if row['clock'] == 'destroy' else 'keep through'} {row['day']}: {row['cites']}"
        for row in due.unique(["clock", "law", "day"], maintain_order=True).iter_rows(named=True)
    ]


def what_stays(clocked: Clocked, person: str, what: What, known: Whom) -> Sequence[str]:
    """Return what remains once `what` is erased, and why."""
    found = []
    if known.given.height:
        many = counted(known.given.height, "presentation")
        found.append(f"{many} under their number that somebody gave to others, whose records they are.")
    if what == "all":
        return [*found, "control totals of files handed to payroll, in which nobody is named."]
    kept = clocked.kept.filter(pl.col("person") == person).to_dicts()
    if kept:
        found.append(f"hours, pay and what they rest on, through {as_day(kept[0]['day'])} ({kept[0]['cites']}).")
    if person in clocked.held:
        found.append(
            f"their time records, under a legal hold ({clocked.held[person]}). A hold does not by itself allow keeping "
            "a hand, nor forbid erasing scores: ask counsel first."
        )
    return found
