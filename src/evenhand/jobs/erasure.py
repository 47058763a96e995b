"""Erase a person: what came of the hand, once no reader holds it, and everything, once no law wants it kept.

Looked at first, in a transaction that is undone. Then done in one transaction, with what is written anew lying beside
its place until that is committed; a program that is killed in between leaves the one state or the other, and what it
left on the disk is cleared when the workspace is next opened.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.jobs.beside import forget_refused_files, tidy
from evenhand.jobs.cleared import finish_erasing
from evenhand.jobs.cutting import CutSource, SourcesCut, What, cut_sources
from evenhand.jobs.erased_files import FilesCut, cut_handed_off, files_holding
from evenhand.jobs.fold import Folded, fold
from evenhand.jobs.retention import Clocked
from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.traces import Whom, known_of
from evenhand.jobs.workspace import Workspace
from evenhand.records.retention import first_disposal_day
from evenhand.store import frames
from evenhand.store.clearing import overwrite
from evenhand.store.comparing import Difference, differences, set_aside
from evenhand.store.database import Connection
from evenhand.store.decisions import decide_alone
from evenhand.store.erasing import add_erasure, erase_earlier, erase_rows, forget_presentations, forget_seals
from evenhand.store.ledger import erasing
from evenhand.store.replacing import write_beside
from evenhand.store.revision import Revision, revision
from evenhand.store.takes import takes_alone
from evenhand.store.written import change_row
from evenhand.terms.records import Refusal
from evenhand.terms.words import as_day, called, counted, listed

__all__ = ["Erasable", "Erased", "erase", "look_at_erasure", "may_be_erased"]

MOST = 100_000
SHOWN = 5
BY_ITSELF = {"takes", "take_spans", "punch_parts"}
"""What differs after any erasure: the counts of takes, how far they reach, and how rows lie in columns."""
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
    about other people that would change too.
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

    @property
    def goes(self) -> list[str]:
        """Return what goes, in words."""
        told = OF_HAND if self.what == "hand" else CALLED
        words = {name: told.get(name, f"row of {name}|rows of {name}").split("|") for name in self.rows}
        return [counted(many, *words[name]) for name, many in self.rows.items()]


@dataclass(frozen=True)
class Erased:
    """What was erased: the erasure's number, which stands in for the person; `is_cleared` tells whether the disk is."""

    erasure: int
    what: What
    rows: Mapping[str, int]
    sources: int
    files: int
    is_cleared: bool

    @property
    def left_to_do(self) -> str:
        """Return what became of the free places of the disk, and what is for others to do."""
        places = (
            "Free places of the disk are cleared."
            if self.is_cleared
            else "Free places of the disk are still to be cleared: stop `evenhand serve`, and run any command."
        )
        return f"{places} Backups, and what was exported, are yours to delete."


@dataclass(frozen=True)
class _Done:
    cut: list[CutSource]
    folded: Folded | None
    files: FilesCut
    touched: Counter[str]


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


def look_at_erasure(workspace: Workspace, person: str, *, as_of: datetime, what: What | None = None) -> Erasable:
    """Return what erasing somebody would do, everything where nothing holds it back, else what came of the hand.

    Raises Unknown for nobody.
    """
    clocked, row = _clocked(workspace, person, as_of)
    who = str(row["person"])
    chosen: What = what or ("hand" if may_be_erased(clocked, who, "all") else "all")
    holds_back = may_be_erased(clocked, who, chosen)
    with workspace.sources.held(), workspace.store.trying() as conn:
        known = known_of(conn, who, workspace.settings)
        holds_back += _elsewhere(workspace, known) if chosen == "all" else []
        set_aside(conn)
        done = _erase_in(workspace, conn, known, chosen, "erased", clocked.on)
        _, differing = differences(conn, MOST)
    gone = Counter(one.table for one in differing if not one.is_new and _is_about(one, known))
    others = [one for one in differing if one.table not in BY_ITSELF and not _is_about(one, known)]
    rows = done.touched + Counter({name: many for name, many in gone.items() if name not in BY_ITSELF})
    return Erasable(
        who,
        str(row["name"]),
        chosen,
        tuple(holds_back),
        dict(sorted(rows.items())),
        len(done.cut),
        len(done.files.written) + len(done.files.removed),
        tuple(_stays(clocked, who, chosen, known)),
        tuple(_shown(others)),
        tuple(_laws(clocked, who)),
    )


def erase(
    workspace: Workspace,
    person: str,
    *,
    author: str,
    reason: str,
    as_of: datetime,
    what: What | None = None,
    despite_others: bool = False,
) -> Erased:
    """Erase somebody, as looked at before; raises Refusal, with everything as it was, where something holds it back.

    Where rows about others would change too it is done only `despite_others`.
    """
    if not author.strip() or not reason.strip():
        raise Refusal("an erasure is somebody's decision and has a reason; give --author and --reason.")
    with workspace.store.reading() as conn:
        before = revision(conn)
    seen = look_at_erasure(workspace, person, as_of=as_of, what=what)
    if seen.holds_back:
        raise Refusal(f"{called(seen.name, seen.person)} is not erased: {seen.holds_back[0]}")
    if seen.others and not despite_others:
        raise Refusal(
            f"erasing {called(seen.name, seen.person)} would change what is stored of others ({seen.others[0]}); look "
            "at the preview, and say --despite-others where that is right."
        )
    return _erase(workspace, seen, before, author=author.strip(), reason=reason.strip(), as_of=as_of)


def _erase(
    workspace: Workspace, seen: Erasable, before: Revision, *, author: str, reason: str, as_of: datetime
) -> Erased:
    made_at = int(as_of.timestamp())
    with workspace.sources.held():
        tidy(workspace)
        try:
            with workspace.store.writing() as conn:
                overwrite(conn)
                takes_alone(conn)
                decide_alone(conn)
                if revision(conn).changed_since(before):  # such as a legal hold
                    raise Refusal("something was taken or decided in the meantime; nothing was erased: look again.")
                known = known_of(conn, seen.person, workspace.settings)
                running = frames.erasures(conn)["erasure"].max()
                number = int(running or 0) + 1  # type: ignore[arg-type]
                stand_in = f"erased-{number}"
                done = _erase_in(workspace, conn, known, seen.what, stand_in, as_of.date())
                words = known.traces.words if seen.what == "all" else None
                number = add_erasure(
                    conn,
                    {
                        "what": seen.what,
                        "laws": json.dumps(seen.laws),
                        "rows": json.dumps(seen.rows),
                        "sources": len(done.cut),
                        "files": len(done.files.written) + len(done.files.removed),
                        "author": words.sub(stand_in, author) if words else author,
                        "reason": words.sub(stand_in, reason) if words else reason,
                        "made_at": made_at,
                    },
                    [
                        {"take": take, "sha256_before": one.before, "sha256_after": one.after, "lines": one.lines}
                        for one in done.cut
                        for take in one.takes
                    ],
                )
                for one in done.cut:
                    workspace.sources.put(one.after, one.content)
                for name, content in done.files.written.items():
                    write_beside(workspace.handoff / name, content)
                forget_refused_files(workspace, conn, done.folded.takes if done.folded else ())
        finally:
            is_cleared = finish_erasing(workspace)
    files = len(done.files.written) + len(done.files.removed)
    return Erased(number, seen.what, seen.rows, len(done.cut), files, is_cleared)


def _erase_in(workspace: Workspace, conn: Connection, known: Whom, what: What, stand_in: str, on: date) -> _Done:
    """Erase in the transaction `conn` is in; what is to be put beside the store is returned."""
    cut = cut_sources(conn, workspace.sources, known, what)
    files = FilesCut({}, ())
    touched: Counter[str] = Counter()
    folded = None
    with erasing(conn):
        if what == "all":
            earlier = erase_earlier(conn, known.traces)
            files = cut_handed_off(workspace, conn, known.traces, str(on))
            touched = earlier + erase_rows(conn, known.traces, stand_in)
        else:
            earlier, touched = Counter(), forget_presentations(conn, known.traces)
        for one in cut:
            for take in one.takes:
                change_row(conn, "takes", take, {"sha256": one.after})
        changed = {take for one in cut for take in one.takes}
        if changed or earlier:
            folded = fold(conn, SourcesCut(workspace.sources, cut), None if earlier else changed)
        forget_seals(conn, known.traces)
    return _Done(cut, folded, files, touched)


def _clocked(workspace: Workspace, person: str, as_of: datetime) -> tuple[Clocked, dict[str, Any]]:
    snapshot = take_snapshot(workspace, as_of.date())
    return Clocked(snapshot, as_of.date()), snapshot.find_person(person)


def _elsewhere(workspace: Workspace, known: Whom) -> list[str]:
    return [
        f"{path} names them; take that out of it, or remove the file, first."
        for path in files_holding(workspace, known.traces)
    ]


def _is_about(one: Difference, known: Whom) -> bool:
    """Whether a row that differs is about the person."""
    traces, row = known.traces, one.row
    if any(str(value) in traces.ids | traces.numbers for value in row.values() if value is not None):
        return True
    if row.get("number") in traces.shared and str(row.get("name") or "").casefold() in known.cut_names:
        return True
    said = json.dumps(row, default=str, ensure_ascii=False)
    if traces.words and traces.words.search(said):
        return True
    if any(f'"{one}"' in said.replace('\\"', '"') for one in traces.ids | traces.numbers):
        return True
    if "at" not in row or "reader" not in row:
        return one.table == "punch_details"
    same = known.presentations.filter(
        pl.col("reader") == row["reader"], pl.col("number") == row.get("number"), pl.col("minute") == row["at"] // 60
    )
    return not same.is_empty()


def _shown(others: Sequence[Difference]) -> Iterator[str]:
    for one in others[:SHOWN]:
        said = ", ".join(f"{name} {value}" for name, value in one.row.items() if value is not None and name != "times")
        yield f"{one.table}: {'comes' if one.is_new else 'goes'}: {said[:200]}"
    if len(others) > SHOWN:
        yield f"and {len(others) - SHOWN} more"


def _laws(clocked: Clocked, person: str) -> list[str]:
    due = clocked.due.filter(pl.col("person") == person).sort("clock", "day")
    return [
        f"{'destroy by' if row['clock'] == 'destroy' else 'keep through'} {row['day']}: {row['cites']}"
        for row in due.unique(["clock", "law", "day"], maintain_order=True).iter_rows(named=True)
    ]


def _stays(clocked: Clocked, person: str, what: What, known: Whom) -> Sequence[str]:
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
