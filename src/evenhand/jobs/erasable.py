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
from evenhand.terms.languages import sentence, told
from evenhand.terms.words import called

__all__ = ["Erasable", "laws_of", "may_be_erased", "what_stays"]

CALLED = {
    "people": sentence("{count:# row of the roster|# rows of the roster}"),
    "enrolments": sentence("{count:# enrolment|# enrolments}"),
    "schedules": sentence("{count:# shift planned|# shifts planned}"),
    "consent": sentence("{count:# consent|# consents}"),
    "rates": sentence("{count:# rate of pay|# rates of pay}"),
    "earnings": sentence("{count:# entry of earnings|# entries of earnings}"),
    "punches": sentence("{count:# presentation|# presentations}"),
    "punch_details": sentence("{count:# detail of a presentation|# details of presentations}"),
    "changes": sentence("{count:# value that a file replaced|# values that files replaced}"),
    "refused_rows": sentence("{count:# rejected row|# rejected rows}"),
    "corrections": sentence("{count:# correction|# corrections}"),
    "settled": sentence("{count:# answer to a finding|# answers to findings}"),
    "round_items": sentence("{count:# turn of a round|# turns of rounds}"),
    "outcomes": sentence("{count:# outcome of a turn|# outcomes of turns}"),
    "suggestions": sentence("{count:# suggestion|# suggestions}"),
    "suggestion_answers": sentence("{count:# answer to a suggestion|# answers to suggestions}"),
    "own_steps": sentence("{count:# version of the workplace's own steps|# versions of the workplace's own steps}"),
    "practices": sentence("{count:# practice of a round|# practices of rounds}"),
    "rounds": sentence("{count:# round|# rounds}"),
    "disputes": sentence("{count:# dispute|# disputes}"),
    "dispute_answers": sentence("{count:# answer to a dispute|# answers to disputes}"),
    "signoffs": sentence("{count:# sign-off|# sign-offs}"),
    "statement_codes": sentence("{count:# code of a statement|# codes of statements}"),
    "take_decisions": sentence("{count:# decision about a file|# decisions about files}"),
    "settings_texts": sentence("{count:# text of the settings|# texts of the settings}"),
    "consent_decisions": sentence("{count:# entry about consent|# entries about consent}"),
    "consent_policies": sentence("{count:# version of the policy|# versions of the policy}"),
    "premium_decisions": sentence("{count:# decision about a premium|# decisions about premiums}"),
    "rejected_attributions": sentence("{count:# owner that was ruled out|# owners that were ruled out}"),
    "adjustments": sentence("{count:# adjustment|# adjustments}"),
    "adjustment_lines": sentence("{count:# line of an adjustment|# lines of adjustments}"),
    "erasures": sentence("{count:# earlier erasure|# earlier erasures}"),
    "earlier_rows": sentence("{count:# row stored before files were kept|# rows stored before files were kept}"),
    "holds": sentence("{count:# legal hold|# legal holds}"),
    "handoffs": sentence("{count:# hand-off that names them|# hand-offs that name them}"),
    "handoff_lines": sentence("{count:# line told to payroll|# lines told to payroll}"),
    "handoff_figures": sentence("{count:# figure printed for payroll|# figures printed for payroll}"),
}

OF_HAND = {
    "punches": sentence("{count:# score of a presentation|# scores of presentations}"),
    "punch_details": sentence("{count:# score of a presentation told later|# scores of presentations told later}"),
    "enrolments": sentence("{count:# count of presentations at an enrolment|# counts of presentations at enrolments}"),
    "outcomes": sentence("{count:# enrolment's scores noted on a round|# enrolments' scores noted on rounds}"),
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
        seen = (
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
        return hashlib.sha256(repr(seen).encode()).hexdigest()

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
        files = (told("the name of the file “{name}”", name=name) for name in self.renamed)
        return [*_counted(self.reworded, CALLED), *files]


def _counted(rows: Mapping[str, int], called_so: Mapping[str, str]) -> list[str]:
    return [
        told(called_so[name], count=many)
        if name in called_so
        else told("{count:# row|# rows} of {table}", count=many, table=name)
        for name, many in rows.items()
    ]


def may_be_erased(clocked: Clocked, person: str, what: What) -> list[str]:
    """Return what keeps somebody's records from being erased as of the clocks' day, each with what to do."""
    found: list[str] = []
    who = called(clocked.of.names.get(person), person)
    if clocked.purposes.filter(pl.col("person") == person).is_empty():
        found.append(told("{who} is employed and has not withdrawn consent, so nothing is to be erased.", who=who))
    for row in clocked.hands.filter(pl.col("person") == person).iter_rows(named=True):
        if row["is_listed"]:
            found.append(
                told(
                    "{reader} still lists the hand under {number}; take it off there, and take a list of the reader "
                    "made after that.",
                    reader=row["reader"],
                    number=row["number"],
                )
            )
        elif row["gone_on"] is None and row["is_taken_over"]:
            found.append(
                told(
                    "somebody else is accepted under {number} at {reader} since, and no list tells whose hand it "
                    "shows; take a list with names or days, or take the number off, take a list, and enrol its "
                    "holder again.",
                    reader=row["reader"],
                    number=row["number"],
                )
            )
        elif row["gone_on"] is None:
            found.append(
                told(
                    "no list of {reader} was ever taken, so nothing proves that it holds no hand under {number}; take "
                    "one.",
                    reader=row["reader"],
                    number=row["number"],
                )
            )
    return found if what == "hand" else [*found, *_kept_still(clocked, person)]


def _kept_still(clocked: Clocked, person: str) -> list[str]:
    found: list[str] = []
    left = clocked.purposes.filter(pl.col("person") == person, pl.col("employment_ended").is_not_null())
    if left.is_empty():
        found.append(told("they are employed, so that their time records go on; only what came of the hand may go."))
    if person in clocked.held:
        found.append(
            told(
                "a legal hold stops disposal of their time records ({matter}); lift it once counsel says so.",
                matter=clocked.held[person],
            )
        )
    kept = clocked.kept.filter(pl.col("person") == person).to_dicts()
    if not kept:
        found.append(
            told(
                "no law on time records is on file here for {places:listed}; set keep_years under [retention] in "
                "evenhand.toml as counsel says.",
                places=clocked.places.filter(pl.col("person") == person)["place"].to_list(),
            )
        )
    elif clocked.on <= kept[0]["day"]:
        found.append(
            told(
                "time records must stay through {day} ({rule:again} {began}, {law:again}); erase them on {due} or "
                "later.",
                day=kept[0]["day"],
                rule=kept[0]["rule"],
                began=kept[0]["started_on"],
                law=kept[0]["cites"],
                due=first_disposal_day(kept[0]["day"]),
            )
        )
    return found


def laws_of(clocked: Clocked, person: str) -> list[str]:
    """Return the due dates of a person, with their laws."""
    due = clocked.due.filter(pl.col("person") == person).sort("clock", "day")
    return [
        told("destroy by {day}: {law:again}", day=row["day"], law=row["cites"])
        if row["clock"] == "destroy"
        else told("keep through {day}: {law:again}", day=row["day"], law=row["cites"])
        for row in due.unique(["clock", "law", "day"], maintain_order=True).iter_rows(named=True)
    ]


def what_stays(clocked: Clocked, person: str, what: What, known: Whom) -> Sequence[str]:
    """Return what remains once `what` is erased, and why."""
    found: list[str] = []
    if known.given.height:
        found.append(
            told(
                "{count:# presentation|# presentations} under their number that somebody gave to others, whose "
                "records they are.",
                count=known.given.height,
            )
        )
    if what == "all":
        return [*found, told("control totals of files handed to payroll, in which nobody is named.")]
    kept = clocked.kept.filter(pl.col("person") == person).to_dicts()
    if kept:
        found.append(
            told(
                "hours, pay and what they rest on, through {day} ({law:again}).",
                day=kept[0]["day"],
                law=kept[0]["cites"],
            )
        )
    if person in clocked.held:
        found.append(
            told(
                "their time records, under a legal hold ({matter}). A hold does not by itself allow keeping a hand, "
                "nor forbid erasing scores: ask counsel first.",
                matter=clocked.held[person],
            )
        )
    return found
